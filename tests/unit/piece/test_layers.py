import numpy as np
import pytest
import trimesh

from takeoff.errors import LayerVolumeError
from takeoff.geometry.mesh import Mesh
from takeoff.notes import NoteCode
from takeoff.piece.classifying import classify
from takeoff.piece.layers import Layer, lay
from takeoff.piece.surfaces import ModelKind, SurfaceClass

UP = np.array([0.0, 0.0, 1.0])
FACE_M, BACKER_M = 0.004, 0.020
TOTAL_M = FACE_M + BACKER_M


def tray(length=1.830, width=0.620, height=0.045):
    """Open tray: show face and four walls."""
    box = trimesh.creation.box((length, width, height))
    box.update_faces(box.face_normals[:, 2] > -0.5)
    return classify(Mesh.from_trimesh(box, unit="m"), kind=ModelKind.OPEN, show_direction=UP)


def solid(size_m):
    box = Mesh.from_trimesh(trimesh.creation.box(size_m), unit="m")
    return classify(box, kind=ModelKind.PIECE, show_direction=UP)


def test_layers_of_a_tray_are_differences_of_boxes():
    laid = lay(tray(), face_coat_m=FACE_M, backer_m=BACKER_M)

    def front_m3(t):
        return 1.83 * 0.62 * 0.045 - (1.83 - 2 * t) * (0.62 - 2 * t) * (0.045 - t)

    assert laid.volume_m3(Layer.FACE_COAT) == pytest.approx(front_m3(FACE_M), rel=1e-9)
    backer_m3 = front_m3(TOTAL_M) - front_m3(FACE_M)
    assert laid.volume_m3(Layer.BACKER) == pytest.approx(backer_m3, rel=1e-9)


def test_area_times_thickness_stands_beside_and_the_difference_is_explained():
    laid = lay(tray(), face_coat_m=FACE_M, backer_m=BACKER_M)
    area_m2 = 1.83 * 0.62 + 2 * (1.83 + 0.62) * 0.045
    assert laid.flat_m3[Layer.BACKER] == pytest.approx(area_m2 * BACKER_M)
    [note] = laid.notes
    assert note.code is NoteCode.LAYER_FLAT
    assert "too much; layers share" in note.text


def test_rows_name_layer_and_class_and_add_up():
    laid = lay(tray(), face_coat_m=FACE_M, backer_m=BACKER_M)
    pairs = [(row.layer, row.surface_class) for row in laid.rows]
    assert pairs == [
        (layer, kind) for layer in Layer for kind in (SurfaceClass.SHOW_FACE, SurfaceClass.RETURN)
    ]
    face = [row for row in laid.rows if row.layer is Layer.FACE_COAT]
    assert sum(row.volume_m3 for row in face) == pytest.approx(laid.volume_m3(Layer.FACE_COAT))


def test_without_thicknesses_there_are_no_layers():
    laid = lay(tray())
    assert (laid.rows, laid.notes) == ((), ())


def test_one_layer_alone_has_rows_of_its_own_only():
    laid = lay(tray(), backer_m=BACKER_M)
    assert {row.layer for row in laid.rows} == {Layer.BACKER}
    assert laid.volume_m3(Layer.FACE_COAT) == 0.0


def test_the_back_of_a_solid_carries_no_layer():
    laid = lay(solid((1.0, 0.5, 0.06)), backer_m=0.02, solid_m3=0.03)
    exact_m3 = 1.0 * 0.5 * 0.06 - 0.96 * 0.46 * 0.04
    assert laid.volume_m3(Layer.BACKER) == pytest.approx(exact_m3, rel=1e-9)


def test_a_slab_as_thick_as_its_layers_is_filled():
    laid = lay(solid((1.0, 0.5, 0.024)), face_coat_m=FACE_M, backer_m=BACKER_M, solid_m3=0.012)
    total_m3 = laid.volume_m3(Layer.FACE_COAT) + laid.volume_m3(Layer.BACKER)
    assert total_m3 == pytest.approx(0.012, rel=1e-9)


def test_layers_thicker_than_the_solid_are_refused():
    with pytest.raises(LayerVolumeError, match=r"more than the 10\.00 L of the solid"):
        lay(solid((1.0, 0.5, 0.020)), face_coat_m=FACE_M, backer_m=BACKER_M, solid_m3=0.010)


def test_ribs_narrower_than_the_layers_are_refused():
    combs = [trimesh.creation.box((0.02, 1.0, 0.06)) for _ in range(3)]
    for number, comb in enumerate(combs):
        comb.apply_translation((0.1 * number, 0.0, 0.0))
    comb = trimesh.util.concatenate(combs)
    comb.update_faces(comb.face_normals[:, 2] > -0.5)
    ribs = classify(Mesh.from_trimesh(comb, unit="m"), kind=ModelKind.OPEN, show_direction=UP)
    with pytest.raises(LayerVolumeError, match="thicker than parts of the shape can hold"):
        lay(ribs, face_coat_m=FACE_M, backer_m=BACKER_M)


def test_arrises_rounded_tighter_than_the_layers_are_noted():
    # A plate with its two long arrises rounded to 10 mm in eight chords.
    turn = np.linspace(0.0, np.pi / 2, 9)
    arc = np.c_[0.010 * np.sin(turn), 0.010 * np.cos(turn) - 0.010]
    right = np.r_[arc + np.array([0.30, 0.0]), [[0.31, -0.060]]]
    section = np.r_[(right * np.array([-1, 1]))[::-1], right]
    points = np.array([(x, y, z) for y in (0.0, 2.0) for x, z in section])
    count = len(section)
    triangles = [
        corner
        for k in range(count - 1)
        for corner in ((k, k + 1, count + k + 1), (k, count + k + 1, count + k))
    ]
    mesh = Mesh(points, np.array(triangles, dtype=np.int32))
    plate = classify(mesh, kind=ModelKind.OPEN, show_direction=UP)
    laid = lay(plate, face_coat_m=FACE_M, backer_m=0.012)
    assert NoteCode.THICK_FOR_SHAPE in [note.code for note in laid.notes]


def test_a_negative_thickness_is_refused():
    with pytest.raises(LayerVolumeError, match="cannot be thinner than 0"):
        lay(tray(), face_coat_m=-0.001)
