"""What a piece takes of every mix, however its walls are cast and whatever is built into it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import takeoff
from takeoff.errors import BatchError, SurfaceError
from takeoff.files.drawing import DrawingUnit
from takeoff.files.job_file import read_order
from takeoff.files.mix_file import read_mix
from takeoff.files.order import OrderedPiece
from takeoff.files.order_parts import Portion
from takeoff.job.cast_pieces import board_pieces, cast_pieces
from takeoff.job.ordered_pieces import measure_ordered
from takeoff.job.portions import FILL, portion_volumes
from takeoff.job.way_mixes import WayMix, way_mixes
from takeoff.job.way_rows import filling_notes, ways_of
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.mix.volumes import fresh_density_kg_m3
from takeoff.notes import NoteCode
from takeoff.piece.laying import lay
from takeoff.piece.thickness import everywhere
from takeoff.piece.ways import Way
from tests.unit.job.test_bidding import changed_job
from tests.unit.piece.pieces_made import bowl

WAY = 'way = "dammed"'
SHA = re.compile(r"sha256 = .*\n")
WALL_BACKER = '\n[wall_backer]\nmix = "backer-packed"\n'


def cast_of(job):
    """Measure the pieces of a job and give what is cast, with its mixes."""
    order = read_order(job)
    mixes = {portion: read_mix(one.mix) for portion, one in order.portions.items()}
    taken = [(piece, measure_ordered(piece, order)) for piece in order.pieces]
    return cast_pieces(order, mixes, taken), mixes, order


def volumes_of(piece):
    return {(one.portion.value, one.surface_class): one.volume_m3 for one in piece.volumes}


@pytest.fixture(scope="module")
def dammed(tmp_path_factory):
    return cast_of(changed_job(tmp_path_factory.mktemp("dammed")))[0]


def test_dammed_walls_take_the_layers_as_measured(dammed):
    for piece in dammed:
        layers = piece.measured.layers
        for row in layers.rows:
            key = (row.layer.value, row.surface_class.value)
            assert volumes_of(piece)[key] == pytest.approx(row.volume_m3)
    assert set(dammed[0].ways) == {f"R{n}" for n in range(1, 7)} | {"U1", "U2"}


def test_packed_uprights_take_their_backer_with_them(tmp_path, dammed):
    upright = f'{WAY}\n[backer.upright]\nway = "packed"{WALL_BACKER}'
    counter, surround, panel = cast_of(changed_job(tmp_path, ("job.toml", WAY, upright)))[0]
    before = volumes_of(dammed[0])
    now = volumes_of(counter)
    assert now["wall_backer", "upright"] == pytest.approx(before["backer", "upright"])
    assert ("backer", "upright") not in now
    assert now["backer", "return"] == pytest.approx(before["backer", "return"])
    assert surround.volume_m3(Portion.WALL_BACKER) > 0.0
    assert panel.volume_m3(Portion.WALL_BACKER) == 0.0


def test_a_single_packed_wall_takes_its_share_of_the_class(tmp_path, dammed):
    job = changed_job(tmp_path, ("job.toml", WAY, WAY + WALL_BACKER))
    text = job.read_text(encoding="utf-8") + '\n[piece.wall]\nR1 = "packed"\n'
    job.write_text(text, encoding="utf-8")
    panel = cast_of(job)[0][2]
    walls = {wall.surface: wall.layer_m3 for wall in panel.measured.layers.walls}
    share = walls["R1"] / sum(walls.values())
    whole_m3 = volumes_of(dammed[2])["backer", "return"]
    assert volumes_of(panel)["wall_backer", "return"] == pytest.approx(share * whole_m3)
    assert volumes_of(panel)["backer", "return"] == pytest.approx((1.0 - share) * whole_m3)


def test_filling_goes_once_to_the_deepest_foot(tmp_path):
    panel = cast_of(changed_job(tmp_path, ("job.toml", WAY, 'way = "filled"')))[0][2]
    deepest_m3 = max(wall.filled_m3 for wall in panel.measured.layers.walls)
    # 1200 x 2700 less the window 600 x 900, 60 mm deep: 162 L; less the layers, 61.698 L
    assert deepest_m3 == pytest.approx(0.162 - 0.061698265482, rel=1e-6)
    assert volumes_of(panel)["backer", "fill"] == pytest.approx(deepest_m3)


def test_a_core_takes_the_place_of_filling_first(tmp_path):
    core = '[[piece.core]]\nname = "foam"\nsize = "1000 x 500 x 40 mm"\ncount = 2\n'
    core += 'density = "30 kg/m3"\n'
    job = changed_job(tmp_path, ("job.toml", WAY, 'way = "filled"'))
    text = job.read_text(encoding="utf-8")
    plain = volumes_of(cast_of(job)[0][2])
    job.write_text(text.replace("[piece.edge]", core + "[piece.edge]"), encoding="utf-8")
    cored = volumes_of(cast_of(job)[0][2])
    assert cored["backer", "fill"] == pytest.approx(plain["backer", "fill"] - 0.040)
    assert cored["backer", "show_face"] == pytest.approx(plain["backer", "show_face"])


def test_a_core_beyond_the_filling_comes_out_of_the_backer(tmp_path):
    job = changed_job(tmp_path)
    text = job.read_text(encoding="utf-8")
    core = '[[piece.core]]\nname = "foam"\nvolume = "5 L"\ndensity = "30 kg/m3"\n'
    plain = cast_of(job)[0][2].volume_m3(Portion.BACKER)
    job.write_text(text.replace("[piece.edge]", core + "[piece.edge]"), encoding="utf-8")
    assert cast_of(job)[0][2].volume_m3(Portion.BACKER) == pytest.approx(plain - 0.005)
    codes = [note.code for note in takeoff.bid(job).pieces[2].weighed.notes]
    assert codes.count(NoteCode.HOLD_DOWN) == 1


def test_a_core_larger_than_the_backer_is_refused(tmp_path):
    job = changed_job(tmp_path)
    text = job.read_text(encoding="utf-8")
    core = '[[piece.core]]\nname = "foam"\nvolume = "90 L"\ndensity = "30 kg/m3"\n'
    job.write_text(text.replace("[piece.edge]", core + "[piece.edge]"), encoding="utf-8")
    with pytest.raises(BatchError, match=r"wall panel: its cores take 90 L, the backer .* 48\.7 L"):
        takeoff.bid(job)


def test_additions_are_cast_with_their_layer(tmp_path, dammed):
    job = changed_job(tmp_path)
    text = job.read_text(encoding="utf-8")
    ribs = '[[piece.add]]\nname = "rib"\nsize = "1000 x 50 x 30 mm"\ncount = 3\n'
    job.write_text(text.replace("[piece.edge]", ribs + "[piece.edge]"), encoding="utf-8")
    panel = cast_of(job)[0][2]
    assert volumes_of(panel)["backer", "addition"] == pytest.approx(3 * 0.0015)
    assert panel.volume_m3(Portion.FACE_COAT) == dammed[2].volume_m3(Portion.FACE_COAT)


def test_what_finishing_removes_is_cast_on_top(tmp_path, dammed):
    job = changed_job(tmp_path)
    text = job.read_text(encoding="utf-8")
    finish = '[piece.finish]\nremoved = "0.5 mm"\n'
    job.write_text(text.replace("[piece.edge]", finish + "[piece.edge]"), encoding="utf-8")
    [_, _, panel], mixes, _ = cast_of(job)
    more_m3 = panel.volume_m3(Portion.FACE_COAT) - dammed[2].volume_m3(Portion.FACE_COAT)
    # 0.5 mm on 2.7 m2 are 1.35 L, less 0.5 mm x 4 mm along 9.6 m of coated edge
    assert more_m3 == pytest.approx(0.00135 - 0.0005 * 0.004 * 9.6, rel=0.01)
    weights = takeoff.bid(job).pieces[2].weighed.weights
    removed_kg = 0.00135 * fresh_density_kg_m3(mixes[Portion.FACE_COAT])
    assert weights.wet_kg - weights.cured_kg == pytest.approx(removed_kg)


def test_samples_and_boards_are_cast_besides(tmp_path):
    extras = (
        '[[sample]]\nname = "for the client"\nsize = "300 x 300 mm"\ncount = 2\n\n'
        '[qc]\nsize = "600 x 400 mm"\nthickness = "12 mm"\nboards = 2\n\n[[piece]]'
    )
    cast, mixes, order = cast_of(changed_job(tmp_path, ("job.toml", "[[piece]]", extras)))
    [sample] = [piece for piece in cast if piece.measured is None]
    assert sample.count == 2
    assert sample.volume_m3(Portion.FACE_COAT) == pytest.approx(0.09 * 0.004)
    assert sample.volume_m3(Portion.BACKER) == pytest.approx(0.09 * 0.016)
    boards = board_pieces(order, mixes, {Portion.FACE_COAT: 6, Portion.BACKER: 6})
    assert [(board.name, board.count) for board in boards] == [
        ("test board face-coat-sprayed", 6),
        ("test board backer-poured", 6),
    ]
    assert boards[0].volume_m3(Portion.FACE_COAT) == pytest.approx(0.24 * 0.012)


def test_spare_is_mixed_and_bought_and_stays_in_no_piece(tmp_path):
    plain = takeoff.bid(changed_job(tmp_path)).lots
    spare = takeoff.bid(
        changed_job(tmp_path, ("job.toml", "[[piece]]", '[spare]\nshare = "5 %"\n\n[[piece]]'))
    ).lots
    assert [lot.placed_kg for lot in spare] == [lot.placed_kg for lot in plain]
    # gross = net x 1.05 / (1 - overspray)
    assert spare[0].lost_kg == pytest.approx(spare[0].placed_kg * (1.05 / 0.9 - 1.0))
    assert spare[1].lost_kg == pytest.approx(spare[1].placed_kg * 0.05)


def test_a_poured_wall_without_a_way_is_refused_with_all_ways_and_lines_to_paste(tmp_path):
    with pytest.raises(SurfaceError, match="stands on no wall deeper") as refused:
        takeoff.bid(changed_job(tmp_path, ("job.toml", WAY, "")))
    text = str(refused.value)
    assert re.search(r"U1, 860 mm deep:\s+dammed or cored 10.88 L, inner form 0.529 m²", text)
    assert re.search(r'sha256 = "[0-9a-f]{12}"\n# at .*\n\[piece.wall\]\nR1 = "dam', text)
    assert all(name in text for name in ("ticket counter", "hearth surround", "wall panel"))


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        (
            [("job.toml", WAY, 'way = "packed"')],
            r'tell with what:\n\[wall_backer\]\nmix = "backer-packed"',
        ),
        (
            [("job.toml", WAY, f'way = "sprayed"{WALL_BACKER}')],
            r"walls are sprayed, and backer-packed of \[wall_backer\] is packed",
        ),
        (
            [
                ("job.toml", WAY, ""),
                ("job.toml", "backer-poured", "backer-packed"),
                ("job.toml", "[piece.edge]", '[piece.wall]\nR1 = "dammed"\n[piece.edge]'),
                ("shop.toml", "backer-poured", "backer-packed"),
            ],
            "backer-packed is packed and stands by itself",
        ),
        (
            [("job.toml", "[piece.edge]", '[piece.wall]\nR9 = "dammed"\n[piece.edge]')],
            r"\[piece.wall\] names R9; the walls that carry layers are R1, R2",
        ),
    ],
    ids=["no mix", "other placing", "stands anyhow", "no such wall"],
)
def test_ways_that_contradict_the_job_are_refused(tmp_path, changes, says):
    with pytest.raises(BatchError, match=says):
        takeoff.bid(changed_job(tmp_path, *changes))


def test_ids_of_walls_hold_for_the_drawing_they_were_read_off(tmp_path):
    job = changed_job(tmp_path)
    text = SHA.sub("", job.read_text(encoding="utf-8")).replace("[piece.edge]\nE3 = 0", "")
    job.write_text(text + '\n[piece.wall]\nR1 = "cored"\n', encoding="utf-8")
    with pytest.raises(SurfaceError, match="R1 is read off a drawing; add this line"):
        takeoff.bid(job)


@pytest.fixture(scope="module")
def basin():
    """A solid basin whose rim is so narrow that the layers on both its sides meet there."""
    surfaces, solid_m3 = bowl((0.56, 0.36), (0.46, 0.26))
    laid = lay(surfaces, face_coat=everywhere(0.004), backer=everywhere(0.016), solid_m3=solid_m3)
    unit = DrawingUnit("m", 1.0, "told")
    return MeasuredPiece(
        "basin", "basin.stl", "0" * 64, unit, "piece", surfaces, laid, solid_m3, notes=()
    )


def filled_of(basin, walls, other=Way.DAMMED):
    """What is bought to fill some walls of a basin while the others go another way."""
    told = OrderedPiece(
        None, Path("basin.stl"), None, None, None, None, {}, {}, {}, None, None, (), 1, ""
    )
    ids = [wall.surface for wall in basin.layers.walls]
    ways = {wall: Way.FILLED if wall in walls else other for wall in ids}
    volumes = portion_volumes(basin, told, ways)
    return sum(one.volume_m3 for one in volumes), sum(
        one.volume_m3 for one in volumes if one.surface_class == FILL
    )


def test_the_space_between_two_walls_is_bought_once_whichever_is_filled(basin):
    depth_m = {one.id: one.depth_m for one in basin.surfaces.surfaces}
    walls = [wall.surface for wall in basin.layers.walls]
    outer = [wall for wall in walls if depth_m[wall] > 0.15]
    inner = [wall for wall in walls if depth_m[wall] < 0.15]
    assert (len(outer), len(inner)) == (4, 4)
    all_m3, filled_m3 = filled_of(basin, walls)
    assert all_m3 == pytest.approx(basin.solid_m3, rel=1e-6)  # 16.149 L: no hollow is left
    assert filled_of(basin, outer) == filled_of(basin, outer[:1]) == (all_m3, filled_m3)
    of_inner = {filled_of(basin, walls)[1] for walls in (inner, inner[:1], inner[2:])}
    [inner_m3] = of_inner
    # Above the floor of the bowl, counted by hand: 2.05 L; the rest lies below it.
    assert inner_m3 == pytest.approx(0.00205, rel=0.01)
    assert filled_of(basin, [outer[0], *inner])[1] == filled_m3 > inner_m3


def test_walls_across_one_gap_are_all_allowed_a_dam_and_their_filling_is_noted(basin):
    rows = ways_of(
        basin,
        way_mixes([WayMix(read_mix("backer-poured"))]),
        face_coat=read_mix("face-coat-sprayed"),
    )
    assert all(row.feasible for row in rows)
    filled = [row for row in rows if row.way is Way.FILLED]
    inner = [row for row in filled if row.depth_m < 0.15]
    [note] = filling_notes(basin, inner)
    assert f"takes {filled_of(basin, [inner[0].surface])[1] * 1e3:.4g} L" in note.text
    [note] = filling_notes(basin, filled)
    assert f"takes {basin.layers.filled_m3 * 1e3:.4g} L" in note.text
