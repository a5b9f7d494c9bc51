"""Whole nights by chance: whatever happens, what was played stays and every plan is sound."""

from __future__ import annotations

from hypothesis import HealthCheck, settings
from night_rules import Nights, tiny_effort

__all__ = ["tiny_effort"]  # pytest uses it by its name

TestNights = Nights.TestCase
TestNights.settings = settings(
    max_examples=30,
    stateful_step_count=6,
    deadline=None,
    suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow],
)
