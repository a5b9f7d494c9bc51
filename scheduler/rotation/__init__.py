"""The engine: seats an event.

`solve` is the only way in. What it returns is checked by others.
"""

from scheduler.rotation.engine import EFFORTS, Result, solve
from scheduler.rotation.serving import first_servers

__all__ = ["EFFORTS", "Result", "first_servers", "solve"]
