"""Plan files: what is written is read back, and what is damaged is named with its path."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from scheduler.domain.codec import plan_to_dict, plan_to_json
from scheduler.domain.errors import BadInput
from scheduler.domain.event import (
    Court,
    Earlier,
    Emphasis,
    Event,
    Hand,
    Here,
    Kind,
    Mixing,
    Player,
    Round,
    Side,
    Station,
    Strength,
    Wish,
    WishKind,
)
from scheduler.domain.plan import (
    Change,
    CourtEntry,
    Group,
    Match,
    Measure,
    Plan,
    PlannedRound,
    Singles,
    TwoAgainstOne,
)
from scheduler.readers.plan_file import read_plan, read_plan_file


def small_event() -> Event:
    """Return five people, one court and two rounds past midnight."""
    return Event(
        name="Late night",
        start=1380,
        players=tuple(Player(name, level=float(at + 1)) for at, name in enumerate("ABCDE")),
        courts=(Court("Court 1"),),
        rounds=(Round(Kind.DRILL, 1380, 30), Round(Kind.DOUBLES, 1450, 20)),
    )


def small_plan() -> Plan:
    """Return a plan of the small event."""
    match = Match("Court 1", ("A", "B"), ("C", "D"), ("A", "C", "B", "D"), ("A", "C"))
    return Plan(
        event=small_event(),
        rounds=(
            PlannedRound(1, Kind.DRILL, 1380, 30, (Group("Court 1", tuple("ABCDE")),)),
            PlannedRound(2, Kind.DOUBLES, 1450, 20, (match,), resting=("E",)),
        ),
        measures={"partner_repeats": Measure(0, 0, proven=True, proof="none left")},
    )


def written(folder: Path, text: str | bytes) -> Path:
    """Write a plan file and return its path."""
    path = folder / "plan.json"
    path.write_bytes(text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text)
    return path


def faults_of(path: Path) -> list[str]:
    """Return every fault of a file as the user reads it."""
    with pytest.raises(BadInput) as caught:
        read_plan(path)
    return [str(fault) for fault in caught.value.faults]


def faults_if_any(path: Path) -> list[str]:
    """Return the faults of a file, none if it holds a plan."""
    try:
        read_plan(path)
    except BadInput as error:
        return [str(fault) for fault in error.faults] or ["no fault named"]
    return []


def damaged(change: Callable[[dict[str, Any]], object]) -> str:
    """Return the small plan's document after a change."""
    document = json.loads(plan_to_json(small_plan()))
    change(document)
    return json.dumps(document)


names = st.text(st.characters(exclude_categories=("Cs",)), min_size=1, max_size=12).filter(
    lambda name: bool(name.strip())
)
minutes = st.integers(0, 3 * 1440)
counts = st.integers(0, 50)
figures = st.one_of(counts, st.floats(0, 1e6))


