"""Small evenings written out by hand, every rule kept, for the checker's tests to spoil."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from scheduler.domain.clock import parse_time
from scheduler.domain.event import (
    Court,
    Event,
    Here,
    Kind,
    Player,
    Round,
    SpareCourt,
    Station,
    Wish,
)
from scheduler.domain.plan import (
    CourtEntry,
    Group,
    Match,
    Plan,
    PlannedRound,
    Singles,
    TwoAgainstOne,
)

START = parse_time("18:30")
MINUTES = 20


def people(names: str, **facts: Any) -> tuple[Player, ...]:
    """Return players of level 5 with the names given, parted by spaces."""
    return tuple(Player(name, 5.0, **facts) for name in names.split())


def courts(number: int) -> tuple[Court, ...]:
    """Return courts C1, C2 and so on, always open."""
    return tuple(Court(f"C{i}") for i in range(1, number + 1))


def rounds(*kinds: Kind, **settings: Any) -> tuple[Round, ...]:
    """Return rounds of 20 minutes, one after the other from 18:30."""
    return tuple(
        Round(kind, START + MINUTES * i, MINUTES, **settings) for i, kind in enumerate(kinds)
    )


def match(court: str, text: str) -> Match:
    """Return a match from ``"Ana Bo / Cy Di"``, the first of each team serving first."""
    team_a, team_b = (tuple(side.split()) for side in text.split("/"))
    order = (team_a[0], team_b[0], team_a[1], team_b[1])
    return Match(court, team_a, team_b, order, (team_a[0], team_b[0]))  # type: ignore[arg-type]


def group(court: str, names: str, topic: str = "", coach: str = "") -> Group:
    """Return a drill group from names parted by spaces."""
    return Group(court, tuple(names.split()), topic, coach)


def planned(
    event: Event, number: int, entries: Iterable[CourtEntry], resting: str = "", absent: str = ""
) -> PlannedRound:
    """Return a round of the plan, kind and times as the event has them."""
    asked = event.rounds[number - 1]
    return PlannedRound(
        number=number,
        kind=asked.kind,
        start=asked.start,
        minutes=asked.minutes,
        courts=tuple(entries),
        resting=tuple(resting.split()),
        absent=tuple(absent.split()),
        topic=asked.topic,
    )


def social(*wishes: Wish) -> Plan:
    """Nine people, two courts, three rounds of doubles; one rests each round."""
    event = Event(
        "Social",
        START,
        people("Ana Bo Cy Di Eva Fay Gus Hal Ida"),
        courts(2),
        rounds(*[Kind.DOUBLES] * 3),
        wishes=wishes,
    )
    return Plan(
        event,
        (
            planned(
                event, 1, [match("C1", "Ana Bo / Cy Di"), match("C2", "Eva Fay / Gus Hal")], "Ida"
            ),
            planned(
                event, 2, [match("C1", "Ana Cy / Eva Gus"), match("C2", "Bo Ida / Di Fay")], "Hal"
            ),
            planned(
                event, 3, [match("C1", "Bo Hal / Eva Ida"), match("C2", "Ana Di / Fay Cy")], "Gus"
            ),
        ),
    )


def drills(*wishes: Wish) -> Plan:
    """Nine people, three courts with two stations, two drill rounds of groups near four."""
    event = Event(
        "Drills",
        START,
        people("Ana Bo Cy Di Eva Fay Gus Hal Ida"),
        courts(3),
        rounds(*[Kind.DRILL] * 2, topic="Volleys"),
        wishes=wishes,
        stations=(Station("C1", "Lobs", "Kim"), Station("C2", "Returns", "Lou")),
    )
    return Plan(
        event,
        (
            planned(
                event,
                1,
                [group("C1", "Ana Bo Cy Di", "Lobs", "Kim"), group("C3", "Eva Fay Gus Hal Ida")],
            ),
            planned(
                event,
                2,
                [group("C2", "Ana Bo Eva Fay Gus", "Returns", "Lou"), group("C3", "Cy Di Hal Ida")],
            ),
        ),
    )


def mixed() -> Plan:
    """Five of one group and eight of the other on three courts: two mixed, leftovers' doubles."""
    event = Event(
        "Mixed",
        START,
        people("Ana Bea Cat Dee Eva", group="W")
        + people("Al Ben Cal Dan Ed Fin Gus Hal", group="M"),
        courts(3),
        rounds(Kind.MIXED),
    )
    entries = [
        match("C1", "Ana Al / Bea Ben"),
        match("C2", "Cat Cal / Dee Dan"),
        match("C3", "Eva Ed / Fin Gus"),
    ]
    return Plan(event, (planned(event, 1, entries, "Hal"),))


def group_against_group() -> Plan:
    """Four against four on two courts."""
    event = Event(
        "Groups",
        START,
        people("Ana Bea Cat Dee", group="red") + people("Al Ben Cal Dan", group="blue"),
        courts(3),
        rounds(Kind.GROUP_AGAINST_GROUP),
    )
    entries = [match("C1", "Ana Bea / Al Ben"), match("C2", "Cal Dan / Cat Dee")]
    return Plan(event, (planned(event, 1, entries),))


