"""What the model says of tiny evenings, beside trying every seating there is."""

from __future__ import annotations

import pytest
import tiny_evenings as tiny
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.errors import NoPlan
from scheduler.domain.event import Court, Event, Kind, Player, Round, Wish, WishKind
from scheduler.rotation.constraint_model import feasible, first_solution
from scheduler.rotation.shapes import problem_of

NAMES = "ABCDEF"
PAIRS = sorted(k for k in WishKind if k.value.startswith(("partners", "not", "against", "same")))


@st.composite
def wishes(draw, names, rounds):
    """Draw one must of any kind."""
    kind = draw(st.sampled_from(sorted(WishKind)))
    player = draw(st.sampled_from(names))
    number = draw(st.one_of(st.none(), st.integers(1, rounds)))
    if kind in PAIRS:
        other = draw(st.sampled_from([n for n in names if n != player]))
        return Wish(kind, player, other, round=number)
    if kind is WishKind.ON_COURT:
        return Wish(kind, player, draw(st.sampled_from(["one", "two"])), round=number)
    if kind is WishKind.RESTS:
        return Wish(kind, player, round=number)
    return Wish(kind, player, number=draw(st.integers(0, rounds)), round=number)


@st.composite
def evenings(draw):
    """Draw a tiny evening with up to four musts, perhaps with somebody late."""
    people = draw(st.integers(4, 6))
    rounds = draw(st.integers(1, 3 if people < 6 else 2))
    kinds = [draw(st.sampled_from([Kind.DOUBLES, Kind.DOUBLES, Kind.DRILL])) for _ in range(rounds)]
    late = draw(st.sampled_from([None, None, 20])) if people > 4 else None
    names = NAMES[:people]
    players = tuple(
        Player(name, 1 + 2 * i, arrives=late if i == 1 else None) for i, name in enumerate(names)
    )
    shut = draw(st.sampled_from([None, 20]))
    return Event(
        name="tiny",
        start=0,
        players=players,
        courts=(Court("one"), Court("two", opens=shut)),
        rounds=tuple(Round(k, 20 * i, 20, group_size=3) for i, k in enumerate(kinds)),
        wishes=tuple(draw(st.lists(wishes(names, rounds), max_size=4))),
    )


def seated(problem, solution):
    """Return a solution as the tiny judge sees it."""
    names = [player.name for player in problem.event.players]
    courts = [court.name for court in problem.event.courts]
    return [
        tiny.Seated(
            shape.kind,
            tuple(
                (courts[court], tuple(names[p] for p in block))
                for court, block in zip(seating.courts, seating.blocks, strict=True)
            ),
            frozenset(names[p] for p in seating.rest),
        )
        for shape, seating in zip(problem.shapes, solution, strict=True)
    ]


def answer(problem):
    """Return the solution, or None and the refusal."""
    try:
        return first_solution(problem, 1, 5), None
    except NoPlan as refusal:
        return None, refusal


@settings(max_examples=150, deadline=None, derandomize=True)
@given(evenings())
def test_possible_exactly_when_some_seating_keeps_all(event):
    """A tiny evening is refused exactly when no seating at all keeps fair rests and the musts."""
    problem = problem_of(event)
    solution, refusal = answer(problem)
    if solution is None:
        assert refusal.proven
        assert not tiny.is_possible(event, event.wishes)
        return
    evening = seated(problem, solution)
    for number, one in enumerate(evening):
        assert sorted([*(p for _, four in one.on for p in four), *one.rest]) == sorted(
            p.name for p in event.players if p.is_present(20 * number, 20 * number + 20)
        )
    assert tiny.is_fair(event, evening)
    assert [w for w in event.wishes if not tiny.kept(event, w, evening)] == []


@settings(max_examples=60, deadline=None, derandomize=True)
@given(evenings())
def test_the_named_musts_clash_and_none_is_idle(event):
    """The musts a refusal names cannot be kept together, and without any one of them they can."""
    problem = problem_of(event)
    _, refusal = answer(problem)
    if refusal is None:
        return
    conflict = set(refusal.conflict)
    named = tuple({w.sentence: w for w in event.wishes if w.sentence in conflict}.values())
    assert named
    assert not tiny.is_possible(event, named)
    for wish in named:
        assert tiny.is_possible(event, tuple(w for w in named if w is not wish))


def test_feasible_gives_nothing_where_there_is_nothing():
    """The bare question answers None for an impossible evening instead of raising."""
    event = Event(
        name="tiny",
        start=0,
        players=tuple(Player(name, 5) for name in "ABCD"),
        courts=(Court("one"),),
        rounds=(Round(Kind.DOUBLES, 0, 20),),
        wishes=(Wish(WishKind.RESTS, "A", round=1),),
    )
    assert feasible(problem_of(event), 1, 5) is None
    with pytest.raises(NoPlan):
        first_solution(problem_of(event), 1, 5)
