"""What a plan states about itself, and the event it is said to be for, are not taken on trust."""

from __future__ import annotations

import ast
import time
from dataclasses import replace
from pathlib import Path
from random import Random

import checker_plans as plans
import pytest
from checker_plans import START, courts, people, rounds, with_event
from naive_plans import seated

import scheduler.checker
from scheduler.checker import check, recount
from scheduler.domain.event import (
    Court,
    Event,
    Here,
    Kind,
    Mixing,
    Player,
    Strength,
    Wish,
    WishKind,
)
from scheduler.domain.plan import Measure

SOCIAL = plans.social()
STATED = {
    name: Measure(value, bound=0, proven=value == 0)
    for name, value in recount(SOCIAL, SOCIAL.event).items()
}


def stated(name: str, **facts: object) -> dict[str, Measure]:
    """Return the measures of the social evening with one stated otherwise."""
    return {**STATED, name: replace(STATED[name], **facts)}  # type: ignore[arg-type]


WRONG_CLAIMS = [
    (
        stated("opponent_repeats", value=2),
        "The measure opponent_repeats is stated as 2, counted again it is 3",
    ),
    (
        stated("rest_unfairness", value=0.6666),
        "The measure rest_unfairness is stated as 0.6666, counted again it is 0.666667",
    ),
    (
        stated("level_gap_mean", value=float("nan"), bound=None, proven=False),
        "The measure level_gap_mean is stated as nan, counted again it is 0",
    ),
    (
        stated("opponent_repeats", proven=True),
        "The measure opponent_repeats is called proven, but its value 3 is not its bound 0",
    ),
    (
        stated("opponent_repeats", bound=4),
        "The measure opponent_repeats has the bound 4, which its own value 3 goes below",
    ),
    (
        stated("partner_repeats", bound=None, proven=False),
        "The measure partner_repeats is stated without a bound",
    ),
    (
        stated("rest_unfairness", bound=None),
        "The measure rest_unfairness is stated without a bound",
    ),
    (
        stated("level_gap_max", bound=None, proven=True),
        "The measure level_gap_max is called proven without a bound",
    ),
    (
        {name: measure for name, measure in STATED.items() if name != "meeting_repeats"},
        "The measure meeting_repeats is missing; counted again it is 10",
    ),
    (
        {**STATED, "longest_queue": Measure(2, bound=1, proven=True)},
        "The measure longest_queue is called proven, but its value 2 is not its bound 1",
    ),
]


def test_true_claims_are_accepted():
    """Values as counted, bounds not above them, proven only where they meet."""
    assert check(SOCIAL, stated=STATED).accepted
    assert check(replace(SOCIAL, measures=STATED)).accepted


def test_a_gap_without_a_bound_is_accepted():
    """Only repeats and rests always have a bound; of level gaps there may be none."""
    assert check(SOCIAL, stated=stated("level_gap_mean", bound=None, proven=False)).accepted


@pytest.mark.parametrize(("claims", "fault"), WRONG_CLAIMS)
def test_a_wrong_claim_is_told(claims, fault):
    """A stated value is counted again, and a bound and a proof must be possible."""
    assert check(SOCIAL, stated=claims).faults == (fault,)
    assert check(replace(SOCIAL, measures=claims)).faults == (fault,)


def test_what_is_passed_stands_for_what_the_plan_states():
    """With an empty mapping nothing is stated, whatever the plan says."""
    plan = replace(SOCIAL, measures=stated("opponent_repeats", value=2))

    assert check(plan, stated={}).accepted
    assert check(plan, stated={}).measures["opponent_repeats"] == 3


