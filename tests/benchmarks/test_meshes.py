"""The mesh core is as fast and as sparing as it is meant to be; run with -m benchmark."""

import subprocess
import sys
from resource import RUSAGE_CHILDREN, getrusage

import pytest

from tests.benchmarks.meshes import ROOT, SIZES, WAYS, agreement, costs
from tests.benchmarks.trays import tray_mesh, write_stl

pytestmark = pytest.mark.benchmark
TRIED = [way for way in WAYS if way.name in {"the bytes", "takeoff", "trimesh"}]


@pytest.fixture
def tray(tmp_path):
    """Draw a tray of a size."""

    def drawn(size):
        path = tmp_path / f"tray_{size}.stl"
        write_stl(path, *tray_mesh(SIZES[size]))
        return path

    return drawn


@pytest.mark.parametrize(("size", "faster"), [("1e5", 3.0), ("1e6", 5.0)])
def test_examining_is_faster_than_plain_trimesh_and_agrees(tray, size, faster):
    found = costs(tray(size), TRIED, rounds=5)
    assert found["trimesh"].cpu_s > faster * found["takeoff"].cpu_s
    assert found["trimesh"].whole_s > faster * found["takeoff"].whole_s
    assert agreement(found) < 1e-9


def test_a_million_triangles_cost_little_more_than_their_bytes(tray):
    path = tray("1e6")
    found = costs(path, TRIED[:2], rounds=5)
    assert found["takeoff"].cpu_s < 30.0 * found["the bytes"].cpu_s
    assert found["takeoff"].peak_kib * 1024 < 5.0 * path.stat().st_size


def test_checking_a_small_file_takes_half_of_a_plain_script(tray):
    path = str(tray("1e4"))
    script = f"import trimesh; m = trimesh.load_mesh({path!r}); print(m.area, m.is_watertight)"
    ours = [sys.executable, "-m", "takeoff", "check", path, "--unit", "mm"]
    spent = {"ours": [], "theirs": []}
    for _ in range(5):
        for name, command in (("ours", ours), ("theirs", [sys.executable, "-c", script])):
            before = getrusage(RUSAGE_CHILDREN)
            subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
            after = getrusage(RUSAGE_CHILDREN)
            user, system = (
                getattr(after, n) - getattr(before, n) for n in ("ru_utime", "ru_stime")
            )
            spent[name].append(user + system)
    assert min(spent["ours"]) < 0.5 * min(spent["theirs"])
