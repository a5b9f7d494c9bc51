"""Evenings for hypothesis: every kind of round, presence, groups, stations, wishes, a past."""

from __future__ import annotations

from hypothesis import strategies as st

from scheduler.domain.event import (
    Court,
    Earlier,
    Emphasis,
    Event,
    Here,
    Kind,
    Mixing,
    Player,
    Round,
    Side,
    SpareCourt,
    Station,
    Strength,
    Wish,
    WishKind,
)

START, MINUTES = 18 * 60, 20
TWO_GROUPS = {Kind.MIXED, Kind.GROUP_AGAINST_GROUP}
SEATED_AT_ONCE = tuple(kind for kind in Kind if kind is not Kind.UP_AND_DOWN)
NUMBERED = {WishKind.PLAYS_AT_MOST, WishKind.ROUNDS_RUNNING_AT_MOST}
WHOLE_EVENING = {WishKind.ROUNDS_RUNNING_AT_MOST}


def minute(round_number: int) -> int:
    """Return when a round starts, the first being number 0."""
    return START + MINUTES * round_number


def plain_event(players: int, courts: int, rounds: int, *kinds: Kind, **facts) -> Event:
    """Return an evening with nothing special: level 5 for all, everybody there, doubles."""
    return Event(
        name="plain",
        start=START,
        players=tuple(Player(f"P{i}", 5.0) for i in range(players)),
        courts=tuple(Court(f"C{i}") for i in range(courts)),
        rounds=tuple(
            Round(kind, minute(i), MINUTES)
            for i, kind in enumerate(kinds or (Kind.DOUBLES,) * rounds)
        ),
        **facts,
    )


@st.composite
def events(
    draw: st.DrawFn,
    *,
    people: tuple[int, int] = (4, 14),
    most_rounds: int = 5,
    most_courts: int = 4,
    kinds: tuple[Kind, ...] = tuple(Kind),
    most_wishes: int = 4,
    strengths: tuple[Strength, ...] = tuple(Strength),
) -> Event:
    """Draw an evening; nothing is promised about whether its wishes can be kept."""
    rounds = tuple(
        draw(_round(number, kinds)) for number in range(draw(st.integers(1, most_rounds)))
    )
    courts = tuple(
        draw(_court(number, len(rounds))) for number in range(draw(st.integers(1, most_courts)))
    )
    players = draw(_players(people, len(rounds), any(r.kind in TWO_GROUPS for r in rounds)))
    stationed = draw(st.sampled_from([0, 0, 1, len(courts)]))
    return Event(
        name="drawn",
        start=START,
        players=players,
        courts=courts,
        rounds=rounds,
        wishes=tuple(
            draw(_wish(players, courts, len(rounds), strengths))
            for _ in range(draw(st.integers(0, most_wishes)))
        ),
        stations=tuple(Station(court.name, "Lobs") for court in courts[:stationed]),
        earlier=_once_a_pair(draw(st.lists(_earlier(players), max_size=3))),
        emphasis=draw(st.sampled_from(Emphasis)),
        exchange=draw(st.sampled_from([0.0, 0.5, 2.0, 7.25])),
        spare_court=draw(st.sampled_from(SpareCourt)),
    )


@st.composite
def _round(draw: st.DrawFn, number: int, kinds: tuple[Kind, ...]) -> Round:
    return Round(
        kind=draw(st.sampled_from(kinds)),
        start=minute(number),
        minutes=MINUTES,
        group_size=draw(st.integers(2, 6)),
        levels=draw(st.sampled_from([None, *Mixing])),
        courts=draw(st.sampled_from([None, None, 1, 2])),
    )


@st.composite
def _court(draw: st.DrawFn, number: int, rounds: int) -> Court:
    if number == 0:  # one court stays open, so that drills have somewhere to go
        return Court("C0")
    opens = draw(st.sampled_from([None, None, *map(minute, range(rounds))]))
    closes = draw(st.sampled_from([None, None, *map(minute, range(1, rounds + 1))]))
    return Court(f"C{number}", opens, closes)


@st.composite
def _players(
    draw: st.DrawFn, people: tuple[int, int], rounds: int, has_groups: bool
) -> tuple[Player, ...]:
    number = draw(st.integers(*people))
    levels = draw(st.lists(st.integers(2, 20), min_size=number, max_size=number))
    groups = draw(st.lists(st.sampled_from("MW"), min_size=number, max_size=number))
    come = st.tuples(
        st.sampled_from([None, *map(minute, range(rounds))]),
        st.sampled_from([None, *map(minute, range(1, rounds + 1))]),
    )
    indices = st.integers(0, number - 1)
    hours = draw(st.dictionaries(indices, come, max_size=4))
    here = draw(st.dictionaries(indices, st.sampled_from(Here), max_size=3))
    sides = draw(st.dictionaries(indices, st.sampled_from(Side), max_size=3))
    return tuple(
        Player(
            name=f"P{i}",
            level=levels[i] / 2,
            group=groups[i] if has_groups else "",
            side=sides.get(i, Side.EITHER),
            arrives=hours.get(i, (None, None))[0],
            leaves=hours.get(i, (None, None))[1],
            here=here.get(i, Here.YES),
        )
        for i in range(number)
    )


@st.composite
def _wish(
    draw: st.DrawFn,
    players: tuple[Player, ...],
    courts: tuple[Court, ...],
    rounds: int,
    strengths: tuple[Strength, ...],
) -> Wish:
    kind = draw(st.sampled_from(WishKind))
    one = draw(st.integers(0, len(players) - 1))
    number, other = None, ""
    if kind is WishKind.ON_COURT:
        other = draw(st.sampled_from(courts)).name
    elif kind in NUMBERED:
        number = draw(st.integers(int(kind in WHOLE_EVENING), rounds))
    elif kind is not WishKind.RESTS:
        other = players[(one + draw(st.integers(1, len(players) - 1))) % len(players)].name
    at = None if kind in WHOLE_EVENING else draw(st.sampled_from([None, *range(1, rounds + 1)]))
    strength = draw(st.sampled_from(strengths))
    return Wish(kind, players[one].name, other, number, strength, at, where="Wishes!A2")


@st.composite
def _earlier(draw: st.DrawFn, players: tuple[Player, ...]) -> Earlier:
    one = draw(st.integers(0, len(players) - 2))
    other = draw(st.integers(one + 1, len(players) - 1))
    faded = [draw(st.sampled_from([0.0, 0.4, 1.0, 1.7])) for _ in range(3)]
    return Earlier(players[one].name, players[other].name, 1, 1, 1, *faded)


def _once_a_pair(drawn: list[Earlier]) -> tuple[Earlier, ...]:
    return tuple({(past.player, past.other): past for past in drawn}.values())
