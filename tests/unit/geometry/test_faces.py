import numpy as np
import pytest

from takeoff.geometry.faces import triangles_of_faces


def area_m2(points, faces):
    """Give the sum of the areas of the triangles that faces are parted into."""
    points_m = np.array(points, dtype=float)
    corner = points_m[triangles_of_faces(points_m, faces)]
    turned = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    return np.linalg.norm(turned, axis=1).sum() / 2


L_SHAPE = [(0, 0, 1), (2, 0, 1), (2, 1, 1), (1, 1, 1), (1, 2, 1), (0, 2, 1)]
U_SHAPE = [(0, 0), (3, 0), (3, 3), (2, 3), (2, 1), (1, 1), (1, 3), (0, 3)]


@pytest.mark.parametrize("first", range(6))
def test_a_face_with_an_inside_corner_keeps_its_area(first):
    face = [*range(first, 6), *range(first)]
    assert area_m2(L_SHAPE, [face]) == pytest.approx(3.0)


@pytest.mark.parametrize("drop", range(3))
def test_a_face_with_two_inside_corners_keeps_its_area_in_any_plane(drop):
    points = np.insert(np.array(U_SHAPE, dtype=float), drop, 0.5, axis=1)
    assert area_m2(points, [range(8)]) == pytest.approx(7.0)


def test_winding_is_kept():
    points = np.insert(np.array(U_SHAPE, dtype=float), 2, 0.0, axis=1)
    for face, up in ((range(8), 1.0), (range(7, -1, -1), -1.0)):
        corner = points[triangles_of_faces(points, [face])]
        turned = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
        assert (np.sign(turned[:, 2]) == up).all()


def test_an_arrowhead_of_four_corners_is_cut_at_its_inside_corner():
    assert area_m2([(1, 0, 0), (2, 1, 0), (0, 0, 0), (2, -1, 0)], [(0, 1, 2, 3)]) == pytest.approx(
        1.0
    )


def test_no_faces_give_no_triangles():
    assert triangles_of_faces(np.zeros((0, 3)), []).shape == (0, 3)
