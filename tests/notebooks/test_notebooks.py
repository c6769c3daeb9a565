"""The notebooks: stored without outputs, run from top to bottom, their last cell asserting."""

from __future__ import annotations

import ast
import json
from pathlib import Path

import pytest

FOLDER = Path(__file__).parents[2] / "notebooks"
NOTEBOOKS = sorted(FOLDER.glob("*.ipynb"))


def code_cells(path: Path) -> list[dict[str, object]]:
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    return [cell for cell in cells if cell["cell_type"] == "code"]


def source_of(cell: dict[str, object]) -> str:
    lines = cell["source"]
    assert isinstance(lines, list)
    return "".join(lines)


def test_there_are_notebooks() -> None:
    assert NOTEBOOKS


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_outputs_are_stripped(path: Path) -> None:
    for cell in code_cells(path):
        assert cell["outputs"] == []
        assert cell["execution_count"] is None


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_the_last_cell_asserts_its_figures(path: Path) -> None:
    body = ast.parse(source_of(code_cells(path)[-1])).body
    assert any(isinstance(node, ast.Assert) for node in body)


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_it_runs_from_top_to_bottom(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(FOLDER)
    names: dict[str, object] = {"__name__": "__main__"}
    for number, cell in enumerate(code_cells(path)):
        code = compile(source_of(cell), f"{path.name}, code cell {number + 1}", "exec")
        exec(code, names)
