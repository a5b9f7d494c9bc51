"""Plan a season twice, with and without its memory, and count what repeats across it.

Run it by hand: ``python tests/season/measure_planning.py --evenings 30 --players 40``. It takes
some seconds an evening, so the suite runs only a short season (`test_season_planning.py`).
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, replace
from pathlib import Path

from scheduler.domain.event import Court, Emphasis, Event, Kind, Player, Round
from scheduler.domain.plan import Plan
from scheduler.rotation import solve
from scheduler.season.counting import counts_of
from scheduler.season.history import HALF_LIFE, earlier_of
from scheduler.season.recording import record

ROUNDS = 6


@dataclass(frozen=True)
class Outcome:
    """Repeats over a season, by name, and the seconds that planning took."""

    repeats: dict[str, int]
    floor: dict[str, int]
    gap_mean: float
    slowest: float


def evening(
    number: int, players: int, courts: int, rounds: int, emphasis: Emphasis = Emphasis.BLEND
) -> Event:
    """Return one evening of the season: everybody there, levels from 1 to 10."""
    rng = random.Random(f"levels {players}")
    people = tuple(
        Player(f"P{index:02d}", rng.randint(2, 20) / 2) for index in range(1, players + 1)
    )
    return Event(
        name="Season",
        date=f"2026-{1 + number // 28:02d}-{1 + number % 28:02d}",
        start=1110,
        players=people,
        courts=tuple(Court(f"Court {index}") for index in range(1, courts + 1)),
        rounds=tuple(Round(Kind.DOUBLES, 1110 + 25 * index, 25) for index in range(rounds)),
        emphasis=emphasis,
    )


def season(
    evenings: int,
    players: int,
    *,
    remember: bool,
    half_life: float = HALF_LIFE,
    emphasis: Emphasis = Emphasis.BLEND,
    effort: str = "quick",
) -> Outcome:
    """Plan a season evening by evening and return what repeated."""
    partners: Counter[tuple[str, str]] = Counter()
    opponents: Counter[tuple[str, str]] = Counter()
    slowest, gaps = 0.0, []
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "season.db"
        for number in range(evenings):
            event = evening(number, players, players // 4, ROUNDS, emphasis)
            began = time.process_time()
            if remember and number:
                event = replace(event, earlier=earlier_of(file, event, half_life))
            result = solve(event, seed=number + 1, effort=effort)
            slowest = max(slowest, time.process_time() - began)
            plan = Plan(event, result.rounds)
            record(file, plan, source="measured")
            counts = counts_of(plan)
            partners.update(counts.partners)
            opponents.update(counts.opponents)
            gaps.append(result.measures["level_gap_mean"].value)
    pairs = players * (players - 1) // 2
    met = {"partner": partners, "opponent": opponents}
    return Outcome(
        repeats={
            name: sum(k * (k - 1) // 2 for k in counts.values()) for name, counts in met.items()
        },
        floor={name: counting_floor(counts.total(), pairs) for name, counts in met.items()},
        gap_mean=sum(gaps) / len(gaps),
        slowest=slowest,
    )


def counting_floor(meetings: int, pairs: int) -> int:
    """Return the least sum of k(k-1)/2 over pairs: all k as equal as can be.

    By convexity of k(k-1)/2 (pigeonhole).
    """
    each, over = divmod(meetings, pairs)
    return over * (each + 1) * each // 2 + (pairs - over) * each * (each - 1) // 2


def main() -> None:
    """Print both seasons side by side."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--evenings", type=int, default=30)
    parser.add_argument("--players", type=int, default=40)
    parser.add_argument("--half-life", type=float, default=HALF_LIFE)
    parser.add_argument("--emphasis", type=Emphasis, default=Emphasis.BLEND)
    parser.add_argument("--effort", default="quick")
    given = parser.parse_args()
    size = (given.evenings, given.players)
    alike = {"emphasis": given.emphasis, "effort": given.effort}
    without = season(*size, remember=False, **alike)
    with_it = season(*size, remember=True, half_life=given.half_life, **alike)
    lines = []
    for name in ("partner", "opponent"):
        floor = without.floor[name]
        above, kept = without.repeats[name] - floor, with_it.repeats[name] - floor
        lines.append(
            f"{name} repeats: floor {floor}, above it {above} without and {kept} with the season "
            f"({kept / max(above, 1):.2f})"
        )
    lines += [
        f"mean level gap {without.gap_mean:.2f} without, {with_it.gap_mean:.2f} with",
        f"slowest evening {without.slowest:.1f} s of computing without, {with_it.slowest:.1f} with",
    ]
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
