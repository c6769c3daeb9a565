"""Time and memory of laying both layers, and one shape in four sizes.

Run it with ``python -m tests.benchmarks.layers``. Every way runs in a fresh process: CPU time of
laying alone, after the surfaces are told apart, the least of several rounds; peak memory above
what the imports take (on Linux, from /proc), reading and telling apart included. Every round must
give the same figures to the last bit. The second table holds the figures of one shape whose
triangles are cut into four, and again.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import chain
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

import takeoff
from takeoff.geometry.mesh import Mesh
from takeoff.piece.surfaces import ModelKind
from tests.benchmarks.meshes import ROOT
from tests.benchmarks.surfaces import SUBJECTS, Subject
from tests.benchmarks.trays import write_stl
from tests.drawings.layers import shapes
from tests.drawings.layers.closed_forms import CASES
from tests.unit.piece.pieces_made import MM

SIZES = (1_000, 10_000, 100_000, 1_000_000)
SHAPES = ("counter eased 3", "basin", "reeds", "ribs", "slab of 10")
FRAME = """
import json, re, sys, time
sys.path.insert(0, {root!r})
import scipy.spatial
from takeoff.files.stl import read_stl
from takeoff.geometry.facets import facets_of
from takeoff.piece.classifying import classify
from takeoff.piece.laying import lay
from takeoff.piece.mesh_layers import layer_volumes
from takeoff.piece.surfaces import ModelKind
from takeoff.piece.thickness import read_class_thickness
def peak_kib():
    return int(re.search(r"VmHWM:\\s*(\\d+)", open("/proc/self/status").read())[1])
told = {layers!r}
imports_kib = peak_kib()
mesh = read_stl({path!r}, unit="mm").pieces[0].shape
read_kib = peak_kib()
{before}
before_s, before_kib = time.process_time(), peak_kib()
{work}
print(json.dumps({{
    "cpu_s": time.process_time() - before_s,
    "read_kib": read_kib - imports_kib,
    "before_kib": before_kib - imports_kib,
    "peak_kib": peak_kib() - imports_kib,
    "figures": figures,
}}))
"""
TOLD_APART = """
import numpy as np
kind = ModelKind({kind!r})
surfaces = classify(mesh, kind=kind, show_direction=np.array({show!r}))
solid_m3 = facets_of(mesh).enclosed_m3 if kind is ModelKind.PIECE else None
layers = {{name: read_class_thickness(text) for name, text in told.items()}}
"""
ON_THE_PIECE = """
laid = lay(surfaces, **layers, solid_m3=solid_m3)
figures = [[row.layer, row.surface_class, row.volume_m3] for row in laid.rows]
figures.append(laid.uncertainty_share)
"""
ON_THE_MESH = """
laid = layer_volumes(mesh, **told)
figures = [*laid.volume_m3.values(), laid.uncertainty_share]
"""


@dataclass(frozen=True, slots=True)
class Cost:
    """What laying took: least of all rounds."""

    cpu_s: float
    read_kib: int
    before_kib: int
    peak_kib: int
    figures: list[object]


def cost_of(path: Path, subject: Subject, way: str, layers: dict[str, str], rounds: int) -> Cost:
    """Lay the layers in fresh processes, and keep the least of each figure."""
    before = TOLD_APART.format(kind=str(subject.kind), show=subject.show.tolist())
    parts = {"piece": (before, ON_THE_PIECE), "mesh": ("", ON_THE_MESH)}[way]
    script = FRAME.format(
        root=str(ROOT), path=str(path), layers=layers, before=parts[0], work=parts[1]
    )
    found: list[Cost] = []
    for _ in range(rounds):
        done = subprocess.run(
            [sys.executable, "-c", script], capture_output=True, text=True, check=False
        )
        if done.returncode:
            raise RuntimeError(f"{subject.name}: {done.stderr[-2000:]}")
        found.append(Cost(**json.loads(done.stdout.splitlines()[-1])))
    if any(cost.figures != found[0].figures for cost in found):
        raise RuntimeError(f"{subject.name}: not the same figures on every run")
    return Cost(
        *(
            min(getattr(cost, name) for cost in found)
            for name in ("cpu_s", "read_kib", "before_kib", "peak_kib")
        ),
        found[0].figures,
    )


def _drawn(name: str, least: int) -> Callable[[], Mesh]:
    part = next(case for case in CASES if case.name == name).make()
    return lambda: shapes.mesh_of(shapes.divided(part, least))


UP = np.array([0.0, 0.0, 1.0])
BESIDES = tuple(
    Subject(f"{name}, cut into fours", _drawn(name, SIZES[-1]), UP, ModelKind.OPEN)
    for name in ("counter eased 3", "basin")
)
LAYERS = {"face_coat": "4 mm", "backer": "16 mm"}
THIN = {"face_coat": "3 mm", "backer": "6 mm"}


def table(rounds: int) -> Iterator[str]:
    """Write the costs of every subject as rows of a Markdown table."""
    yield "| mesh | triangles | layers on | layers, mm | CPU s | MiB read | told apart | laid |"
    yield "| --- | ---: | --- | --- | ---: | ---: | ---: | ---: |"
    yield "<!-- memory above imports, peak so far, and in times the file -->"
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "mesh.stl"
        for subject in (*SUBJECTS, *BESIDES):
            drawn = subject.drawn()
            write_stl(path, drawn.points_m / MM, drawn.triangles.astype(np.int64))
            count = len(drawn.triangles)
            del drawn
            layers = THIN if "thin" in subject.name else LAYERS
            for way in ("mesh",) if subject in BESIDES else ("piece", "mesh"):
                cost = cost_of(path, subject, way, layers, rounds)
                octets = path.stat().st_size
                peaks = " | ".join(
                    f"{kib / 1024:.0f} ({kib * 1024 / octets:.1f})"
                    for kib in (cost.read_kib, cost.before_kib, cost.peak_kib)
                )
                yield (
                    f"| {subject.name} | {count} | {way} | {' + '.join(layers.values())} | "
                    f"{cost.cpu_s:.2f} | {peaks} |"
                )


def figures_m3(name: str, least: int) -> tuple[int, NDArray[np.float64]]:
    """Give the number of triangles of a shape, and both layers on it."""
    mesh = _drawn(name, least)()
    laid = takeoff.layer_volumes(mesh, face_coat="4 mm", backer="20 mm")
    return len(mesh.triangles), np.array(list(laid.volume_m3.values()))


def sizes() -> Iterator[str]:
    """Write both layers on one shape in several sizes, and how far they differ."""
    yield "| shape | triangles | face coat, L | backer, L | off the first, % |"
    yield "| --- | ---: | ---: | ---: | ---: |"
    for name in SHAPES:
        first: NDArray[np.float64] | None = None
        for least in SIZES:
            count, found_m3 = figures_m3(name, least)
            first = found_m3 if first is None else first
            off = 100.0 * np.abs(found_m3 / first - 1.0).max()
            coat, backer = found_m3 * 1e3
            yield f"| {name} | {count} | {coat:.4f} | {backer:.4f} | {off:.4f} |"


def main() -> None:
    """Print both tables."""
    parser = argparse.ArgumentParser(description="Costs of laying layers, as Markdown.")
    parser.add_argument("--rounds", type=int, default=3, help="rounds, of which the least counts")
    for row in chain(table(parser.parse_args().rounds), [""], sizes()):
        print(row, flush=True)


if __name__ == "__main__":
    main()
