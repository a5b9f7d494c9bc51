"""The names handed out to other programs: complete, sorted, described, lazy, tried."""

from __future__ import annotations

import ast
import doctest
import inspect
import subprocess
import sys
from pathlib import Path

import pytest

import scheduler
from scheduler import public
from scheduler.domain import errors, plain_evening

ROOT = Path(__file__).parents[2]


def test_the_list_is_sorted_and_equals_the_real_names() -> None:
    """`scheduler` hands out just what `scheduler.public` defines, and both lists are sorted."""
    defined = {
        name
        for name, value in vars(public).items()
        if not name.startswith("_")
        and (inspect.isfunction(value) or inspect.isclass(value))
        and (value.__module__ == public.__name__ or name in public.__all__)
    }
    assert scheduler.__all__ == sorted(scheduler.__all__) == public.__all__
    assert defined == set(scheduler.__all__)


def test_type_checkers_are_told_the_same_names() -> None:
    """The import that only type checkers see names every public name."""
    tree = ast.parse(Path(scheduler.__file__).read_text(encoding="utf-8"))
    told = [
        alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and node.module == "scheduler.public"
        for alias in node.names
    ]
    assert told == scheduler.__all__


@pytest.mark.parametrize("name", scheduler.__all__)
def test_every_name_is_there_and_described_with_an_example(name: str) -> None:
    """Each name can be taken from `scheduler`, and its docstring shows it at work."""
    value = getattr(scheduler, name)
    assert value is getattr(public, name)
    assert ">>>" in inspect.getdoc(value)


@pytest.mark.parametrize("module", [errors, plain_evening, public], ids=lambda m: m.__name__)
def test_the_examples_give_what_they_show(module, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every example in a docstring is run from the project's folder and gives what it says."""
    monkeypatch.chdir(ROOT)
    failed, tried = doctest.testmod(module)
    assert tried > 0
    assert failed == 0


def test_a_name_that_is_not_there_is_an_ordinary_error() -> None:
    """Asking for a name that does not exist raises AttributeError, as for any module."""
    with pytest.raises(AttributeError, match="no attribute 'make_tea'"):
        scheduler.make_tea  # noqa: B018


def test_importing_loads_nothing_heavy() -> None:
    """`import scheduler` leaves the engine, the readers and the pictures unloaded."""
    code = (
        "import sys, scheduler; dir(scheduler); "
        "heavy = {'numpy', 'ortools', 'openpyxl', 'pandas', 'matplotlib', 'typer', 'pydantic'}; "
        "print(sorted(heavy & set(sys.modules)), 'scheduler.public' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["[]", "False"]
