"""First moments of layers by the sum over edges."""

import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.geometry.moments import front_moments_m4
from takeoff.geometry.offsets import front_m3, offset_coefficients
from takeoff.geometry.skin_edges import skin_edges


def test_the_layer_in_a_box_has_the_moment_of_box_less_box_but_for_its_corners():
    box = trimesh.creation.box(bounds=[[1.0, 2.0, 3.0], [2.0, 4.0, 6.0]])
    skin = skin_edges(Mesh.from_trimesh(box, unit="m"))
    terms, thicknesses_m = offset_coefficients(skin), (0.05, 0.2)
    layers = [front_m3(terms, thickness_m) for thickness_m in thicknesses_m]
    moments_m4 = front_moments_m4(skin, terms, layers, thicknesses_m, np.ones((12, 1)))
    for layer, thickness_m, moment_m4 in zip(layers, thicknesses_m, moments_m4, strict=True):
        shell_m3 = 6.0 - np.prod(np.array([1.0, 2.0, 3.0]) - 2.0 * thickness_m)
        assert layer.volume_m3 == pytest.approx(shell_m3)
        exact_m4 = shell_m3 * np.array([1.5, 3.0, 4.5])
        assert moment_m4[0] == pytest.approx(exact_m4, abs=thickness_m**3)


@pytest.mark.parametrize("ratio", [None, np.linspace(0.5, 1.0, 320)])
def test_several_layers_at_once_have_the_moments_of_each_alone(ratio):
    ball = trimesh.creation.icosphere(subdivisions=2)
    skin = skin_edges(Mesh.from_trimesh(ball, unit="m"))
    terms, thicknesses_m = offset_coefficients(skin, ratio=ratio), (0.02, 0.1)
    shares = np.stack([np.linspace(0.0, 1.0, 320), np.linspace(1.0, 0.0, 320)], axis=1)
    layers = [front_m3(terms, thickness_m) for thickness_m in thicknesses_m]
    together_m4 = front_moments_m4(skin, terms, layers, thicknesses_m, shares)
    for layer, thickness_m, both_m4 in zip(layers, thicknesses_m, together_m4, strict=True):
        (alone_m4,) = front_moments_m4(skin, terms, [layer], [thickness_m], shares)
        assert np.array_equal(alone_m4, both_m4)
        whole_m4 = front_moments_m4(skin, terms, [layer], [thickness_m], np.ones((320, 1)))[0]
        assert both_m4.sum(axis=0) == pytest.approx(whole_m4[0], abs=1e-12)
