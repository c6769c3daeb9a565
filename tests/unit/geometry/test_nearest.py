import numpy as np
import pytest
import shapely

from takeoff.geometry.band_parts import sampled_skin
from takeoff.geometry.skin_edges import skin_edges
from tests.drawings.layers import shapes

V_GROOVES = [[0, 0], [45, 0], [50, -10], [55, 0], [95, 0], [100, -10], [105, 0], [150, 0]]
SLOTS = [[0, 0], [45, 0], [45, -10], [55, -10], [55, 0], [150, 0]]


@pytest.mark.parametrize("profile", [V_GROOVES, SLOTS], ids=["V-grooves", "slots"])
@pytest.mark.parametrize("least", [0, 5_000])
def test_distances_behind_grooves_are_those_of_their_section(profile, least):
    skin = skin_edges(shapes.mesh_of(shapes.divided(shapes.extrude(profile, 300), least)))
    nearest = sampled_skin(skin, 0.020)
    x, y, z = np.meshgrid(np.arange(30.5, 120), np.arange(60, 240, 31), np.arange(-35.3, -11))
    points = np.stack([x.ravel(), y.ravel(), z.ravel()], axis=1)
    exact = shapely.distance(shapely.LineString(profile), shapely.points(points[:, [0, 2]]))
    off = nearest.seen_from(points * 1e-3, 0.1).depth_m * 1e3 - exact
    assert np.abs(off).mean() < 0.03
    assert np.quantile(np.abs(off), 0.99) < 0.5
