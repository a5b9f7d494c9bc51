"""The independent judge of plans; it shares no code with what makes them."""

from scheduler.checker.judge import Verdict, check
from scheduler.checker.measures import recount

__all__ = ["Verdict", "check", "recount"]
