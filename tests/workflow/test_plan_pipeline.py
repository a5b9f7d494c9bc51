"""Any evening becomes a plan the checker accepts, or is refused in words; nothing else."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace

import pytest
from drawn_events import events, minute, plain_event
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from scheduler.checker import check
from scheduler.domain.codec import plan_to_json
from scheduler.domain.errors import CheckerDisagrees, NoPlan
from scheduler.domain.event import Court, Event, Here, Kind, Strength, Wish, WishKind
from scheduler.domain.plan import Match, Plan, PlannedRound
from scheduler.rotation import effort
from scheduler.workflow.plan import make_plan, verified

TINY = 40_000


@pytest.fixture(autouse=True, scope="module")
def tiny_effort() -> Iterator[None]:
    """Let an effort called ``tiny`` exist while these tests run."""
    effort.EFFORTS["tiny"] = TINY
    yield
    del effort.EFFORTS["tiny"]


def planned(event: Event, seed: int = 1) -> Plan | None:
    """Return the event's plan, None where it is refused with reasons."""
    try:
        return make_plan(event, seed=seed, effort="tiny").plan
    except NoPlan as refused:
        if not all(refused.conflict or [""]):
            raise AssertionError("refused without a reason") from refused
        return None


@settings(max_examples=60, deadline=None)
@given(events(people=(4, 14)), st.integers(1, 99))
def test_an_evening_is_planned_or_refused(event: Event, seed: int) -> None:
    """Every kind of round, presence, wish and emphasis: a plan without faults, or no plan."""
    plan = planned(event, seed)
    if plan is not None:
        assert check(plan, event).faults == ()


@settings(max_examples=15, deadline=None)
@given(events(people=(15, 30), most_courts=7, most_wishes=8), st.integers(1, 99))
def test_a_larger_evening_is_planned_or_refused(event: Event, seed: int) -> None:
    """The same for 15 to 30 people."""
    plan = planned(event, seed)
    if plan is not None:
        assert check(plan, event).faults == ()


@settings(max_examples=40, deadline=None)
@given(events(people=(4, 12), strengths=(Strength.SHOULD,)))
def test_an_evening_without_musts_is_never_refused(event: Event) -> None:
    """Fair rests are always possible when no must is in the way."""
    assert planned(event) is not None


@settings(max_examples=30, deadline=None)
@given(events(people=(4, 12), kinds=(Kind.PAIRS, Kind.DOUBLES, Kind.PAIRS)))
def test_evenings_of_pairs_are_planned_or_refused(event: Event) -> None:
    """Fixed teams among late comers and musts: nobody ends up with two fixed partners."""
    plan = planned(event)
    if plan is not None:
        assert check(plan, event).faults == ()


def test_a_must_of_two_without_a_team_leaves_pairs_rounds_alone() -> None:
    """Eleven people, so one has no team; a must and a should ask two partners of the same one."""
    wishes = (
        Wish(WishKind.PARTNERS, "P0", "P2", strength=Strength.SHOULD, round=1),
        Wish(WishKind.PARTNERS, "P0", "P1"),
    )
    event = plain_event(11, 1, 0, Kind.PAIRS, Kind.DOUBLES, Kind.PAIRS, wishes=wishes)
    later = tuple(Court(f"C{i}", minute(2)) for i in (1, 2, 3))
    plan = planned(replace(event, courts=(*event.courts, *later)))
    assert plan is not None
    teams = {
        frozenset(team)
        for rounds in (plan.rounds[0], plan.rounds[2])
        for match in rounds.matches
        for team in (match.team_a, match.team_b)
    }
    assert len({name for team in teams for name in team}) == 2 * len(teams)


