from decimal import Decimal

import pytest
from pydantic import TypeAdapter

from takeoff.batching.mixers import Mixer
from takeoff.errors import MixError
from takeoff.job.way_mixes import WayMix, way_mixes
from takeoff.job.way_prices import WayPrices, WayTime
from takeoff.job.way_rows import WayMoney, filling_notes, ways_of
from takeoff.mix.mixes import Placing
from takeoff.notes import NoteCode
from takeoff.piece.layers import Layer
from takeoff.piece.surfaces import SurfaceClass
from takeoff.piece.ways import Way
from takeoff.way_documents import WallWayRow
from tests.unit.job.trays_made import FACE_COAT, PACKED, POURED, SPRAYED, tray

MIXES = way_mixes([WayMix(POURED), WayMix(PACKED), WayMix(SPRAYED, lost_share=0.10)])

# An open tray of 2 x 1 x 0.2 m with a face coat of 4 mm and 16 mm of backer.
#   all layers   2 x 1 x 0.2 - 1.96 x 0.96 x 0.18                   = 61.312 L
#   face coat    2 x 1 x 0.2 - 1.992 x 0.992 x 0.196                = 12.691456 L
#   of which on the show face, mitred: 2 t - 3 t^2 + 4/3 t^3 at 4 mm =  7.952085 L
#   all layers on the show face, the same at 20 mm                  = 38.810667 L
# The rest is on the walls. A long one has the integral of (2 - 2 s) (0.2 - s) over its layers,
# 0.4 t - 1.2 t^2 + 2/3 t^3, and that share of both.
LONG_M3 = 0.4 * 0.02 - 1.2 * 0.02**2 + 2 / 3 * 0.02**3
FACE_M3 = (12.691456e-3 - 7.9520853333e-3) * LONG_M3 / (61.312e-3 - 38.8106666667e-3)
BACKER_M3 = LONG_M3 - FACE_M3
INNER_M2 = 1.96 * 0.18
FILLED_M3 = 1.96 * 0.96 * 0.18

PRICES = WayPrices(
    {"cement": Decimal("0.60")},
    Decimal("36.00"),
    Decimal("20.00"),
    {
        Way.DAMMED: WayTime(3600.0, 60.0),
        Way.CORED: WayTime(5400.0, 60.0),
        Way.FILLED: WayTime(None, 30.0),
        Way.PACKED: WayTime(None, 120.0),
        Way.SPRAYED: WayTime(None, 90.0),
    },
)


@pytest.fixture(scope="module")
def piece():
    return tray()


def of_a_long_wall(rows):
    """The ways of the first long wall: walls are numbered by falling area."""
    return {row.way: row for row in rows if row.surface == "U1"}


@pytest.fixture(scope="module")
def long_wall(piece):
    mixers = (Mixer("pail", 0.030, 0.2), Mixer("pan", 0.060, 0.5))
    rows = ways_of(piece, MIXES, face_coat=FACE_COAT, mixers=mixers, prices=PRICES)
    return of_a_long_wall(rows)


def test_every_wall_has_every_way(piece):
    rows = ways_of(piece, MIXES, face_coat=FACE_COAT)
    assert [(row.surface, row.way) for row in rows] == [
        (wall, way) for wall in ("U1", "U2", "U3", "U4") for way in Way
    ]
    assert [row.depth_m for row in rows] == pytest.approx([0.2] * 20)
    assert not any(row.stands for row in rows)


@pytest.mark.parametrize("way", [Way.DAMMED, Way.CORED, Way.PACKED, Way.SPRAYED])
def test_all_ways_but_filling_take_the_litres_of_the_layers(long_wall, way):
    assert long_wall[way].face_m3 == pytest.approx(FACE_M3, rel=1e-6)
    assert long_wall[way].backer_m3 == pytest.approx(BACKER_M3, rel=1e-6)
    assert long_wall[way].volume_m3 == pytest.approx(FACE_M3 + BACKER_M3, rel=1e-6)


def test_filling_takes_the_room_between_the_backs_besides(long_wall):
    filled = long_wall[Way.FILLED]
    assert filled.backer_m3 == pytest.approx(BACKER_M3 + FILLED_M3, rel=1e-6)
    assert filled.face_m3 == pytest.approx(FACE_M3, rel=1e-6)


def test_only_dam_and_second_form_take_an_inner_form(long_wall):
    areas_m2 = {way: row.inner_form_m2 for way, row in long_wall.items()}
    assert areas_m2 == {
        Way.DAMMED: pytest.approx(INNER_M2, rel=1e-9),
        Way.CORED: pytest.approx(INNER_M2, rel=1e-9),
        Way.FILLED: 0.0,
        Way.PACKED: 0.0,
        Way.SPRAYED: 0.0,
    }


