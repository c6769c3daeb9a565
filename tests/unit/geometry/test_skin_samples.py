import numpy as np
import pytest

from takeoff.geometry.facets import facets_of
from takeoff.geometry.skin_samples import sample_skin
from tests.drawings.layers import shapes


@pytest.mark.parametrize("least", [0, 5_000, 300_000])
def test_samples_leave_no_gap_however_fine_the_facets(least):
    from scipy.spatial import cKDTree

    mesh = shapes.mesh_of(shapes.divided(shapes.extrude([(0, 0), (500, 0)], 600), least))
    samples = sample_skin(mesh, facets_of(mesh), 20_000)
    x, y = np.meshgrid(np.linspace(0.005, 0.495, 99), np.linspace(0.005, 0.595, 119))
    at_m = np.stack([x.ravel(), y.ravel(), np.zeros(x.size)], axis=1)
    gap = cKDTree(samples.points_m).query(at_m)[0] / samples.spacing_m
    assert gap.max() < 1.75
    assert gap.mean() < 0.55


def test_samples_of_a_part_lie_on_it_alone():
    mesh = shapes.mesh_of(shapes.divided(shapes.tray(600, 400, 50), 1_000))
    facets = facets_of(mesh)
    walls = np.flatnonzero(facets.normals[:, 2] < 0.5)
    samples = sample_skin(mesh, facets, 3_000, chosen=walls)
    assert set(samples.facet.tolist()) <= set(walls.tolist())
    assert samples.spacing_m == pytest.approx(np.sqrt(facets.area_m2[walls].sum() / 3_000))
