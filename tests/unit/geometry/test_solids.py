"""Reports on mended meshes."""

import numpy as np
import pytest

from takeoff.geometry.mending import mend
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.solids import examine_mesh
from tests.unit.geometry.meshes_made import (
    TOP,
    band,
    bottle,
    box,
    inverted,
    plate,
    sheet,
    skewed,
    soup,
    together,
    with_facets,
    without,
)


def examined(mesh, **options):
    return examine_mesh(mend(mesh, **options))


def test_a_sound_solid_is_counted_and_measured():
    report = examined(box((1, 2, 3), (3, 5, 7)))
    assert (report.triangles, report.points, report.edges, report.open_edges) == (12, 8, 18, 0)
    assert report.area_m2 == pytest.approx(2 * (6 + 8 + 12))
    assert report.volume_m3 == pytest.approx(24.0)
    assert (report.closed, report.consistent, report.oriented) == (True, True, True)
    assert (report.bodies, report.patches, report.through_holes) == (1, 6, 0)
    assert report.bounds_m == ((1.0, 2.0, 3.0), (3.0, 5.0, 7.0))
    assert report.thickness_m == pytest.approx(2 * 24 / 52)
    assert report.farthest_m == 7.0
    assert report.first_open_m is None


def test_an_open_shell_has_an_area_but_no_volume():
    report = examined(without(box(), TOP))
    assert report.area_m2 == pytest.approx(5.0)
    assert (report.volume_m3, report.thickness_m, report.closed) == (None, None, False)
    assert report.open_edges == 4
    assert report.first_open_m[2] == 1.0


def test_bodies_that_overlap_have_no_volume():
    report = examined(together(box(), box((0.5, 0, 0), (2, 1, 1))))
    assert (report.overlapping, report.volume_m3, report.closed) == (1, None, True)


def test_a_body_inside_a_solid_wound_outward_overlaps():
    report = examined(together(box(high=(3, 3, 3)), box((1, 1, 1), (2, 2, 2))))
    assert (report.overlapping, report.cavities, report.volume_m3) == (1, 0, None)


def test_a_cavity_is_taken_off():
    report = examined(together(box(high=(3, 3, 3)), inverted(box((1, 1, 1), (2, 2, 2)))))
    assert (report.cavities, report.overlapping, report.volume_m3) == (1, 0, 26.0)


def test_an_inner_wall_tears_its_edges():
    report = examined(with_facets(box(), [[0, 1, 7], [0, 7, 6]]))
    assert report.torn_edges > 0
    assert (report.closed, report.volume_m3) == (False, None)


def test_a_surface_closed_on_itself_has_no_volume():
    flat = sheet()
    folded = with_facets(flat, [[0, 3, 1], [0, 2, 3]])
    assert examined(folded).volume_m3 is None
    other_way = Mesh(flat.points_m, np.array([[0, 2, 1], [1, 2, 3]], dtype=np.int32))
    assert examined(together(inverted(flat), inverted(other_way))).volume_m3 is None


def test_small_holes_are_counted():
    report = examined(without(sheet(steps=40), [0, 700, 900]))
    assert report.small_holes == 2  # the one in the corner belongs to the outer rim
    assert report.area_m2 == pytest.approx(1.0 - 1.5 / 1600)


def test_the_step_of_the_coordinates_is_passed_on():
    assert examined(plate(), resolution_m=1e-7).resolution_m == 1e-7


def cube(side, middle=(0, 0, 0)):
    return box(*(tuple(m + sign * side / 2 for m in middle) for sign in (-1, 1)))


