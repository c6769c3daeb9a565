"""Reports on mended meshes."""

import numpy as np
import pytest

from takeoff.geometry.mending import mend
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.solids import examine_mesh
from tests.unit.geometry.meshes_made import (
    TOP,
    box,
    inverted,
    plate,
    sheet,
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
