"""The same answer on every run, whatever order Python's sets come in."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

SCRIPT = """
from evenings_to_seat import DOUBLES, DRILL, PAIRS, evening, must
from scheduler.domain.errors import NoPlan
from scheduler.rotation.constraint_model import first_solution
from scheduler.rotation.constraint_model.model import Asked, RotaModel, limits_of, musts_of
from scheduler.rotation.shapes import problem_of
wishes = [
    must("partners", "P0", "P1"),
    must("not same court", "P2", "P3"),
    must("against once", "P4", "P5"),
    must("on court", "P6", "Court 2"),
    must("plays at most", "P7", number=6),
]
clash = [must("not same court", f"P{i}", f"P{j}") for i in range(8, 12) for j in range(8, i)]
for more in ([], clash):
    event = evening(17, 3, [DRILL, DRILL, *[DOUBLES] * 4, PAIRS, PAIRS], [*wishes, *more])
    problem = problem_of(event)
    print(RotaModel(problem, Asked(musts_of(problem), limits_of(problem))).model)
    try:
        print(first_solution(problem, 7, 5))
    except NoPlan as none:
        print(none.conflict)
"""


@pytest.fixture(scope="module")
def answers():
    """Return what two processes say under two hash seeds."""
    here = os.pathsep.join([str(Path(__file__).parent), *sys.path])
    return [
        subprocess.run(
            [sys.executable, "-c", SCRIPT],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": here},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    ]


def test_two_processes_build_one_model_and_give_one_answer(answers):
    """Model, solution and reason are the same under two values of PYTHONHASHSEED."""
    first, second = answers
    assert "Seating" in first
    assert "must not share a court" in first
    assert first == second
