import numpy as np
from scipy.spatial import cKDTree

from takeoff.geometry.facets import facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.skin_samples import sample_skin
from takeoff.geometry.thin_walls import thin_samples


def folded(half_m, height_m):
    """A ridge over the line x = 0, two faces of it."""
    line = ((-half_m, 0.0), (0.0, height_m), (half_m, 0.0))
    net = [[x, y, z] for y in (0.0, 0.1) for x, z in line]
    triangles = np.array([[0, 4, 1], [0, 3, 4], [1, 5, 2], [1, 4, 5]], dtype=np.int32)
    return Mesh(np.array(net), triangles)


def thin_of(mesh, count=4000):
    samples = sample_skin(mesh, facets_of(mesh), count)
    return samples, thin_samples(samples, cKDTree(samples.points_m))


def test_a_right_angle_is_nowhere_thin():
    _, thin = thin_of(folded(0.05, 0.05))
    assert not thin.any()


def test_a_knife_edge_is_thin_at_its_edge_and_not_at_its_foot():
    samples, thin = thin_of(folded(0.02, 0.1))
    height_m = samples.points_m[:, 2]
    assert thin[height_m > 0.098].all()
    assert not thin[height_m < 0.05].any()


def test_a_blade_thinner_than_the_spacing_is_thin_everywhere():
    _, thin = thin_of(folded(0.0002, 0.05))
    assert thin.all()
