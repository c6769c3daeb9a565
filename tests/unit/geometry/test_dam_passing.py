import numpy as np
import pytest

from takeoff.geometry.dam_passing import passing_share
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.skin_edges import skin_edges


def swept(line):
    """A section (x, z) swept by 300 mm along y, layers below it."""
    net = [[x, y, z] for y in (0.0, 0.3) for x, z in line]
    last = len(line)
    cut = [
        part
        for k in range(last - 1)
        for part in ((k, k + 1, k + last + 1), (k, k + last + 1, k + last))
    ]
    return skin_edges(Mesh(np.array(net), np.array(cut, dtype=np.int32)))


def share(line, depth_m):
    skin = swept(line)
    return passing_share(skin, np.full(len(skin.mesh.triangles), depth_m))


def channel(ledge_m):
    far_m = ledge_m + 0.03
    return [(0.0, 0.0), (ledge_m, 0.0), (ledge_m, -0.02), (far_m, -0.02), (far_m, 0.0), (0.2, 0.0)]


def test_a_flat_panel_passes_no_dam():
    assert share([(0.0, 0.0), (0.2, 0.0)], 0.024) == 0.0


@pytest.mark.parametrize("depth_m", [0.004, 0.024])
def test_the_wall_of_a_channel_passes_a_dam_nearer_than_its_layers_are_thick(depth_m):
    wall = 0.02 / (0.2 + 2 * 0.02)
    assert share(channel(0.002), depth_m) == pytest.approx(wall, abs=0.01)


def test_it_does_not_pass_a_dam_further_off():
    assert share(channel(0.03), 0.024) == 0.0


def test_a_wall_right_at_the_border_ends_at_a_rim_and_passes_nothing():
    upright = [(0.0, 0.05), (0.0, 0.0), (0.2, 0.0)]
    assert share(upright, 0.024) == 0.0