@st.composite
def events(draw: st.DrawFn) -> Event:
    """Draw an event that hangs together."""
    people = draw(st.lists(names, min_size=2, max_size=6, unique=True))
    courts = draw(st.lists(names, min_size=1, max_size=3, unique=True))
    some = st.sampled_from(people)
    start = draw(st.integers(0, 1440))
    maybe = st.none() | minutes
    players = tuple(
        draw(
            st.builds(
                Player,
                st.just(name),
                st.floats(1, 10),
                names,
                st.sampled_from(Hand),
                st.sampled_from(Side),
                maybe,
                maybe,
                st.sampled_from(Here),
                names,
                st.booleans(),
            )
        )
        for name in people
    )
    used = st.none() | st.integers(0, 9) | st.lists(st.sampled_from(courts), max_size=3).map(tuple)
    rounds = draw(
        st.lists(
            st.builds(
                Round,
                st.sampled_from(Kind),
                st.integers(start, start + 1400),
                st.integers(1, 200),
                names,
                st.integers(1, 9),
                st.none() | st.sampled_from(Mixing),
                used,
            ),
            min_size=1,
            max_size=4,
        )
    )
    in_round = st.none() | st.integers(1, len(rounds))
    strengths = st.sampled_from(Strength)
    pair = st.builds(
        Wish, st.just(WishKind.PARTNERS), some, some, st.none(), strengths, in_round, names
    )
    limit = st.builds(
        Wish, st.just(WishKind.PLAYS_AT_MOST), some, st.just(""), counts, strengths, in_round
    )
    place = st.builds(Wish, st.just(WishKind.ON_COURT), some, st.sampled_from(courts))
    return Event(
        name=draw(names),
        start=start,
        players=players,
        courts=tuple(draw(st.builds(Court, st.just(name), maybe, maybe)) for name in courts),
        rounds=tuple(rounds),
        date=draw(st.sampled_from(["", "2026-12-01"])),
        wishes=tuple(draw(st.lists(pair | limit | place, max_size=4))),
        stations=tuple(Station(name, "Volleys", "Coach") for name in courts[:1]),
        earlier=tuple(draw(st.lists(st.builds(Earlier, some, some, counts), max_size=2))),
        emphasis=draw(st.sampled_from(Emphasis)),
        exchange=draw(st.floats(0, 10)),
        until=draw(maybe),
        changes=tuple(draw(st.lists(names, max_size=2))),
    )


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Draw a plan; it need not be a good one, only one the file format can hold."""
    event = draw(events())
    some = st.sampled_from([player.name for player in event.players])
    court = st.sampled_from([court.name for court in event.courts])
    pair = st.tuples(some, some)
    entries: st.SearchStrategy[CourtEntry] = st.one_of(
        st.builds(Group, court, st.lists(some, max_size=5).map(tuple), names, names),
        st.builds(Match, court, pair, pair, st.tuples(some, some, some, some), pair),
        st.builds(Singles, court, pair),
        st.builds(TwoAgainstOne, court, pair, st.tuples(some)),
    )
    rounds = tuple(
        PlannedRound(
            number,
            asked.kind,
            asked.start,
            asked.minutes,
            tuple(draw(st.lists(entries, max_size=3))),
            tuple(draw(st.lists(some, max_size=3))),
            tuple(draw(st.lists(some, max_size=3))),
            asked.topic,
            draw(st.booleans()),
        )
        for number, asked in enumerate(event.rounds, start=1)
    )
    measure = st.builds(Measure, figures, st.none() | figures, st.booleans(), st.booleans(), names)
    return Plan(
        event=event,
        rounds=rounds,
        seed=draw(counts),
        version="0.1.0",
        revision=draw(st.integers(1, 9)),
        measures=draw(st.dictionaries(names, measure, max_size=3)),
        warnings=tuple(draw(st.lists(names, max_size=2))),
        changes=tuple(draw(st.lists(st.builds(Change, some, counts, names, names), max_size=2))),
        season_measures=draw(st.dictionaries(names, figures, min_size=1, max_size=2)),
        weighted=draw(st.dictionaries(names, figures, max_size=2)),
    )


@settings(
    max_examples=60,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(plan=plans())
@example(plan=small_plan())
def test_a_written_plan_is_read_back_equal(plan: Plan, tmp_path: Path) -> None:
    """Reading what `plan_to_json` wrote gives the same plan, and the id still matches."""
    read = read_plan_file(written(tmp_path, plan_to_json(plan)))
    assert read.plan == plan
    assert read.id_matches
    assert read.disagreements == ()
    assert read.stated_id == plan_to_dict(read.plan)["id"]


def test_rounds_after_midnight_stay_in_the_same_evening(tmp_path: Path) -> None:
    """A round at 00:10 of an evening that began at 23:00 starts 70 minutes into it."""
    read = read_plan(written(tmp_path, plan_to_json(small_plan())))
    assert [planned.start for planned in read.rounds] == [1380, 1450]


def test_a_plan_changed_by_hand_is_read_as_it_stands(tmp_path: Path) -> None:
    """Another person in a seat, even an unknown one, is for the checker to judge; the id tells."""

    def exchange(document: dict[str, Any]) -> None:
        document["rounds"][1]["courts"][0]["team_a"] = ["A", "Nobody"]

    read = read_plan_file(written(tmp_path, damaged(exchange)))
    assert read.plan.rounds[1].matches[0].team_a == ("A", "Nobody")
    assert not read.id_matches


def test_keys_we_do_not_know_are_allowed(tmp_path: Path) -> None:
    """Extra keys anywhere leave the plan as it is."""

    def add(document: dict[str, Any]) -> None:
        document["colour"] = 1
        document["rounds"][0]["weather"] = {"rain": True}
        document["rounds"][0]["courts"][0]["net"] = None
        document["event_in_full"]["players"][0]["shoes"] = []

    assert read_plan(written(tmp_path, damaged(add))) == small_plan()


def test_a_byte_order_mark_is_no_fault(tmp_path: Path) -> None:
    """Editors that put a byte order mark in front do not make the file unreadable."""
    text = b"\xef\xbb\xbf" + plan_to_json(small_plan()).encode()
    assert read_plan(written(tmp_path, text)) == small_plan()


def test_a_head_that_disagrees_with_the_event_is_told(tmp_path: Path) -> None:
    """A level, court or name changed only at the top of the file is a fault with its path."""

    def change(document: dict[str, Any]) -> None:
        document["players"][2]["level"] = 9.0
        document["courts"].append("Court 2")
        document["event"]["start"] = "23:30"

    path = written(tmp_path, damaged(change))
    assert [fault.where for fault in read_plan_file(path).disagreements] == [
        "plan.json event.start",
        "plan.json courts",
        "plan.json players[2]",
    ]
    assert len(faults_of(path)) == 3


def _set(*path: str | int, to: Any) -> Callable[[dict[str, Any]], object]:
    def change(document: dict[str, Any]) -> None:
        place: Any = document
        for part in path[:-1]:
            place = place[part]
        place[path[-1]] = to

    return change


COURT = ("rounds", 1, "courts", 0)
DAMAGE = {
    "other schema": (
        _set("schema", to="other/1"),
        'plan.json schema: must be "doubles-rota-plan/1", got "other/1"',
    ),
    "team of three": (
        _set(*COURT, "team_a", to=["A", "B", "E"]),
        "plan.json rounds[1].courts[0].team_a: must have at most 2 items, has 3",
    ),
    "team of one": (
        _set(*COURT, "team_a", to=["A"]),
        "plan.json rounds[1].courts[0].team_a[1]: is missing",
    ),
    "a number for a name": (
        _set(*COURT, "team_a", to=["A", 7]),
        "plan.json rounds[1].courts[0].team_a[1]: must be text, got 7",
    ),
    "an entry of no kind": (
        _set(*COURT, to={"court": "Court 1"}),
        (
            "plan.json rounds[1].courts[0]: must be an object with just one of: group, "
            "team_a and team_b, singles, two_against_one"
        ),
    ),
    "unknown kind": (
        _set("rounds", 0, "kind", to="triples"),
        (
            "plan.json rounds[0].kind: must be drill, doubles, mixed, pairs, group against group "
            'or up and down, got "triples"'
        ),
    ),
    "no time": (
        _set("rounds", 0, "start", to="late"),
        'plan.json rounds[0].start: must be a time such as 18:30, got "late"',
    ),
    "minutes as text": (
        _set("rounds", 0, "minutes", to="30"),
        'plan.json rounds[0].minutes: must be a whole number, got "30"',
    ),
    "no minutes": (
        _set("rounds", 0, "minutes", to=0),
        "plan.json rounds[0].minutes: must be at least 1, got 0",
    ),
    "measure as text": (
        _set("measures", "partner_repeats", "value", to="none"),
        'plan.json measures.partner_repeats.value: must be a number, got "none"',
    ),
    "courts of a round": (
        _set("event_in_full", "rounds", 0, "courts", to="all"),
        'plan.json event_in_full.rounds[0].courts: must be a list, got "all"',
    ),
    "level out of range": (
        _set("event_in_full", "players", 0, "level", to=11.0),
        "plan.json event_in_full.players[0].level: must be from 1 to 10, got 11",
    ),
    "a player twice": (
        _set("event_in_full", "players", 1, "name", to="A"),
        "plan.json event_in_full.players[1].name: is the same as players[0].name",
    ),
    "a wish for nobody": (
        _set("event_in_full", "wishes", to=[{"kind": "rests", "player": "Zed"}]),
        'plan.json event_in_full.wishes[0].player: no player called "Zed"',
    ),
    "rounds are no list": (
        _set("rounds", to={}),
        "plan.json rounds: must be a list, got an object",
    ),
}


@pytest.mark.parametrize("name", DAMAGE)
def test_damage_is_named_with_its_path(name: str, tmp_path: Path) -> None:
    """Each kind of damage gives just its own fault, with the path inside the document."""
    change, expected = DAMAGE[name]
    assert faults_of(written(tmp_path, damaged(change))) == [expected]


def test_every_fault_is_told_at_once(tmp_path: Path) -> None:
    """Three faults in three places give three lines, in the document's order."""

    def change(document: dict[str, Any]) -> None:
        del document["seed"]
        document["rounds"][0]["minutes"] = None
        document["rounds"][1]["resting"] = "E"

    assert faults_of(written(tmp_path, damaged(change))) == [
        "plan.json seed: is missing",
        "plan.json rounds[0].minutes: must be a whole number, got nothing",
        'plan.json rounds[1].resting: must be a list, got "E"',
    ]


