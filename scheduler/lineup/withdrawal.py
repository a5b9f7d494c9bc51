"""Somebody drops out an hour before: the change that moves the fewest people."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from scheduler.domain.event import Here
from scheduler.domain.fixture import Fixture, FixtureAnswer, LineUp, TeamSeason
from scheduler.lineup.choose import choose
from scheduler.lineup.figures import Pairs, line_pairs, reserves_of
from scheduler.lineup.price import Prices, Situation
from scheduler.lineup.problem import MOVE, Announced

_SHOWN = 5
_MOVES_ALONE = Prices(main=0, other=0, soft=0)


def after_withdrawal(
    season: TeamSeason, fixture: Fixture, announced: Pairs, withdrawn: Sequence[str]
) -> FixtureAnswer:
    """Return the line-ups that move the fewest people, the best of them first.

    A person is moved who plays another line than announced, comes in, or is
    left out without having withdrawn; a new partner alone moves nobody.

    Parameters
    ----------
    season, fixture
        The season and the fixture about to be played.
    announced
        The pairs announced, in line order.
    withdrawn
        Who cannot play after all.

    Raises
    ------
    NoPlan
        With a smallest set of conditions that rule out every line-up.
    """
    today = _on_the_day(fixture, announced, withdrawn)
    situation = Situation.of(season, today)
    before = Announced({name: n for n, pair in enumerate(announced, 1) for name in pair})
    # Moves alone first: knowing how few are enough leaves the second search little to try.
    fewest = choose(replace(situation, prices=_MOVES_ALONE), announced=before)
    choice = choose(situation, _SHOWN, announced=before, below=fewest.costs[0] + MOVE // 2)
    lineups = [
        LineUp(
            date=fixture.date,
            pairs=line_pairs(season, today, pairs, situation.scale),
            reserves=reserves_of(season, today, pairs, situation.appearances),
            why=_why(announced, pairs, withdrawn),
            proven=choice.proven and fewest.proven,
        )
        for pairs in choice.lineups
    ]
    return FixtureAnswer(
        today,
        tuple(lineups),
        withdrawn=tuple(withdrawn),
        moved=moved(announced, choice.lineups[0], withdrawn),
    )


def moved(announced: Pairs, now: Pairs, withdrawn: Sequence[str]) -> tuple[str, ...]:
    """Return who is moved: on another line, newly in, or left out without withdrawing."""
    before = {name: line for line, pair in enumerate(announced, 1) for name in pair}
    after = {name: line for line, pair in enumerate(now, 1) for name in pair}
    changed = [name for name in after if before.get(name) != after[name]]
    dropped = [name for name in before if name not in after and name not in withdrawn]
    return (*changed, *dropped)


def _on_the_day(fixture: Fixture, announced: Pairs, withdrawn: Sequence[str]) -> Fixture:
    """Return the fixture with the withdrawn gone and everybody announced as free."""
    answers = dict(fixture.availability)
    answers.update({name: Here.YES for pair in announced for name in pair})
    answers.update(dict.fromkeys(withdrawn, Here.NO))
    return replace(fixture, availability=answers)


def _why(announced: Pairs, now: Pairs, withdrawn: Sequence[str]) -> str:
    before = {name: line for line, pair in enumerate(announced, 1) for name in pair}
    people = moved(announced, now, withdrawn)
    if not people:
        return "Nobody has to move."
    after = {name: line for line, pair in enumerate(now, 1) for name in pair}
    told = [_told(name, before.get(name), after.get(name)) for name in people]
    count = f"{len(people)} {'person moves' if len(people) == 1 else 'people move'}"
    return f"{count}: {', '.join(told)}; everyone else stays on their line."


def _told(name: str, before: int | None, after: int | None) -> str:
    if before is None:
        return f"{name} comes in on line {after}"
    if after is None:
        return f"{name} sits out"
    return f"{name} goes from line {before} to line {after}"
