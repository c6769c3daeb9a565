import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.notes import NoteCode
from takeoff.piece.classifying import classify
from takeoff.piece.exact_layers import exact_volume
from takeoff.piece.laying import lay
from takeoff.piece.surfaces import ModelKind
from takeoff.piece.thickness import everywhere, read_class_thickness

UP = np.array([0.0, 0.0, 1.0])
COAT, BACKER = everywhere(0.004), read_class_thickness("16 mm", on_return="21 mm")


def piece_of(body, kind=ModelKind.PIECE):
    return classify(Mesh.from_trimesh(body, unit="m"), kind=kind, show_direction=UP)


def both_m3(surfaces, solid_m3, backer):
    laid = lay(surfaces, face_coat=COAT, backer=backer, solid_m3=solid_m3)
    return sum(row.volume_m3 for row in laid.rows)


def drafted():
    corners = [
        (x * (0.45 + down * 0.1), y * (0.30 + down * 0.1), -down)
        for down in (0.0, 0.08)
        for x in (-1, 1)
        for y in (-1, 1)
    ]
    return trimesh.convex.convex_hull(np.array(corners))


def plinth():
    foot = trimesh.creation.box(bounds=[[0, 0, 0], [0.6, 0.4, 0.07]])
    head = trimesh.creation.box(bounds=[[0.1, 0.1, 0.05], [0.45, 0.3, 0.15]])
    return foot.union(head)


@pytest.mark.parametrize(
    ("body", "backer", "method", "share"),
    [
        (trimesh.creation.box((0.8, 0.5, 0.06)), BACKER, "offset of the plan", 1e-9),
        (drafted(), BACKER, "half-spaces of a convex solid", 1e-3),
        (plinth(), everywhere(0.016), "union of balls within the solid", 3e-3),
    ],
    ids=["box", "drafted", "plinth"],
)
def test_the_slow_methods_agree_with_the_fast_one(body, backer, method, share):
    surfaces = piece_of(body)
    found, notes = exact_volume(surfaces, face_coat=COAT, backer=backer)
    assert found is not None
    assert (found.method, notes) == (method, ())
    assert both_m3(surfaces, float(body.volume), backer) == pytest.approx(
        found.volume_m3, rel=share
    )


def test_where_no_slow_method_applies_a_note_says_so():
    ball = trimesh.creation.icosphere(3, 0.2)
    ball.update_faces(ball.triangles_center[:, 2] > 0.0)
    found, [note] = exact_volume(piece_of(ball, ModelKind.OPEN), face_coat=COAT, backer=BACKER)
    assert found is None
    assert note.code is NoteCode.NO_EXACT_CHECK
