"""Bodies that run into each other, or lie inside."""

import pytest

from takeoff.geometry import body_relations as module
from takeoff.geometry.body_relations import body_relations
from takeoff.geometry.mending import mend
from takeoff.geometry.solids import examine_mesh
from tests.unit.geometry.meshes_made import box, hull_of_cells, inverted, skewed, together


def relations(mesh):
    mended = mend(mesh)
    found = body_relations(mended.mesh, mended.facets, mended.edges, mended.parts, mended.bodies)
    return (
        sorted(tuple(sorted(pair)) for pair in found.crossing.tolist()),
        sorted(tuple(pair) for pair in found.inside.tolist()),
    )


CROSSING = {
    "end in end": box((0.9, 0, 0), (2, 1, 1)),
    "by a tenth of a millimetre": box((0.9999, 0, 0), (2, 1, 1)),
    "through": box((0.25, -1, 0.25), (0.75, 2, 0.75)),
    "corner in corner": box((0.95, 0.95, 0.95), (2, 2, 2)),
}
CLEAR = {
    "apart": box((1.1, 0, 0), (2, 1, 1)),
    "face to face": box((1, 0, 0), (2, 1, 1)),
    "edge to edge": box((1, 1, 0), (2, 2, 1)),
    "by a micrometre": box((1 - 1e-6, 0, 0), (2, 1, 1)),
}


@pytest.mark.parametrize("other", CROSSING.values(), ids=CROSSING.keys())
@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed])
def test_bodies_that_share_material_are_found(other, turn):
    assert relations(turn(together(box(), other))) == ([(0, 1)], [])


@pytest.mark.parametrize("other", CLEAR.values(), ids=CLEAR.keys())
@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed])
def test_bodies_that_only_touch_are_clear(other, turn):
    assert relations(turn(together(box(), other))) == ([], [])


@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed])
def test_bodies_inside_others_are_found(turn):
    nest = together(
        box(high=(9, 9, 9)), inverted(box((1, 1, 1), (8, 8, 8))), box((2, 2, 2), (3, 3, 3))
    )
    assert relations(turn(nest)) == ([], [(1, 0), (2, 0), (2, 1)])


def test_a_body_in_the_bounds_of_another_is_clear_of_it():
    angle = hull_of_cells([(0, 0), (1, 0), (2, 0), (0, 1), (0, 2)])
    assert relations(together(angle, box((1.2, 1.2, 0.2), (2.8, 2.8, 0.8)))) == ([], [])


def test_too_many_pairs_are_counted_and_give_no_volume(monkeypatch):
    monkeypatch.setattr(module, "_MOST_WORK", 1)
    hollow = together(box(high=(3, 3, 3)), inverted(box((1, 1, 1), (2, 2, 2))))
    report = examine_mesh(mend(hollow))
    assert (report.unexamined, report.volume_m3) == (1, None)