TIP = Mesh(
    np.array([[0.5, 0.5, 1.0], [1, 0, 2], [1, 1, 2], [0, 0.5, 2]]),
    np.array([[0, 2, 1], [0, 3, 2], [0, 1, 3], [1, 2, 3]], dtype=np.int32),
)
SOUND = {  # the mesh, its volume, bodies left and cavities among them
    "two share a corner": (together(box(), box((1, 1, 1), (2, 2, 2))), 2.0, 2, 0),
    "two share an edge": (together(box(), box((1, 1, 0), (2, 2, 1))), 2.0, 2, 0),
    "two share part of an edge": (together(box(), box((1, 1, 0.5), (2, 2, 1.5))), 2.0, 2, 0),
    "the tip of one stands on a face": (together(box(), TIP), 1.0 + 1.0 / 6.0, 2, 0),
    "solid in cavity in solid": (together(cube(4), inverted(cube(3)), cube(2)), 45.0, 3, 1),
    "four in each other": (
        together(cube(4), inverted(cube(3)), cube(2), inverted(cube(1))),
        44.0,
        4,
        2,
    ),
    "all of these inside out": (
        together(inverted(cube(4)), cube(3), inverted(cube(2)), cube(1)),
        44.0,
        4,
        2,
    ),
    "cavities that touch at a corner": (
        together(
            cube(4),
            inverted(cube(1, (-0.5, -0.5, -0.5))),
            inverted(cube(1, (0.5, 0.5, 0.5))),
        ),
        62.0,
        3,
        2,
    ),
    "cavities that share a face": (
        together(cube(4), inverted(cube(1, (-0.5, 0, 0))), inverted(cube(1, (0.5, 0, 0)))),
        62.0,
        2,
        1,
    ),
    "a cavity open through a wall": (
        together(cube(4), inverted(box((-0.5, -0.5, 1), (0.5, 0.5, 2)))),
        63.0,
        1,
        0,
    ),
    "a cavity that takes an edge away": (
        together(cube(4), inverted(box((1, 1, -1), (2, 2, 1)))),
        62.0,
        1,
        0,
    ),
    "one drawn twice": (together(box(), box()), 1.0, 1, 0),
    "one drawn from both sides": (together(box(), inverted(box())), 1.0, 1, 0),
    "a facet drawn from both sides": (with_facets(box(), [[0, 3, 2]]), 1.0, 1, 0),
}
UNSOUND = {  # the mesh, whether it is closed, has two sides, and how many pairs overlap
    "two run into each other": (together(cube(2), cube(2, (1, 0.3, 0.2))), True, True, 1),
    "in the same planes": (together(box(), box((0.5, 0, 0), (1.5, 1, 1))), True, True, 1),
    "three in each other": (together(cube(4), cube(3), cube(2)), True, True, 2),
    "a void that pokes out": (
        together(cube(4), inverted(box((-0.5, -0.5, 1), (0.5, 0.5, 3)))),
        True,
        True,
        1,
    ),
    "closed with one side only": (bottle(), True, False, 0),
    "a one-sided band beside a box": (
        together(band(1), box((5, 5, 5), (6, 6, 6))),
        False,
        False,
        0,
    ),
    "one facet": (Mesh(box().points_m, box().triangles[:1]), False, True, 0),
    "two facets": (Mesh(box().points_m, box().triangles[:2]), False, True, 0),
    "five facets on one edge": (
        Mesh(
            np.array([[0, 0, 0], [0, 0, 1], *([np.cos(a), np.sin(a), 0] for a in range(5))]),
            np.array([[0, 1, i] for i in range(2, 7)], dtype=np.int32),
        ),
        False,
        True,
        0,
    ),
}


@pytest.mark.parametrize(("drawn", "volume_m3", "bodies", "cavities"), SOUND.values(), ids=SOUND)
@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed], ids=["straight", "skew"])
def test_odd_but_sound_solids_have_their_volume(drawn, turn, volume_m3, bodies, cavities):
    report = examined(soup(turn(drawn)))
    assert (report.closed, report.consistent, report.oriented) == (True, True, True)
    assert report.volume_m3 == pytest.approx(volume_m3)
    assert (report.bodies, report.cavities) == (bodies, cavities)


@pytest.mark.parametrize(("drawn", "closed", "oriented", "pairs"), UNSOUND.values(), ids=UNSOUND)
@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed], ids=["straight", "skew"])
def test_what_encloses_no_clear_volume_is_told_and_has_none(drawn, turn, closed, oriented, pairs):
    report = examined(soup(turn(drawn)))
    assert report.volume_m3 is None
    assert (report.closed, report.oriented, report.overlapping) == (closed, oriented, pairs)


def test_minus_zero_in_a_drawing_opens_nothing():
    drawn = soup(box())
    drawn.points_m[::2][drawn.points_m[::2] == 0.0] = -0.0
    report = examined(drawn)
    assert (report.closed, report.points, report.volume_m3) == (True, 8, 1.0)
