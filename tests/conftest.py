"""Puts this folder on the path, so that tests of every floor share ``drawn_events``."""
