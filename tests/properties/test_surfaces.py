"""What holds of the surfaces of any piece."""

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.geometry.mesh import Mesh
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from tests.unit.piece.pieces_made import BACK, UP, box, prism, told, without

FEWER = settings(max_examples=40)

lengths_mm = st.floats(150.0, 3000.0)
depths_mm = st.floats(20.0, 400.0)


@st.composite
def sections(draw):
    """A section with legs, a step, a slope or a groove: anything a shop may be handed."""
    width, high = draw(lengths_mm) + 400.0, draw(depths_mm) + 60.0
    leg, thickness = draw(st.floats(15.0, 60.0)), draw(st.floats(15.0, 40.0))
    rise = draw(st.floats(0.0, 40.0))
    plain = [[0, 0], [width, 0], [width, high + rise], [0, high]]
    legs = [[0, 0], [leg, 0], [leg, high - thickness], [width - leg, high - thickness]]
    legs += [[width - leg, 0], [width, 0], [width, high + rise], [0, high]]
    step = [
        [0, 0],
        [width, 0],
        [width, high],
        [width / 2, high],
        [width / 2, high + 50],
        [0, high + 50],
    ]
    groove = [*plain[:3], [width / 2 + 20, high + rise / 2], [width / 2, high + rise / 2 - 15]]
    groove += [[width / 2 - 20, high + rise / 2], [0, high]]
    return draw(st.sampled_from([plain, legs, step, groove]))


@st.composite
def pieces(draw):
    return prism(draw(sections()), draw(lengths_mm))


rotations = st.tuples(
    st.floats(0.0, 6.2),
    st.tuples(*[st.floats(-1.0, 1.0)] * 3).filter(lambda v: np.hypot(*v[:2]) > 0.1),
)


def areas_m2(surfaces):
    return [surfaces.area_m2[surface_class] for surface_class in SurfaceClass]


def mesh_area_m2(mesh):
    corners = mesh.points_m[mesh.triangles]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    return float(np.linalg.norm(cross, axis=1).sum()) / 2.0


@given(pieces())
def test_surfaces_make_up_the_whole_mesh_and_every_facet_is_listed_once(mesh):
    surfaces = told(mesh, show=BACK)
    assert sum(areas_m2(surfaces)) == pytest.approx(mesh_area_m2(mesh))
    for surface_class in SurfaceClass:
        listed = [s.area_m2 for s in surfaces.surfaces if s.surface_class is surface_class]
        assert sum(listed) == pytest.approx(surfaces.area_m2[surface_class])
    facets = np.concatenate([surface.facets for surface in surfaces.surfaces])
    assert sorted(facets.tolist()) == list(range(len(mesh.triangles)))
    assert surfaces.shares.sum(axis=1) == pytest.approx(np.ones(len(mesh.triangles)))
    assert surfaces.shares.min() >= 0.0


@FEWER
@given(pieces(), rotations)
def test_turning_the_piece_and_the_direction_changes_no_area(mesh, rotation):
    turn = trimesh.transformations.rotation_matrix(*rotation)[:3, :3]
    other = told(Mesh(mesh.points_m @ turn.T, mesh.triangles), show=turn @ BACK)
    plain = told(mesh, show=BACK)
    assert areas_m2(other) == pytest.approx(areas_m2(plain), abs=1e-6 * mesh_area_m2(mesh))
    assert other.arris_m == pytest.approx(plain.arris_m)


@FEWER
@given(pieces(), st.randoms(use_true_random=False))
def test_the_order_of_points_and_triangles_changes_nothing(mesh, chance):
    order = list(range(len(mesh.triangles)))
    chance.shuffle(order)
    other = told(Mesh(mesh.points_m, np.roll(mesh.triangles[order], 1, axis=1)), show=BACK)
    plain = told(mesh, show=BACK)
    assert areas_m2(other) == pytest.approx(areas_m2(plain), abs=1e-9)
    assert [s.id for s in other.surfaces] == [s.id for s in plain.surfaces]
    listed = [(s.area_m2, s.depth_m) for s in plain.surfaces]
    assert [(s.area_m2, s.depth_m) for s in other.surfaces] == [
        pytest.approx(row) for row in listed
    ]


@FEWER
@given(pieces())
def test_dividing_every_facet_changes_no_area(mesh):
    points, triangles = trimesh.remesh.subdivide(mesh.points_m, mesh.triangles)
    fine = told(Mesh(points, triangles.astype(np.int32)), show=BACK)
    plain = told(mesh, show=BACK)
    # Facets narrower than two columns go whole to one of them.
    assert areas_m2(fine) == pytest.approx(areas_m2(plain), abs=1e-5 * mesh_area_m2(mesh))
    assert [s.id for s in fine.surfaces] == [s.id for s in plain.surfaces]


@FEWER
@given(pieces(), st.floats(0.1, 10.0))
def test_area_goes_with_the_square_of_the_size_where_the_limits_go_with_it(mesh, factor):
    limits = {"return_limit_m": 0.110 * factor, "relief_m": 0.030 * factor}
    limits |= {"blend_radius_m": 0.060 * factor, "bowl_radius_m": 0.400 * factor}
    limits |= {"clearance_m": 1e-4 * factor, "depth_tie_m": 1e-6 * factor}
    large = told(Mesh(mesh.points_m * factor, mesh.triangles), show=BACK, **limits)
    wanted = [factor**2 * area for area in areas_m2(told(mesh, show=BACK))]
    assert areas_m2(large) == pytest.approx(wanted, rel=1e-6, abs=1e-9 * factor**2)


@given(lengths_mm, lengths_mm, depths_mm, st.floats(0.02, 0.5))
def test_a_tray_is_show_face_and_returns_or_uprights(length, width, depth, limit_m):
    tray = without(box((0, 0, 0), (length, width, depth)), (0, 0, -1))
    surfaces = told(tray, kind=ModelKind.OPEN, show=UP, return_limit_m=limit_m)
    walls = 2e-6 * (length + width) * depth
    returns = walls if depth / 1000 <= limit_m else 0.0
    wanted = [1e-6 * length * width, returns, walls - returns, 0.0]
    assert areas_m2(surfaces) == pytest.approx(wanted)


@FEWER
@given(pieces(), st.floats(0.02, 0.3), st.floats(0.0, 0.2))
def test_a_higher_return_limit_never_makes_fewer_returns(mesh, limit_m, more_m):
    low = told(mesh, show=BACK, return_limit_m=limit_m).area_m2
    high = told(mesh, show=BACK, return_limit_m=limit_m + more_m).area_m2
    assert high[SurfaceClass.RETURN] >= low[SurfaceClass.RETURN] - 1e-9
    assert high[SurfaceClass.BACK] == pytest.approx(low[SurfaceClass.BACK], abs=1e-9)