HOSTILE = {
    "empty": ("", "is not JSON"),
    "not json": ("plan?", "is not JSON"),
    "a list": ("[]", "the document must be an object"),
    "not a number": ('{"seed": NaN}', "NaN is no number"),
    "not utf-8": (b"\xff\xfe\x00", "is not UTF-8 text"),
    "deep": ("[" * 100_000, "nested too deeply"),
    "half a surrogate": ('{"schema": "\\ud800"}', "hex escape"),
    "endless number": ('{"seed": ' + "9" * 5000 + "}", "4300 digits"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_files_are_refused_in_words(name: str, tmp_path: Path) -> None:
    """What is no plan document at all gives one fault and no traceback."""
    text, expected = HOSTILE[name]
    (fault,) = faults_of(written(tmp_path, text))
    assert expected in fault


def test_no_file_and_a_folder_are_told_apart(tmp_path: Path) -> None:
    """A missing file and a folder each have their own sentence."""
    assert "there is no such file" in faults_of(tmp_path / "plan.json")[0]
    assert "is a folder" in faults_of(tmp_path)[0]


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=8,
)


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(value=json_values, data=st.data())
def test_any_value_anywhere_gives_a_plan_or_faults(
    value: Any, data: st.DataObject, tmp_path: Path
) -> None:
    """Whatever stands in whichever place, reading ends in a plan or in `BadInput`."""
    document = json.loads(plan_to_json(replace(small_plan(), warnings=("w",))))
    place: Any = document
    while True:
        keys = list(place) if isinstance(place, dict) else list(range(len(place)))
        key = data.draw(st.sampled_from(keys))
        inside = place[key]
        if not isinstance(inside, dict | list) or not inside or data.draw(st.booleans()):
            place[key] = value
            break
        place = inside
    faults = faults_if_any(written(tmp_path, json.dumps(document)))
    assert all(fault.startswith("plan.json") for fault in faults)
