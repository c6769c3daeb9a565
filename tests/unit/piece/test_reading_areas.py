import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.piece.finding import readings_asked
from takeoff.piece.reading_areas import read_areas
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from tests.unit.piece.scans_made import fine_box, shaken

SLAB = Mesh.from_trimesh(trimesh.creation.box((2.0, 0.5, 0.04)), unit="m")


def test_readings_are_those_that_are_asked_about():
    read = read_areas(SLAB)
    assert [one.reading.id for one in read] == [one.id for one in readings_asked(SLAB)]


def test_areas_of_a_slab_seen_from_above_and_from_its_end():
    by_side = {tuple(one.reading.show_direction): one.area_m2 for one in read_areas(SLAB)}
    above, end = by_side[0.0, 0.0, 1.0], by_side[1.0, 0.0, 0.0]
    assert above[SurfaceClass.SHOW_FACE] == pytest.approx(1.0)
    assert above[SurfaceClass.RETURN] == pytest.approx(2 * (2.0 + 0.5) * 0.04)
    assert end[SurfaceClass.SHOW_FACE] == pytest.approx(0.5 * 0.04)
    assert end[SurfaceClass.UPRIGHT] == pytest.approx(2 * (0.5 + 0.04) * 2.0)


def test_a_direction_that_was_told_leaves_the_kinds():
    read = read_areas(SLAB, show_direction=np.array([0.0, 0.0, 1.0]))
    assert [one.reading.kind for one in read] == [ModelKind.PIECE]


def test_a_kind_that_was_told_leaves_its_readings():
    assert read_areas(SLAB, kind=ModelKind.FORM) == ()


def test_the_noise_is_taken_off_a_scan():
    scan = shaken(fine_box((400, 200, 40), 10), 0.3)
    first = read_areas(scan)[0]
    assert first.area_m2[SurfaceClass.SHOW_FACE] == pytest.approx(0.08, rel=0.05)
