"""A plan as pandas tables, for notebooks and whoever wants to group and count."""

from __future__ import annotations

from typing import TYPE_CHECKING

from scheduler.domain.plan import Plan
from scheduler.exporters.meetings import count_meetings

if TYPE_CHECKING:
    from pandas import DataFrame as DataFrame  # noqa: PLC0414  handed on to scheduler.public


def meetings_frame(plan: Plan) -> DataFrame:
    """Return who met whom as a table, one row a pair of people who met at all.

    Parameters
    ----------
    plan
        Any plan.

    Returns
    -------
    pandas.DataFrame
        Columns ``player``, ``other`` (names) and ``partners``, ``opponents``,
        ``drills`` (how often they met in that role), sorted by the players list.
    """
    import pandas as pd  # noqa: PLC0415  slow to load, and only notebooks ask

    met = count_meetings(plan)
    place = {player.name: at for at, player in enumerate(plan.event.players)}
    pairs = sorted(
        met.partners | met.opponents | met.drills,
        key=lambda pair: (place[pair[0]], place[pair[1]]),
    )
    return pd.DataFrame(
        {
            "player": [one for one, _ in pairs],
            "other": [other for _, other in pairs],
            "partners": [met.partners[pair] for pair in pairs],
            "opponents": [met.opponents[pair] for pair in pairs],
            "drills": [met.drills[pair] for pair in pairs],
        }
    )
