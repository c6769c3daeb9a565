import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.piece.asking import Asked, question
from takeoff.piece.finding import readings_asked
from takeoff.piece.flats import flats_of
from takeoff.piece.reading import numbered, reading_of
from takeoff.piece.reading_areas import read_areas, shown_areas_m2
from takeoff.piece.rules import SurfaceRules
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


def spike():
    """A bar 4 m long and 4 mm square, of which an end is next to nothing."""
    return Mesh.from_trimesh(trimesh.creation.box((4.0, 0.004, 0.004)), unit="m")


@pytest.mark.parametrize("kind", [None, ModelKind.PIECE])
def test_a_reading_without_a_show_face_is_not_offered(kind):
    along_x = reading_of(ModelKind.PIECE, np.array([1.0, 0.0, 0.0]), ())
    up = reading_of(ModelKind.PIECE, np.array([0.0, 0.0, 1.0]), ())
    flats = flats_of(spike())
    assert shown_areas_m2(flats, along_x) is None
    ways = numbered([up, along_x])
    head, *lines = question(Asked(flats, ways, kind, SurfaceRules())).text.splitlines()
    assert "too little speaks for the one reading found" in head
    assert [line.split()[0] for line in lines] == ["S1"]
    only = Asked(flats, numbered([along_x]), kind, SurfaceRules())
    assert question(only).text.startswith("nobody told which side is the show face; tell")
    assert read_areas(spike(), show_direction=np.array([1.0, 0.0, 0.0])) == ()
