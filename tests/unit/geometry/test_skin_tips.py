"""Which points are tips, and what is put below them."""

import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.geometry.skin_edges import skin_edges
from takeoff.geometry.skin_samples import sample_skin
from takeoff.geometry.skin_tips import with_tips


def added(mesh, **how):
    """Samples that are put beside a thousand others."""
    skin = skin_edges(mesh)
    both = with_tips(skin, sample_skin(mesh, skin.facets, 1000), **how)
    return both.points_m[1000:], both.inward_normals[1000:], both.facet[1000:]


def cone(radius, height, sections):
    solid = trimesh.creation.cone(radius, height, sections=sections)
    return Mesh(solid.vertices, solid.faces.astype(np.int32))


@pytest.mark.parametrize(
    "solid",
    [
        trimesh.creation.box(),
        trimesh.creation.icosphere(),
        trimesh.creation.capsule(count=[32, 32]),
    ],
    ids=["box", "ball", "capsule"],
)
def test_nothing_is_put_on_what_has_no_tip(solid):
    points_m, _, _ = added(Mesh(solid.vertices, solid.faces.astype(np.int32)))
    assert len(points_m) == 0


@pytest.mark.parametrize(("height", "told"), [(2.0, False), (4.0, True)])
def test_a_cone_no_wider_than_42_degrees_has_a_tip(height, told):
    points_m, _, _ = added(cone(1.0, height, 40))
    assert (len(points_m) > 0) == told


def test_they_lie_on_the_facets_round_the_tip_and_have_their_normals():
    mesh = cone(0.1, 2.0, 40)
    points_m, inward, facet = added(mesh)
    assert len(set(facet.tolist())) == 40
    corners_m = mesh.points_m[mesh.triangles[facet]]
    off_m = np.einsum("ij,ij->i", points_m - corners_m[:, 0], inward)
    assert np.abs(off_m).max() < 1e-12
    assert points_m[:, 2].min() > 1.5
    assert inward[:, :2].sum(axis=0) == pytest.approx([0.0, 0.0], abs=1e-9)


def test_a_border_is_no_tip():
    points = np.array([[0, 0, 0], [0, 0, 1], [0.05, 0, 0], [0, 0.05, 0]], dtype=float)
    points_m, _, _ = added(Mesh(points, np.array([[0, 2, 1], [0, 1, 3]], dtype=np.int32)))
    assert len(points_m) == 0


def test_facets_that_are_not_sampled_get_none():
    mesh = cone(0.1, 2.0, 40)
    chosen = np.zeros(len(mesh.triangles), dtype=np.bool_)
    assert len(added(mesh, chosen=chosen)[0]) == 0
