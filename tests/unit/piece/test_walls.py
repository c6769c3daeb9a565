import numpy as np
import pytest

from takeoff.piece.columns import columns_of
from takeoff.piece.cutting import cut_walls, pieces_of
from takeoff.piece.filling import fill, spread
from takeoff.piece.flats import flats_of
from takeoff.piece.judging import ClassColumn, judge
from takeoff.piece.parts import Parts
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.settling import settle
from takeoff.piece.splitting import split
from takeoff.piece.walls import divide_walls
from takeoff.piece.zones import Reason
from tests.unit.piece.pieces_made import BACK, UP, box, prism, subdivided, turned_section
from tests.unit.piece.test_columns import sectors_in

LEGS = [[0, 0], [40, 0], [40, 560], [960, 560], [960, 0], [1000, 0], [1000, 600], [0, 600]]
WEDGE = [[0, 0], [2000, -100], [2000, 60], [0, 60]]
GROOVED = [[0, 0], [616, 0], [616, 131], [328, 116.5], [308, 101.5], [288, 116.5], [0, 102]]


def divided(mesh, show=BACK, **rules):
    limits = SurfaceRules(**rules)
    sectors = sectors_in(mesh, show)
    columns = columns_of(sectors, rules=limits)
    verdicts = judge(columns, rules=limits)
    cuts = cut_walls(sectors, columns, rules=limits)
    return sectors, columns, cuts, divide_walls(sectors, columns, verdicts, cuts, rules=limits)


def class_areas(sectors, walls):
    flats = sectors.zones.flats
    return (flats.area_m2 @ walls.parts.shares(flats.count)).tolist()


@pytest.mark.parametrize("fine", [False, True])
def test_a_coplanar_front_is_divided_into_edge_and_legs(fine):
    mesh = prism(LEGS, 300)
    sectors, _, _, walls = divided(subdivided(mesh, BACK)[0] if fine else mesh)
    edge, legs, ends = 2 * 0.92 * 0.04, 4 * 0.04 * 0.6, 2 * 0.3 * 0.6
    inside = 2 * 0.3 * 0.56
    assert class_areas(sectors, walls) == pytest.approx([0.0, edge, legs + ends, inside])
    assert walls.undecided_m2 == 0.0


@pytest.mark.parametrize("limit_m", [0.07, 0.110, 0.15])
def test_a_wall_that_gets_deeper_is_divided_at_the_return_limit(limit_m):
    sectors, _, _, walls = divided(prism(WEDGE, 500), return_limit_m=limit_m, depth_tie_m=0.0)
    reach = (limit_m - 0.06) / 0.05
    shallow = 2 * reach * (0.06 + limit_m) / 2 + 0.5 * 0.06
    total = 2 * 2 * 0.11 + 0.5 * (0.06 + 0.16)
    wanted = [0.0, shallow, total - shallow, 0.0]
    assert class_areas(sectors, walls) == pytest.approx(wanted, rel=1e-6)


@pytest.mark.parametrize("fine", [False, True])
def test_a_wall_under_a_groove_is_divided_alike_however_finely_it_is_drawn(fine):
    mesh = prism(GROOVED, 1000)
    sectors, _, _, walls = divided(subdivided(mesh, BACK)[0] if fine else mesh, depth_tie_m=0.0)
    before_groove = 0.288 * (0.110 - 0.102) / (0.1165 - 0.102)
    in_groove = 0.040 * (0.110 - 0.1015) / (0.1165 - 0.1015)
    cap = before_groove * (0.102 + 0.110) / 2 + in_groove * (0.1015 + 0.110) / 2
    section = 0.616 * (0.102 + 0.131) / 2 - 0.040 * 0.015 / 2
    returns, total = 2 * cap + 1.0 * 0.102, 2 * section + 1.0 * (0.102 + 0.131)
    assert class_areas(sectors, walls) == pytest.approx([0.0, returns, total - returns, 0.0])


def test_cuts_lie_in_the_column_they_say():
    sectors, columns, cuts, _ = divided(prism(LEGS, 300))
    sector = sectors.of_flat[cuts.flat]
    assert (columns.sector[cuts.column] == sector).all()
    total = np.bincount(cuts.flat, cuts.weight_m2, minlength=sectors.zones.flats.count)
    plane = sectors.of_flat >= 0
    assert total[plane] == pytest.approx(sectors.zones.flats.area_m2[plane])


def test_pieces_known_already_are_cut_alike():
    sectors, columns, cuts, _ = divided(prism(WEDGE, 500))
    again = cut_walls(sectors, columns, pieces=pieces_of(sectors, columns.strips))
    assert again.flat.tolist() == cuts.flat.tolist()
    assert again.column.tolist() == cuts.column.tolist()
    assert again.weight_m2.tolist() == cuts.weight_m2.tolist()


def test_tiny_flats_go_whole_to_one_column():
    disc = turned_section([[0, 0], [300, 0], [300, 50], [0, 50]], sections=256)
    sectors = sectors_in(disc, UP)
    columns = columns_of(sectors)
    cuts = cut_walls(sectors, columns, rules=SurfaceRules(fine_share=0.5))
    assert (np.bincount(cuts.flat)[sectors.of_flat >= 0] == 1).all()


def test_patches_are_columns_side_by_side_of_one_class():
    _, columns, _, walls = divided(prism(LEGS, 300))
    front = columns.sector == columns.sector[np.argmin(columns.depth_m)]
    assert len(np.unique(walls.patch[front])) == 3


