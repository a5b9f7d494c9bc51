"""One spoilt plan a rule, and exactly what the checker must say about it.

The rules are those of the event workbook's description; serving and
receiving are ITF Rules of Tennis, Rules 14 and 15.
"""

from __future__ import annotations

from dataclasses import replace

import checker_plans as plans
import pytest
from checker_plans import START, courts, group, match, with_court, with_event, with_round

from scheduler.checker import check
from scheduler.domain.event import Court, Here, Kind, SpareCourt
from scheduler.domain.plan import Match, Plan, Singles

WELL_MADE = [
    plans.social,
    plans.drills,
    plans.mixed,
    plans.group_against_group,
    plans.pairs,
    plans.calls,
    plans.singles,
    plans.up_and_down,
]

SOCIAL, DRILLS, MIXED, AGAINST = (
    plans.social(),
    plans.drills(),
    plans.mixed(),
    plans.group_against_group(),
)
PAIRS, CALLS, SINGLES, LADDER = plans.pairs(), plans.calls(), plans.singles(), plans.up_and_down()


def names(text: str) -> tuple[str, ...]:
    """Return the names parted by spaces."""
    return tuple(text.split())


def played(plan: Plan, number: int, court: str, text: str) -> Plan:
    """Return the plan with another match on a court."""
    return with_court(plan, number, court, match(court, text))


def served(**facts: tuple[str, ...]) -> Plan:
    """Return the social evening with its first match served or received otherwise."""
    first = SOCIAL.rounds[0].matches[0]
    return with_court(SOCIAL, 1, "C1", replace(first, **facts))


def sure(plan: Plan, name: str) -> Plan:
    """Return the plan of an event in which one person comes in any case."""
    changed = [
        replace(player, here=Here.YES) if player.name == name else player
        for player in plan.event.players
    ]
    return with_event(plan, players=tuple(changed))


PEOPLE = {
    "nowhere": (
        with_round(SOCIAL, 1, resting=()),
        ["Round 1: Ida is on no court, not resting and not absent"],
    ),
    "in two places": (
        with_round(SOCIAL, 1, resting=("Ida", "Ana")),
        ["Round 1: Ana is in 2 places: on C1 and resting"],
    ),
    "twice on a court": (
        played(SOCIAL, 1, "C1", "Ana Ana / Cy Di"),
        [
            "Round 1: Ana is in 2 places: on C1 and on C1",
            "Round 1: Bo is on no court, not resting and not absent",
        ],
    ),
    "unknown": (
        with_round(SOCIAL, 2, resting=("Hal", "Zed")),
        ["Round 2: Zed (resting) is not on the players list"],
    ),
    "absent without cause": (
        with_round(SOCIAL, 1, resting=(), absent=("Ida",)),
        ["Round 1: Ida is absent, but is there for all of the round"],
    ),
    "plays before arriving": (
        with_round(
            played(CALLS, 1, "C2", "Eva Fay / Uma Pat"),
            1,
            resting=("Vic",),
            absent=names("Quin Zoe"),
        ),
        ["Round 1: Uma is on C2, but arrives at 18:50 and the round is from 18:30 to 18:50"],
    ),
    "plays after leaving": (
        with_round(
            played(CALLS, 2, "C1", "Ana Cy / Eva Vic"),
            2,
            resting=("Uma",),
            absent=names("Pat Zoe"),
        ),
        ["Round 2: Vic is on C1, but leaves at 18:50 and the round is from 18:50 to 19:10"],
    ),
    "rests without being here": (
        with_round(CALLS, 2, resting=("Zoe",), absent=names("Vic Pat")),
        ["Round 2: Zoe is resting, but is not here at all"],
    ),
    "one too many called": (
        with_round(CALLS, 1, resting=("Quin",), absent=names("Uma Zoe")),
        [
            (
                "Round 1: 1 of those who come only if needed completes a court, "
                "but the plan calls Pat and Quin"
            )
        ],
    ),
    "nobody called": (
        with_round(
            with_court(CALLS, 1, "C2"),
            1,
            resting=names("Eva Fay Vic"),
            absent=names("Uma Zoe Pat Quin"),
        ),
        [
            (
                "Round 1: 1 of those who come only if needed completes a court, "
                "but the plan calls nobody"
            ),
            "Round 1: 1 court of doubles, must be 2",
        ],
    ),
    "called where no court is completed": (
        with_round(sure(CALLS, "Pat"), 1, resting=("Quin",), absent=names("Uma Zoe")),
        [
            "Round 1: Quin comes only if needed, and no court is completed by that",
            "Round 2: Pat is absent, but is there for all of the round",
            "Round 2: Quin comes only if needed, and no court is completed by that",
        ],
    ),
    "rests too often": (
        with_round(played(SOCIAL, 2, "C2", "Bo Hal / Di Fay"), 2, resting=("Ida",)),
        ["Ida rests twice where the fair share is 0.333333: the difference must be below 1"],
    ),
    "a whole rest from the fair share": (
        plans.uneven_rests(),
        [
            "Ana never rests where the fair share is 1: the difference must be below 1",
            "Bo never rests where the fair share is 1: the difference must be below 1",
            "Di rests twice where the fair share is 1: the difference must be below 1",
            "Eva rests twice where the fair share is 1: the difference must be below 1",
        ],
    ),
}

