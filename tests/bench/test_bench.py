"""The benchmark: its methods keep the rules of the game they play, and its tables add up."""

from __future__ import annotations

import json
from dataclasses import asdict
from itertools import combinations
from pathlib import Path

import pytest

from scheduler.bench.__main__ import main
from scheduler.bench.instances import SUITES, Instance
from scheduler.bench.judge import judge
from scheduler.bench.methods import METHODS, Work, moving_circle
from scheduler.bench.run import Row, read_rows, run_one
from scheduler.bench.table import grouped, markdown, summary
from scheduler.domain.event import Emphasis
from scheduler.domain.plain_evening import doubles_evening

LITTLE = Work(effort="quick", moves=60_000, draws=20, units=0.3)
SMALL = Instance(9, 2, 3, Emphasis.VARIETY)


@pytest.mark.parametrize("method", sorted(METHODS))
def test_every_method_gives_rounds_the_checker_accepts(method: str) -> None:
    """Nine people, two courts, three rounds: each method seats everybody lawfully, rests fair."""
    row = run_one(SMALL, method, 1, LITTLE)
    assert row.value is not None
    assert row.faults == 0
    assert row.measures["opponent_repeats"] == row.value >= row.bound


@pytest.mark.parametrize("method", sorted(name for name in METHODS if name != "textbook"))
def test_the_same_seed_gives_the_same_measures(method: str) -> None:
    """Work is counted and chance is seeded, so a run repeats."""
    first, again = (run_one(SMALL, method, 3, LITTLE) for _ in range(2))
    assert first.measures == again.measures


@pytest.mark.parametrize("players", [4, 8, 10, 12, 16])
def test_the_moving_circle_gives_every_partner_once(players: int) -> None:
    """For an even number n, n - 1 rounds of the circle pair everybody with everybody once.

    The circle method of round robins (E. Lucas, 1883; from memory). Where n is
    2 more than a multiple of 4, the pair without an opponent rests, so no pair
    partners twice.
    """
    event = doubles_evening(players, players // 4, players - 1)
    met = [
        frozenset(team)
        for planned in moving_circle.plan(event)
        for match in planned.matches
        for team in (match.team_a, match.team_b)
    ]
    assert len(met) == len(set(met))
    if players % 4 == 0:
        names = [player.name for player in event.players]
        assert set(met) == {frozenset(pair) for pair in combinations(names, 2)}


def test_the_judge_reports_what_is_wrong() -> None:
    """Rounds with somebody seated twice do not pass as a result."""
    event = doubles_evening(8, 2, 2)
    rounds = moving_circle.plan(event)
    twice = (rounds[0], rounds[0].__class__(**{**_fields(rounds[1]), "courts": _same(rounds[1])}))
    assert not judge(event, rounds).faults
    assert judge(event, twice).faults


def _fields(planned) -> dict[str, object]:
    return {name: getattr(planned, name) for name in planned.__slots__}


def _same(planned) -> tuple[object, ...]:
    one, other = planned.courts
    return (one, type(other)(other.court, one.team_a, one.team_b))


def test_suites_hold_what_they_say() -> None:
    """The grid has players 4..40 with rounds up to 16; one court fewer needs 8 players at least."""
    grid = list(SUITES["grid"]())
    assert len(grid) == sum(min(n - 1, 16) - 1 for n in range(4, 41))
    assert min(i.players for i in SUITES["grid-1"]()) == 8
    assert all(i.courts == i.players // 4 - 1 for i in SUITES["grid-1"]())
    assert len({i.name for suite in SUITES.values() for i in suite()}) == sum(
        len(list(suite())) for suite in SUITES.values()
    ) - len({i.name for i in SUITES["readme"]()} & {i.name for i in SUITES["blend"]()})


def test_rows_are_kept_and_not_run_again(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    """A broken-off benchmark goes on where it stopped, and the table counts each run once."""
    rows = tmp_path / "rows.jsonl"
    words = ["--methods", "circle", "--rows", str(rows), "--part", "1/7"]
    main(words)
    before = rows.read_text(encoding="utf-8")
    main([*words, "--picture", str(tmp_path / "gap.png"), "--growth", str(tmp_path / "growth.png")])
    assert rows.read_text(encoding="utf-8") == before
    table = capsys.readouterr().out
    assert "| 12x3x6 variety | moving circle | 1 | opponent repeats | 56 | 6 | 50 |" in table
    assert all(path.stat().st_size > 5_000 for path in tmp_path.glob("*.png"))


def test_a_table_tells_seeds_together() -> None:
    """Several seeds make one line with the least and the most, and nothing found is a dash."""
    rows = [_row("ours", 1, 6.0), _row("ours", 2, 8.0), _row("textbook", 1, None)]
    table = markdown(rows).splitlines()
    assert table[2].startswith("| a | this engine | 2 | opponent repeats | 6 to 8 | 6 | 0 to 2 |")
    assert table[3].startswith("| a | textbook CP-SAT model | 1 | opponent repeats | - | 6 | - |")
    assert "| this engine | 1 | 1 (100 %) | 0 (0 %) |" in summary(rows)
    assert [len(same) for same in grouped(rows)] == [2, 1]


def test_rows_survive_the_file(tmp_path: Path) -> None:
    """What is written as a line is read as the same row."""
    path = tmp_path / "rows.jsonl"
    path.write_text(json.dumps(asdict(_row("ours", 1, 6.0))) + "\n\n", encoding="utf-8")
    assert read_rows(path) == [_row("ours", 1, 6.0)]
    assert read_rows(tmp_path / "none.jsonl") == []


def _row(method: str, seed: int, value: float | None) -> Row:
    names = ("partner_repeats", "opponent_repeats", "meeting_repeats", "level_gap_mean",
             "level_gap_max", "rest_unfairness")  # fmt: skip
    measures = {} if value is None else dict.fromkeys(names, value)
    return Row("a", method, seed, "opponent_repeats", value, 6, 6, measures, 0, 1.0, 100)