@pytest.mark.parametrize("fine", [False, True])
def test_a_split_front_tells_its_facets_apart(fine):
    mesh = prism(LEGS, 300)
    mesh = subdivided(mesh, BACK)[0] if fine else mesh
    sectors, columns, cuts, walls = divided(mesh)
    flats = sectors.zones.flats
    mixed = (walls.parts.shares(flats.count) > 0).sum(axis=1) > 1
    assert mixed.sum() == 2
    of_facet, new = split(sectors, columns, walls.patch, cuts, mixed)
    area_m2 = np.bincount(of_facet, flats.facets.area_m2)
    share = np.bincount(new.flat, new.weight_m2, minlength=len(area_m2))
    wall = np.zeros(len(area_m2), dtype=bool)
    wall[of_facet[sectors.of_flat[flats.of_facet] >= 0]] = True
    assert ((share > 0) == wall).all()
    deep = columns.depth_m > 0.11
    at_legs = np.bincount(new.flat, new.weight_m2 * deep[new.column], minlength=len(area_m2))
    of_legs = (at_legs / np.where(share > 0, share, 1.0)) @ area_m2
    assert of_legs == pytest.approx(4 * 0.04 * 0.6 + 2 * 0.3 * 0.6 + 2 * 0.3 * 0.56)


def test_a_facet_on_the_border_is_divided_exactly():
    settled = settle(flats_of(prism(WEDGE, 500)), BACK, rules=SurfaceRules(depth_tie_m=0.0))
    shares = settled.parts.shares(settled.flats.count)
    both = (shares[:, ClassColumn.RETURN] > 0) & (shares[:, ClassColumn.UPRIGHT] > 0)
    assert both.any()
    returns = settled.flats.area_m2 @ shares[:, ClassColumn.RETURN]
    assert returns == pytest.approx(2 * 1 * 0.085 + 0.5 * 0.06, rel=1e-6)


def test_a_splayed_opening_is_decided_in_its_mitres_too():
    section = [[100, 0], [300, 0], [300, 80], [150, 80]]
    ring = turned_section([*section, section[0]], sections=4)
    sectors, _, _, walls = divided(ring, UP)
    assert walls.undecided_m2 == 0.0
    assert class_areas(sectors, walls)[1] == pytest.approx(
        sectors.zones.flats.area_m2[sectors.of_flat >= 0].sum()
    )
    assert (walls.parts.reason == Reason.FILLED).any()


def test_undecided_walls_take_the_way_of_their_neighbours():
    sectors = sectors_in(box((0, 0, 0), (300, 200, 50)), UP)
    wall = sectors.of_flat >= 0
    decided = np.zeros((6, 4))
    decided[np.flatnonzero(wall)[0], ClassColumn.UPRIGHT] = 1.0
    shares, doubtful = fill(sectors, decided, np.where(decided.any(axis=1), 0.0, wall))
    assert shares.sum(axis=0).tolist() == [0.0, 0.0, 3.0, 0.0]
    assert doubtful.sum() == 3


def test_a_sector_decided_by_half_speaks_for_the_rest():
    sectors = sectors_in(box((0, 0, 0), (300, 200, 50)), UP)
    wall = np.where(sectors.of_flat >= 0, 0.5, 0.0)
    decided = np.zeros((6, 4))
    decided[:, ClassColumn.RETURN] = wall
    shares, doubtful = fill(sectors, decided, wall)
    assert shares[:, ClassColumn.RETURN] == pytest.approx(wall)
    assert not doubtful.any()


def test_walls_that_touch_no_show_face_are_back_where_nothing_decides():
    mesh = box((0, 0, 0), (300, 200, 50))
    upside_down = sectors_in(mesh, UP)
    hidden = upside_down.zones.moved(upside_down.zones.zone == 0, 2, Reason.HIDDEN)
    sectors = type(upside_down)(
        **{name: getattr(upside_down, name) for name in upside_down.__dataclass_fields__}
        | {"zones": hidden}
    )
    shares, _ = fill(sectors, np.zeros((6, 4)), (sectors.of_flat >= 0).astype(float))
    assert shares.sum(axis=0).tolist() == [0.0, 0.0, 0.0, 4.0]


def test_shares_are_handed_on_by_the_length_of_the_joints():
    flats = flats_of(box((0, 0, 0), (300, 200, 50)))
    known = np.abs(flats.normals[:, 2]) < 0.5
    share = np.zeros((6, 4))
    share[np.abs(flats.normals[:, 0]) > 0.5, 0] = 1.0
    share[np.abs(flats.normals[:, 1]) > 0.5, 1] = 1.0
    shares, reached = spread(flats, share, known, ~known)
    assert reached.sum() == 2
    assert shares[reached] == pytest.approx(np.tile([0.4, 0.6, 0.0, 0.0], (2, 1)))


def test_parts_are_scaled_and_made_whole():
    one = Parts.plain(
        np.array([0, 0, 1]), np.array([0, 1, 3]), Reason.FLAT, np.array([0.5, 0.5, 1.0])
    )
    none = one.scaled(np.array([0.5, 0.0]), 1e-6)
    assert none.share.tolist() == [0.25, 0.25]
    both = Parts.together([none, Parts.plain(np.array([1]), 2, Reason.EDGE, np.array([0.2]))])
    assert both.whole(2).shares(2).tolist() == [[0.5, 0.5, 0.0, 0.0], [0.0, 0.0, 1.0, 0.0]]
