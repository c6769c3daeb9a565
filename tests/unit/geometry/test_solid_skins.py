"""Samples of the closed surface of a solid."""

import numpy as np
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.geometry.skin_edges import skin_edges
from takeoff.geometry.solid_skins import SolidSkin


def test_samples_kept_are_those_of_a_surface_measured_anew():
    box = skin_edges(Mesh.from_trimesh(trimesh.creation.box((1.0, 0.5, 0.1)), unit="m"))
    kept, anew = SolidSkin.of(box, [0.02]), SolidSkin.of(box, [])
    assert list(kept.rough_by_depth_m) == [0.02]
    assert not anew.rough_by_depth_m
    one, other = kept.roughly(0.02).samples, anew.roughly(0.02).samples
    assert np.array_equal(one.points_m, other.points_m)
    assert np.array_equal(one.facet, other.facet)
