import numpy as np
import pytest

from takeoff.piece.bending import bends_of
from takeoff.piece.columns import columns_of, paired, sorted_by
from takeoff.piece.easing import ease
from takeoff.piece.flats import flats_of
from takeoff.piece.judging import ClassColumn, judge
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.sectors import Beyond, sectors_of
from takeoff.piece.strips import strips_of
from takeoff.piece.zones import Reason, Zone, zones_of
from tests.unit.piece.pieces_made import BACK, UP, box, prism, subdivided, turned_section

TAPERED = [[0, 0], [2000, -100], [2000, 60], [0, 60]]


def sectors_in(mesh, show=BACK):
    flats = flats_of(mesh)
    zones = zones_of(flats, show)
    return sectors_of(zones, ease(zones, bends_of(flats)))


def width_by(columns, values):
    """Width of all columns by a value of each, in mm."""
    total = {}
    for value, width in zip(values.tolist(), columns.width_m.tolist(), strict=True):
        total[value] = total.get(value, 0.0) + width * 1000
    return {value: round(width, 3) for value, width in total.items()}


def test_a_box_has_a_sector_a_side():
    sectors = sectors_in(box((0, 0, 0), (300, 200, 50)), UP)
    assert np.sort(sectors.area_m2) == pytest.approx([0.01, 0.01, 0.015, 0.015])
    assert (np.bincount(sectors.of_flat + 1) == [2, 1, 1, 1, 1]).all()


def test_a_round_wall_is_sorted_into_the_directions_asked_for():
    disc = turned_section([[0, 0], [300, 0], [300, 50], [0, 50]], sections=64)
    assert sectors_in(disc, UP).count == 16


def test_rims_know_what_lies_beyond():
    rims = sectors_in(box((0, 0, 0), (300, 200, 50)), UP).rims
    assert np.bincount(rims.beyond, minlength=4).tolist() == [4, 8, 4, 0]
    assert rims.bend_deg == pytest.approx(np.full((16, 2), 180.0))


def test_a_rim_drawn_in_many_steps_has_its_corners_only():
    fine, show = subdivided(box((0, 0, 0), (300, 200, 50)), UP)
    bend_deg = sectors_in(fine, show).rims.bend_deg
    assert (bend_deg > 90.0).sum() == 32
    assert ((bend_deg < 1e-6) | (bend_deg > 90.0)).all()


def test_rims_know_the_edge_ahead():
    mesh = box((0, 0, 0), (300, 200, 50))
    assert (sectors_in(mesh, UP).rims.ahead == -1).all()
    fine, show = subdivided(mesh, UP)
    rims = sectors_in(fine, show).rims
    assert ((rims.ahead < 0) == (rims.bend_deg > 90.0)).all()
    edge, end = np.nonzero(rims.ahead >= 0)
    ahead = rims.ahead[edge, end]
    assert (rims.ahead[ahead] == edge[:, None]).any(axis=1).all()
    assert (rims.run_m[ahead] == rims.run_m[edge, end][:, None]).any(axis=1).all()


def test_strips_cover_every_sector_and_start_at_its_corners():
    notch = [[0, 0], [123, 0], [123, 60], [400, 60], [400, 100], [0, 100]]
    sectors = sectors_in(prism(notch, 500))
    strips = strips_of(sectors)
    width = np.bincount(strips.sector, strips.right_m - strips.left_m)
    assert np.sort(width.round(6)) == pytest.approx([0.4, 0.4, 0.5, 0.5, 0.5])
    assert (strips.right_m > strips.left_m).all()
    ends = np.concatenate([strips.left_m, strips.right_m])
    offset = np.abs(np.abs(ends[:, None]) - 0.123).min()
    assert offset < 1e-9


def test_every_place_lies_in_its_strip():
    sectors = sectors_in(box((0, 0, 0), (300, 200, 50)), UP)
    strips = strips_of(sectors)
    assert (strips.at(strips.sector, strips.middle_m) == np.arange(len(strips.sector))).all()
    edge = strips.at(np.arange(sectors.count), np.full(sectors.count, -9.0))
    assert (strips.sector[edge] == np.arange(sectors.count)).all()


