"""Plans for hypothesis: doubles evenings seated by the plainest rule that keeps every rule."""

from __future__ import annotations

from collections import defaultdict
from random import Random

from checker_plans import MINUTES, START, courts, planned, rounds
from hypothesis import strategies as st

from scheduler.domain.event import Event, Kind, Player
from scheduler.domain.plan import Match, Plan


@st.composite
def doubles_plans(draw: st.DrawFn, *, late: bool = True) -> Plan:
    """Draw a sound plan of 1 to 6 doubles rounds for 4 to 24 people on 1 to 6 courts.

    Who rests is drawn by lot among those furthest below their fair share;
    with `late` off everybody is there all evening, and that rule alone keeps
    every difference below one.
    """
    number = draw(st.integers(4, 24))
    levels = draw(st.lists(st.integers(10, 100), min_size=number, max_size=number))
    arrivals = draw(
        st.lists(st.sampled_from([0, 0, 0, 1]), min_size=number, max_size=number)
        if late
        else st.just([0] * number)
    )
    event = Event(
        "Drawn",
        START,
        tuple(
            Player(f"P{i}", level / 10, arrives=START + MINUTES * rounds_late)
            for i, (level, rounds_late) in enumerate(zip(levels, arrivals, strict=True))
        ),
        courts(draw(st.integers(1, 6))),
        rounds(*[Kind.DOUBLES] * draw(st.integers(1, 6))),
    )
    return seated(event, draw(st.randoms(use_true_random=False)))


def seated(event: Event, lots: Random) -> Plan:
    """Return a sound plan of an event of doubles rounds."""
    owed: dict[str, float] = defaultdict(float)
    done = []
    for number, asked in enumerate(event.rounds, 1):
        there = [p.name for p in event.players if p.arrives is None or p.arrives <= asked.start]
        absent = [p.name for p in event.players if p.name not in there]
        matches = min(len(event.courts), len(there) // 4)
        lots.shuffle(there)
        there.sort(key=lambda name: -round(owed[name], 9))
        spare = len(there) - 4 * matches
        resting, playing = there[:spare], there[spare:]
        for name in there:
            owed[name] += spare / len(there) - (name in resting)
        lots.shuffle(playing)
        entries = [
            _match(court.name, playing[4 * i : 4 * i + 4], lots)
            for i, court in enumerate(event.courts[:matches])
        ]
        done.append(planned(event, number, entries, " ".join(resting), " ".join(absent)))
    return Plan(event, tuple(done))


def _match(court: str, four: list[str], lots: Random) -> Match:
    team_a, team_b = (four[0], four[1]), (four[2], four[3])
    first, second = lots.sample(team_a, 2), lots.sample(team_b, 2)
    order = (first[0], second[0], first[1], second[1])
    return Match(court, team_a, team_b, order, (lots.choice(team_a), lots.choice(team_b)))
