import numpy as np
import pytest

from takeoff.piece.flats import flats_of
from takeoff.piece.zones import Reason, Zone, zones_of
from tests.unit.piece.pieces_made import BACK, UP, box, prism

# The tilt of the slanted side of a section, and the zone it falls in.
SLOPES = [
    (44.0, Zone.FACING),
    (45.0, Zone.FACING),
    (46.0, Zone.WALL),
    (90.0, Zone.WALL),
    (119.0, Zone.WALL),
    (120.0, Zone.WALL),
    (121.0, Zone.AWAY),
]


@pytest.mark.parametrize(("tilt_deg", "zone"), SLOPES)
def test_the_tilt_decides_the_zone(tilt_deg, zone):
    run = 100 / np.tan(np.radians(tilt_deg))
    piece = prism([[0, 0], [300 + run, 0], [300, 100], [0, 100]], 500)
    zones = zones_of(flats_of(piece), BACK)
    slanted = np.abs(zones.tilt_deg - tilt_deg) < 1e-6
    assert slanted.any()
    assert (zones.zone[slanted] == zone).all()


def test_every_zone_has_its_first_reason():
    zones = zones_of(flats_of(box((0, 0, 0), (300, 200, 50))), UP)
    for zone, reason in ((0, Reason.FLAT), (1, Reason.FILLED), (2, Reason.BACK)):
        assert (zones.reason[zones.zone == zone] == reason).all()


def test_moved_flats_change_and_others_do_not():
    zones = zones_of(flats_of(box((0, 0, 0), (300, 200, 50))), UP)
    chosen = zones.are(Zone.FACING)
    moved = zones.moved(chosen, Zone.AWAY, Reason.HIDDEN)
    assert not moved.are(Zone.FACING).any()
    assert (moved.zone[~chosen] == zones.zone[~chosen]).all()
    assert (moved.reason[chosen] == Reason.HIDDEN).all()
