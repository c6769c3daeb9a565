"""The command line answers before any heavy library is loaded."""

from __future__ import annotations

import subprocess
import sys

import pytest

from tests.house.walking import ROOT

HEAVY = {"ezdxf", "numpy", "pydantic", "rich", "scipy", "shapely", "trimesh"}


def libraries_loaded(report: str) -> set[str]:
    """Give the top names in what ``python -X importtime`` wrote."""
    lines = [line for line in report.splitlines() if line.startswith("import time:")]
    return {line.rpartition("|")[2].strip().split(".")[0] for line in lines}


@pytest.mark.parametrize("asked", ["--help", "--version"])
def test_asking_for_help_loads_no_heavy_library(asked: str) -> None:
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "takeoff", asked],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    loaded = libraries_loaded(done.stderr)
    assert "click" in loaded
    assert loaded & HEAVY == set()


def test_checking_an_stl_loads_numpy_and_no_other_heavy_library() -> None:
    piece = "samples/ferry-hall/hearth-surround.stl"
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "takeoff", "check", piece, "--unit", "in"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    assert libraries_loaded(done.stderr) & HEAVY == {"numpy"}


def test_a_loaded_library_is_seen() -> None:
    report = """import time: self [us] | cumulative | imported package
import time:       120 |        480 |   numpy.linalg
Warning: scipy | scipy
"""
    assert "numpy" in libraries_loaded(report)
    assert "scipy" not in libraries_loaded(report)
