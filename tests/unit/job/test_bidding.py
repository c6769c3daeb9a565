import json
from decimal import Decimal

import pytest

import takeoff
from takeoff.errors import BatchError, ShopFileError, UnitMissingError
from takeoff.notes import NoteCode
from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"


@pytest.fixture(scope="module")
def hall():
    return takeoff.bid(SAMPLES / "job.toml")


CHARGES = "# What the shop charges besides."


def unpriced_job(folder, *changes):
    """Copy the sample job with some of its text changed and without labour, rates and terms."""
    job = changed_job(folder, *changes)
    shop = folder / "shop.toml"
    shop.write_text(shop.read_text(encoding="utf-8").partition(CHARGES)[0], encoding="utf-8")
    return job


def changed_job(folder, *changes):
    """Copy the sample job with some of its text changed."""
    for path in (path for path in SAMPLES.iterdir() if path.is_file()):
        (folder / path.name).write_bytes(path.read_bytes())
    for name, old, new in changes:
        text = (folder / name).read_text(encoding="utf-8")
        assert old in text
        (folder / name).write_text(text.replace(old, new, 1), encoding="utf-8")
    return folder / "job.toml"


def test_mass_is_neither_lost_nor_made_between_batches_and_pieces(hall):
    for lot in hall.to_dict()["batch"]["lots"]:
        weighed_kg = lot["batch_count"] * lot["mass_kg"]
        parts_kg = lot["placed_kg"] + lot["loss_kg"] + lot["residue_kg"] + lot["leftover_kg"]
        assert weighed_kg == pytest.approx(parts_kg, rel=1e-12)
        assert lot["leftover_kg"] >= -1e-9
        assert sum(row["mass_kg"] for row in lot["ingredients"]) == pytest.approx(lot["mass_kg"])


def test_what_is_placed_is_what_the_pieces_weigh(hall):
    document = hall.to_dict()
    placed_kg = sum(lot["placed_kg"] for lot in document["batch"]["lots"])
    wet_kg = sum(piece["wet_kg"] * piece["count"] for piece in document["pieces"])
    assert placed_kg == pytest.approx(wet_kg, rel=1e-12)


def test_materials_add_up_to_what_is_weighed(hall):
    document = hall.to_dict()
    weighed_kg = sum(lot["batch_count"] * lot["mass_kg"] for lot in document["batch"]["lots"])
    order_kg = sum(row["order_kg"] for row in document["materials"])
    assert order_kg == pytest.approx(weighed_kg, rel=1e-12)
    for row in document["materials"]:
        assert row["order_kg"] == pytest.approx(row["net_kg"] + row["loss_kg"])


def test_packs_cover_the_order(hall):
    for material in hall.materials:
        if material.purchase is not None:
            [bought] = material.purchase.bought
            held_kg = bought.packs * bought.pack.pack_kg
            assert held_kg >= material.order_kg - 1e-9
            assert held_kg - bought.pack.pack_kg < material.order_kg


def test_overspray_is_a_share_of_what_leaves_the_gun(hall):
    face, backer = hall.lots
    gross_kg = face.placed_kg + face.lost_kg
    assert face.lost_kg == pytest.approx(0.10 * gross_kg)
    assert backer.lost_kg == 0.0


def test_there_is_no_total_while_no_labour_is_priced(tmp_path):
    made = takeoff.bid(unpriced_job(tmp_path))
    document = made.to_dict()
    assert document["total"] is None
    assert NoteCode.MATERIAL_ONLY in [note.code for note in made.notes]
    assert "MATERIAL ONLY" in json.dumps(document["notes"])
    assert {line["kind"] for line in document["lines"]} == {"material"}
    total = sum(Decimal(line["amount"]) for line in document["lines"])
    assert Decimal(document["material_total"]) == total == Decimal("865.10")


def test_a_batch_not_held_against_pot_life_is_noted(hall):
    [note] = [note for note in hall.notes if "not checked against pot life" in note.text]
    assert note.code is NoteCode.DEFAULT_USED
    assert note.where == "face-coat-sprayed"


def test_pot_life_makes_more_and_smaller_batches(tmp_path, hall):
    job = changed_job(tmp_path, ("job.toml", 'pot_life = "30 min"', 'pot_life = "10 min"'))
    [_, backer] = takeoff.bid(job).lots
    assert backer.lot.bound.value == "pot_life"
    assert backer.lot.batch_count > hall.lots[1].lot.batch_count


def test_the_usual_unit_and_kind_of_the_shop_serve_where_a_piece_tells_none(tmp_path):
    job = changed_job(
        tmp_path,
        ("job.toml", 'unit = "mm"\nkind = "open"\n', ""),
        ("shop.toml", "[[mixer]]", 'unit = "mm"\nkind = "open"\n\n[[mixer]]'),
    )
    counter = takeoff.bid(job).pieces[0].cast.measured
    assert counter.unit.name == "mm"
    assert counter.surfaces.area_m2["show_face"] == pytest.approx(1.37)


def test_a_piece_without_a_unit_is_refused_at_its_drawing(tmp_path):
    job = changed_job(tmp_path, ("job.toml", 'unit = "in"\n', ""))
    with pytest.raises(
        UnitMissingError,
        match=r"job\.toml:2\d: piece\[2\]: .*hearth-surround\.stl: .*would measure",
    ):
        takeoff.bid(job)


def test_a_mix_that_no_mixer_suits_is_refused(tmp_path):
    job = changed_job(
        tmp_path,
        ("shop.toml", 'residue = "0.2 kg"', 'residue = "0.2 kg"\nsuits = ["other"]'),
    )
    with pytest.raises(BatchError, match="no mixer suits face-coat-sprayed"):
        takeoff.bid(job)


def test_a_mixer_kept_for_a_mix_that_is_not_there_is_noted(tmp_path):
    job = changed_job(tmp_path, ("shop.toml", '["backer-poured"]', '["backer-pored"]'))
    [note] = [note for note in takeoff.bid(job).notes if note.code is NoteCode.MIX_UNKNOWN]
    assert (note.where, "'backer-pored'" in note.text) == ("pan mixer", True)


def test_a_drawing_that_is_not_there_is_refused(tmp_path):
    job = changed_job(tmp_path, ("job.toml", "wall-panel.dxf", "wall-panl.dxf"))
    with pytest.raises(takeoff.TakeoffError, match=r"wall-panl\.dxf: there is no such file"):
        takeoff.bid(job)


def test_an_unknown_mix_is_refused(tmp_path):
    job = changed_job(tmp_path, ("job.toml", '"backer-poured"', '"backer-pored"'))
    with pytest.raises(ShopFileError, match="backer-poured"):
        takeoff.bid(job)


def test_a_bid_shows_itself_in_a_notebook(hall):
    assert "white-cement" in hall._repr_html_()