ASKED = SOCIAL.event
OTHER_EVENTS = [
    (
        {"players": (*ASKED.players, Player("Zoe", 5.0, here=Here.NO))},
        [
            "The event has a player Zoe that the plan does not know",
            *(f"Round {n}: Zoe is on no court, not resting and not absent" for n in (1, 2, 3)),
        ],
    ),
    (
        {"players": (replace(ASKED.players[0], level=6.5), *ASKED.players[1:])},
        ["Ana has level 5 in the plan, 6.5 in the event"],
    ),
    (
        {"players": (replace(ASKED.players[0], group="B"), *ASKED.players[1:])},
        ["Ana is in group '' in the plan, 'B' in the event"],
    ),
    (
        {"courts": (*ASKED.courts, Court("C3"))},
        ["The event has a court C3 that the plan does not know"],
    ),
    (
        {"rounds": ASKED.rounds[:2]},
        ["The plan has 3 rounds, the event 2"],
    ),
    (
        {"rounds": (*ASKED.rounds[:2], replace(ASKED.rounds[2], start=START + 50, minutes=30))},
        [
            "Round 3 starts at 19:10 in the plan, 19:20 in the event",
            "Round 3 lasts 20 minutes in the plan, 30 minutes in the event",
        ],
    ),
    (
        {"rounds": (*ASKED.rounds[:2], replace(ASKED.rounds[2], courts=2))},
        ["Round 3 uses all open courts in the plan, 2 courts in the event"],
    ),
    (
        {"rounds": (*ASKED.rounds[:2], replace(ASKED.rounds[2], levels=Mixing.ALIKE))},
        ["Round 3 has the levels '' in the plan, 'alike' in the event"],
    ),
    (
        {"wishes": (Wish(WishKind.NOT_PARTNERS, "Ana", "Bo", where="Wishes!A2"),)},
        [
            (
                "Round 1, C1: Ana and Bo are partners, "
                "though Ana and Bo must not be partners (Wishes!A2)"
            )
        ],
    ),
]


@pytest.mark.parametrize(("facts", "faults"), OTHER_EVENTS)
def test_a_plan_of_another_event_is_refused(facts, faults):
    """Where the event given asks for something else, the difference is told."""
    verdict = check(SOCIAL, replace(ASKED, **facts))

    assert list(verdict.faults) == faults


def test_drills_of_other_stations_are_refused():
    """A station's coach in the event is not the one in the plan."""
    drills = plans.drills()
    first, second = drills.event.stations
    given = replace(drills.event, stations=(replace(first, coach="Max"), second))

    assert check(drills, given).faults == (
        "The station on C1 has the coach 'Kim' in the plan, 'Max' in the event",
        "Round 1, C1: the coach is 'Kim', must be 'Max'",
    )


def test_the_same_event_read_again_is_no_difference():
    """Notes, the order of players and the cells of wishes ask for nothing else."""
    wish = Wish(WishKind.PARTNERS, "Ana", "Di", strength=Strength.SHOULD, where="Wishes!A2")
    plan = with_event(SOCIAL, wishes=(wish,))
    given = replace(
        plan.event,
        notes="bring balls",
        players=tuple(reversed(ASKED.players)),
        wishes=(replace(wish, where="Wishes!A9"),),
    )

    assert check(plan, given).accepted


def test_a_person_who_leaves_early_by_the_event_given_may_not_play_later():
    """Presence is judged by the event given, though not compared with the plan's own."""
    given = replace(
        ASKED, players=(replace(ASKED.players[0], leaves=START + 45), *ASKED.players[1:])
    )

    assert check(SOCIAL, given).faults == (
        "Round 3: Ana is on C2, but leaves at 19:15 and the round is from 19:10 to 19:30",
    )


@pytest.mark.parametrize(
    ("players", "on", "seconds"), [(24, 5, 0.02), (1000, 250, 2.0), (1000, 240, 2.0)]
)
def test_ten_rounds_are_judged_fast(players, on, seconds):
    """24 people for ten rounds take under 20 ms, 1,000 under 2 s; best of three runs."""
    event = Event(
        "Fast",
        START,
        people(" ".join(f"P{i}" for i in range(players))),
        courts(on),
        rounds(*[Kind.DOUBLES] * 10),
    )
    plan = seated(event, Random(1))
    taken = []
    for _ in range(3):
        before = time.process_time()
        assert check(plan).accepted
        taken.append(time.process_time() - before)

    assert min(taken) < seconds


ALLOWED = {f"scheduler.domain.{name}" for name in ("event", "plan", "formats", "clock", "errors")}
FILES = sorted(Path(scheduler.checker.__file__).parent.glob("*.py"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_checker_shares_no_code_with_the_engine(path):
    """It imports the standard library, its own folder, and the domain's plain values."""
    imported = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            imported.add(node.module or "")
        if isinstance(node, ast.Import):
            imported.update(alias.name for alias in node.names)
    ours = {name for name in imported if name.startswith("scheduler")}

    assert all(name in ALLOWED or name.startswith("scheduler.checker") for name in ours)
    assert not imported & {"random", "time", "datetime", "pathlib", "os", "io", "sys"}