def test_layers_weigh_what_their_own_mixes_do(long_wall):
    # Face coat and packed 2000 kg/m3, poured 1800.
    face_kg = FACE_M3 * 2000.0
    assert long_wall[Way.DAMMED].mass_kg == pytest.approx(face_kg + BACKER_M3 * 1800.0, rel=1e-6)
    assert long_wall[Way.PACKED].mass_kg == pytest.approx(face_kg + BACKER_M3 * 2000.0, rel=1e-6)
    filled_kg = face_kg + (BACKER_M3 + FILLED_M3) * 1800.0
    assert long_wall[Way.FILLED].mass_kg == pytest.approx(filled_kg, rel=1e-6)


def test_head_is_the_depth_of_what_is_poured_alone(long_wall):
    heads_m = [long_wall[way].head_m for way in Way]
    assert heads_m == [pytest.approx(0.2)] * 3 + [None, None]


def test_batches_are_what_is_mixed_over_what_the_largest_mixer_takes(long_wall):
    # 344.6283 L at 1800 kg/m3 are 620.3 kg; the pan takes 60 L less 0.5 kg: 107.5 kg.
    assert (long_wall[Way.FILLED].batches, long_wall[Way.FILLED].mixer) == (6, "pan")
    assert long_wall[Way.PACKED].batches == 1


def test_what_is_sprayed_past_is_mixed_too(piece):
    # 5.94030 L at 2000 kg/m3 are 11.88 kg; 13.20 kg with the tenth that misses.
    mixer = Mixer("cup", 12.5 / 2000.0, 0.0)
    rows = of_a_long_wall(ways_of(piece, MIXES, face_coat=FACE_COAT, mixers=[mixer], prices=PRICES))
    assert (rows[Way.PACKED].batches, rows[Way.SPRAYED].batches) == (1, 2)
    # Three quarters of it are cement at 0.60: 5.35 packed, 5.94 sprayed.
    assert rows[Way.PACKED].money.material == Decimal("5.35")
    assert rows[Way.SPRAYED].money.material == Decimal("5.94")


@pytest.mark.parametrize(
    "mixers",
    [
        (),
        (Mixer("pan", 0.060, 0.5, suits=("other",)),),
        (Mixer("cup", 0.0002, 0.5),),
    ],
    ids=["none told", "none suits", "residue fills it"],
)
def test_without_a_mixer_that_does_batches_are_not_counted(piece, mixers):
    rows = of_a_long_wall(ways_of(piece, MIXES, face_coat=FACE_COAT, mixers=mixers))
    assert {(row.batches, row.mixer) for row in rows.values()} == {(None, None)}


def test_a_mixer_counts_for_the_mixes_it_suits(piece):
    mixers = [Mixer("pail", 0.030, 0.0), Mixer("pan", 0.060, 0.0, suits=("our-packed",))]
    rows = of_a_long_wall(ways_of(piece, MIXES, face_coat=FACE_COAT, mixers=mixers))
    assert (rows[Way.DAMMED].mixer, rows[Way.PACKED].mixer) == ("pail", "pan")


@pytest.mark.parametrize(
    ("way", "hours_s", "amounts", "total"),
    [
        # 10.6925415 kg, 2/3 cement; 0.3528 m2 x 3600 s + 10.6925415 kg x 60 s; 0.3528 x 20.00.
        (Way.DAMMED, 1911.6325, ("4.28", "19.12", "7.06"), "30.46"),
        (Way.CORED, 2546.6725, ("4.28", "25.47", "7.06"), "36.81"),
        # 620.3309415 kg at 30 s.
        (Way.FILLED, 18609.928, ("248.13", "186.10", "0.00"), "434.23"),
        # 11.8806017 kg, 3/4 cement, at 120 s and at 90 s; of the sprayed, a tenth misses.
        (Way.PACKED, 1425.672, ("5.35", "14.26", "0.00"), "19.61"),
        (Way.SPRAYED, 1069.2542, ("5.94", "10.69", "0.00"), "16.63"),
    ],
)
def test_money_is_material_hours_and_inner_form(long_wall, way, hours_s, amounts, total):
    row = long_wall[way]
    assert row.hours_s == pytest.approx(hours_s, rel=1e-6)
    assert row.money == WayMoney(*(Decimal(amount) for amount in amounts))
    assert row.money.total == Decimal(total)


