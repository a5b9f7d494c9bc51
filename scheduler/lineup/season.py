"""All fixtures at once: what was played stays, what is to come is shared out fairly."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

from scheduler.domain.errors import NoPlan
from scheduler.domain.fixture import (
    Aim,
    Fixture,
    FixtureAnswer,
    LineUp,
    Partnering,
    SeasonAnswer,
    TeamSeason,
)
from scheduler.domain.plan import Measure
from scheduler.lineup.alternatives import answer_fixture
from scheduler.lineup.chance import curve_of
from scheduler.lineup.choose import choose, order_lines
from scheduler.lineup.conflict import smallest_conflict
from scheduler.lineup.figures import Pairs, line_pairs, reserves_of
from scheduler.lineup.price import Prices, Situation
from scheduler.lineup.work import Work

_CANDIDATES = 15
"""Line-ups a fixture's alternatives are picked from; fewer than for one fixture alone."""


def answer_season(season: TeamSeason, work: Work | None = None) -> SeasonAnswer:
    """Return line-ups for the whole calendar; played fixtures are given back as they were.

    Parameters
    ----------
    season
        The season; what was played counts and stays.
    work
        Seed and budgets of the solver; the usual ones if not given.

    Raises
    ------
    NoPlan
        With a smallest set of conditions that cannot be kept together.
    """
    open_fixtures = season.to_come
    measures: dict[str, Measure] = {}
    planned: dict[str, tuple[tuple[str, str], ...]] = {}
    answers = {f.date: as_played(season, f) for f in season.fixtures if f not in open_fixtures}
    if len(open_fixtures) == 1:
        only = answer_fixture(Situation.of(season, open_fixtures[0]))
        answers[only.fixture.date] = only
        planned[only.fixture.date] = tuple(pair.players for pair in only.chosen.pairs)
    elif open_fixtures:
        planned, measures = _planned(season, work or Work())
        for fixture in open_fixtures:
            situation = Situation.of(season, fixture, planned, Prices(fair_turns=True))
            answers[fixture.date] = answer_fixture(
                situation, planned[fixture.date], candidates=_CANDIDATES
            )
    return SeasonAnswer(
        season=season,
        fixtures=tuple(answers[f.date] for f in season.fixtures),
        appearances=appearances_after(season, planned),
        measures=measures,
    )


def answer_one(season: TeamSeason, fixture: Fixture) -> SeasonAnswer:
    """Return line-ups for one fixture by itself, whatever comes later.

    Raises
    ------
    NoPlan
        With a smallest set of conditions that rule out every line-up.
    """
    answer = answer_fixture(Situation.of(season, fixture))
    pairs = tuple(pair.players for pair in answer.chosen.pairs)
    return SeasonAnswer(season, (answer,), appearances_after(season, {fixture.date: pairs}))


def appearances_after(season: TeamSeason, planned: Mapping[str, Pairs]) -> dict[str, int]:
    """Return everyone's matches when what is planned has been played too."""
    more = Counter(name for pairs in planned.values() for pair in pairs for name in pair)
    return {name: count + more[name] for name, count in season.appearances.items()}


def as_played(season: TeamSeason, fixture: Fixture) -> FixtureAnswer:
    """Return a fixture that is over, as it was."""
    rows = sorted((p for p in season.played if p.date == fixture.date), key=lambda p: p.line)
    pairs = [row.players for row in rows]
    lines = line_pairs(season, fixture, pairs, curve_of(season).scale)
    lineup = LineUp(
        date=fixture.date,
        pairs=tuple(
            replace(pair, line=row.line, chance=None) for pair, row in zip(lines, rows, strict=True)
        ),
        reserves=reserves_of(season, fixture, pairs, season.appearances),
        why="As played.",
    )
    return FixtureAnswer(fixture, (lineup,), played=True)


def _planned(
    season: TeamSeason, work: Work
) -> tuple[dict[str, tuple[tuple[str, str], ...]], dict[str, Measure]]:
    from scheduler.lineup.season_model import (  # noqa: PLC0415  loads the solver
        plan_season,
        regulars,
    )

    try:
        plan = plan_season(season, work)
    except NoPlan as error:
        if not error.proven:
            raise
        raise NoPlan(_explain_season(season, work)) from None
    planned = dict(plan.pairs)
    for fixture in season.to_come:
        planned[fixture.date] = _settled_lines(season, fixture, planned)
    counts = appearances_after(season, planned)
    values = [counts[name] for name in regulars(season)]
    spread = max(values, default=0) - min(values, default=0)
    measures = {
        "appearance_spread": Measure(
            value=spread,
            bound=plan.least_spread,
            proven=spread == plan.least_spread,
            proof="CP-SAT over availability and the numbers of pairs, with as few people called "
            f"({plan.fairness.calls})",
        ),
        "people_called": Measure(
            value=plan.fairness.calls,
            bound=plan.fairness.calls if plan.fairness.proven else 0,
            proven=plan.fairness.proven or plan.fairness.calls == 0,
            proof="CP-SAT over the whole season",
        ),
        "different_pairs": _different_pairs(season, planned),
    }
    return planned, measures


def _different_pairs(season: TeamSeason, planned: Mapping[str, Pairs]) -> Measure:
    pairs = {frozenset(pair) for chosen in planned.values() for pair in chosen}
    return Measure(value=len(pairs | set(season.together)))


def _settled_lines(
    season: TeamSeason, fixture: Fixture, planned: Mapping[str, Pairs]
) -> tuple[tuple[str, str], ...]:
    """Return the fixture's pairs on their lines, paired anew where partners do not matter."""
    situation = Situation.of(season, fixture, planned)
    pairs = planned[fixture.date]
    if season.partnering is not Partnering.EITHER or season.aim is Aim.SETTLED:
        return order_lines(situation, pairs)
    return choose(situation, only={name for pair in pairs for name in pair}).lineups[0]


def _explain_season(season: TeamSeason, work: Work) -> tuple[str, ...]:
    """Return a smallest conflict: of one fixture by itself if there is one, else of the season."""
    alone = [
        sentences
        for fixture in season.to_come
        if (sentences := _conflict_of(season, fixture)) is not None
    ]
    if alone:
        return min(alone, key=len)
    from scheduler.lineup.season_model import season_possible  # noqa: PLC0415  loads the solver

    conflict = smallest_conflict(
        season.conditions, lambda kept: season_possible(season, kept, work)
    )
    count = len(season.to_come)
    seats = sum(2 * fixture.lines for fixture in season.to_come)
    said = f"{count} fixtures with {seats} places in all are still to be filled"
    return (said, *(condition.sentence for condition in conflict))


def _conflict_of(season: TeamSeason, fixture: Fixture) -> tuple[str, ...] | None:
    """Return why one fixture by itself has no line-up, or None if it has one."""
    situation = Situation.of(season, fixture)
    try:
        choose(situation)
    except NoPlan as error:
        return error.conflict
    return None
