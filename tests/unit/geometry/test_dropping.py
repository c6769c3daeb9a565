"""Facets that add nothing."""

import numpy as np
import pytest

from takeoff.geometry.dropping import without_duplicates, without_pinched, without_slivers
from takeoff.geometry.facets import facets_of
from takeoff.geometry.mending import mend
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.repairs import Defect, Repair
from takeoff.geometry.solids import examine_mesh
from tests.unit.geometry.meshes_made import box, inverted, sheet, together, with_facets


def test_facets_that_use_a_point_twice_go():
    mesh, repairs = without_pinched(with_facets(box(), [[0, 0, 1], [2, 3, 2], [5, 5, 5]]))
    assert np.array_equal(mesh.triangles, box().triangles)
    assert repairs == (Repair(Defect.NO_AREA, 3),)


@pytest.mark.parametrize("drop", [without_pinched, without_duplicates])
def test_a_sound_mesh_passes_as_it_is(drop):
    mesh = box()
    assert drop(mesh) == (mesh, ())


def test_facets_lower_than_rounding_go():
    points = np.array([[0, 0, 0], [1, 0, 0], [0.5, 1e-10, 0], [0.5, 1e-8, 0]])
    mesh = Mesh(points, np.array([[0, 1, 2], [0, 1, 3]], dtype=np.int32))
    kept, repairs = without_slivers(mesh, facets_of(mesh).area_m2, height_m=1e-9)
    assert kept.triangles.tolist() == [[0, 1, 3]]
    assert repairs == (Repair(Defect.NO_AREA, 1),)


def test_a_small_facet_is_no_sliver():
    tiny = Mesh(np.eye(3) * 1e-6, np.array([[0, 1, 2]], dtype=np.int32))
    far = together(tiny, box((50, 50, 50), (51, 51, 51)))
    assert without_slivers(far, facets_of(far).area_m2, height_m=1e-9) == (far, ())


@pytest.mark.parametrize("again", [[0, 2, 3], [2, 3, 0], [3, 0, 2]])
def test_a_facet_drawn_again_goes_from_whichever_corner_it_begins(again):
    mesh, repairs = without_duplicates(with_facets(box(), [again, again]))
    assert np.array_equal(mesh.triangles, box().triangles)
    assert repairs == (Repair(Defect.DUPLICATE, 2),)


def test_facets_back_to_back_inside_a_solid_both_go():
    fin = [[0, 1, 7], [1, 0, 7]]
    mesh, repairs = without_duplicates(with_facets(box(), fin))
    assert np.array_equal(mesh.triangles, box().triangles)
    assert repairs == (Repair(Defect.BACK_TO_BACK, 2),)


def test_of_a_surface_drawn_from_both_sides_one_stays():
    flat = sheet(steps=3)
    two_sided = with_facets(flat, flat.triangles[:, ::-1])
    mesh, repairs = without_duplicates(two_sided)
    assert np.array_equal(mesh.triangles, flat.triangles)
    assert repairs == (Repair(Defect.TWO_SIDED, len(flat.triangles)),)


def test_a_solid_beside_a_two_sided_surface_is_left_alone():
    flat = sheet()
    both = together(box((5, 0, 0), (6, 1, 1)), with_facets(flat, flat.triangles[:, ::-1]))
    mesh, _ = without_duplicates(both)
    assert len(mesh.triangles) == 12 + 2


def test_three_sheets_two_ways_leave_a_pair():
    flat = inverted(sheet())
    drawn = with_facets(flat, [*flat.triangles, *flat.triangles[:, ::-1]])
    mesh, repairs = without_duplicates(drawn)
    assert np.array_equal(mesh.triangles, flat.triangles)
    assert repairs == (Repair(Defect.DUPLICATE, 2), Repair(Defect.TWO_SIDED, 2))


@pytest.mark.parametrize("again", [[[0, 3, 2]], [[0, 3, 2], [0, 1, 3]]], ids=["half", "whole"])
@pytest.mark.parametrize("order", [1, -1])
def test_of_a_face_drawn_from_both_sides_one_stays_in_a_closed_surface(again, order):
    drawn = with_facets(box(), again)
    mesh, repairs = without_duplicates(Mesh(drawn.points_m, drawn.triangles[::order]))
    assert len(mesh.triangles) == 12
    assert repairs == (Repair(Defect.TWO_SIDED, len(again)),)
    report = examine_mesh(mend(drawn))
    assert (report.closed, report.volume_m3) == (True, pytest.approx(1.0))


def test_a_face_drawn_twice_one_way_and_once_the_other_comes_down_to_one():
    mesh, repairs = without_duplicates(with_facets(box(), [[2, 3, 0], [0, 3, 2]]))
    assert len(mesh.triangles) == 12
    assert repairs == (Repair(Defect.DUPLICATE, 1), Repair(Defect.TWO_SIDED, 1))
