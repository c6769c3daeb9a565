"""Meshes taken from and given to a library."""

import numpy as np
import pytest
import trimesh

from takeoff.errors import MeshError, QuantityError
from takeoff.geometry.mesh import Mesh


def test_a_mesh_goes_to_the_library_and_back():
    drawn = trimesh.creation.box((100, 200, 30))
    mesh = Mesh.from_trimesh(drawn, unit="mm")
    assert np.array_equal(mesh.points_m * 1000, drawn.vertices)
    assert np.array_equal(mesh.to_trimesh().faces, drawn.faces)
    assert mesh.triangles.dtype == np.int32


def test_a_mesh_without_triangles_is_refused():
    with pytest.raises(MeshError, match="no triangles"):
        Mesh.from_trimesh(trimesh.Trimesh(), unit="mm")


@pytest.mark.parametrize("number", [np.nan, np.inf])
def test_a_coordinate_that_is_no_number_is_refused(number):
    drawn = trimesh.Trimesh([[0, 0, 0], [1, 0, 0], [0, number, 0]], [[0, 1, 2]], process=False)
    with pytest.raises(MeshError, match="not a finite number"):
        Mesh.from_trimesh(drawn, unit="mm")


def test_a_unit_that_is_no_length_is_refused():
    with pytest.raises(QuantityError, match="kg"):
        Mesh.from_trimesh(trimesh.creation.box((1, 1, 1)), unit="kg")
