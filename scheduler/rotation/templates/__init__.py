"""Templates: the best schedules of bare labels for the common sizes.

A template says which label partners and opposes which in what round, and
nothing of people, levels or courts: who takes which label stays free. They come from
combinatorial designs (whist tournaments, resolvable designs, self-orthogonal squares, the
circle method) and, between those, from a book of schedules found by long search.
"""

from scheduler.rotation.templates.choose import find, group_against_group, mixed, mixed_strangers
from scheduler.rotation.templates.round_robin import pairs_round_robin
from scheduler.rotation.templates.template import MEETINGS, OPPONENTS, Template

__all__ = [
    "MEETINGS",
    "OPPONENTS",
    "Template",
    "find",
    "group_against_group",
    "mixed",
    "mixed_strangers",
    "pairs_round_robin",
]
