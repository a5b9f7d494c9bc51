"""The engine: seats an event.

`solve` is the only way in. What it returns is checked by others.
"""

from scheduler.rotation.engine import EFFORTS, Result, solve
from scheduler.rotation.serving import first_servers
from scheduler.rotation.up_and_down import next_up_and_down

__all__ = ["EFFORTS", "Result", "first_servers", "next_up_and_down", "solve"]
