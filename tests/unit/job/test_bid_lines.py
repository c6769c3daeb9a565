"""What a bid charges, what it takes for granted, and what its forms take."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

import takeoff
from takeoff.errors import PriceError, ShopFileError
from takeoff.notes import NoteCode
from tests.unit.job.test_bidding import CHARGES, SAMPLES, changed_job, unpriced_job

SHOP = "[[mixer]]"
BUCKET = 'residue = "0.2 kg"\nsuits = ["face-coat-sprayed"]'
STOCK = """\
[[stock]]
ingredient = "silica-sand"
mass = "40 kg"
lot = "S1"

[[stock]]
ingredient = "white-cement"
mass = "300 kg"
lot = "C7"

[[stock]]
ingredient = "acrylic-dispersion"
mass = "20 kg"
use_by = "2026-11-01"

[[mixer]]"""


@pytest.fixture(scope="module")
def priced():
    return takeoff.bid(SAMPLES / "job.toml")


def test_every_line_is_quantity_times_price_and_the_total_their_sum(priced):
    document = priced.to_dict()
    for line in document["lines"]:
        product = Decimal(line["quantity"]) * Decimal(line["price"])
        assert abs(Decimal(line["amount"]) - product) <= Decimal("0.005")
    total = sum(Decimal(line["amount"]) for line in document["lines"])
    assert Decimal(document["total"]) == total


def test_with_labour_priced_nothing_says_material_only(priced):
    assert priced.total is not None
    assert NoteCode.MATERIAL_ONLY not in [note.code for note in priced.notes]


def test_rates_without_labour_are_listed_and_not_added(tmp_path):
    boards = '[[rate]]\nwhat = "form boards"\nper = "form_m2"\nprice = "22.50"\n\n[[mixer]]'
    made = takeoff.bid(unpriced_job(tmp_path, ("shop.toml", SHOP, boards)))
    assert made.total is None
    assert made.material_total == Decimal("865.10")
    [note] = [note for note in made.notes if note.code is NoteCode.MATERIAL_ONLY]
    assert "listed, and not added: form boards" in note.text


def test_forms_count_once_and_castings_every_time(tmp_path):
    job = changed_job(tmp_path, ("job.toml", "count = 6\n", "count = 6\nforms = 2\n"))
    made = takeoff.bid(job)
    counter, surround, panel = [piece.cast.measured for piece in made.pieces]
    areas_m2 = [one.form_area_m2 for one in (counter, surround, panel)]
    inner_m2 = [one.layers.inner_form_m2 for one in (counter, surround, panel)]
    work = made.work
    assert work.form_count == 4
    assert work.form_m2 == pytest.approx(areas_m2[0] + areas_m2[1] + 2 * areas_m2[2])
    assert work.inner_form_m2 == pytest.approx(inner_m2[0] + inner_m2[1] + 2 * inner_m2[2])
    assert work.sealer_m2 == pytest.approx(areas_m2[0] + areas_m2[1] + 6 * areas_m2[2])
    both = [area + inner for area, inner in zip(areas_m2, inner_m2, strict=True)]
    assert work.release_m2 == pytest.approx(both[0] + both[1] + 6 * both[2])


def test_stock_is_used_unless_it_is_too_old_or_would_mix_lots(tmp_path):
    made = takeoff.bid(changed_job(tmp_path, ("shop.toml", SHOP, STOCK)))
    by_name = {one.ingredient: one.purchase for one in made.materials if one.purchase}
    assert [drawn.lot for drawn in by_name["silica-sand"].from_stock] == ["S1"]
    # white cement colours the face: all of it from one lot, and 300 kg do not cover the order
    assert by_name["white-cement"].from_stock == ()
    assert by_name["acrylic-dispersion"].from_stock == ()
    notes = [note for note in made.notes if note.code is NoteCode.STOCK_PASSED_OVER]
    assert {note.where for note in notes} == {"white-cement", "acrylic-dispersion"}
    assert any("past its use-by 2026-11-01 on 2026-11-25" in note.text for note in notes)


def test_the_shop_may_say_that_lots_need_not_match(tmp_path):
    told = 'ingredient = "white-cement"\npack = "25 kg"\nprice = "14.20"\none_lot = false'
    plain = 'ingredient = "white-cement"\npack = "25 kg"\nprice = "14.20"'
    job = changed_job(tmp_path, ("shop.toml", SHOP, STOCK), ("shop.toml", plain, told))
    by_name = {one.ingredient: one.purchase for one in takeoff.bid(job).materials if one.purchase}
    assert [drawn.mass_kg for drawn in by_name["white-cement"].from_stock] == [300.0]


def test_several_packs_of_one_ingredient_are_listed_one_by_one(tmp_path):
    sacks = '[[price]]\ningredient = "silica-sand"\npack = "320 kg"\nprice = "60.00"\n\n[[mixer]]'
    made = takeoff.bid(changed_job(tmp_path, ("shop.toml", SHOP, sacks)))
    [row] = [row for row in made.to_dict()["materials"] if row["ingredient"] == "silica-sand"]
    assert [(one["pack"], one["packs"]) for one in row["bought"]] == [("320 kg", 1), ("25 kg", 3)]
    assert (row["pack"], row["packs"], row["cost"]) == (None, None, "83.70")


def test_what_is_taken_for_granted_is_listed_by_money(priced):
    stakes = {stake.what: stake for stake in priced.stakes}
    assert [stake.most for stake in priced.stakes] == sorted(
        (stake.most for stake in priced.stakes), reverse=True
    )
    # 5 forms of 3.276 m2 less, with their dams and beads, 15 % of markup, 20 % of tax
    form = stakes["forms of wall panel"]
    panel = priced.pieces[2].cast.measured
    boards = panel.form_area_m2 * (22.5 + 1.2 * 38.0) + panel.surfaces.arris_m * 0.45
    less = 5 * (boards + panel.layers.inner_form_m2 * 0.8 * 38.0)
    assert float(form.low) == pytest.approx(-less * 1.15 * 1.2, abs=0.01)
    assert stakes["edge E3 of wall panel"].low == Decimal(0)
    past = stakes["overspray of the face coat"]
    assert past.low == -past.high


def test_an_edge_is_held_against_coated_where_walls_are_told_by_id(tmp_path):
    job = changed_job(tmp_path)
    with job.open("a", encoding="utf-8") as file:
        file.write('\n[piece.wall]\nR7 = "cored"\n')
    stakes = {stake.what: stake for stake in takeoff.bid(job).stakes}
    assert stakes["edge E3 of wall panel"].high > 0


def test_items_are_weighed_and_charged(tmp_path):
    bracket = '[[piece.item]]\nname = "bracket"\nmass = "0.4 kg"\nprice = "3.20"\ncount = 4\n'
    job = changed_job(tmp_path)
    text = job.read_text(encoding="utf-8")
    job.write_text(text.replace("[piece.edge]", bracket + "[piece.edge]"), encoding="utf-8")
    made = takeoff.bid(job)
    [line] = [line for line in made.to_dict()["lines"] if line["kind"] == "item"]
    assert (line["what"], line["quantity"], line["amount"]) == ("bracket", "24", "76.80")
    weights = made.pieces[2].weighed.weights
    assert weights.handling_kg == pytest.approx(weights.wet_kg + 1.6)


def test_what_is_too_large_or_too_heavy_for_the_shop_is_noted(tmp_path):
    limits = 'max_piece = "2.5 m x 1.5 m"\nmax_kg = "100 kg"\n\n[[mixer]]'
    made = takeoff.bid(changed_job(tmp_path, ("shop.toml", SHOP, limits)))
    panel = made.pieces[2].weighed.notes
    assert any("200 mm too long" in note.text for note in panel)
    assert any("max_kg is 100 kg" in note.text for note in panel)


def test_a_thickness_range_gives_a_range_of_the_total(tmp_path):
    job = changed_job(
        tmp_path,
        ("job.toml", 'thickness = "16 mm"', 'thickness = "12-16-22 mm"'),
    )
    made = takeoff.bid(job)
    low, high = made.total_range
    assert low < made.total < high
    row = made.to_dict()["total_range"]
    assert (row["low"], row["aimed"], row["high"]) == (f"{low}", f"{made.total}", f"{high}")
    assert made.stakes[0].what == "forms of wall panel"
    assert any(stake.what == "thickness of the backer" for stake in made.stakes)


def test_a_rate_by_what_the_job_does_not_count_is_refused(tmp_path):
    day = '[[rate]]\nwhat = "crane"\nper = "day"\nprice = "300.00"\n\n[[mixer]]'
    job = changed_job(tmp_path, ("shop.toml", SHOP, day))
    with pytest.raises(PriceError, match="'crane' per day"):
        takeoff.bid(job)


def test_a_rate_in_hours_needs_the_price_of_an_hour(tmp_path):
    rate = '[[rate]]\nwhat = "build"\nper = "form_m2"\nhours = "1 h"\n\n[[mixer]]'
    with pytest.raises(ShopFileError, match=r"shop.toml:5: rate\[1\].hours: has no price"):
        takeoff.bid(unpriced_job(tmp_path, ("shop.toml", SHOP, rate)))


def test_a_planned_job_counts_days_and_crew_hours(tmp_path):
    for path in (path for path in SAMPLES.iterdir() if path.is_file()):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    shop = tmp_path / "pour-shop.toml"
    rates = (
        '\n[labour]\nhour_price = "38.00"\n[[rate]]\nwhat = "crew"\nper = "hour"\nprice = "38.00"\n'
        'labour = true\n[[rate]]\nwhat = "hall"\nper = "day"\nprice = "90.00"\n'
    )
    told = shop.read_text(encoding="utf-8").partition(CHARGES)[0]
    shop.write_text(told + rates, encoding="utf-8")
    made = takeoff.bid(tmp_path / "pour-day.toml")
    by_name = {line.what: line for line in made.bill.lines}
    days = made.pour.plan.days
    assert by_name["hall"].quantity == len(days)
    hours = sum(day.makespan_s for day in days) * 2 / 3600.0
    assert float(by_name["crew"].quantity) == pytest.approx(hours, abs=0.0005)


def test_what_nobody_told_and_every_shop_has_is_noted(tmp_path):
    changes = (("job.toml", 'overspray = "10 %"\n', ""), ("job.toml", '"EUR"', '"¤"'))
    notes = takeoff.bid(changed_job(tmp_path, *changes)).notes
    said = {(note.where, note.text) for note in notes if note.code is NoteCode.DEFAULT_USED}
    text = "no overspray is counted; tell overspray in [face_coat]"
    assert ("face-coat-sprayed", text) in said
    assert ("", "no currency is told; tell currency in [job]") in said


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        (
            (
                ("shop.toml", 'capacity = "18 L"', 'capacity = "0.5 L"'),
                ("shop.toml", 'division = "10 g"', 'division = "0.01 g"'),
                ("shop.toml", 'residue = "0.2 kg"', BUCKET),
            ),
            r"takes \d+ batches of 0\.\d+ L",
        ),
        (
            (("shop.toml", 'residue = "0.2 kg"', BUCKET.replace("0.2", "20")),),
            "left over or stick to it",
        ),
    ],
    ids=["a thimble", "half thrown away"],
)
def test_batches_that_a_caster_would_ask_about_are_noted(tmp_path, changes, says):
    notes = takeoff.bid(changed_job(tmp_path, *changes)).notes
    [note] = [note for note in notes if note.code is NoteCode.ODD_BATCHES]
    assert re.search(says, note.text)