def test_a_coplanar_front_is_deep_at_its_legs_only():
    legs = [[0, 0], [40, 0], [40, 560], [960, 560], [960, 0], [1000, 0], [1000, 600], [0, 600]]
    sectors = sectors_in(prism(legs, 300))
    columns = columns_of(sectors)
    front = np.abs(sectors.along_direction[columns.sector, 0]) > 0.5
    depths = width_by(columns, np.where(front, columns.depth_m.round(6), -1.0))
    assert depths[0.04] == 2 * 920.0
    assert depths[0.6] == 2 * 80.0


def test_a_strip_is_cut_where_its_depth_passes_the_return_limit():
    wedge = prism([[0, 0], [2000, -100], [2000, 60], [0, 60]], 500)
    columns = columns_of(sectors_in(wedge))
    side = (columns.depth_m > 0.0601) & (columns.depth_m < 0.1599)
    deep = columns.depth_m > 0.110
    assert width_by(columns, side & ~deep)[True] == pytest.approx(2 * 1000.0, abs=1e-3)
    assert ((columns.edge_depth_m.max(axis=1) <= 0.110 + 1e-9) | deep)[side].all()


@pytest.mark.parametrize("fine", [False, True])
@pytest.mark.parametrize("step_count", [300, 700])
def test_depth_at_the_ends_of_a_strip_follows_a_rim_over_its_edges(step_count, fine):
    across = np.linspace(2000, 0, step_count + 1)
    arch = np.column_stack([across, 140 - 60 * (across / 1000 - 1) ** 2])
    barrel = prism([[0, 0], [2000, 0], *arch.tolist()], 300)
    sectors = sectors_in(subdivided(barrel, BACK)[0] if fine else barrel)
    columns = columns_of(sectors, rules=SurfaceRules(depth_tie_m=0.0))
    front = np.abs(sectors.along_direction[columns.sector, 0]) > 0.5
    shallow_m = float(columns.width_m[front & (columns.depth_m <= 0.110)].sum())
    assert shallow_m == pytest.approx(2 * 2 * (1 - np.sqrt(0.5)), rel=1e-4)
    strips = columns.strips
    for end, at_m in enumerate((strips.left_m, strips.right_m)):
        off_m = np.abs(at_m[columns.strip[front]]) - 1.0
        wanted_m = 0.140 - 0.060 * off_m**2
        assert columns.edge_depth_m[front, end] == pytest.approx(wanted_m, abs=1e-6)


def test_a_column_runs_on_behind_a_hole_in_its_wall():
    leg = prism([[0, 0], [400, 0], [400, 700], [0, 700]], 40)
    holed = prism(
        [[0, 0], [400, 0], [400, 700], [0, 700], [0, 500], [100, 500], [100, 300], [0, 300]], 40
    )
    whole, slotted = (columns_of(sectors_in(mesh)) for mesh in (leg, holed))
    assert set(whole.depth_m.round(9)) == {0.7}
    beside = slotted.sector[slotted.depth_m.round(9) == 0.7]
    assert len(np.unique(beside)) == 3


def test_what_lies_above_and_below_is_told():
    step = [[0, 0], [600, 0], [600, 60], [400, 60], [400, 140], [0, 140]]
    columns = columns_of(sectors_in(prism(step, 500)))
    riser = columns.above == Beyond.SHOW
    riser &= columns.below == Beyond.SHOW
    assert width_by(columns, riser)[True] == pytest.approx(500.0)
    assert columns.depth_m[riser] == pytest.approx(np.full(riser.sum(), 0.08))


def test_a_column_is_found_at_its_heights_and_no_other():
    columns = columns_of(sectors_in(box((0, 0, 0), (300, 200, 50)), UP))
    strip = columns.strip[:3]
    for height_m, wanted in ((0.025, [0, 1, 2]), (-0.01, [-1] * 3), (0.06, [-1] * 3)):
        found = columns.at(strip, np.full(3, height_m), slack_m=1e-4)
        assert found.tolist() == wanted


