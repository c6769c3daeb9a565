import numpy as np
import pytest

from takeoff.piece.flats import flats_of
from takeoff.piece.hiding import hide
from takeoff.piece.zones import Reason, zones_of
from tests.unit.piece.pieces_made import BACK, UP, beside, box, moved, prism, turned, without


def hidden_m2(mesh, show):
    zones = hide(zones_of(flats_of(mesh), show))
    return float(zones.flats.area_m2[zones.reason == Reason.HIDDEN].sum())


# A channel with lips turned in: the insides of the lips face the show direction unseen.
CHANNEL = [[0, 0], [60, 0], [60, 20], [20, 20], [20, 80], [380, 80], [380, 20], [340, 20]]
CHANNEL += [[340, 0], [400, 0], [400, 100], [0, 100]]


def test_the_insides_of_lips_are_hidden():
    assert hidden_m2(prism(CHANNEL, 1000), BACK) == pytest.approx(2 * 0.04 * 1.0)


@pytest.mark.parametrize("seed", range(4))
def test_so_they_are_however_the_piece_lies(seed):
    mesh, show = turned(*turned(prism(CHANNEL, 50 * 4**seed), BACK))
    assert hidden_m2(mesh, show) == pytest.approx(2 * 0.04 * 0.05 * 4**seed)


def test_steps_hide_nothing():
    stairs = [
        [0, 0],
        [300, 0],
        [300, 100],
        [200, 100],
        [200, 200],
        [100, 200],
        [100, 300],
        [0, 300],
    ]
    assert hidden_m2(prism(stairs, 1000), BACK) == 0.0


def test_a_ledge_mostly_under_an_overhang_is_hidden_and_one_mostly_seen_is_not():
    deep = [[0, 0], [100, 0], [100, 40], [20, 40], [20, 60], [80, 60], [80, 100], [0, 100]]
    shallow = [[0, 0], [100, 0], [100, 40], [20, 40], [20, 60], [60, 60], [60, 100], [0, 100]]
    assert hidden_m2(prism(deep, 1000), BACK) == pytest.approx(0.08)
    assert hidden_m2(prism(shallow, 1000), BACK) == 0.0


def test_one_open_sheet_hides_another_below_it():
    sheet = without(without(box((0, 0, 0), (400, 300, 10)), (0, 0, -1)), (1, 0, 0))
    stack = beside(sheet, moved(sheet, (20, 10, 60)))
    assert hidden_m2(stack, UP) == pytest.approx(0.12)


def test_pieces_side_by_side_do_not_hide_each_other():
    slab = box((0, 0, 0), (400, 300, 50))
    assert hidden_m2(beside(slab, moved(slab, (500, 0, 200))), UP) == 0.0


def test_a_gap_below_the_clearance_hides_nothing():
    slab = box((0, 0, 0), (400, 300, 50))
    sheet = without(box((0, 0, 0), (400, 300, 50.00001)), (0, 0, -1))
    assert hidden_m2(beside(slab, sheet), UP) == 0.0


def test_long_slivers_at_an_angle_are_paired_rightly():
    angle = np.radians(45.0)
    rotation = np.array(
        [[np.cos(angle), 0, np.sin(angle)], [0, 1, 0], [-np.sin(angle), 0, np.cos(angle)]]
    )
    mesh = prism(CHANNEL, 3000)
    mesh = type(mesh)(mesh.points_m @ rotation.T, mesh.triangles)
    assert hidden_m2(mesh, BACK) == pytest.approx(2 * 0.04 * 3.0)


@pytest.mark.parametrize(("reach", "is_hidden"), [(66, False), (67, False), (69, True), (70, True)])
@pytest.mark.parametrize("many", [0, 600])
def test_the_share_that_is_hidden_is_told_closely(reach, is_hidden, many):
    ledge = [[0, 0], [100, 0], [100, 40], [20, 40], [20, 60], [reach, 60], [reach, 100], [0, 100]]
    pins = [moved(box((0, 0, 0), (3, 3, 3)), (200 + 10 * at, 0, 0)) for at in range(many)]
    found = hidden_m2(beside(prism(ledge, 1000), *pins), BACK)
    assert found == pytest.approx(0.08 if is_hidden else 0.0)
