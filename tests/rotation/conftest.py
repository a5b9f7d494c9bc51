"""Puts this folder on the path, so that the engine's tests share their helpers."""
