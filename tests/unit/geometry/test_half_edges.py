"""Half-edges brought together by their edge."""

import numpy as np
import pytest

from takeoff.geometry import half_edges
from takeoff.geometry.half_edges import edge_runs, ends_of
from tests.unit.geometry.meshes_made import box, plate, sheet, with_facets, without

MESHES = {
    "closed": box(),
    "open": without(plate(), [3]),
    "fanned": with_facets(box(), [[0, 1, 2], [0, 1, 7]]),
    "sheet": sheet(steps=4),
}


def groups(mesh, runs):
    """Half-edges by their edge, in any order."""
    fanned = np.split(runs.fanned, np.cumsum(runs.sizes)[:-1]) if len(runs.sizes) else []
    found = [*zip(runs.pair, runs.mate, strict=True), *((half,) for half in runs.alone), *fanned]
    return sorted(tuple(sorted(int(half) for half in group)) for group in found)


def groups_by_hand(mesh):
    """The same, one half-edge after the other."""
    edges = {}
    for half in range(mesh.triangles.size):
        start = mesh.triangles[half // 3, half % 3]
        end = mesh.triangles[half // 3, (half + 1) % 3]
        edges.setdefault((min(start, end), max(start, end)), []).append(half)
    return sorted(tuple(group) for group in edges.values())


@pytest.mark.parametrize("mesh", MESHES.values(), ids=MESHES.keys())
@pytest.mark.parametrize("bits", [64, 16, 14, 13])
def test_every_edge_has_its_half_edges(monkeypatch, mesh, bits):
    monkeypatch.setattr(half_edges, "_WORD_BITS", bits)
    runs = edge_runs(mesh.triangles, len(mesh.points_m))
    assert groups(mesh, runs) == groups_by_hand(mesh)


def test_few_bits_are_met_by_several_portions(monkeypatch):
    mesh = box()
    monkeypatch.setattr(half_edges, "_WORD_BITS", 10)  # 3 for a point, 6 for a half-edge
    portions = list(half_edges._sorted_words(mesh.triangles, len(mesh.points_m)))
    assert len(portions) == 4
    assert sum(len(words) for words, _ in portions) == mesh.triangles.size


def test_half_edges_run_along_their_facet():
    start, end = ends_of(np.array([[4, 5, 6]], dtype=np.int32), np.array([0, 1, 2]))
    assert start.tolist() == [4, 5, 6]
    assert end.tolist() == [5, 6, 4]
