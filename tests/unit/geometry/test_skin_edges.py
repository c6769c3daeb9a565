import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.geometry.skin_edges import skin_edges


@pytest.mark.parametrize("body", [trimesh.creation.box, trimesh.creation.icosphere])
def test_a_part_of_a_skin_is_as_if_measured_alone(body):
    whole = skin_edges(Mesh.from_trimesh(body(), unit="m"))
    chosen = whole.facets.normals[:, 2] > -0.3
    part = whole.part(chosen)
    alone = skin_edges(Mesh(whole.mesh.points_m, whole.mesh.triangles[chosen]))
    assert np.sort(part.turn_rad) == pytest.approx(np.sort(alone.turn_rad))
    rims = [
        sorted(zip(skin.edges.open_facet, skin.edges.open_start, skin.edges.open_end, strict=True))
        for skin in (part, alone)
    ]
    assert rims[0] == rims[1]
