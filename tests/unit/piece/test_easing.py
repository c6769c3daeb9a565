import numpy as np
import pytest

from takeoff.piece.bending import bends_of
from takeoff.piece.drops import drops_m
from takeoff.piece.easing import ease
from takeoff.piece.flats import flats_of
from takeoff.piece.zones import Zone, zones_of
from tests.unit.piece.pieces_made import BACK, prism
from tests.unit.piece.test_curving import arc, eased_slab


def easing_of(mesh, show=BACK):
    flats = flats_of(mesh)
    zones = zones_of(flats, show)
    return zones, ease(zones, bends_of(flats))


def round_of(zones):
    """Flats of the rounded arris: those that look neither along x nor along y."""
    normals = np.abs(zones.flats.normals)
    return (normals[:, 0] > 1e-6) & (normals[:, 1] > 1e-6)


@pytest.mark.parametrize("steps", range(3, 13))
@pytest.mark.parametrize("radius", [3, 10, 25, 50])
def test_half_of_a_round_belongs_to_the_show_face(radius, steps):
    zones, easing = easing_of(eased_slab(radius, steps))
    area = zones.flats.area_m2[round_of(zones)]
    share = easing.facing_share[round_of(zones)]
    assert area @ share == pytest.approx(area.sum() / 2, rel=1e-6)


@pytest.mark.parametrize("steps", [4, 5, 7, 8, 11])
@pytest.mark.parametrize("slope_deg", [3, 8, 15])
def test_a_round_below_a_sloping_face_is_divided_at_45_degrees_all_the_same(slope_deg, steps):
    slope, radius = np.radians(slope_deg), 20.0
    round_ = arc((580, 100), radius, slope_deg, 90, steps)
    top = round_[0][1] + (round_[0][0]) * np.tan(slope)
    zones, easing = easing_of(prism([[0, 0], [600, 0], *round_[::-1], [0, top]], 1500))
    eased = round_of(zones) & (bends_of(zones.flats).radius_m < 0.1)
    area = zones.flats.area_m2[eased]
    wanted = (45 - slope_deg) / (90 - slope_deg)
    assert area @ easing.facing_share[eased] / area.sum() == pytest.approx(wanted, abs=0.01)


@pytest.mark.parametrize("steps", [8, 9, 16, 31])
def test_a_full_round_is_divided_at_120_degrees_too(steps):
    nose = prism([[0, -20], *arc((500, 0), 20, 180, 0, steps), [0, 20]], 1500)
    zones, easing = easing_of(nose)
    eased = bends_of(zones.flats).radius_m < 0.1
    area = zones.flats.area_m2[eased]
    assert area @ easing.facing_share[eased] / area.sum() == pytest.approx(1 / 4, abs=0.003)
    assert area @ easing.away_share[eased] / area.sum() == pytest.approx(1 / 3, abs=0.003)


def test_a_chamfer_is_shared_half_and_half():
    zones, easing = easing_of(prism([[0, 0], [600, 0], [600, 90], [590, 100], [0, 100]], 1500))
    assert easing.facing_share[round_of(zones)] == pytest.approx([0.5])
    assert easing.eased[round_of(zones)].all()


def test_a_wide_slope_of_45_degrees_is_show_face():
    zones, easing = easing_of(prism([[0, 0], [600, 0], [600, 20], [520, 100], [0, 100]], 1500))
    assert easing.facing_share[round_of(zones)] == pytest.approx([1.0])


def test_the_sides_of_a_groove_are_not_shared_with_walls_they_touch_at_their_ends():
    groove = [[0, 0], [600, 0], [600, 100], [310, 100], [300, 90], [290, 100], [0, 100]]
    zones, easing = easing_of(prism(groove, 1500))
    assert easing.facing_share[round_of(zones)] == pytest.approx([1.0, 1.0])


@pytest.mark.parametrize("steps", [6, 8, 16, 40])
def test_a_round_lowers_the_wall_by_its_share_of_the_radius(steps):
    zones, easing = easing_of(eased_slab(25, steps))
    beside = round_of(zones) & zones.are(Zone.FACING) & (zones.tilt_deg > 30)
    wanted = 0.025 * (1 - np.cos(np.radians(45)))
    assert easing.drop_m[beside] == pytest.approx(np.full(beside.sum(), wanted), rel=0.03)


def test_a_chamfer_lowers_the_wall_by_its_height():
    section = [[0, 0], [600, 0], [600, 88], [588, 100], [0, 100]]
    zones, easing = easing_of(prism(section, 1500))
    assert easing.drop_m[round_of(zones)] == pytest.approx([0.012], rel=0.02)


def test_a_sharp_arris_lowers_nothing():
    _, easing = easing_of(prism([[0, 0], [600, 0], [600, 100], [0, 100]], 1500))
    assert (easing.drop_m == 0.0).all()
    assert set(easing.facing_share.tolist()) == {0.0, 1.0}


def test_a_slope_as_wide_as_a_face_is_no_eased_arris():
    zones, _ = easing_of(prism([[0, 0], [600, 0], [600, 60], [400, 160], [0, 160]], 1500))
    slope = np.abs(zones.tilt_deg - np.degrees(np.arctan(0.5))) < 0.1
    assert slope.sum() == 1
    assert (drops_m(zones, slope, wall_deg=45.0) == 0.0).all()
