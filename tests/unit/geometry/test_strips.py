"""Corners that follow from the facet before are kept once."""

import numpy as np
import pytest

from takeoff.geometry.strips import Strips
from takeoff.geometry.welding import weld_exact, welded_strips
from tests.unit.geometry.meshes_made import box, plate, sheet, soup


def taken_in(corners, at_once):
    strips = Strips(len(corners))
    for start in range(0, len(corners), at_once):
        strips.take_in(corners[start : start + at_once])
    return strips


def fan(count):
    """Facets around one corner."""
    angle = np.linspace(0.0, 6.0, count + 1)
    rim = np.stack([np.cos(angle), np.sin(angle), angle], axis=1)
    return np.stack([np.zeros((count, 3)), rim[:-1], rim[1:]], axis=1).reshape(-1, 3)


CORNERS = {
    "box": soup(box()).points_m,
    "plate": soup(plate(holes=3)).points_m,
    "sheet": soup(sheet(steps=9)).points_m,
    "fan": fan(200),
    "one facet": fan(1),
    "no facets": fan(5)[:7],
    "pinched": np.repeat(fan(6), 3, axis=0),
}


@pytest.mark.parametrize("corners", CORNERS.values(), ids=CORNERS.keys())
@pytest.mark.parametrize("kind", [np.float32, np.float64])
@pytest.mark.parametrize("at_once", [3, 9, 3000])
def test_every_corner_has_its_point_among_those_kept(corners, kind, at_once):
    corners = corners.astype(kind)
    strips = taken_in(corners, at_once)
    kept = strips.corners()
    assert np.array_equal(kept[strips.place], corners)
    assert kept.dtype == kind


def test_around_a_fan_hardly_more_than_the_points_are_kept():
    assert len(taken_in(fan(200), 3000).corners()) == 202


@pytest.mark.parametrize("at_once", [3, 9, 30, 3000])
def test_taken_in_piece_by_piece_the_points_are_the_same(at_once):
    corners = soup(plate(holes=3)).points_m
    points, number = welded_strips(taken_in(corners, at_once))
    whole_points, whole_number = weld_exact(corners)
    assert np.array_equal(points, whole_points)
    assert np.array_equal(number, whole_number)


def test_where_facets_do_not_follow_each_other_all_corners_are_kept_from_then_on():
    corners = soup(sheet(steps=20)).points_m.reshape(-1, 9)
    corners = corners[np.random.default_rng(1).permutation(len(corners))].reshape(-1, 3)
    strips = taken_in(corners, 60)
    assert len(strips.corners()) > 0.95 * len(corners)
    points, _ = welded_strips(taken_in(corners, 60))
    assert len(points) == 21**2


def test_zero_and_minus_zero_are_joined_in_the_end():
    corners = fan(4)
    corners[3::6] = -0.0
    points, number = weld_exact(corners)
    assert len(points) == 6
    assert np.array_equal(points[number], corners)


def test_nothing_taken_in_gives_nothing():
    points, number = welded_strips(Strips(0))
    assert (points.shape, len(number)) == ((0, 3), 0)
