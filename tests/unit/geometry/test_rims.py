"""Runs of open edges."""

import pytest

from takeoff.geometry.edges import edge_table
from takeoff.geometry.rims import rims_of
from tests.unit.geometry.meshes_made import TOP, box, sheet, together, without


def rims(mesh, small_m=0.0):
    return rims_of(mesh, edge_table(mesh), small_m=small_m)


def test_a_closed_solid_has_no_rim():
    assert len(rims(box()).length_m) == 0
    assert rims(box()).umbrella is None


def test_an_open_side_has_one_rim():
    assert rims(without(box(high=(2, 1, 1)), TOP)).length_m.tolist() == [6.0]


def test_rims_of_several_parts_are_told_apart():
    both = together(sheet(width=2.0), without(box((5, 5, 5), (6, 6, 6)), TOP))
    assert rims(both).length_m.tolist() == [6.0, 4.0]


def test_holes_that_touch_at_a_point_have_one_rim_around_both():
    fine = sheet(steps=6)
    one, other = 14, 21  # squares (2, 2) and (3, 3), corner to corner
    holes = without(fine, [one, one + 36, other, other + 36])
    lengths = sorted(rims(holes).length_m.tolist())
    assert lengths == pytest.approx([8 / 6, 4.0])


def test_small_rims_are_marked():
    fine = without(sheet(steps=10), [44])
    found = rims(fine, small_m=0.5)
    assert found.length_m[found.small].tolist() == pytest.approx([0.2 + 0.1 * 2**0.5])
    assert (~found.small).sum() == 1
