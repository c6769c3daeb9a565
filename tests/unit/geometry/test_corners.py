import numpy as np
import pytest
import trimesh

from takeoff.geometry.corners import bends_at, corners_of
from takeoff.geometry.facets import facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.skin_edges import skin_edges


def box_faces(mesh):
    """Number the six faces of a box by their normals."""
    _, face = np.unique(np.rint(facets_of(mesh).normals), axis=0, return_inverse=True)
    return face.ravel().astype(np.int64)


def test_every_corner_of_a_box_joins_three_right_angles():
    box = Mesh.from_trimesh(trimesh.creation.box((1, 2, 3)), unit="m")
    corners = corners_of(box, box_faces(box))
    assert len(corners.point) == 24
    assert np.degrees(corners.angle_rad) == pytest.approx(90.0)


def test_the_angle_defects_of_a_closed_body_add_up_to_two_full_turns():
    ball = Mesh.from_trimesh(trimesh.creation.icosphere(3), unit="m")
    corners = corners_of(ball, np.arange(len(ball.triangles)))
    assert corners.defect_rad.sum() == pytest.approx(4 * np.pi)


@pytest.mark.parametrize("invert", [False, True], ids=["arrises", "inside corners"])
def test_a_box_is_even_only_from_inside(invert):
    solid = trimesh.creation.box((1, 2, 3))
    if invert:
        solid.invert()
    box = Mesh.from_trimesh(solid, unit="m")
    bends = bends_at(skin_edges(box), OffsetRules())
    assert bends.even.all() == invert
    assert bends.inner.all()
