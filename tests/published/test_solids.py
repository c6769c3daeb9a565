"""Volumes and areas of solids that books and papyri give, on meshes of our own."""

import numpy as np
import pytest
import trimesh

from takeoff.geometry.mending import mend
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.offsets import offset_coefficients
from takeoff.geometry.solids import examine_mesh


def report_of(solid):
    return examine_mesh(mend(Mesh.from_trimesh(solid, unit="m")))


def ring(section, *, chords):
    """Turn a closed section (distance from the axis, height) round in chords."""
    return trimesh.creation.revolve(np.array([*section, section[0]]), sections=chords)


def polygon(count, *, radius, at):
    turn = np.arange(count) * 2 * np.pi / count
    return np.c_[at + radius * np.cos(turn), radius * np.sin(turn)]


# Moscow Mathematical Papyrus, problem 14: a = 4, b = 2, h = 6 gives 56.
@pytest.mark.parametrize("printed_m3", [pytest.param(56.0, id="GEO-01 Moscow papyrus 14")])
def test_a_truncated_pyramid(printed_m3):
    foot = [(x, y, 0) for x in (-2, 2) for y in (-2, 2)]
    head = [(x, y, 6) for x in (-1, 1) for y in (-1, 1)]
    pyramid = trimesh.convex.convex_hull(np.array(foot + head, dtype=float))
    assert report_of(pyramid).volume_m3 == pytest.approx(printed_m3, abs=1e-9)


# Bill Willis, torus lesson: R = 9, r = 4 gives V = 2842.4, A = 1421.2. In 720 x 720 chords the
# body lies inside the torus by 4e-5.
@pytest.mark.parametrize(
    ("printed_m3", "printed_m2"), [pytest.param(2842.4, 1421.2, id="GEO-02 torus lesson")]
)
def test_a_torus(printed_m3, printed_m2):
    report = report_of(ring(polygon(720, radius=4.0, at=9.0), chords=720))
    assert report.volume_m3 == pytest.approx(printed_m3, rel=1e-4)
    assert report.area_m2 == pytest.approx(printed_m2, rel=1e-4)
    assert report.through_holes == 1


# Discrete Pappus, M sin(2 pi / M) Rc A: derived, agrees with trimesh to 1e-7.
@pytest.mark.parametrize(
    ("section", "chords", "derived_m3"),
    [
        pytest.param(polygon(48, radius=4.0, at=9.0), 64, 2829.7847659473464, id="GEO-04 torus"),
        pytest.param(
            np.array([(10, -2.5), (12, -2.5), (12, 2.5), (10, 2.5)]),
            90,
            690.5890900668404,
            id="GEO-05 ring",
        ),
    ],
)
def test_a_body_of_revolution_in_chords(section, chords, derived_m3):
    assert report_of(ring(section, chords=chords)).volume_m3 == pytest.approx(derived_m3, rel=1e-9)


# Right tetrahedron over legs 5, 4, 3: V = 10 (derived).
def test_a_right_tetrahedron_geo_08():
    corners = np.array([(0, 0, 0), (5, 0, 0), (0, 4, 0), (0, 0, 3)], dtype=float)
    assert report_of(trimesh.convex.convex_hull(corners)).volume_m3 == pytest.approx(10.0)


# Icosahedron of edge 1: V = 5 (3 + sqrt 5) / 12, A = 5 sqrt 3 (textbook formulas).
@pytest.mark.parametrize(
    ("printed_m3", "printed_m2"), [pytest.param(2.1816949906, 8.6602540378, id="GEO-09")]
)
def test_an_icosahedron(printed_m3, printed_m2):
    solid = trimesh.creation.icosahedron()
    solid.apply_scale(1.0 / solid.edges_unique_length[0])
    report = report_of(solid)
    assert report.volume_m3 == pytest.approx(printed_m3, abs=5e-11)
    assert report.area_m2 == pytest.approx(printed_m2, abs=5e-11)


# Steiner's formula for a convex body grown by t (textbook): V + A t + M t2 + 4/3 pi t3, where M is
# half the sum of edge length times turn. For the unit icosahedron the turn is 41.8103 degrees.
def test_a_layer_round_an_icosahedron_follows_steiner():
    solid = trimesh.creation.icosahedron()
    solid.apply_scale(1.0 / solid.edges_unique_length[0])
    solid.invert()
    thickness_m = 0.05
    layer_m3 = offset_coefficients(Mesh.from_trimesh(solid, unit="m")).facet_volumes_m3(thickness_m)
    turn = np.pi - np.arccos(-np.sqrt(5.0) / 3.0)
    expected_m3 = (
        5 * np.sqrt(3) * thickness_m
        + 30 * turn / 2 * thickness_m**2
        + 4 / 3 * np.pi * thickness_m**3
    )
    assert layer_m3.sum() == pytest.approx(expected_m3, rel=1e-9)
