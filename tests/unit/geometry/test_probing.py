"""Rays through two bodies."""

import numpy as np
import pytest

from takeoff.geometry.probing import shared_length
from tests.unit.geometry.meshes_made import box, hull_of_cells, inverted, skewed, together


def lengths(one, other, side=48):
    mesh = together(one, other)
    first = np.arange(len(one.triangles))
    second = np.arange(len(one.triangles), len(mesh.triangles))
    low = np.maximum(one.points_m.min(axis=0), other.points_m.min(axis=0))
    high = np.minimum(one.points_m.max(axis=0), other.points_m.max(axis=0))
    return shared_length(mesh, first, second, low_m=low, high_m=high, side=side)


def test_lengths_are_those_of_the_bodies():
    shared = lengths(box(high=(4, 1, 1)), box((3, 0, 0), (6, 1, 1)), side=10)
    assert shared.longest_m == pytest.approx(1.0)
    assert shared.both_m == pytest.approx(100 * (1 + 1 + 1))
    assert shared.first_m == pytest.approx(100 * (4 + 1 + 1))
    assert shared.second_m == pytest.approx(100 * (3 + 1 + 1))


@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed])
def test_a_body_inside_is_inside_all_along(turn):
    shared = lengths(turn(box(high=(9, 9, 9))), turn(box((4, 4, 4), (5, 5, 5))))
    assert shared.both_m == pytest.approx(shared.second_m, rel=1e-12)
    assert shared.first_m > shared.second_m > 0.0


def test_a_body_in_the_notch_of_another_shares_nothing():
    angle = hull_of_cells([(0, 0), (1, 0), (0, 1)])
    assert lengths(angle, box((1, 1, 0), (1.9, 1.9, 1))).longest_m < 1e-12


def test_cavities_count_as_inside():
    hollow = inverted(box((4, 4, 4), (5, 5, 5)))
    shared = lengths(box(high=(9, 9, 9)), hollow)
    assert shared.both_m == pytest.approx(shared.second_m)