COURTS = {
    "unknown": (
        with_court(SOCIAL, 1, "C2", match("C9", "Eva Fay / Gus Hal")),
        ["Round 1: there is no court called C9"],
    ),
    "not open yet": (
        with_court(CALLS, 1, "C2", match("C3", "Eva Fay / Vic Pat")),
        ["Round 1: C3 is not open for this round"],
    ),
    "closes during the round": (
        with_event(CALLS, courts=(Court("C1"), Court("C2", closes=START + 39), Court("C3"))),
        ["Round 2: C2 is not open for this round"],
    ),
    "not among the named": (
        with_event(
            SOCIAL,
            rounds=(replace(SOCIAL.event.rounds[0], courts=("C1",)), *SOCIAL.event.rounds[1:]),
        ),
        ["Round 1: C2 is not open for this round", "Round 1: 2 courts of doubles, must be 1"],
    ),
    "more than the number asked": (
        with_event(
            SOCIAL, rounds=(replace(SOCIAL.event.rounds[0], courts=1), *SOCIAL.event.rounds[1:])
        ),
        ["Round 1: 2 courts of doubles, must be 1"],
    ),
    "used twice": (
        with_court(SOCIAL, 1, "C2", match("C1", "Eva Fay / Gus Hal")),
        ["Round 1: C1 is used twice"],
    ),
    "too few": (
        with_round(
            with_court(SOCIAL, 1, "C2"),
            1,
            resting=names("Eva Fay Gus Hal Ida"),
        ),
        [
            "Round 1: 1 court of doubles, must be 2",
            "Gus rests twice where the fair share is 0.777778: the difference must be below 1",
            "Hal rests twice where the fair share is 0.777778: the difference must be below 1",
        ],
    ),
    "three in a match": (
        with_round(
            with_court(
                SOCIAL,
                1,
                "C1",
                Match("C1", names("Ana Bo"), ("Cy",), names("Ana Cy Bo"), names("Ana Cy")),
            ),
            1,
            resting=names("Ida Di"),
        ),
        ["Round 1, C1: Ana and Bo against Cy is not two against two"],
    ),
    "drill among matches": (
        with_court(SOCIAL, 1, "C1", group("C1", "Ana Bo Cy Di")),
        [
            "Round 1, C1: Ana, Bo, Cy and Di is a drill group in a round of kind 'doubles'",
            "Round 1: 1 court of doubles, must be 2",
        ],
    ),
    "singles where spare courts stay empty": (
        with_event(SINGLES, spare_court=SpareCourt.REST),
        [
            "Round 1, C3: Ida and Jo must rest, the event keeps spare courts empty",
            "Round 2, C3: Fay, Gus and Hal must rest, the event keeps spare courts empty",
        ],
    ),
    "singles with five left over": (
        with_round(
            with_event(SINGLES, rounds=tuple(replace(r, courts=1) for r in SINGLES.event.rounds)),
            1,
            courts=(match("C1", "Ana Bo / Cy Di"), Singles("C2", ("Ida", "Jo"))),
            resting=names("Eva Fay Gus Hal"),
        ),
        [
            "Round 1, C2: Ida and Jo must rest, a free court is for two or three people left over",
            "Round 2: 2 courts of doubles, must be 1",
            (
                "Round 2, C3: Fay, Gus and Hal must rest, "
                "a free court is for two or three people left over"
            ),
        ],
    ),
    "two spare courts": (
        with_round(
            with_event(SINGLES, courts=courts(4)),
            2,
            courts=(
                *SINGLES.rounds[1].courts[:2],
                Singles("C3", ("Fay", "Gus")),
                Singles("C4", ("Hal",)),
            ),
        ),
        [
            "Round 2, C4: Hal is not singles",
            "Round 2: 2 courts of left-over people, one is enough",
        ],
    ),
}