# Section, return limit, and the depth, class and reason of one wall of it.
VERDICTS = [
    ([[0, 0], [600, 0], [600, 60], [0, 60]], 60, ClassColumn.RETURN, Reason.EDGE),
    ([[0, 0], [600, 0], [600, 110], [0, 110]], 110, ClassColumn.RETURN, Reason.EDGE),
    ([[0, 0], [600, 0], [600, 111], [0, 111]], 111, ClassColumn.UPRIGHT, Reason.EDGE),
    (
        [[0, 0], [600, 0], [600, 60], [400, 60], [400, 90], [0, 90]],
        30,
        ClassColumn.SHOW_FACE,
        Reason.RELIEF,
    ),
    (
        [[0, 0], [600, 0], [600, 60], [400, 60], [400, 91], [0, 91]],
        31,
        ClassColumn.RETURN,
        Reason.BASIN,
    ),
    (
        [[0, 0], [600, 0], [600, 60], [400, 60], [400, 200], [0, 200]],
        140,
        ClassColumn.UPRIGHT,
        Reason.BASIN,
    ),
    (
        [[0, 0], [40, 0], [40, 300], [560, 300], [560, 0], [600, 0], [600, 340], [0, 340]],
        300,
        ClassColumn.BACK,
        Reason.INNER,
    ),
]


@pytest.mark.parametrize(("section", "depth", "column", "reason"), VERDICTS)
def test_neighbours_and_depth_decide(section, depth, column, reason):
    columns = columns_of(sectors_in(prism(section, 500)))
    verdicts = judge(columns)
    wanted = np.abs(columns.depth_m - depth / 1000) < 1e-9
    wanted &= verdicts.reason == reason
    assert width_by(columns, wanted)[True] >= 500.0
    assert (verdicts.column[wanted] == column).all()


def test_the_limits_can_be_set():
    columns = columns_of(sectors_in(prism([[0, 0], [600, 0], [600, 60], [0, 60]], 500)))
    assert set(judge(columns, rules=SurfaceRules(return_limit_m=0.05)).column) == {2}


def test_a_shallow_part_of_a_wall_does_not_decide_alone():
    mitred = [[0, 0], [100, 0], [100, 80], [0, 80]]
    columns = columns_of(sectors_in(prism(mitred, 500)))
    cut = type(columns)(
        **{name: getattr(columns, name) for name in columns.__dataclass_fields__}
        | {"below": np.full(len(columns.strip), Beyond.WALL, dtype=np.int8)}
    )
    assert not judge(cut).decided.any()
    assert judge(cut, rules=SurfaceRules(return_limit_m=0.05)).decided.all()


def test_nothing_paired_in_nothing():
    nothing = np.empty(0, dtype=np.int64)
    assert len(paired(nothing)) == 0
    assert len(sorted_by(nothing, np.empty(0))) == 0


def test_groups_are_ordered_by_height_whether_pairs_or_more():
    chance = np.random.default_rng(5)
    group, height_m = chance.integers(0, 40, 120), chance.integers(0, 5, 120) / 10.0
    assert sorted_by(group, height_m).tolist() == np.lexsort((height_m, group)).tolist()


@pytest.mark.parametrize("section", [[[0, 0], [600, 0], [600, 60], [0, 60]], TAPERED])
def test_columns_of_sectors_whose_rims_changed_are_as_if_made_anew(section):
    sectors = sectors_in(prism(section, 500))
    former = columns_of(sectors)
    changed = sectors.with_show(sectors.zones.are(Zone.AWAY))
    again, anew = columns_of(changed, former=former), columns_of(changed)
    assert again.above.tolist() == anew.above.tolist()
    assert again.depth_m.tolist() == anew.depth_m.tolist()
    assert again.strips.left_m.tolist() == anew.strips.left_m.tolist()
    assert (again.below != former.below).any()


def test_columns_judged_anew_are_cut_where_they_were():
    sectors = sectors_in(prism(TAPERED, 500))
    columns = columns_of(sectors)
    assert columns.crossings is not columns.even
    again = columns_of(sectors, former=columns)
    assert again.crossings is columns.crossings
    assert (again.depth_m == columns.depth_m).all()


def test_columns_are_cut_anew_where_depths_pass_other_limits():
    sectors = sectors_in(prism(TAPERED, 500))
    columns, deeper = columns_of(sectors), SurfaceRules(return_limit_m=0.13)
    again = columns_of(sectors, former=columns, rules=deeper)
    assert again.crossings is not columns.crossings
    assert (again.depth_m == columns_of(sectors, rules=deeper).depth_m).all()