def test_the_checker_has_the_last_word(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plan the checker refuses raises `CheckerDisagrees` with its sentences."""
    plan = planned(plain_event(5, 1, 2))
    assert plan is not None
    assert verified(plan) is plan
    spoilt = replace(plan, rounds=(replace(plan.rounds[0], resting=()), plan.rounds[1]))
    with pytest.raises(CheckerDisagrees) as refusal:
        verified(spoilt)
    assert refusal.value.faults


# ---- one seat changed -----------------------------------------------------------------


def seats_of(plan: Plan) -> list[tuple[int, str, int, int]]:
    """Return every seat: the round's position, the kind of place, which one, which seat.

    Rounds still to be seated from results have none.
    """
    found = []
    for at, rounds in enumerate(plan.rounds):
        if rounds.open:
            continue
        for which in ("resting", "absent"):
            found += [(at, which, 0, seat) for seat in range(len(getattr(rounds, which)))]
        for number, entry in enumerate(rounds.courts):
            found += [(at, "courts", number, seat) for seat in range(len(entry.players))]
    return found


def person_at(plan: Plan, seat: tuple[int, str, int, int]) -> str:
    """Return who is in a seat."""
    at, place, number, which = seat
    rounds = plan.rounds[at]
    people = rounds.courts[number].players if place == "courts" else getattr(rounds, place)
    return people[which]


def with_person(plan: Plan, seat: tuple[int, str, int, int], name: str) -> Plan:
    """Return the plan with somebody else in one seat; a match's serving order follows."""
    at, place, number, which = seat
    rounds = plan.rounds[at]
    if place != "courts":
        people = [*getattr(rounds, place)]
        people[which] = name
        return _with_round(plan, at, replace(rounds, **{place: tuple(people)}))
    entry = rounds.courts[number]
    gone = entry.players[which]
    facts = {
        field: tuple(name if n == gone else n for n in getattr(entry, field))
        for field in ("team_a", "team_b", "serving_order", "deuce_receivers", "two", "one")
        if hasattr(entry, field)
    }
    if not facts:
        facts = {"players": tuple(name if n == gone else n for n in entry.players)}
    courts = [*rounds.courts]
    courts[number] = replace(entry, **facts)
    return _with_round(plan, at, replace(rounds, courts=tuple(courts)))


def _with_round(plan: Plan, at: int, changed: PlannedRound) -> Plan:
    return replace(plan, rounds=(*plan.rounds[:at], changed, *plan.rounds[at + 1 :]), measures={})


@settings(max_examples=30, deadline=None)
@given(events(people=(5, 12)), st.integers(0, 999))
def test_another_in_one_seat_is_caught(event: Event, lots: int) -> None:
    """Whoever else sits in a seat is in two places or unknown, and somebody is nowhere."""
    plan = planned(event)
    assume(plan)
    names = [player.name for player in event.players]
    seats = seats_of(plan)
    for seat in random.Random(lots).sample(seats, min(12, len(seats))):
        others = [name for name in names if name != person_at(plan, seat)]
        for name in (random.Random(lots).choice(others), "Nobody"):
            assert not check(with_person(plan, seat, name)).accepted, (seat, name)


@settings(max_examples=30, deadline=None)
@given(events(people=(5, 12)), st.integers(0, 999))
def test_two_seats_exchanged_are_caught_where_that_breaks_a_rule(event: Event, lots: int) -> None:
    """Somebody not there takes a present one's seat, or two exchange seats a must is about."""
    plan = planned(event)
    assume(plan)
    draw = random.Random(lots)
    seats = seats_of(plan)
    for one in draw.sample(seats, min(20, len(seats))):
        other = draw.choice([seat for seat in seats if seat[0] == one[0]])
        a, b = person_at(plan, one), person_at(plan, other)
        exchanged = with_person(with_person(plan, one, b), other, a) if a != b else plan
        verdict = check(exchanged)
        if _breaks(event, plan.rounds[one[0]], one, other, (a, b)):
            assert not verdict.accepted, (one, other)


def _breaks(event: Event, rounds: PlannedRound, one, other, names) -> bool:
    """Return whether exchanging two seats certainly breaks a rule: absence, or a court wished."""
    here = {p.name: p.is_present(rounds.start, rounds.end) for p in event.players}
    steady = {p.name: p.here is not Here.IF_NEEDED for p in event.players}
    places = {one[1], other[1]}
    if "absent" in places and len(places) > 1 and not rounds.open:
        return all(steady[n] for n in names) and any(not here[n] for n in names)
    for wish in event.wishes:
        about = wish.kind is WishKind.ON_COURT and wish.strength is Strength.MUST
        if about and wish.player in names and wish.round in (None, rounds.number):
            goes_to = other if wish.player == names[0] else one
            if goes_to[1] == "courts":
                return rounds.courts[goes_to[2]].court != wish.other
    return False


@settings(max_examples=20, deadline=None)
@given(events(people=(5, 12), most_wishes=2), st.integers(0, 999))
def test_a_measure_told_wrong_is_caught(event: Event, lots: int) -> None:
    """Any measure of the format stated one too high is noticed."""
    plan = planned(event)
    assume(plan)
    name = random.Random(lots).choice(sorted(check(plan).measures))
    wrong = replace(plan.measures[name], value=plan.measures[name].value + 1, proven=False)
    assert not check(replace(plan, measures={**plan.measures, name: wrong})).accepted


# ---- repeatable ----------------------------------------------------------------------------


@settings(max_examples=15, deadline=None)
@given(events(people=(4, 10)), st.integers(1, 99))
def test_the_same_event_and_seed_give_the_same_plan(event: Event, seed: int) -> None:
    """Planned twice, the document is the same to the byte, refusals included."""
    once, again = planned(event, seed), planned(event, seed)
    assert (once is None) == (again is None)
    if once is not None and again is not None:
        assert plan_to_json(once) == plan_to_json(again)


def test_another_seed_gives_another_plan() -> None:
    """The seed is not ignored: twelve people in four rounds come out otherwise under seed 2."""
    one, two = planned(plain_event(12, 3, 4), 1), planned(plain_event(12, 3, 4), 2)
    assert one is not None
    assert two is not None
    assert one.rounds != two.rounds


def test_progress_rises_to_its_end() -> None:
    """What is reported grows from 0 to at most 1 and names what is being done."""
    told: list[tuple[float, str]] = []
    make_plan(
        plain_event(8, 2, 3), effort="tiny", report=lambda share, doing: told.append((share, doing))
    )
    shares = [share for share, _ in told]
    assert shares == sorted(shares)
    assert 0 < shares[-1] <= 1
    assert all(doing for _, doing in told)


# ---- what cannot be -------------------------------------------------------------------------


@pytest.mark.parametrize("order", [1, -1])
def test_two_musts_that_clash_are_named_and_no_other(order: int) -> None:
    """A must partner B, A must not share a court with B: those two, whatever else is wished."""
    clash = (
        Wish(WishKind.PARTNERS, "P0", "P1", where="Wishes!A2"),
        Wish(WishKind.NOT_SAME_COURT, "P0", "P1", where="Wishes!A3"),
    )
    harmless = (
        Wish(WishKind.NOT_PARTNERS, "P2", "P3", where="Wishes!A4"),
        Wish(WishKind.PARTNERS_ONCE, "P4", "P5", where="Wishes!A5"),
        Wish(WishKind.AGAINST_ONCE, "P0", "P1", strength=Strength.SHOULD, where="Wishes!A6"),
    )
    event = plain_event(8, 2, 3, wishes=(*clash, *harmless)[::order])
    with pytest.raises(NoPlan) as refusal:
        make_plan(event, effort="tiny")
    assert refusal.value.proven
    assert sorted(refusal.value.conflict) == sorted(wish.sentence for wish in clash)


def test_a_match_has_four_different_people_and_an_order() -> None:
    """Every match of a plan is dressed: four who serve in turn, one receiver of each team."""
    plan = planned(plain_event(11, 2, 4))
    assert plan is not None
    for _, match in plan.matches():
        assert isinstance(match, Match)
        assert sorted(match.serving_order) == sorted(set(match.players))
        assert len(match.deuce_receivers) == 2