ROUNDS = {
    "one missing": (
        replace(SOCIAL, rounds=SOCIAL.rounds[:2]),
        ["The plan has 2 rounds, the event 3"],
    ),
    "number": (with_round(SOCIAL, 2, number=4), ["Round 2 of the plan is numbered 4"]),
    "start": (
        with_round(SOCIAL, 2, start=START + 25),
        ["Round 2 starts at 18:55 in the plan, 18:50 in the event"],
    ),
    "minutes": (
        with_round(SOCIAL, 2, minutes=25),
        ["Round 2 lasts 25 minutes in the plan, 20 minutes in the event"],
    ),
    "topic": (
        with_round(DRILLS, 2, topic="Serves"),
        ["Round 2 has the topic 'Serves' in the plan, 'Volleys' in the event"],
    ),
    "kind": (
        with_round(SOCIAL, 2, kind=Kind.MIXED),
        ["Round 2 is 'mixed' in the plan, 'doubles' in the event"],
    ),
    "open doubles": (
        with_round(SOCIAL, 2, open=True, courts=(), resting=()),
        ["Round 2 is open, which only rounds of kind 'up and down' can be"],
    ),
    "open but seated": (
        with_round(LADDER, 1, open=True),
        ["Round 1 is open, but has people on courts"],
    ),
}

DRILL_ROUNDS = {
    "somebody rests": (
        with_round(
            with_court(DRILLS, 1, "C3", group("C3", "Eva Fay Gus Hal")), 1, resting=("Ida",)
        ),
        ["Round 1: Ida cannot rest in a drill"],
    ),
    "uneven": (
        with_round(
            DRILLS,
            1,
            courts=(group("C1", "Ana Bo Cy", "Lobs", "Kim"), group("C3", "Di Eva Fay Gus Hal Ida")),
        ),
        ["Round 1: drill groups differ by more than one: 3 on C1 and 6 on C3"],
    ),
    "too many groups": (
        with_round(
            DRILLS,
            1,
            courts=(
                group("C1", "Ana Bo Cy", "Lobs", "Kim"),
                group("C2", "Di Eva Fay", "Returns", "Lou"),
                group("C3", "Gus Hal Ida"),
            ),
        ),
        ["Round 1: 3 drill groups where 2 come nearest to 4 a court"],
    ),
    "station's topic": (
        with_court(DRILLS, 1, "C1", group("C1", "Ana Bo Cy Di", "Smashes", "Kim")),
        ["Round 1, C1: the topic is 'Smashes', must be 'Lobs'"],
    ),
    "station's coach": (
        with_court(DRILLS, 2, "C2", group("C2", "Ana Bo Eva Fay Gus", "Returns", "Max")),
        ["Round 2, C2: the coach is 'Max', must be 'Lou'"],
    ),
    "a match": (
        played(DRILLS, 1, "C1", "Ana Bo / Cy Di"),
        [
            (
                "Round 1, C1: Ana and Bo against Cy and Di "
                "is two against two in a round of kind 'drill'"
            ),
            "Round 1: 1 drill group where 2 come nearest to 4 a court",
        ],
    ),
}

