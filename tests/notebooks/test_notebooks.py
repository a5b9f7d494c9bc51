"""The notebooks run from top to bottom, show pictures, and use public names only."""

from __future__ import annotations

import ast
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

import scheduler

FOLDER = Path(__file__).parents[2] / "notebooks"
NOTEBOOKS = sorted(FOLDER.glob("*.ipynb"))
MINUTES = 3

pytestmark = [
    pytest.mark.filterwarnings("default"),  # the kernel's client warns of its own dependencies
    pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem),
]


def code_of(path: Path) -> list[str]:
    """Return the code cells without lines meant for the notebook alone."""
    cells = nbformat.read(path, as_version=4).cells
    return [
        "\n".join(line for line in cell.source.splitlines() if not line.startswith("%"))
        for cell in cells
        if cell.cell_type == "code"
    ]


def test_it_is_kept_without_output(path: Path) -> None:
    """Outputs and run numbers are stripped, so that changes can be read."""
    cells = nbformat.read(path, as_version=4).cells
    ran = [cell for cell in cells if cell.cell_type == "code"]
    assert ran
    assert all(not cell.outputs and cell.execution_count is None for cell in ran)


def test_it_uses_public_names_only(path: Path) -> None:
    """Of the package it takes names in `scheduler.__all__` and nothing from its folders."""
    taken = []
    for node in (node for cell in code_of(path) for node in ast.walk(ast.parse(cell))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("scheduler"):
            assert node.module == "scheduler"
            taken += [alias.name for alias in node.names]
        if isinstance(node, ast.Import):
            assert all(not alias.name.startswith("scheduler") for alias in node.names)
    assert taken
    assert set(taken) <= set(scheduler.__all__)


def test_it_runs_and_shows_pictures(path: Path, tmp_path: Path, monkeypatch) -> None:
    """Every cell runs, the asserts in them hold, and at least one picture is drawn."""
    monkeypatch.setenv("IPYTHONDIR", str(tmp_path))
    notebook = nbformat.read(path, as_version=4)
    client = NotebookClient(
        notebook,
        timeout=60 * MINUTES,
        kernel_name="python3",
        resources={"metadata": {"path": FOLDER}},
    )
    client.execute()
    outputs = [o for cell in notebook.cells if cell.cell_type == "code" for o in cell.outputs]
    assert any("image/png" in output.get("data", {}) for output in outputs)
    assert not any(output.get("name") == "stderr" for output in outputs)
