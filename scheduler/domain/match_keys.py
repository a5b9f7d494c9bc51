"""Short keys of matches: ``R4C2`` is round 4 on the second court of the event.

They stay the same when later rounds are planned again or courts are added at
the end, so scores typed on paper, in a workbook or on a phone find their match.
"""

from __future__ import annotations

from scheduler.domain.plan import Match, Plan, PlannedRound


def matches_by_key(plan: Plan) -> dict[str, tuple[PlannedRound, Match]]:
    """Return every match of a plan with its round, by key, in playing order."""
    number = {court.name: index for index, court in enumerate(plan.event.courts, start=1)}
    return {
        f"R{planned.number}C{number[match.court]}": (planned, match)
        for planned, match in plan.matches()
    }
