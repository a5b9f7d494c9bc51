"""The score keeper's look-ups inside Chromium against the rules, point by point."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from exporter_plans import make_plan
from page_driver import Phone

from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.domain.plan import Plan
from scheduler.rules.choices import next_set
from scheduler.rules.play import play
from scheduler.rules.score_words import written_points
from scheduler.rules.scoring import is_deciding_point, winner_of
from scheduler.rules.serving import choose_half, half_of, next_serve, receiver_in, server_of
from scheduler.rules.state import Half, SetState, Team, rules_of, start_set

VARIANTS = (
    (SetFormat.TIE_BREAK, GameFormat.AD, EndChanges.SIX),
    (SetFormat.TIE_BREAK, GameFormat.NO_AD, EndChanges.FIRST_THEN_FOUR),
    (SetFormat.SHORT, GameFormat.AD, EndChanges.SIX),
    (SetFormat.SHORT, GameFormat.NO_AD, EndChanges.SIX),
    (SetFormat.SHORT_3_3, GameFormat.AD, EndChanges.FIRST_THEN_FOUR),
    (SetFormat.ADVANTAGE, GameFormat.AD, EndChanges.SIX),
    (SetFormat.PRO, GameFormat.NO_AD, EndChanges.SIX),
    (SetFormat.MATCH_TIE_BREAK_10, GameFormat.AD, EndChanges.SIX),
    (SetFormat.MATCH_TIE_BREAK_7, GameFormat.AD, EndChanges.FIRST_THEN_FOUR),
    (SetFormat.TIMED, GameFormat.AD, EndChanges.SIX),
)
SETS_EACH = 20
LONGEST = 400  # points after which a set that may go on for ever is left

WALK = """
const [setup, taps] = arguments;
const { data, walk, serveOf, nextSetup } = rota;
const seen = [];
const match = {};
for (let count = 0; count <= taps.length; count += 1) {
  const score = walk(data.formats, setup, taps.slice(0, count));
  const serve = score.over ? null : serveOf(match, setup, score);
  seen.push([
    score.games, score.moved, score.over ? score.over.winner : null,
    serve && [serve.server, serve.receiver, serve.half, serve.end],
    score.over ? null : score.look.tieBreak ? score.points.join("-") : score.look.points,
  ]);
}
const last = walk(data.formats, setup, taps);
return [seen, last.over && nextSetup(setup, last.over, 0)];
"""


def plan_of(variant: tuple[SetFormat, GameFormat, EndChanges]) -> Plan:
    """Return a small plan played by the rules of one variant."""
    plan = make_plan(8, 2, 0, 2, set_format=variant[0])
    return replace(plan, event=replace(plan.event, game_format=variant[1], end_changes=variant[2]))


def random_setup(rng: random.Random) -> dict[str, Any]:
    """Return any order of serving, sides and ends the rules allow, as the page has it."""
    order = [rng.sample([0, 1], 2), rng.sample([2, 3], 2)]
    return {
        "format": 0,
        "first": rng.randrange(2),
        "order": order,
        "deuce": [rng.choice([0, 1]), rng.choice([2, 3])],
        "end": rng.randrange(2),
    }


def start_of(variant: tuple[SetFormat, GameFormat, EndChanges], setup: dict[str, Any]) -> SetState:
    """Return the rules' own set before its first point; names are seats, ends 0 and 1."""
    first = setup["first"]
    teams = [tuple(str(seat) for seat in team) for team in setup["order"]]
    deuce = [str(seat) for seat in setup["deuce"]]
    return start_set(
        rules_of(*variant),
        (teams[first][0], teams[first][1]),
        (teams[1 - first][0], teams[1 - first][1]),
        deuce_receivers=(deuce[first], deuce[1 - first]),
        ends=(str(setup["end"]), str(1 - setup["end"])),
    )


