"""The mesh core is as fast and as sparing as it is meant to be; run with -m benchmark."""

import importlib.util
import subprocess
import sys
from resource import RUSAGE_CHILDREN, getrusage

import pytest

from tests.benchmarks.meshes import ROOT, SIZES, WAYS, agreement, costs
from tests.benchmarks.trays import tray_mesh, write_stl

pytestmark = pytest.mark.benchmark
NAMED = {way.name: way for way in WAYS}
TRIED = [NAMED[name] for name in ("the bytes", "takeoff", "trimesh")]


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


def test_a_million_triangles_cost_half_of_that_with_the_optional_library(tray):
    pytest.importorskip("meshoptimizer")
    found = costs(tray("1e6"), [NAMED["the bytes"], NAMED["takeoff[fast]"]], rounds=9)
    assert found["takeoff[fast]"].cpu_s < 15.0 * found["the bytes"].cpu_s


@pytest.mark.parametrize("size", ["1e5", "1e6"])
def test_examining_is_no_slower_than_pyvista(tray, size):
    if importlib.util.find_spec("pyvista") is None:
        pytest.skip("pyvista is not installed")
    found = costs(tray(size), [NAMED["takeoff"], NAMED["pyvista"]], rounds=3)
    assert found["takeoff"].cpu_s <= found["pyvista"].cpu_s
    assert found["takeoff"].whole_s <= found["pyvista"].whole_s


def test_checking_a_small_file_takes_half_of_a_plain_script(tray):
    path = str(tray("1e4"))
    script = f"import trimesh; m = trimesh.load_mesh({path!r}); print(m.area, m.is_watertight)"
    ours, theirs = least_cpu_s(
        [sys.executable, "-m", "takeoff", "check", path, "--unit", "mm"],
        [sys.executable, "-c", script],
    )
    assert ours < 0.5 * theirs


def test_help_comes_at_once():
    [asked] = least_cpu_s([sys.executable, "-m", "takeoff", "--help"])
    assert asked < 0.150


def least_cpu_s(*commands):
    """Run commands in rotation, and give the least CPU time that each took."""
    spent = [[] for _ in commands]
    for _ in range(5):
        for command, times in zip(commands, spent, strict=True):
            before = getrusage(RUSAGE_CHILDREN)
            subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
            after = getrusage(RUSAGE_CHILDREN)
            user, system = (
                getattr(after, name) - getattr(before, name) for name in ("ru_utime", "ru_stime")
            )
            times.append(user + system)
    return [min(times) for times in spent]
