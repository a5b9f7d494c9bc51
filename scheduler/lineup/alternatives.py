"""The line-up to announce, close alternatives that really differ, and why each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from scheduler.domain.fixture import FixtureAnswer, LineUp
from scheduler.lineup.choose import Choice, choose
from scheduler.lineup.figures import Figures, Pairs, figures_of, line_pairs, reserves_of
from scheduler.lineup.pair_rules import equal_key
from scheduler.lineup.price import Situation
from scheduler.lineup.why import gains, why_alternative, why_chosen

ALTERNATIVES = 4
CANDIDATES = 25
"""Line-ups that really differ, from which the alternatives are picked."""


@dataclass(frozen=True)
class Candidate:
    """One line-up with its figures."""

    pairs: tuple[tuple[str, str], ...]
    figures: Figures


def answer_fixture(
    situation: Situation,
    announced: Pairs | None = None,
    *,
    candidates: int = CANDIDATES,
    proven: bool = False,
) -> FixtureAnswer:
    """Return the line-up of a fixture and up to four alternatives.

    Each alternative differs from every other line-up here by more than swaps
    of equal players. Those that gain something come first, and among them
    each kind of gain before a second of the same kind; within that, the
    cheapest.

    Parameters
    ----------
    situation
        The fixture, its price list and everything played or planned elsewhere.
    announced
        A line-up already decided on, with `proven` about it; the best by
        price if not given.
    candidates
        How many of the best line-ups to pick alternatives from.

    Raises
    ------
    NoPlan
        With a smallest set of conditions that rule out every line-up.
    """
    choice = choose(situation, candidates)
    found = [_candidate(situation, pairs) for pairs in choice.lineups]
    chosen = found[0] if announced is None else _candidate(situation, tuple(announced))
    known = _signature(situation, choice, chosen.pairs)
    others = [c for c in found if _signature(situation, choice, c.pairs) != known]
    picked = _pick(situation, chosen, others)
    first = _lineup(
        situation,
        chosen,
        why_chosen(situation, chosen.figures, [c.figures for c in picked]),
        proven=choice.proven if announced is None else proven,
    )
    rest = [_lineup(situation, c, _why(situation, c, chosen), proven=False) for c in picked]
    return FixtureAnswer(situation.fixture, (first, *rest))


def _candidate(situation: Situation, pairs: tuple[tuple[str, str], ...]) -> Candidate:
    return Candidate(pairs, figures_of(situation, pairs))


def _signature(situation: Situation, choice: Choice, pairs: Pairs) -> tuple[object, ...]:
    member = situation.season.member_by_name
    kinds = [tuple(sorted(equal_key(member[name]) for name in pair)) for pair in pairs]
    return tuple(sorted(kinds) if choice.problem.ordered else kinds)


def _pick(situation: Situation, chosen: Candidate, others: Sequence[Candidate]) -> list[Candidate]:
    by_gain = {id(c): tuple(gains(situation, c.figures, chosen.figures)) for c in others}
    picked: list[Candidate] = []
    shown: set[str] = set()
    for candidate in others:
        fresh = [kind for kind in by_gain[id(candidate)] if kind not in shown]
        if fresh and len(picked) < ALTERNATIVES:
            picked.append(candidate)
            shown.update(by_gain[id(candidate)])
    for useful in (True, False):
        for candidate in others:
            if len(picked) == ALTERNATIVES:
                break
            if candidate not in picked and bool(by_gain[id(candidate)]) is useful:
                picked.append(candidate)
    return sorted(picked, key=others.index)


def _why(situation: Situation, candidate: Candidate, chosen: Candidate) -> str:
    return why_alternative(
        situation, (candidate.pairs, candidate.figures), (chosen.pairs, chosen.figures)
    )


def _lineup(situation: Situation, candidate: Candidate, why: str, *, proven: bool) -> LineUp:
    season, fixture = situation.season, situation.fixture
    return LineUp(
        date=fixture.date,
        pairs=line_pairs(season, fixture, candidate.pairs, situation.scale),
        reserves=reserves_of(season, fixture, candidate.pairs, situation.appearances),
        why=why,
        proven=proven,
    )