def test_what_the_shop_has_not_told_stays_open(piece):
    rows = of_a_long_wall(ways_of(piece, MIXES, face_coat=FACE_COAT))
    assert {row.hours_s for row in rows.values()} == {None}
    assert rows[Way.DAMMED].money == WayMoney(None, None, None)
    assert rows[Way.PACKED].money == WayMoney(None, None, Decimal("0.00"))
    assert {row.money.total for row in rows.values()} == {None}


def test_a_part_that_is_not_told_leaves_the_total_open(piece):
    cement = WayPrices({"cement": Decimal("0.60")})
    rows = of_a_long_wall(ways_of(piece, MIXES, face_coat=FACE_COAT, prices=cement))
    assert rows[Way.DAMMED].money.material == Decimal("4.28")
    assert rows[Way.DAMMED].money.total is None


def test_walls_and_show_face_together_are_the_layers(piece):
    rows = ways_of(piece, MIXES, face_coat=FACE_COAT)
    walls_m3 = sum(row.volume_m3 for row in rows if row.way is Way.DAMMED)
    shown_m3 = sum(
        row.volume_m3 for row in piece.layers.rows if row.surface_class is SurfaceClass.SHOW_FACE
    )
    whole_m3 = sum(piece.layers.volume_m3(layer) for layer in Layer)
    assert walls_m3 + shown_m3 == pytest.approx(whole_m3, rel=1e-12)
    inner_m2 = sum(row.inner_form_m2 for row in rows if row.way is Way.CORED)
    assert inner_m2 == pytest.approx(piece.layers.inner_form_m2, rel=1e-12)


def test_a_way_that_is_not_feasible_has_no_batches_hours_or_money():
    low = tray((400, 300, 15))
    mixers = [Mixer("pail", 0.030, 0.0)]
    rows = ways_of(low, MIXES, face_coat=FACE_COAT, mixers=mixers, prices=PRICES)
    assert all(row.stands for row in rows)
    for row in rows:
        if row.way in {Way.DAMMED, Way.CORED, Way.FILLED}:
            assert not row.feasible
            assert (row.batches, row.mixer, row.hours_s) == (None, None, None)
            assert row.money == WayMoney()
            assert row.inner_form_m2 == 0.0
        else:
            assert row.feasible
            assert row.batches == 1


def test_a_piece_without_a_backer_has_no_ways():
    assert ways_of(tray(layers_mm=(4, 0)), MIXES, face_coat=FACE_COAT) == ()


def test_a_piece_without_a_face_coat_needs_no_mix_of_it():
    rows = of_a_long_wall(ways_of(tray(layers_mm=(0, 20)), MIXES))
    assert rows[Way.DAMMED].face_m3 == 0.0
    assert rows[Way.DAMMED].mass_kg == pytest.approx((FACE_M3 + BACKER_M3) * 1800.0, rel=1e-6)


def test_a_face_coat_without_a_mix_is_refused(piece):
    with pytest.raises(MixError, match="tray: carries a face coat, and no mix of it is told"):
        ways_of(piece, MIXES)


def test_several_walls_are_filled_once_to_the_deepest_foot(piece):
    [note] = filling_notes(piece, ways_of(piece, MIXES, face_coat=FACE_COAT))
    assert (note.code, note.where) == (NoteCode.POURED_WALL, "tray")
    assert "several are filled once, to the foot of the deepest: for U1, 200 mm" in note.text
    assert "338.7 L beyond the layers" in note.text


def test_one_wall_to_fill_needs_no_such_note(piece):
    rows = [row for row in ways_of(piece, MIXES, face_coat=FACE_COAT) if row.surface == "U1"]
    assert list(filling_notes(piece, rows)) == []


def test_rows_are_documents_of_the_kind_told(long_wall):
    rows = [row.row() for row in long_wall.values()]
    TypeAdapter(list[WallWayRow]).validate_python(rows, strict=True)
    dammed = rows[0]
    assert (dammed["way"], dammed["mix"], dammed["money"]) == ("dammed", "our-poured", "30.46")
    assert (dammed["mix_told"], dammed["batches"], dammed["mixer"]) == (True, 1, "pan")


def test_an_example_is_marked_in_its_row(piece):
    mixes = way_mixes([WayMix(POURED)])
    rows = of_a_long_wall(ways_of(piece, mixes, face_coat=FACE_COAT))
    assert {way: row.row()["mix_told"] for way, row in rows.items()} == {
        Way.DAMMED: True,
        Way.CORED: True,
        Way.FILLED: True,
        Way.PACKED: False,
        Way.SPRAYED: False,
    }
    assert rows[Way.PACKED].mix is mixes[Placing.PACKED]
