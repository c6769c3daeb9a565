"""Time and memory of examining a mesh, against reading its bytes and against other libraries.

Run it with ``python -m tests.benchmarks.meshes``. Every way runs in a fresh process, one
after the other in rotation, and the least of several rounds counts: CPU time of the work after
the imports, and peak memory above what the imports take (on Linux, from /proc).
"""

from __future__ import annotations

import argparse
import importlib.util
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.benchmarks.trays import tray_mesh, write_stl

ROOT = Path(__file__).parent.parent.parent
SIZES = {"1e4": 50, "1e5": 158, "1e6": 500, "5e6": 1118}
FRAME = """
import json, re, sys, time
sys.path.insert(0, {root!r})
path = {path!r}
def peak_kib():
    return int(re.search(r"VmHWM:\\s*(\\d+)", open("/proc/self/status").read())[1])
{imports}
before_s, before_kib = time.process_time(), peak_kib()
{work}
after_s, after_kib = time.process_time(), peak_kib()
print(json.dumps({{
    "cpu_s": after_s - before_s,
    "whole_s": after_s,
    "peak_kib": after_kib - before_kib,
    "answer": answer,
}}))
"""


@dataclass(frozen=True, slots=True)
class Way:
    """One way to take in a mesh: what it imports, what it does, and what it answers."""

    name: str
    needs: str
    imports: str
    work: str


EXAMINE = "import takeoff\nimport takeoff.files.stl\nfrom takeoff import examine"
EXAMINED = (
    "found = examine(path, unit='mm')\n[piece] = found.pieces\n"
    "answer = [piece.report.area_m2, piece.report.volume_m3, piece.report.patches,"
    " piece.report.closed]"
)
WAYS = (
    Way("the bytes", "", "", "data = open(path, 'rb').read()\nanswer = len(data)"),
    Way("takeoff", "", f"sys.modules['meshoptimizer'] = None\n{EXAMINE}", EXAMINED),
    Way("takeoff[fast]", "meshoptimizer", f"import meshoptimizer\n{EXAMINE}", EXAMINED),
    Way(
        "trimesh",
        "trimesh",
        "import trimesh\nimport numpy as np\nfrom scipy.sparse import coo_array\n"
        "from scipy.sparse.csgraph import connected_components",
        "mesh = trimesh.load_mesh(path)\n"
        "closed = bool(mesh.is_watertight and mesh.is_winding_consistent)\n"
        "dropped = int((mesh.area_faces == 0.0).sum())\n"
        "normals, bodies = mesh.face_normals, mesh.body_count\n"
        "smooth = mesh.face_adjacency_angles < np.radians(20.0)\n"
        "links = mesh.face_adjacency[smooth]\n"
        "graph = coo_array((np.ones(len(links), bool), links.T), shape=(len(mesh.faces),) * 2)\n"
        "patches = int(connected_components(graph, directed=False)[0])\n"
        "answer = [mesh.area / 1e6, mesh.volume / 1e9, patches, closed]",
    ),
    Way(
        "numpy-stl (reads, areas)",
        "stl",
        "from stl import mesh as stl_mesh",
        "mesh = stl_mesh.Mesh.from_file(path)\n"
        "mesh.update_areas()\n"
        "answer = float(mesh.areas.sum()) / 1e6",
    ),
    Way("meshio (reads)", "meshio", "import meshio", "answer = len(meshio.read(path).points)"),
    Way(
        "pyvista",
        "pyvista",
        "import pyvista",
        "mesh = pyvista.read(path)\n"
        "closed = bool(mesh.is_manifold) and mesh.n_open_edges == 0\n"
        "patches = mesh.compute_normals(cell_normals=True, feature_angle=20.0,"
        " split_vertices=True).connectivity()\n"
        "answer = [mesh.area / 1e6, mesh.volume / 1e9,"
        " int(patches['RegionId'].max()) + 1, closed]",
    ),
)


@dataclass(frozen=True, slots=True)
class Cost:
    """What one way took: least of all rounds."""

    cpu_s: float
    whole_s: float
    peak_kib: int
    answer: object


def installed(ways: Iterable[Way]) -> list[Way]:
    """Keep the ways whose library is there."""
    return [way for way in ways if not way.needs or importlib.util.find_spec(way.needs)]


def costs(path: Path, ways: Iterable[Way], rounds: int) -> dict[str, Cost]:
    """Run every way in a fresh process, in rotation, and keep the least of each figure."""
    found: dict[str, Cost] = {}
    for _ in range(rounds):
        for way in ways:
            cost = _once(path, way)
            least = found.get(way.name, cost)
            found[way.name] = Cost(
                min(cost.cpu_s, least.cpu_s),
                min(cost.whole_s, least.whole_s),
                min(cost.peak_kib, least.peak_kib),
                cost.answer,
            )
    return found


def _once(path: Path, way: Way) -> Cost:
    """Run one way in a process of its own."""
    script = FRAME.format(root=str(ROOT), path=str(path), imports=way.imports, work=way.work)
    done = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYVISTA_OFF_SCREEN": "true"},
    )
    if done.returncode:
        raise RuntimeError(f"{way.name}: {done.stderr[-2000:]}")
    return Cost(**json.loads(done.stdout.splitlines()[-1]))


def table(size: str, path: Path, found: dict[str, Cost]) -> Iterator[str]:
    """Write the costs of one size as rows of a Markdown table."""
    octets = path.stat().st_size
    bytes_s = max(found["the bytes"].cpu_s, 1e-4)
    for name, cost in found.items():
        yield (
            f"| {size} | {name} | {1e3 * cost.cpu_s:.0f} | {cost.cpu_s / bytes_s:.1f} | "
            f"{cost.cpu_s / found['takeoff'].cpu_s:.1f} | {1e3 * cost.whole_s:.0f} | "
            f"{cost.peak_kib / 1024:.0f} | {cost.peak_kib * 1024 / octets:.1f} |"
        )


def agreement(found: dict[str, Cost]) -> float:
    """Give the greatest relative difference of area and volume from trimesh's."""
    ours, theirs = found["takeoff"].answer, found["trimesh"].answer
    assert isinstance(ours, list)
    assert isinstance(theirs, list)
    assert ours[2:] == theirs[2:]
    return max(abs(a - b) / abs(b) for a, b in zip(ours[:2], theirs[:2], strict=True))


def main() -> None:
    """Draw the trays, run every way, and print the table."""
    parser = argparse.ArgumentParser(description="Costs of examining a mesh, as Markdown.")
    parser.add_argument("--rounds", type=int, default=3, help="rounds, of which the least counts")
    parser.add_argument("--large", action="store_true", help="also 5e6 triangles, in one round")
    arguments = parser.parse_args()
    ways = installed(WAYS)
    print(
        "| triangles | way | CPU ms | times the bytes | times takeoff | whole process ms | "
        "peak MiB above imports | times the file |\n| --- | --- | ---: | ---: | ---: | ---: | "
        "---: | ---: |"
    )
    with tempfile.TemporaryDirectory() as folder:
        for size, steps in SIZES.items():
            if size == "5e6" and not arguments.large:
                continue
            path = Path(folder) / f"tray_{size}.stl"
            write_stl(path, *tray_mesh(steps))
            found = costs(path, ways, 1 if size == "5e6" else arguments.rounds)
            print("\n".join(table(size, path, found)), flush=True)
            print(f"<!-- {size}: area and volume differ by {agreement(found):.0e} -->", flush=True)
            path.unlink()


if __name__ == "__main__":
    main()