def random_set(state: SetState, first: int, rng: random.Random) -> tuple[str, list[Any], SetState]:
    """Play a set at random; return the page's taps and what the rules say before each of them."""
    taps, seen, moved = "", [told(state, first, moved=False)], False
    edge = rng.choice((0.5, 0.5, 0.6, 0.4, 0.72))  # some sets are close, some are not
    while winner_of(state) is None and len(taps) < LONGEST:
        if is_deciding_point(state) and state.chosen_half is None:
            half = rng.choice(tuple(Half))
            state, moved = choose_half(state, half), False
            taps += "d" if half is Half.DEUCE else "a"
        else:
            winner = rng.random() < edge  # True: team B of the page
            team = Team(int(winner) ^ first)
            before, state = state, play(state, team)
            moved = before.ends != state.ends
            taps += str(int(winner))
        seen.append(told(state, first, moved=moved))
    return taps, seen, state


def told(state: SetState, first: int, *, moved: bool) -> list[Any]:
    """Return what the page should know of a state: score, ends, winner, the point to come."""
    winner = winner_of(state)
    games = list(state.games if first == 0 else state.games[::-1])
    if winner is not None:
        return [games, moved, int(winner) ^ first, None, None]
    return [games, moved, None, serve_of(state), points_of(state, first)]


def points_of(state: SetState, first: int) -> str:
    """Return the points as written: by turn to serve in a game, team A first in a tie-break."""
    text = written_points(state)
    if state.in_tie_break and first == 1:
        return "-".join(reversed(text.split("-")))
    return text


def serve_of(state: SetState) -> list[Any]:
    """Return server, receiver, half and end; receiver and half None while they choose."""
    if is_deciding_point(state) and state.chosen_half is None:
        team = state.team_of(server_of(state))
        return [int(server_of(state)), None, None, int(state.ends[team])]
    serve = next_serve(state)
    assert serve.receiver == receiver_in(state, half_of(state))
    half = 0 if serve.half is Half.DEUCE else 1
    return [int(serve.server), int(serve.receiver), half, int(serve.end)]


@pytest.mark.parametrize("variant", VARIANTS, ids=lambda v: f"{v[0]} {v[1]} {v[2]}")
def test_random_sets_agree_with_the_rules_at_every_point(
    opened: Callable[..., Phone], variant: tuple[SetFormat, GameFormat, EndChanges]
) -> None:
    """In 20 random sets of each of 10 variants page and rules agree on every point."""
    phone, rng = opened(plan_of(variant)), random.Random(f"walk {variant}")
    points = 0
    for _ in range(SETS_EACH):
        setup = random_setup(rng)
        taps, expected, final = random_set(start_of(variant, setup), setup["first"], rng)
        seen, following = phone.run(WALK, setup, taps)
        assert seen == expected, (setup, taps)
        points += len(taps)
        if winner_of(final) is not None:
            assert following == following_setup(final, setup), (setup, taps)
    assert points > SETS_EACH * 10


def following_setup(final: SetState, setup: dict[str, Any]) -> dict[str, Any]:
    """Return how the rules begin the next set, as the page has it."""
    state = next_set(final)
    seats = [int(name) for name in state.queue]
    return {
        "format": 0,
        "first": seats[0] >> 1,
        "order": [[seat for seat in seats if seat >> 1 == team] for team in (0, 1)],
        "deuce": setup["deuce"],
        "end": int(state.ends[state.team_of(state.queue[0])]),
    }


def test_endless_scores_stay_right(opened: Callable[..., Phone]) -> None:
    """A tie-break of 40-38 and an advantage set of 30-28 are followed to their end."""
    rng = random.Random(7)
    for variant, taps in (
        (VARIANTS[7], "01" * 38 + "00"),
        (VARIANTS[5], ("0000" + "1111") * 28 + "00000000"),
    ):
        phone, setup = opened(plan_of(variant)), random_setup(rng)
        state, first = start_of(variant, setup), setup["first"]
        expected = [told(state, first, moved=False)]
        for tap in taps:
            before, state = state, play(state, Team(int(tap) ^ first))
            expected.append(told(state, first, moved=before.ends != state.ends))
        assert winner_of(state) is not None
        seen, _ = phone.run(WALK, setup, taps)
        assert seen == expected
