import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.piece.bending import bends_of
from takeoff.piece.curving import curve, curves_of
from takeoff.piece.flats import flats_of
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.zones import Reason, Zone, zones_of
from tests.unit.piece.pieces_made import BACK, UP, prism, subdivided, turned_section


def arc(centre, radius, first_deg, last_deg, steps):
    """Points on an arc, angles from +y towards +x."""
    angle = np.radians(np.linspace(first_deg, last_deg, steps + 1))
    return [[centre[0] + radius * np.sin(a), centre[1] + radius * np.cos(a)] for a in angle]


def eased_slab(radius, steps, height=200.0):
    """A slab with one rounded long arris."""
    round_ = arc((600 - radius, height - radius), radius, 0, 90, steps)
    return prism([[0, 0], [600, 0], *round_[::-1], [0, height]], 1500)


def settled(mesh, show, **rules):
    limits = SurfaceRules(**rules)
    flats = flats_of(mesh)
    zones, bends = zones_of(flats, show), bends_of(flats)
    curves = curves_of(zones, bends, rules=limits)
    return curves, curve(zones, bends, curves, rules=limits)


@pytest.mark.parametrize("steps", [4, 7, 16, 50])
@pytest.mark.parametrize("radius", [10, 50, 100])
def test_the_radius_does_not_depend_on_the_facets(radius, steps):
    for mesh in (eased_slab(radius, steps), subdivided(eased_slab(radius, steps), BACK)[0]):
        curves, _ = settled(mesh, BACK)
        assert curves.radius_m.max() == pytest.approx(radius / 1000, rel=0.02)
        assert curves.convex.all()


@pytest.mark.parametrize(("radius", "is_show"), [(50, False), (58, False), (62, True), (150, True)])
def test_a_convex_curve_is_show_face_from_the_blend_radius_on(radius, is_show):
    _, zones = settled(eased_slab(radius, 16), BACK)
    assert (zones.reason == Reason.CURVED).any() == is_show


def bowl(radius, depth):
    """A disc with a spherical bowl in its top."""
    reach = np.sqrt(2 * radius * depth - depth**2)
    angle = np.arcsin(reach / radius) * np.linspace(0, 1, 33)
    cap = [[radius * np.sin(a), 200 - depth + radius * (1 - np.cos(a))] for a in angle]
    return turned_section([[0, 0], [reach + 100, 0], [reach + 100, 200], *cap[::-1]])


@pytest.mark.parametrize(("radius", "is_show"), [(200, False), (350, False), (450, True)])
def test_a_concave_curve_is_show_face_from_the_bowl_radius_on(radius, is_show):
    curves, zones = settled(bowl(radius, 0.42 * radius), UP)
    assert (zones.reason == Reason.CURVED).any() == is_show
    assert not curves.convex[curves.radius_m > 0.1].any()


def test_a_straight_wall_below_a_curve_stays_a_wall():
    _, zones = settled(eased_slab(100, 24, height=400), BACK)
    wall = zones.are(Zone.WALL) & (np.abs(zones.flats.normals[:, 0]) > 0.99)
    below = zones.flats.area_m2[wall & (zones.flats.normals[:, 0] > 0)].sum()
    assert below == pytest.approx(1.5 * (0.3 + 0.1 * np.radians(3.75)), rel=1e-3)


def test_a_half_round_is_show_face_to_its_end():
    half = prism(arc((0, 0), 200, -90, 90, 48), 1000)
    _, zones = settled(half, BACK)
    mantle = np.abs(zones.flats.normals[:, 2]) < 0.5
    assert zones.are(Zone.FACING)[mantle & (zones.flats.normals[:, 1] > -0.5)].all()


def test_an_eased_end_does_not_dilute_the_curve_it_borders():
    large = arc((0, -800), 800, -60, 60, 96)
    right = arc((large[-1][0] - 8 * np.sin(np.radians(60)), large[-1][1] - 4), 8, 60, 150, 12)
    left = [[-x, y] for x, y in right[::-1]]
    inner = arc((0, -800), 770, 59, -59, 96)
    curves, zones = settled(prism([*left[:-1], *large, *right[1:], *inner], 900), BACK)
    assert curves.radius_m.max() == pytest.approx(0.8, rel=0.05)
    tight = np.isin(zones.flats.normals[:, 2], [0.0]) & (bends_of(zones.flats).radius_m < 0.03)
    assert tight.sum() > 15
    assert not (zones.reason[tight] == Reason.CURVED).any()


def test_a_ball_drawn_with_any_triangles_has_its_radius():
    ball = trimesh.creation.icosphere(5, 0.5)
    mesh = Mesh(np.array(ball.vertices), np.array(ball.faces, dtype=np.int32))
    curves, _ = settled(mesh, UP)
    assert curves.radius_m.max() == pytest.approx(0.5, rel=0.06)


def test_a_flat_slab_has_no_curve():
    curves, zones = settled(prism([[0, 0], [500, 0], [500, 40], [0, 40]], 300), BACK)
    assert len(curves.radius_m) == 0
    assert not (zones.reason == Reason.CURVED).any()
