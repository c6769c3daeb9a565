import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.batching.lots import split_equally
from takeoff.batching.mixers import Mixer
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.offsets import offset_coefficients
from takeoff.piece.classifying import classify
from takeoff.piece.layers import Layer
from takeoff.piece.laying import lay
from takeoff.piece.surfaces import ModelKind
from takeoff.piece.thickness import everywhere
from takeoff.pricing.packs import packs_needed

FEWER = settings(max_examples=30)
UP = np.array([0.0, 0.0, 1.0])
sizes_m = st.tuples(st.floats(0.3, 3.0), st.floats(0.3, 2.0), st.floats(0.05, 0.6))


def tray(size_m):
    box = trimesh.creation.box(size_m)
    box.update_faces(box.face_normals[:, 2] > -0.5)
    return box


def laid(box, *, face_coat_m=0.004, backer_m=0.016, show=UP):
    surfaces = classify(Mesh.from_trimesh(box, unit="m"), kind=ModelKind.OPEN, show_direction=show)
    layers = lay(surfaces, face_coat=everywhere(face_coat_m), backer=everywhere(backer_m))
    return surfaces, sum(layers.volume_m3(layer) for layer in Layer)


@given(sizes_m, st.floats(0.25, 4.0))
def test_area_goes_with_the_square_and_volume_with_the_cube_of_the_size(size_m, factor):
    mesh = Mesh.from_trimesh(tray(size_m), unit="m")
    large = Mesh(mesh.points_m * factor, mesh.triangles)
    small_terms, large_terms = offset_coefficients(mesh), offset_coefficients(large)
    assert large_terms.area_m2.sum() == pytest.approx(factor**2 * small_terms.area_m2.sum())
    small_m3 = small_terms.facet_volumes_m3(0.02).sum()
    large_m3 = large_terms.facet_volumes_m3(0.02 * factor).sum()
    assert large_m3 == pytest.approx(factor**3 * small_m3)


@FEWER
@given(sizes_m, st.integers(0, 2**32 - 1))
def test_turning_a_piece_with_its_show_face_changes_nothing(size_m, seed):
    box = tray(size_m)
    plain, plain_m3 = laid(box)
    turn = trimesh.transformations.random_rotation_matrix(np.random.default_rng(seed).random(3))
    box.apply_transform(turn)
    turned, turned_m3 = laid(box, show=turn[:3, :3] @ UP)
    for kind, area_m2 in plain.area_m2.items():
        assert turned.area_m2[kind] == pytest.approx(area_m2, abs=1e-9)
    assert turned_m3 == pytest.approx(plain_m3, rel=1e-9)


@FEWER
@given(sizes_m, st.integers(0, 2**32 - 1))
def test_the_order_of_triangles_changes_nothing(size_m, seed):
    box = tray(size_m).subdivide()
    plain, plain_m3 = laid(box)
    order = np.random.default_rng(seed).permutation(len(box.faces))
    mixed, mixed_m3 = laid(trimesh.Trimesh(box.vertices, box.faces[order], process=False))
    assert dict(mixed.area_m2) == pytest.approx(dict(plain.area_m2))
    assert [surface.id for surface in mixed.surfaces] == [s.id for s in plain.surfaces]
    assert mixed_m3 == pytest.approx(plain_m3, rel=1e-9)


@given(
    st.floats(0.5, 5000.0),
    st.floats(0.005, 0.5),
    st.floats(0.0, 2.0),
    st.sampled_from([None, 0.001, 0.01, 0.1]),
)
def test_batches_cover_the_need_and_fit_the_mixer(gross_kg, capacity_m3, residue_kg, division_kg):
    mixer = Mixer("pan", capacity_m3, residue_kg)
    lot = split_equally(gross_kg, density_kg_m3=2100.0, mixer=mixer, division_kg=division_kg)
    net_kg = lot.batch_count * (lot.batch_kg - residue_kg)
    assert net_kg >= gross_kg * (1 - 1e-9) - 1e-9
    assert lot.batch_kg <= capacity_m3 * 2100.0 * (1 + 1e-9)
    assert lot.leftover_kg == pytest.approx(max(0.0, net_kg - gross_kg), abs=1e-6)


@given(st.floats(0.0, 1e5), st.floats(0.1, 100.0))
def test_packs_cover_the_need_and_no_pack_is_too_many(order_kg, pack_kg):
    packs = packs_needed(order_kg, pack_kg)
    assert packs * pack_kg >= order_kg * (1 - 1e-9) - 1e-9
    assert packs == 0 or (packs - 1) * pack_kg < order_kg
