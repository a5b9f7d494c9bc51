"""The floors of the house: who may import whom, who may touch what, and how long a function is."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "scheduler"
FLOORS = (
    ("domain",),
    ("readers", "rules", "checker", "timing"),
    ("rotation", "results", "lineup"),
    ("season", "exporters"),
    ("workflow",),
    ("cli",),
)
FLOOR_OF = {folder: floor for floor, folders in enumerate(FLOORS) for folder in folders}
ABOVE_THE_HOUSE = {"bench"}
"""Run by developers, seen by no command; may look at everything."""
PURE = ("domain", "rules", "checker", "timing")
IMPURE_MODULES = {
    "datetime", "io", "os", "pathlib", "random", "secrets", "shutil", "socket", "sqlite3",
    "subprocess", "sys", "tempfile", "threading", "time", "uuid",
}  # fmt: skip
IMPURE_CALLS = {"input", "open", "print"}
LONGEST_FUNCTION = 50


def files_in(*parts: str) -> list[Path]:
    """Return the Python files below a folder of the package, in order."""
    return sorted(PACKAGE.joinpath(*parts).rglob("*.py"))


def tree_of(path: Path) -> ast.Module:
    """Return a file's syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def imports_of(path: Path) -> Iterator[str]:
    """Yield the full names a file imports, those inside functions too."""
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written in full"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def folder_of(name: str) -> str | None:
    """Return the folder of the package that an imported name lies in, None if in none."""
    parts = [*name.split("."), ""]
    return parts[1] if parts[0] == "scheduler" and parts[1] in FLOOR_OF else None


def test_every_folder_stands_on_a_floor() -> None:
    """No folder of the package escapes the rules below."""
    folders = {path.parent.name for path in PACKAGE.glob("*/__init__.py")}
    assert folders - ABOVE_THE_HOUSE == set(FLOOR_OF)


@pytest.mark.parametrize("folder", FLOOR_OF)
def test_imports_go_down_only(folder: str) -> None:
    """A folder imports from lower floors, never from its own floor's other folders or above."""
    wrong = [
        f"{path.relative_to(ROOT)} imports {name}"
        for path in files_in(folder)
        for name in imports_of(path)
        if (other := folder_of(name)) not in {None, folder}
        and FLOOR_OF[str(other)] >= FLOOR_OF[folder]
    ]
    assert not wrong


def test_nobody_imports_what_stands_above_the_house() -> None:
    """The benchmark and the names for other programs look at all floors; no floor looks at them."""
    wrong = [
        f"{path.relative_to(ROOT)} imports {name}"
        for folder in FLOOR_OF
        for path in files_in(folder)
        for name in imports_of(path)
        if name.startswith("scheduler") and folder_of(name) is None
    ]
    assert not [told for told in wrong if not told.endswith(" scheduler.__version__")]


@pytest.mark.parametrize(
    ("library", "allowed"),
    [
        ("ortools", {"rotation", "lineup"}),
        ("wasmtime", {"rotation"}),
        ("openpyxl", {"readers", "exporters"}),
        ("pandas", {"readers", "exporters", "results"}),
        ("typer", {"cli"}),
        ("rich", {"cli"}),
        ("sqlite3", {"season"}),
        ("pydantic", {"readers"}),
    ],
)
def test_a_library_stays_in_its_rooms(library: str, allowed: set[str]) -> None:
    """Each library with a purpose is imported only in the folders that have that purpose."""
    used = {
        path.relative_to(PACKAGE).parts[0]
        for path in files_in()
        for name in imports_of(path)
        if name.split(".")[0] == library
    }
    assert used - ABOVE_THE_HOUSE <= allowed


@pytest.mark.parametrize("folder", PURE)
def test_pure_folders_need_the_standard_library_alone(folder: str) -> None:
    """Domain, rules, checker and timing import nothing installed, no clock, chance or files."""
    names = {name.split(".")[0] for path in files_in(folder) for name in imports_of(path)}
    assert names - {"scheduler"} <= set(sys.stdlib_module_names)
    assert not names & IMPURE_MODULES


