"""Sides of facets brought together by their edge."""

import numpy as np
import pytest

from takeoff.geometry import half_edges
from takeoff.geometry.half_edges import edge_runs
from tests.unit.geometry.meshes_made import band, box, inverted, plate, sheet, with_facets, without

MESHES = {
    "closed": box(),
    "open": without(plate(), [3]),
    "fanned": with_facets(box(), [[0, 1, 2], [0, 1, 7]]),
    "sheet": sheet(steps=4),
    "wound otherwise": inverted(plate(), [0, 4, 5]),
    "one-sided": band(),
}


def sides_of(sides):
    """Facet, start and end of each side."""
    columns = (sides.facet, sides.start, sides.end)
    return [tuple(int(number) for number in side) for side in zip(*columns, strict=True)]


def groups(mesh, runs):
    """Sides by their edge, in any order."""
    fanned, ends = sides_of(runs.fanned), np.cumsum(runs.sizes).tolist()
    found = [fanned[end - size : end] for end, size in zip(ends, runs.sizes, strict=True)]
    found += [[side] for side in sides_of(runs.alone)]
    for (facet, start, end), mate, same in zip(
        sides_of(runs.pair), runs.mate.tolist(), runs.same_way, strict=True
    ):
        found.append([(facet, start, end), (mate, start, end) if same else (mate, end, start)])
    return sorted(sorted(group) for group in found)


def groups_by_hand(mesh):
    """The same, one side after the other."""
    edges = {}
    for facet, corners in enumerate(mesh.triangles.tolist()):
        for start, end in zip(corners, corners[1:] + corners[:1], strict=True):
            edges.setdefault((min(start, end), max(start, end)), []).append((facet, start, end))
    return sorted(sorted(group) for group in edges.values())


@pytest.mark.parametrize("mesh", MESHES.values(), ids=MESHES.keys())
@pytest.mark.parametrize("bits", [64, 16, 13, 12, 11])
def test_every_edge_has_its_sides(monkeypatch, mesh, bits):
    monkeypatch.setattr(half_edges, "_WORD_BITS", bits)
    runs = edge_runs(mesh.triangles, len(mesh.points_m))
    assert groups(mesh, runs) == groups_by_hand(mesh)


@pytest.mark.parametrize("seed", range(3))
def test_facets_in_any_order_are_paired_all_the_same(seed):
    mesh = sheet(steps=30)
    order = np.random.default_rng(seed).permutation(len(mesh.triangles))
    runs = edge_runs(mesh.triangles[order], len(mesh.points_m))
    assert len(runs.mate) == 2 * 30 * 29 + 30**2
    shuffled = type(mesh)(mesh.points_m, mesh.triangles[order])
    assert groups(shuffled, runs) == groups_by_hand(shuffled)


def test_few_bits_are_met_by_several_portions(monkeypatch):
    mesh = box()
    monkeypatch.setattr(half_edges, "_WORD_BITS", 9)  # 3 for a span, 5 for a side
    portions = list(half_edges._sorted_words(mesh.triangles, len(mesh.points_m)))
    assert len(portions) == 4
    assert sum(len(words) for words, _ in portions) == mesh.triangles.size


def test_neighbours_with_near_numbers_need_no_portions(monkeypatch):
    strip = np.array([[i, i + 1, i + 2] for i in range(1000)], dtype=np.int32)
    monkeypatch.setattr(half_edges, "_WORD_BITS", 24)  # 10 for a point, 2 for a span, 11 for a side
    (words, packing), *more = half_edges._sorted_words(strip, 1002)
    assert not more
    assert (len(words), packing.span_bits) == (3000, 2)
