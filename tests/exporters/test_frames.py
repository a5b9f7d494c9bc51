"""A plan as pandas tables."""

from __future__ import annotations

import pandas as pd
from exporter_plans import make_plan

from scheduler.checker import recount
from scheduler.exporters.frames import meetings_frame


def test_the_table_holds_every_meeting_once() -> None:
    """Grouped and summed by pandas it gives the repeats that the checker counts from the seats."""
    plan = make_plan(18, 4, drills=2, doubles=5)
    met = meetings_frame(plan)
    assert not met.duplicated(["player", "other"]).any()
    repeats = {role: int((met[role] * (met[role] - 1) // 2).sum()) for role in met.columns[2:]}
    counted = recount(plan, plan.event)
    assert repeats["opponents"] == counted["opponent_repeats"]
    assert repeats["drills"] == counted["drill_repeats"]
    assert isinstance(met, pd.DataFrame)
