"""Sentences for what wishes run into: fair shares of rests, courts and seats of a round."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from scheduler.domain.event import NUMBER_WISHES, Kind, WishKind
from scheduler.rotation.constraint_model.model import Limit
from scheduler.rotation.constraint_model.variables import ONCE_WISHES
from scheduler.rotation.problem import Demand, Problem, Shape

_MOST_NAMED = 4
_TEAMS = {
    Kind.MIXED: "partners are of different groups",
    Kind.GROUP_AGAINST_GROUP: "partners are of one group",
    Kind.PAIRS: "partners stay the same in all rounds of pairs",
}


def limit_sentences(problem: Problem, limits: Iterable[Limit]) -> tuple[str, ...]:
    """Say whose fair share of rests would have to give; nothing for no limits."""
    whose = [_limit_words(problem, limit) for limit in limits]
    if len(whose) > _MOST_NAMED:
        return ("it would need the rests to be shared out less fairly",)
    return (f"it would need {' or '.join(whose)}",) if whose else ()


def counting_sentences(problem: Problem, demands: Sequence[Demand]) -> tuple[str, ...]:
    """Say how many rounds there are to rest in, for limits, or to meet in, for "once" wishes."""
    told = []
    for demand in demands:
        if demand.kind in NUMBER_WISHES:
            rounds = [s for s in problem.shapes if demand.player in s.players]
            resting = sum(bool(shape.rest) for shape in rounds)
            name = problem.event.players[demand.player].name
            told.append(
                f"{name} takes part in {_count(len(rounds), 'round')}, "
                f"of which {resting} have anybody resting"
            )
    if not told and {demand.kind for demand in demands} <= ONCE_WISHES:
        numbers = {r for d in demands for r in d.rounds if d.player in problem.shapes[r].players}
        verb = "is" if len(numbers) == 1 else "are"
        return (f"there {verb} only {_count(len(numbers), 'round')} for it",)
    return tuple(dict.fromkeys(told))


def round_sentence(problem: Problem, number: int, demands: Iterable[Demand]) -> tuple[str, ...]:
    """Say what one round has to offer, where wishes cannot be kept in it."""
    shape = problem.shapes[number]
    name = f"round {number + 1} ({shape.kind})"
    facts = [
        f"{_count(len(shape.blocks), 'court')} for {_count(len(shape.players), 'player')}",
        _resting(shape),
    ]
    if shape.kind in _TEAMS:
        facts.append(_TEAMS[shape.kind])
    closed = [
        f"{problem.event.courts[d.other].name} cannot be used in {name}"
        for d in demands
        if d.kind is WishKind.ON_COURT and d.other >= 0 and d.other not in shape.courts
    ]
    return (*dict.fromkeys(closed), f"{name} has {', '.join(facts)}")


def never_together_sentence(problem: Problem, demand: Demand) -> str:
    """Say that two people are together in no round to come that a wish could be kept in."""
    names = [problem.event.players[player].name for player in (demand.player, demand.other)]
    return f"{names[0]} and {names[1]} are not there together in any round still to come"


def unseatable_sentences(problem: Problem) -> tuple[str, ...]:
    """Say why the event cannot be seated even without wishes."""
    return tuple(
        f"round {number + 1} (pairs) has {_count(len(shape.blocks), 'court')} to fill, "
        f"but only {_count(_teams_there(problem, shape), 'pair')} there for it"
        for number, shape in enumerate(problem.shapes)
        if shape.keeps_teams and _teams_there(problem, shape) < 2 * len(shape.blocks)
    ) or ("the rests cannot be shared out fairly among those present",)


def _teams_there(problem: Problem, shape: Shape) -> int:
    return sum(set(team) <= set(shape.players) for team in problem.teams)


def _limit_words(problem: Problem, limit: Limit) -> str:
    name = problem.event.players[limit.player].name
    how = "more" if limit.is_most else "less"
    return f"{name} to rest {how} often than the fair share of {_number(problem, limit)}"


def _number(problem: Problem, limit: Limit) -> str:
    share = problem.shares[limit.player]
    return f"{float(share):.2f}".rstrip("0").rstrip(".")


def _resting(shape: Shape) -> str:
    resting = len(shape.rest)
    if not resting:
        return "nobody rests"
    return "1 rests" if resting == 1 else f"{resting} rest"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