TEAMS = {
    "mixed team of one group": (
        played(MIXED, 1, "C1", "Ana Bea / Al Ben"),
        [
            "Round 1: 1 court of kind 'mixed', must be 2",
            (
                "Round 1, C1: Ana and Bea against Al and Ben: "
                "each team must have one player of each group"
            ),
            (
                "Round 1, C3: Eva and Ed against Fin and Gus: "
                "each team must have one player of each group"
            ),
        ],
    ),
    "leftovers without their court": (
        with_round(with_court(MIXED, 1, "C3"), 1, resting=names("Hal Eva Ed Fin Gus")),
        ["Round 1: 2 courts of doubles, must be 3"],
    ),
    "group's team of both groups": (
        played(AGAINST, 1, "C1", "Ana Al / Bea Ben"),
        [
            "Round 1: 1 court of kind 'group against group', must be 2",
            (
                "Round 1, C1: Ana and Al against Bea and Ben: "
                "two of one group must play two of the other"
            ),
        ],
    ),
    "three groups": (
        with_event(
            AGAINST,
            players=(
                replace(AGAINST.event.players[0], group="green"),
                *AGAINST.event.players[1:],
            ),
        ),
        [
            "Round 1: 2 courts of doubles, must be 1",
            "Round 1: a round of kind 'group against group' needs two groups, there are 3",
        ],
    ),
    "pairs change": (
        played(PAIRS, 3, "C1", "Eva Cy / Di Fay"),
        [
            "Round 3, C1: Eva partners Cy, but Fay in another round of kind 'pairs'",
            "Round 3, C1: Cy partners Eva, but Di in another round of kind 'pairs'",
            "Round 3, C1: Di partners Fay, but Cy in another round of kind 'pairs'",
            "Round 3, C1: Fay partners Di, but Eva in another round of kind 'pairs'",
        ],
    ),
}

_ORDER = "but Ana and Bo serve games 1 and 3, Cy and Di games 2 and 4"
_SIDES = "but must be one of Ana and Bo and one of Cy and Di"
SERVING = {
    "partners in turn": (
        served(serving_order=names("Ana Bo Cy Di")),
        [f"Round 1, C1: the serving order is Ana, Bo, Cy, Di, {_ORDER}"],
    ),
    "team B first": (
        served(serving_order=names("Cy Ana Di Bo")),
        [f"Round 1, C1: the serving order is Cy, Ana, Di, Bo, {_ORDER}"],
    ),
    "one twice": (
        served(serving_order=names("Ana Cy Ana Di")),
        [f"Round 1, C1: the serving order is Ana, Cy, Ana, Di, {_ORDER}"],
    ),
    "none": (served(serving_order=()), [f"Round 1, C1: the serving order is missing, {_ORDER}"]),
    "both receivers of one team": (
        served(deuce_receivers=names("Ana Bo")),
        [f"Round 1, C1: the receivers on the deuce side are Ana, Bo, {_SIDES}"],
    ),
    "one receiver": (
        served(deuce_receivers=("Ana",)),
        [f"Round 1, C1: the receivers on the deuce side are Ana, {_SIDES}"],
    ),
}

SPOILT = {
    f"{topic}: {what}": case
    for topic, cases in {
        "people": PEOPLE,
        "courts": COURTS,
        "rounds": ROUNDS,
        "drills": DRILL_ROUNDS,
        "teams": TEAMS,
        "serving": SERVING,
    }.items()
    for what, case in cases.items()
}


@pytest.mark.parametrize("plan", WELL_MADE, ids=lambda build: build.__name__)
def test_a_plan_that_keeps_every_rule_is_accepted(plan):
    """A plan written by hand with every rule kept has no fault."""
    verdict = check(plan())

    assert verdict.faults == ()
    assert verdict.accepted


@pytest.mark.parametrize("what", SPOILT)
def test_a_broken_rule_is_told_in_words(what):
    """A plan that breaks one rule is refused, with sentences naming round, court and people."""
    plan, faults = SPOILT[what]

    verdict = check(plan)

    assert list(verdict.faults) == faults
    assert not verdict.accepted


def test_every_fault_is_told_at_once():
    """Three things wrong in three rounds are three sentences, in the order of the rounds."""
    plan = with_round(SOCIAL, 1, resting=())
    plan = with_round(plan, 2, minutes=25)
    plan = with_court(plan, 3, "C1", match("C7", "Bo Hal / Eva Ida"))

    assert check(plan).faults == (
        "Round 2 lasts 25 minutes in the plan, 20 minutes in the event",
        "Round 1: Ida is on no court, not resting and not absent",
        "Round 3: there is no court called C7",
    )
