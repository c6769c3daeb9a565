"""The meshes of a drawing, examined."""

import numpy as np
import pytest
import trimesh
from shapely.geometry import Polygon

import takeoff
from takeoff.errors import MeshError
from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"


def test_a_closed_solid_is_counted_and_measured():
    found = takeoff.examine(SAMPLES / "hearth-surround.stl", "in")
    assert isinstance(found, takeoff.Examination)
    assert (found.triangles, found.edges, found.bodies, found.closed) == (28, 42, 1, True)
    assert found.patches == 10
    assert found.volume_m3 == pytest.approx(1056 * 6 * 0.0254**3)
    assert found.area_m2 == pytest.approx((2 * 1056 + 1440) * 0.0254**2)


def test_an_open_surface_has_no_volume():
    found = takeoff.examine(SAMPLES / "ticket-counter.stl", unit="mm")
    assert (found.closed, found.volume_m3) == (False, None)
    assert found.pieces[0].report.through_holes == 1


def test_area_and_volume_agree_with_trimesh(tmp_path):
    solid = trimesh.creation.annulus(0.2, 0.5, 0.1)
    path = tmp_path / "ring.stl"
    solid.export(path)
    plain = trimesh.load_mesh(path)
    found = takeoff.examine(path, unit="m")
    assert found.area_m2 == pytest.approx(plain.area, rel=1e-9)
    assert found.volume_m3 == pytest.approx(plain.volume, rel=1e-9)


def test_outlines_are_no_meshes():
    with pytest.raises(MeshError, match="is an outline, no mesh; takeoff check"):
        takeoff.examine(SAMPLES / "wall-panel.dxf")


@pytest.fixture
def examined(tmp_path):
    """Write meshes as one STL, in metres, and examine it."""

    def found(*meshes):
        path = tmp_path / "drawn.stl"
        trimesh.util.concatenate(meshes).export(path)
        return takeoff.examine(path, unit="m")

    return found


def test_the_arrays_of_a_box_are_those_of_a_box(examined):
    [piece] = examined(trimesh.creation.box((1.0, 2.0, 3.0))).pieces
    turns = piece.turns_deg().round(9)
    assert (piece.normals.shape, piece.mesh.triangles.shape) == ((12, 3), (12, 3))
    assert sorted(turns.tolist()) == [0.0] * 6 + [90.0] * 12
    assert piece.edge_lengths_m()[turns == 90.0].sum() == pytest.approx(4 * (1 + 2 + 3))
    assert np.bincount(piece.patch).tolist() == [2] * 6
    for face in range(6):
        assert len(np.unique(piece.normals[piece.patch == face].round(12), axis=0)) == 1
    assert sorted(piece.facet_area_m2) == pytest.approx([1.0] * 4 + [1.5] * 4 + [3.0] * 4)
    assert piece.body.tolist() == [0] * 12
    assert piece.bodies.volume_m3 == pytest.approx([6.0])


def test_inside_corners_turn_the_other_way(examined):
    profile = [[0, 0], [2, 0], [2, 1], [1, 1], [1, 2], [0, 2]]
    [piece] = examined(trimesh.creation.extrude_polygon(Polygon(profile), 1.0)).pieces
    turns = piece.turns_deg().round(9)
    lengths_m = piece.edge_lengths_m()
    assert lengths_m[turns == -90.0].sum() == pytest.approx(1.0)
    assert lengths_m[turns == 90.0].sum() == pytest.approx(5.0 + 2 * 8.0)


def test_normals_of_a_sphere_point_outward_even_where_it_was_drawn_inside_out(examined):
    ball = trimesh.creation.icosphere(3, 2.0)
    ball.invert()
    found = examined(ball)
    [piece] = found.pieces
    middles = piece.mesh.points_m[piece.mesh.triangles].mean(axis=1)
    outward = middles / np.linalg.norm(middles, axis=1, keepdims=True)
    assert np.einsum("ij,ij->i", piece.normals, outward).min() > 0.99
    assert np.linalg.norm(piece.normals, axis=1) == pytest.approx(1.0)
    assert (piece.turns_deg() > 0.0).all()
    assert (found.patches, piece.patch.max()) == (1, 0)
    assert [tally.what for tally in found.mended] == ["facets of inside-out bodies turned"]


def test_a_cavity_is_a_body_of_its_own(examined):
    outer, inner = trimesh.creation.box((3.0, 3.0, 3.0)), trimesh.creation.box((1.0, 1.0, 1.0))
    inner.invert()
    [piece] = examined(outer, inner).pieces
    assert np.bincount(piece.body).tolist() == [12, 12]
    assert piece.cavity.tolist() == [False, True]
    assert piece.bodies.volume_m3 == pytest.approx([27.0, -1.0])
    assert piece.report.volume_m3 == pytest.approx(26.0)


def test_two_bodies_apart_are_two_pieces_with_arrays_of_their_own(examined):
    far = trimesh.creation.box((1.0, 1.0, 1.0)).apply_translation((5.0, 0.0, 0.0))
    found = examined(trimesh.creation.box((2.0, 2.0, 2.0)), far)
    assert [piece.name for piece in found.pieces] == ["drawn-1", "drawn-2"]
    for piece, side_m in zip(found.pieces, (2.0, 1.0), strict=True):
        assert piece.mesh.triangles.max() == 7
        assert piece.facet_area_m2.sum() == pytest.approx(6 * side_m**2)
        assert np.bincount(piece.patch).tolist() == [2] * 6
        assert piece.edges.left.max() < 12
        assert sorted(piece.turns_deg().round(9).tolist()) == [0.0] * 6 + [90.0] * 12


def test_labels_are_small_integers_and_arrays_agree_in_length(examined):
    [piece] = examined(trimesh.creation.annulus(0.2, 0.5, 0.1)).pieces
    assert piece.patch.dtype == piece.body.dtype == piece.mesh.triangles.dtype == np.int32
    count = piece.report.triangles
    assert {len(piece.normals), len(piece.patch), len(piece.body)} == {count}
    assert len(piece.turns_deg()) == len(piece.edge_lengths_m()) == piece.report.edges