@pytest.mark.parametrize("folder", PURE)
def test_pure_folders_open_and_print_nothing(folder: str) -> None:
    """Nor do they call `open`, `print` or `input`, nor any ``.now()`` or ``.today()``."""
    wrong = []
    for path in files_in(folder):
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.Call):
                called = node.func
                name = called.id if isinstance(called, ast.Name) else ""
                attribute = called.attr if isinstance(called, ast.Attribute) else ""
                if name in IMPURE_CALLS or attribute in {"now", "today", "utcnow", "open"}:
                    wrong.append(f"{path.relative_to(ROOT)}:{node.lineno}")
    assert not wrong


def _modules_reached(module: str) -> set[str]:
    """Return the modules of the package loaded after importing one in a fresh interpreter."""
    code = f"import sys, {module}; print(*(m for m in sys.modules if m.startswith('scheduler')))"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    )
    return set(done.stdout.split())


def test_the_checker_shares_no_code_with_the_engine() -> None:
    """Loading the checker loads nothing of the engine, nor the engine's count of who turns up."""
    reached = _modules_reached("scheduler.checker")
    assert "scheduler.checker.judge" in reached
    assert not [name for name in reached if name.startswith("scheduler.rotation")]
    assert "scheduler.domain.turnout" not in reached
    named = {name for path in files_in("checker") for name in imports_of(path)}
    assert not [name for name in named if "turnout" in name or ".rotation" in name]


def test_fast_commands_do_not_wait_for_slow_libraries() -> None:
    """Loading the command line loads no solver, no workbooks and no tables."""
    code = "import sys, scheduler.cli.app; print(*sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    )
    slow = {"ortools", "openpyxl", "pandas", "numpy", "wasmtime", "pydantic"}
    assert not slow & set(done.stdout.split())


def _functions(path: Path) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node


def _lines(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Return how many lines a function's code takes, its parameters and description left out."""
    body = function.body[ast.get_docstring(function, clean=False) is not None :]
    return (function.end_lineno or 0) - body[0].lineno + 1 if body else 0


def test_no_function_is_longer_than_a_screen() -> None:
    """No function in the package has more than 50 lines of code."""
    long = [
        f"{path.relative_to(ROOT)}:{function.lineno} {function.name}: {_lines(function)}"
        for path in files_in()
        for function in _functions(path)
        if _lines(function) > LONGEST_FUNCTION
    ]
    assert not long


def test_every_test_says_what_it_shows() -> None:
    """Every test function has a docstring."""
    mute = [
        f"{path.relative_to(ROOT)}:{function.lineno} {function.name}"
        for path in sorted((ROOT / "tests").rglob("test_*.py"))
        for function in _functions(path)
        if function.name.startswith("test_") and not ast.get_docstring(function)
    ]
    assert not mute


def _tracked() -> list[Path]:
    """Return the files under version control, or where there is none every file of the project."""
    done = subprocess.run(
        ["git", "ls-files", "-z"], capture_output=True, text=True, check=False, cwd=ROOT
    )
    if done.returncode == 0 and done.stdout:
        found = [ROOT / name for name in done.stdout.split("\0") if name]
    else:
        found = [path for part in ("scheduler", "tests") for path in (ROOT / part).rglob("*")]
    return [path for path in found if path.is_file()]


OF_ONE_MACHINE = re.compile(
    "|".join(
        [
            r"(?<![\w.])/(?:home|Users|root|work|mnt|tmp/venv|tmp/team)/\w",
            r"[A-Z]:\\Users\\",
            "files" + r"\.pythonhosted\.org",
            "pypi" + r"\.org",
            "registry" + r"\.npmjs\.org",
            "deb" + r"\.debian\.org",
            r"index-url\s*=",
        ]
    )
)


def test_the_repository_names_no_machine() -> None:
    """No file tells the folders of one machine or the host of a package registry."""
    told = []
    for path in _tracked():
        if path == Path(__file__):
            continue
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue  # pictures, workbooks, compiled code
        told += [f"{path.relative_to(ROOT)}: {found[0]}" for found in OF_ONE_MACHINE.finditer(text)]
    assert not told
