"""What must hold of any solid, however it is drawn."""

from itertools import product

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from takeoff.geometry.mending import mend
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.solids import examine_mesh
from tests.unit.geometry.meshes_made import box, hull_of_cells, inverted, skewed, soup, together

cells = st.sets(st.tuples(*[st.integers(0, 2)] * 3), min_size=1, max_size=12)
seeds = st.integers(0, 2**16)
lows = st.tuples(*[st.integers(0, 4)] * 3)
sizes = st.tuples(*[st.integers(1, 3)] * 3)


def faces_of(filled):
    """Faces of unit cells that have no cell on the other side."""
    steps = [step for step in product((-1, 0, 1), repeat=3) if sum(map(abs, step)) == 1]
    return sum(
        tuple(a + b for a, b in zip(cell, step, strict=True)) not in filled
        for cell in filled
        for step in steps
    )


def bodies_of(filled):
    """How many groups of cells hang together by faces."""
    left, count = set(filled), 0
    while left:
        reached, count = [left.pop()], count + 1
        while reached:
            x, y, z = reached.pop()
            near = {(x + 1, y, z), (x - 1, y, z), (x, y + 1, z)}
            near |= {(x, y - 1, z), (x, y, z + 1), (x, y, z - 1)}
            reached += near & left
            left -= near
    return count


def examined(mesh):
    return examine_mesh(mend(mesh))


def assert_measures(report, filled, length_m=1.0):
    assert report.closed
    assert report.consistent
    assert report.area_m2 == pytest.approx(faces_of(filled) * length_m**2, rel=1e-9)
    assert report.volume_m3 == pytest.approx(len(filled) * length_m**3, rel=1e-9)


@given(cells)
def test_a_solid_of_cells_is_counted_and_measured(filled):
    report = examined(hull_of_cells(filled))
    assert_measures(report, filled)
    assert report.repairs == ()
    assert report.bodies - report.cavities == bodies_of(filled)


@given(cells, st.floats(0.01, 100.0))
def test_measures_follow_the_scale(filled, length_m):
    mesh = hull_of_cells(filled)
    assert_measures(examined(Mesh(mesh.points_m * length_m, mesh.triangles)), filled, length_m)


@given(cells, seeds)
def test_measures_do_not_depend_on_place_or_order(filled, seed):
    mesh = skewed(hull_of_cells(filled))
    random = np.random.default_rng(seed)
    triangles = mesh.triangles[random.permutation(len(mesh.triangles))]
    rolled = np.array([np.roll(row, random.integers(3)) for row in triangles], dtype=np.int32)
    report = examined(Mesh(mesh.points_m, rolled))
    assert_measures(report, filled)
    assert report.patches == examined(hull_of_cells(filled)).patches


@given(cells, seeds)
def test_damage_of_every_kind_is_undone(filled, seed):
    random = np.random.default_rng(seed)
    mesh = soup(hull_of_cells(filled))
    count = len(mesh.triangles)
    chosen = random.random(count) < 0.2
    mesh = inverted(mesh, chosen)
    again = mesh.triangles[random.integers(0, count, 3)]
    mesh = Mesh(
        mesh.points_m + random.uniform(-2e-7, 2e-7, mesh.points_m.shape),
        np.concatenate([mesh.triangles, again]),
    )
    report = examined(mesh)
    assume(not report.overlapping)
    assert report.area_m2 == pytest.approx(faces_of(filled), rel=1e-5)
    assert report.closed


@settings(max_examples=40)
@given(cells)
def test_dividing_facets_changes_no_measure(filled):
    mesh = hull_of_cells(filled)
    middle = mesh.points_m[mesh.triangles].mean(axis=1)
    number = np.arange(len(middle)) + len(mesh.points_m)
    a, b, c = mesh.triangles.T
    thirds = [np.stack(side, axis=1) for side in ((a, b, number), (b, c, number), (c, a, number))]
    finer = examined(
        Mesh(np.concatenate([mesh.points_m, middle]), np.concatenate(thirds).astype(np.int32))
    )
    coarser = examined(mesh)
    assert_measures(finer, filled)
    assert finer.patches == coarser.patches
    assert finer.through_holes == coarser.through_holes


@given(st.lists(st.tuples(lows, sizes), min_size=2, max_size=4, unique=True), st.booleans())
def test_blocks_side_by_side_are_joined_and_blocks_in_each_other_found(drawn, turn):
    blocks, filled, shared = [], set(), False
    for low, size in drawn:
        high = tuple(a + b for a, b in zip(low, size, strict=True))
        inside = set(product(*(range(a, b) for a, b in zip(low, high, strict=True))))
        shared |= bool(inside & filled)
        filled |= inside
        blocks.append(box(low, high))
    mesh = together(*blocks)
    report = examined(skewed(mesh) if turn else mesh)
    assert bool(report.overlapping) == shared
    if not shared:
        assert_measures(report, filled)
        assert report.bodies == bodies_of(filled) + report.cavities