def pairs() -> Plan:
    """Three pairs on one court for three rounds, and Gus who has no partner."""
    event = Event(
        "Pairs",
        START,
        people("Ana Bo Cy Di Eva Fay Gus"),
        courts(2),
        rounds(*[Kind.PAIRS] * 3),
    )
    return Plan(
        event,
        (
            planned(event, 1, [match("C1", "Ana Bo / Cy Di")], "Eva Fay Gus"),
            planned(event, 2, [match("C1", "Ana Bo / Eva Fay")], "Cy Di Gus"),
            planned(event, 3, [match("C1", "Eva Fay / Di Cy")], "Ana Bo Gus"),
        ),
    )


def calls() -> Plan:
    """Seven who come and two who come if needed; Zoe is not here, Uma late, Vic leaves early."""
    event = Event(
        "Calls",
        START,
        (
            *people("Ana Bo Cy Di Eva Fay"),
            *people("Uma", arrives=parse_time("18:50")),
            *people("Vic", leaves=parse_time("18:50")),
            *people("Pat Quin", here=Here.IF_NEEDED),
            *people("Zoe", here=Here.NO),
        ),
        (
            Court("C1"),
            Court("C2", closes=parse_time("19:10")),
            Court("C3", opens=parse_time("19:10")),
        ),
        rounds(*[Kind.DOUBLES] * 2),
    )
    return Plan(
        event,
        (
            planned(
                event,
                1,
                [match("C1", "Ana Bo / Cy Di"), match("C2", "Eva Fay / Vic Pat")],
                absent="Uma Quin Zoe",
            ),
            planned(
                event,
                2,
                [match("C1", "Ana Cy / Eva Uma"), match("C2", "Bo Quin / Di Fay")],
                absent="Vic Pat Zoe",
            ),
        ),
    )


def singles() -> Plan:
    """Ten people, then eleven with the late one, on three courts; the left over use the third."""
    event = Event(
        "Singles",
        START,
        (
            *people("Ana Bo Cy Di Eva Fay Gus Hal Ida Jo"),
            *people("Uma", arrives=parse_time("18:50")),
        ),
        courts(3),
        rounds(*[Kind.DOUBLES] * 2),
        spare_court=SpareCourt.SINGLES,
    )
    return Plan(
        event,
        (
            planned(
                event,
                1,
                [
                    match("C1", "Ana Bo / Cy Di"),
                    match("C2", "Eva Fay / Gus Hal"),
                    Singles("C3", ("Ida", "Jo")),
                ],
                absent="Uma",
            ),
            planned(
                event,
                2,
                [
                    match("C1", "Ana Ida / Jo Uma"),
                    match("C2", "Bo Cy / Di Eva"),
                    TwoAgainstOne("C3", ("Fay", "Gus"), ("Hal",)),
                ],
            ),
        ),
    )


def up_and_down(*wishes: Wish) -> Plan:
    """Eight people, two courts; the second round waits for the first one's results."""
    event = Event(
        "Ladder",
        START,
        people("Ana Bo Cy Di Eva Fay Gus Hal"),
        courts(2),
        rounds(*[Kind.UP_AND_DOWN] * 2),
        wishes=wishes,
    )
    first = planned(event, 1, [match("C1", "Ana Bo / Cy Di"), match("C2", "Eva Fay / Gus Hal")])
    return Plan(event, (first, replace(planned(event, 2, []), open=True)))


def uneven_rests() -> Plan:
    """Six people, one court, three rounds: everybody's share is one rest, four have none or two."""
    event = Event(
        "Six", START, people("Ana Bo Cy Di Eva Fay"), courts(1), rounds(*[Kind.DOUBLES] * 3)
    )
    return Plan(
        event,
        (
            planned(event, 1, [match("C1", "Ana Bo / Cy Di")], "Eva Fay"),
            planned(event, 2, [match("C1", "Ana Eva / Bo Fay")], "Cy Di"),
            planned(event, 3, [match("C1", "Ana Cy / Bo Fay")], "Di Eva"),
        ),
    )


def with_round(plan: Plan, which: int, **facts: Any) -> Plan:
    """Return the plan with facts of one round changed."""
    changed = [replace(item, **facts) if item.number == which else item for item in plan.rounds]
    return replace(plan, rounds=tuple(changed))


def with_court(plan: Plan, number: int, court: str, *entries: CourtEntry) -> Plan:
    """Return the plan with one court's entry in one round replaced by others, or none."""
    kept = plan.rounds[number - 1].courts
    at = next(i for i, entry in enumerate(kept) if entry.court == court)
    return with_round(plan, number, courts=(*kept[:at], *entries, *kept[at + 1 :]))


def with_event(plan: Plan, **facts: Any) -> Plan:
    """Return the plan with facts of its own event changed."""
    return replace(plan, event=replace(plan.event, **facts))
