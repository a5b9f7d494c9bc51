"""Templates for evenings on which people come and go, wish things, and drill before."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

from drawn_events import events, minute, plain_event
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.event import Emphasis, Event, Kind, SpareCourt, Wish, WishKind
from scheduler.rotation import solve, templates
from scheduler.rotation.counts import values_of
from scheduler.rotation.from_template import seated_template
from scheduler.rotation.patched_template import patched_doubles, shared_labels
from scheduler.rotation.shapes import problem_of


def _variety(event: Event) -> Event:
    return replace(event, emphasis=Emphasis.VARIETY)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 5), st.integers(0, 5)), min_size=1, max_size=12))
def test_labels_are_no_more_than_people_in_the_fullest_round(stays) -> None:
    """People who stay without a break need as many labels as the fullest round has people.

    An interval graph needs as many colours as its largest clique has vertices
    (Golumbic 1980, Algorithmic Graph Theory and Perfect Graphs, from memory).
    """
    spans = [(min(stay), max(stay)) for stay in stays]
    present = [[p for p, (a, b) in enumerate(spans) if a <= at <= b] for at in range(6)]
    labels = shared_labels(present)
    assert sorted(p for label in labels for p in label) == list(range(len(spans)))
    assert len(labels) == max(len(people) for people in present)
    for people in present:
        assert all(len(set(label) & set(people)) <= 1 for label in labels)


@settings(max_examples=150, deadline=None)
@given(events(most_wishes=0), st.integers(0, 99))
def test_a_patched_template_seats_everybody_once(event, seed) -> None:
    """Whoever is absent when, each round of doubles seats just the people who are there."""
    problem = problem_of(event)
    shapes = [shape for shape in problem.shapes if shape.kind is Kind.DOUBLES]
    seatings = patched_doubles(shapes, templates.OPPONENTS, random.Random(seed)) if shapes else ()
    for shape, seating in zip(shapes, seatings or (), strict=False):
        seated = [player for block in seating.blocks for player in block]
        assert sorted([*seated, *seating.rest]) == sorted(shape.players)
        assert [len(block) for block in seating.blocks] == [b.size for b in shape.blocks]
        assert len(seating.rest) == len(shape.rest)


def test_with_everybody_there_the_template_stays_whole() -> None:
    """Sixteen for fifteen rounds, a drill before them: partners once, opponents twice.

    The whist tournament of 16 (Moore 1896; Anderson 1997, from memory).
    """
    kinds = (Kind.DRILL,) + (Kind.DOUBLES,) * 15
    problem = problem_of(_variety(plain_event(16, 4, 0, *kinds)))
    seated = seated_template(problem, random.Random(2))
    assert seated is not None
    partners, opponents = Counter(), Counter()
    for seating in seated[1:]:
        for a, b, c, d in seating.blocks:
            partners.update([frozenset((a, b)), frozenset((c, d))])
            opponents.update(frozenset((x, y)) for x in (a, b) for y in (c, d))
    assert set(partners.values()) == {1}
    assert len(partners) == 120
    assert set(opponents.values()) == {2}
    assert len(opponents) == 120


def test_one_wish_does_not_cost_the_design() -> None:
    """Two who want to be partners once leave the whist tournament of 16 as it is."""
    wish = Wish(WishKind.PARTNERS_ONCE, "P0", "P1")
    found = solve(_variety(plain_event(16, 4, 15, wishes=(wish,))), effort="quick")
    assert found.measures["partner_repeats"].value == 0
    assert found.measures["opponent_repeats"].value == 120
    assert found.measures["wishes_missed"].value == 0


def test_a_late_comer_costs_few_repeats() -> None:
    """Of 16 one misses the first of 15 rounds: what is lost against the whole design is small.

    With all there the design has 120 opponent repeats. The plan for 15 people
    in the first round keeps partners apart and stays below the 176 that a
    plain search of 20 million exchanges found with all there.
    """
    event = _variety(plain_event(16, 4, 15))
    late = (replace(event.players[0], arrives=minute(1)), *event.players[1:])
    found = solve(replace(event, players=late), effort="quick")
    assert found.measures["partner_repeats"].value == 0
    assert found.measures["opponent_repeats"].value < 176


def test_a_spare_court_is_filled_from_those_who_would_rest() -> None:
    """Ten on three courts with singles on the third: two matches and one singles a round."""
    event = replace(_variety(plain_event(10, 3, 4)), spare_court=SpareCourt.SINGLES)
    problem = problem_of(event)
    seated = seated_template(problem, random.Random(1))
    assert seated is not None
    assert [[len(block) for block in s.blocks] for s in seated] == [[4, 4, 2]] * 4
    assert values_of(problem, seated)["partner_repeats"] == 0
