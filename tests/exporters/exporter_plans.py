"""Plausible plans with random seats, for the exporters' tests; no engine is needed."""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.checker import recount
from scheduler.domain.event import Court, Event, Kind, Player, Round, Station
from scheduler.domain.formats import SetFormat
from scheduler.domain.plan import Group, Match, Measure, Plan, PlannedRound

INVENTED = (
    "Ada Birch", "Bruno Cole", "Chiara Dune", "Dmitri Elm", "Elif Frost", "Farid Glen",
    "Greta Holm", "Hugo Iver", "Inês Jade", "Jón Kelp", "Kofi Lark", "Lena Moss",
    "Mara Nook", "Nils Oak", "Olga Pine", "Pavel Quill", "Qiu Reed", "Rosa Sand",
    "Søren Tide", "Tomás Vale", "Uma Wren", "Vera Yew",
)  # fmt: skip
HOSTILE = (
    "=1+1", "+SUM(A1:A9)", "-2", "@home", "=HYPERLINK(\"http://example.invalid\",\"x\")",
    "L" * 300, "🎾 Max 👩‍👩‍👧", "דנה לוי", "محمد العربي", "O'Brien & Sons",
    "P01", "*", "?", "<b>x</b>", "#N/A", "'quoted", "1e5", "TRUE", "山田 太郎", "a~b", "0x1", " =2",
)  # fmt: skip


def names(count: int, hostile: bool = False) -> list[str]:
    """Return that many different names; hostile ones come first if asked for."""
    wanted = list(HOSTILE[:count]) if hostile else []
    for index in range(count - len(wanted)):
        base = INVENTED[index % len(INVENTED)]
        turn = index // len(INVENTED)
        wanted.append(f"{base} {turn + 1}" if turn else base)
    return wanted


def make_plan(
    players: int = 22,
    courts: int = 5,
    drills: int = 3,
    doubles: int = 5,
    *,
    seed: int = 1,
    hostile: bool = False,
    stations: bool = False,
    set_format: SetFormat = SetFormat.TIE_BREAK,
    name: str = "Thursday lights & friends",
) -> Plan:
    """Return a plan with random seats: sound in shape, not good in its measures."""
    rng = random.Random(seed)
    people = tuple(
        Player(
            text, level=rng.randint(2, 20) / 2, group="AB"[i % 2], arrives=1140 if i == 3 else None
        )
        for i, text in enumerate(names(players, hostile))
    )
    halls = tuple(Court(f"Court {number}") for number in range(1, courts + 1))
    event = Event(
        name=name,
        date="2026-12-03",
        start=1110,
        players=people,
        courts=halls,
        rounds=_rounds(drills, doubles),
        stations=tuple(Station(c.name, f"topic {c.name}", "Kim") for c in halls)
        if stations
        else (),
        set_format=set_format,
        notes="Balls are in the shed.",
    )
    rounds = tuple(_seat(event, i, asked, rng) for i, asked in enumerate(event.rounds, start=1))
    return counted(Plan(event, rounds, version="0.1.0", warnings=("One court is short.",)))


def counted(plan: Plan) -> Plan:
    """Return the plan with its measures as the checker counts them, beside the bound 0."""
    values = recount(plan, plan.event)
    measures = {name: Measure(value, 0, proven=value == 0) for name, value in values.items()}
    return replace(plan, measures=measures)


def _rounds(drills: int, doubles: int) -> tuple[Round, ...]:
    start, result = 1110, []
    for index in range(drills + doubles):
        drill = index < drills
        minutes = 20 if drill else 25
        kind = Kind.DRILL if drill else Kind.DOUBLES
        topic = ("volleys", "returns of serve", "lobs")[index % 3] if drill else ""
        result.append(Round(kind, start, minutes, topic=topic))
        start += minutes
    return tuple(result)


def _seat(event: Event, number: int, asked: Round, rng: random.Random) -> PlannedRound:
    present = [p.name for p in event.players if p.is_present(asked.start, asked.end)]
    absent = tuple(p.name for p in event.players if p.name not in present)
    rng.shuffle(present)
    count = len(event.courts)
    entries: list[Group | Match] = []
    if asked.kind is Kind.DRILL:
        for index, court in enumerate(event.courts):
            station = event.station_by_court.get(court.name)
            topic, coach = (station.topic, station.coach) if station else ("", "")
            entries.append(Group(court.name, tuple(present[index::count]), topic, coach))
        resting: list[str] = []
    else:
        used = min(count, len(present) // 4)
        for index in range(used):
            a, b, c, d = present[4 * index : 4 * index + 4]
            entries.append(Match(event.courts[index].name, (a, b), (c, d), (a, c, b, d), (b, c)))
        resting = present[4 * used :]
    return PlannedRound(
        number, asked.kind, asked.start, asked.minutes, tuple(entries), tuple(resting), absent,
        topic=asked.topic,
    )  # fmt: skip


def renamed(plan: Plan, name: str) -> Plan:
    """Return the plan with another name for its event."""
    return replace(plan, event=replace(plan.event, name=name))
