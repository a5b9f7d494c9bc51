"""The rows of a plan for people."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from exporter_plans import HOSTILE, make_plan

from scheduler.domain.event import (
    Court,
    Event,
    Kind,
    Player,
    Round,
    Station,
    Strength,
    Wish,
    WishKind,
)
from scheduler.domain.plan import Group, Match, Measure, Plan, PlannedRound, Singles, TwoAgainstOne
from scheduler.exporters.meetings import count_meetings
from scheduler.exporters.view import Doing, Use, make_view
from scheduler.exporters.wording import measure_lines, standing

SIX = tuple("ABCDEF")


def small_plan(*rounds: PlannedRound, people: tuple[str, ...] = SIX, **event: object) -> Plan:
    """Return a plan of hand-made rounds."""
    asked = tuple(Round(r.kind, r.start, r.minutes) for r in rounds)
    players = tuple(Player(name, 5) for name in people)
    courts = (Court("Gate"), Court("Shed"))
    return Plan(Event("Test", 1110, players, courts, asked, **event), rounds)


def doubles(number: int, *entries: object, kind: Kind = Kind.DOUBLES, **rest: object):
    """Return a round that starts at 18:30 and lasts 25 minutes for each number."""
    return PlannedRound(number, kind, 1085 + 25 * number, 25, entries, **rest)


GATE = Match("Gate", ("A", "B"), ("C", "D"), ("A", "C", "B", "D"), ("B", "C"))


def test_a_match_tells_everybody_when_they_serve_and_where_they_receive() -> None:
    """Turns follow the serving order (ITF Rule 14), sides the deuce receivers (ITF Rule 15)."""
    view = make_view(small_plan(doubles(1, GATE, resting=("E", "F"))))
    (place,) = view.matches()
    seats = {s.person.name: (s.serves, s.receives) for s in place.seats}
    assert seats == {
        "A": ("1st", "ad"),
        "B": ("3rd", "deuce"),
        "C": ("2nd", "deuce"),
        "D": ("4th", "ad"),
    }


def test_each_evening_has_a_stop_for_every_round() -> None:
    """Everybody is told court, partner and opponents, or that they rest or are not here."""
    view = make_view(small_plan(doubles(1, GATE, resting=("E",), absent=("F",))))
    stops = {evening.person.name: evening.stops[0] for evening in view.evenings}
    assert [p.name for p in stops["A"].beside] == ["B"]
    assert [p.name for p in stops["A"].against] == ["C", "D"]
    assert stops["A"].place is not None
    assert stops["A"].place.court == "Gate"
    assert stops["E"].doing is Doing.RESTING
    assert stops["F"].doing is Doing.ABSENT


def test_keys_name_players_and_matches_for_good() -> None:
    """A key is the place in the list and the round and court, whatever is planned later."""
    view = make_view(small_plan(doubles(1, GATE), doubles(2, replace(GATE, court="Shed"))))
    assert [person.key for person in view.people] == ["P01", "P02", "P03", "P04", "P05", "P06"]
    assert [place.key for place in view.matches()] == ["R1C1", "R2C2"]


def test_keys_are_equally_long_for_a_hundred_people() -> None:
    """Keys sort as text: P009 stands before P010 and P100."""
    keys = [person.key for person in make_view(make_plan(120, 10, 0, 1)).people]
    assert keys == sorted(keys)


def test_drills_show_topic_and_coach_of_the_court() -> None:
    """A station's own topic takes the place of the round's."""
    station = Group("Shed", ("A", "B"), "lobs", "Coach Kim")
    plain = Group("Gate", ("C", "D", "E", "F"))
    plan = small_plan(doubles(1, plain, station, kind=Kind.DRILL, topic="volleys"))
    gate, shed = make_view(plan).places()
    assert (gate.title, gate.coach) == ("Drill: volleys", "")
    assert (shed.title, shed.coach) == ("Drill: lobs", "Kim")


def test_left_over_people_are_shown_on_their_court() -> None:
    """Singles and two against one are their own uses of a court and no matches of four."""
    pair = Singles("Shed", ("E", "F"))
    view = make_view(small_plan(doubles(1, GATE, pair)))
    assert [place.use for place in view.places()] == [Use.MATCH, Use.SINGLES]
    assert len(list(view.matches())) == 1
    three = TwoAgainstOne("Shed", ("A", "B"), ("C",))
    (place,) = make_view(small_plan(doubles(1, three))).places()
    assert [len(side) for side in place.sides] == [2, 1]


def test_an_open_round_says_so_to_everybody() -> None:
    """Where seats wait for results nobody is said to be absent."""
    plan = small_plan(doubles(1, kind=Kind.UP_AND_DOWN, open=True))
    assert {e.stops[0].doing for e in make_view(plan).evenings} == {Doing.NOT_SEATED_YET}


def test_evenings_are_alphabetical_without_regard_to_accents() -> None:
    """Inês stands between Hugo and Jón, as a reader looks for her."""
    plan = make_plan(22)
    names = [evening.person.name for evening in make_view(plan).evenings]
    assert names[8:11] == ["Inês Jade", "Jón Kelp", "Kofi Lark"]


def test_a_letter_with_a_stroke_stands_with_its_plain_letter() -> None:
    """Łucja is looked for between Kim and Mia, not after Zoë."""
    people = ("Zoë", "Łucja", "Mia", "Kim", "Øyvind", "Nell")
    plan = small_plan(doubles(1, resting=people), people=people)
    names = [evening.person.name for evening in make_view(plan).evenings]
    assert names == ["Kim", "Łucja", "Mia", "Nell", "Øyvind", "Zoë"]


def test_who_never_came_is_not_here_and_the_court_says_so() -> None:
    """The seats stand as printed; the person is told to be absent, the others see why."""
    view = make_view(small_plan(doubles(1, GATE, resting=("E", "F"), missing=("B", "F"))))
    (place,) = view.matches()
    assert [seat.person.name for seat in place.seats] == ["A", "B", "C", "D"]
    assert (place.title, place.note) == ("Doubles (B did not come)", "B did not come")
    stops = {evening.person.name: evening.stops[0].doing for evening in view.evenings}
    assert [name for name, doing in stops.items() if doing is Doing.ABSENT] == ["B", "F"]
    assert [person.name for person in view.rounds[0].resting] == ["E"]
    assert [person.name for person in view.rounds[0].absent] == ["B", "F"]
    assert view.meetings.partners == {}


@pytest.mark.parametrize(
    ("topic", "title"),
    [
        ("", "Doubles"),
        ("Doubles", "Doubles"),
        ("Social doubles", "Social doubles"),
        ("Last round", "Doubles: Last round"),
    ],
)
def test_a_kind_is_not_said_twice(topic: str, title: str) -> None:
    """A topic that names the kind stands alone."""
    assert make_view(small_plan(doubles(1, GATE, topic=topic))).rounds[0].head.title == title


@pytest.mark.parametrize("hostile", [False, True])
def test_everybody_is_somewhere_in_every_round(hostile: bool) -> None:
    """Each round shows each person once: on a court, resting or not here."""
    view = make_view(make_plan(23, hostile=hostile))
    for row in view.rounds:
        seated = [seat.person.key for place in row.places if place for seat in place.seats]
        others = [person.key for person in (*row.resting, *row.absent)]
        assert Counter(seated + others) == Counter(person.key for person in view.people)


def test_labels_are_different_and_short() -> None:
    """A name of 300 letters is shortened and carries its key; others stay as they are."""
    view = make_view(make_plan(len(HOSTILE), hostile=True))
    assert max(len(person.label) for person in view.people) <= 40
    long = next(person for person in view.people if len(person.name) == 300)
    assert long.label.endswith(long.key)


def test_partners_fixed_by_the_event_are_no_repeats() -> None:
    """The contract leaves must-partners out of P and counts partners of pairs rounds once."""
    wish = Wish(WishKind.PARTNERS, "A", "B", strength=Strength.MUST)
    rounds = (doubles(1, GATE, kind=Kind.PAIRS), doubles(2, GATE, kind=Kind.PAIRS))
    meetings = count_meetings(small_plan(*rounds, wishes=(wish,)))
    assert meetings.partners == {("A", "B"): 2, ("C", "D"): 2}
    assert meetings.partners_by_choice == {("C", "D"): 1}
    assert meetings.opponents == {("A", "C"): 2, ("A", "D"): 2, ("B", "C"): 2, ("B", "D"): 2}


def sentences(plan: Plan, **measures: Measure) -> dict[str, str]:
    """Return the sentence of each measure given."""
    told = replace(plan, measures=measures)
    return {line.name: line.sentence for line in measure_lines(told, count_meetings(told))}


def test_repeats_are_told_in_words_with_their_bound() -> None:
    """Pairs are counted by how often they meet, and a proven minimum is called one."""
    once = small_plan(doubles(1, GATE))
    twice = small_plan(doubles(1, GATE), doubles(2, GATE))
    thrice = small_plan(*(doubles(number, GATE) for number in (1, 2, 3)))
    assert sentences(once, partner_repeats=Measure(0, 0, True)) == {
        "partner_repeats": "No two people partner twice."
    }
    assert sentences(twice, opponent_repeats=Measure(4, 4, True)) == {
        "opponent_repeats": "4 pairs oppose twice; 4 is the proven minimum."
    }
    assert sentences(thrice, partner_repeats=Measure(6, 2)) == {
        "partner_repeats": "2 pairs partner three times: 6 repeats in all; "
        "no plan can have less than 2."
    }


def test_only_what_is_proven_is_called_proven() -> None:
    """A figure above its bound is never said to be the best, unless proved given those above."""
    plan = small_plan(doubles(1, GATE), doubles(2, GATE))
    unproved = sentences(plan, opponent_repeats=Measure(4, 0))["opponent_repeats"]
    assert unproved == "4 pairs oppose twice; whether any plan can do better is not known."
    settled = Measure(4, 0, best_given_above=True)
    assert "once the lines above are settled" in sentences(plan, opponent_repeats=settled)[
        "opponent_repeats"
    ]  # fmt: skip
    assert standing(Measure(4, 1)) == "3 above the proven limit"
    assert standing(Measure(1, 1, True)) == "best possible"


def test_a_measure_nobody_described_is_still_shown() -> None:
    """A new measure appears under its own name with its figure."""
    assert sentences(small_plan(doubles(1, GATE)), net_cord_luck=Measure(1.5)) == {
        "net_cord_luck": "Net cord luck: 1.5."
    }


def test_stations_are_told_before_the_drill_groups_that_hang_on_them() -> None:
    """With a station the line on coming back to it stands above the one on drill groups."""
    plan = small_plan(replace(doubles(1, GATE), kind=Kind.DRILL))
    plan = replace(plan, event=replace(plan.event, stations=(Station(GATE, "toss"),)))
    told = sentences(plan, drill_repeats=Measure(1, 0), court_repeats=Measure(0, 0),
                     station_repeats=Measure(0, 0))  # fmt: skip
    assert list(told) == ["station_repeats", "drill_repeats", "court_repeats"]


def test_every_measure_of_a_plan_has_its_own_words() -> None:
    """No measure the checker counts falls back to its bare name."""
    plan = make_plan(22)
    lines = measure_lines(plan, count_meetings(plan))
    about_nothing = {"station_repeats", "wishes_missed"}  # no stations here, and no wishes
    assert {line.name for line in lines} == set(plan.measures) - about_nothing
    assert not [line for line in lines if line.sentence.startswith(f"{line.title}:")]
