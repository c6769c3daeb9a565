import numpy as np
import pytest
import trimesh

from takeoff.geometry.components import component_labels
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


@pytest.mark.parametrize("angles", [(0.05, 20.0, np.inf), (np.inf, 20.0, 0.05), (20.0, 0.05, 20.0)])
def test_patches_are_the_same_whichever_angle_was_asked_before(angles):
    rod = trimesh.creation.cylinder(1.0, 2.0, sections=24)
    skin = skin_edges(Mesh.from_trimesh(rod, unit="m"))
    edges, count = skin.edges, len(skin.mesh.triangles)
    for angle in angles:
        linked = np.abs(skin.turn_rad) <= np.radians(angle)
        alone = component_labels(count, edges.left, edges.right, linked=linked)
        assert skin.patches(angle).tolist() == alone.tolist()
    assert [int(skin.patches(angle).max()) + 1 for angle in (0.05, 20.0, np.inf)] == [26, 3, 1]
