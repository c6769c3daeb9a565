"""CPU time of telling surfaces apart, against the mesh core on the same mesh.

Run it with ``python -m tests.benchmarks.surfaces``. The mesh core reads, mends and measures the
drawing; telling its surfaces apart takes over the tables that mending made, as measuring a drawing
does. Both run in turn in one process, and the least of several rounds counts.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from takeoff.files.stl import read_stl
from takeoff.geometry.mesh import Mesh
from takeoff.piece.classifying import classify
from takeoff.piece.flats import flats_of
from takeoff.piece.surfaces import ModelKind
from tests.benchmarks.trays import tray_mesh, write_stl
from tests.unit.piece.pieces_made import MM, prism
from tests.unit.piece.scans_made import fine_box, sheet
from tests.unit.piece.test_curving import arc

UP = np.array([0.0, 0.0, 1.0])
FLUTES = 200
STEPS = 240


@dataclass(frozen=True, slots=True)
class Subject:
    """A mesh of about a million triangles, and how it is told to be taken."""

    name: str
    drawn: Callable[[], Mesh]
    show: NDArray[np.float64]
    kind: ModelKind = ModelKind.PIECE


def _tray() -> Mesh:
    points, triangles = tray_mesh(500)
    return Mesh(points * MM, triangles.astype(np.int32))


def _fluted() -> Mesh:
    """A panel with flutes of many facets each."""
    top = [
        point
        for flute in reversed(range(FLUTES))
        for point in arc((20 + 40 * flute, 60), 12, 90, 270, STEPS)
    ]
    return prism([[0, 0], [40 * FLUTES, 0], [40 * FLUTES, 60], *top, [0, 60]], 2400)


SUBJECTS = (
    Subject("thin-shell tray, from outside", _tray, -UP),
    Subject("thin-shell tray, from inside", _tray, UP),
    Subject("slab of even triangles", lambda: fine_box((2400, 1200, 80), 3.6), UP),
    Subject("panel with round flutes", _fluted, np.array([0.0, 1.0, 0.0])),
    Subject(
        "shallow dome",
        lambda: sheet(
            lambda x, y: np.sqrt(3000.0**2 - (x - 900) ** 2 - (y - 900) ** 2), (1800, 1800), 2.55
        ),
        UP,
        ModelKind.OPEN,
    ),
)


def costs_s(subject: Subject, path: Path, rounds: int) -> tuple[int, float, float]:
    """Give the number of triangles, and the CPU time of mesh core and of telling apart."""
    drawn = subject.drawn()
    write_stl(path, drawn.points_m / MM, drawn.triangles.astype(np.int64))
    core, telling = [], []
    for _ in range(rounds):
        before = time.process_time()
        drawing = read_stl(path, unit="mm")
        core.append(time.process_time() - before)
        mended = drawing.pieces[0].mended
        assert mended is not None
        before = time.process_time()
        flats = flats_of(mended.mesh, facets=mended.facets, edges=mended.edges)
        classify(mended.mesh, kind=subject.kind, show_direction=subject.show, flats=flats)
        telling.append(time.process_time() - before)
    return len(drawn.triangles), min(core), min(telling)


def table(rounds: int) -> Iterator[str]:
    """Write the costs of every subject as rows of a Markdown table."""
    yield "| mesh | triangles | mesh core, CPU ms | surfaces, CPU ms | ratio | CPU s per 1e6 |"
    yield "| --- | ---: | ---: | ---: | ---: | ---: |"
    with tempfile.TemporaryDirectory() as folder:
        for subject in SUBJECTS:
            count, core_s, telling_s = costs_s(subject, Path(folder) / "mesh.stl", rounds)
            yield (
                f"| {subject.name} | {count} | {1e3 * core_s:.0f} | {1e3 * telling_s:.0f} | "
                f"{telling_s / core_s:.1f} | {telling_s / count * 1e6:.2f} |"
            )


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description="Costs of telling surfaces apart, as Markdown.")
    parser.add_argument("--rounds", type=int, default=3, help="rounds, of which the least counts")
    for row in table(parser.parse_args().rounds):
        print(row, flush=True)


if __name__ == "__main__":
    main()
