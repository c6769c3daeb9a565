import io
import zipfile
from decimal import Decimal

import openpyxl
import pytest

import takeoff
from takeoff.errors import MissingExtraError, PriceError
from takeoff.job.result import refused_bid
from takeoff.report.bid_workbook import workbook_bytes
from takeoff.report.pour_clock import batch_clocks
from takeoff.report.pour_words import day_heading, default_lines
from tests.unit.report.books_read import FUNCTIONS, formulas, names, row_of, values
from tests.unit.report.sheet_samples import bid_of_material, bid_with_clock

pytest.importorskip("xlsxwriter")

HOSTILE = (
    '=1+1',
    "+cmd|' /C calc'!A0",
    "-2+3",
    "@SUM(A1)",
    "  =HYPERLINK(\"http://nowhere\")",
    "</t></si><script>&amp;",
    "a_x0041_b",
    "https://nowhere/",
    "0012",
    "Зал ожидания",
    "候船大厅",
    "ferry ⛴ 🧱",
    "../../etc",
    "&L&R&P " * 30,
    "x" * 300,
)  # fmt: skip


def close(told):
    """As the file keeps it: sixteen digits."""
    return pytest.approx(told, rel=1e-14)


@pytest.fixture(scope="module")
def hall():
    return takeoff.bid("samples/ferry-hall/job.toml").to_dict()


@pytest.fixture(scope="module")
def panels():
    return takeoff.bid("samples/ferry-hall/panels.toml").to_dict()


def in_us(document):
    return document | {"settings": {**document["settings"], "show_units": "us"}}


def material_only(document):
    lines = [line for line in document["lines"] if line["kind"] in {"material", "item", "rate"}]
    return document | {"lines": lines, "total": None, "total_range": None}


def test_every_line_stands_with_the_figures_of_the_document(hall, panels):
    for document in (hall, panels):
        cells = values(workbook_bytes(document))
        for line in document["lines"]:
            name = line["what"].split(" of ")[0] if "of the sum" in line["unit"] else line["what"]
            row = row_of(cells, "Bid", name, C=line["unit"])
            told = [float(line[key]) for key in ("quantity", "price", "amount")]
            assert [row[column] for column in "BDE"] == told


def test_sums_are_those_of_the_document(hall, panels):
    for document in (hall, panels):
        content = workbook_bytes(document)
        cells, named = values(content), names(content)
        assert cells[named["total"]] == float(document["total"])
        bought = [line for line in document["lines"] if line["kind"] in {"material", "item"}]
        assert cells[named["material_total"]] == float(document["material_total"])
        assert sum(Decimal(line["amount"]) for line in bought) == Decimal(
            document["material_total"]
        )
        assert row_of(cells, "Bid", f"TOTAL {document['currency']}")["E"] == float(
            document["total"]
        )


def test_amounts_sums_and_terms_are_formulas(hall):
    content = workbook_bytes(hall)
    cells = formulas(content)
    live = {**values(content), **cells}
    for line in hall["lines"][:-2]:
        row = row_of(live, "Bid", line["what"], C=line["unit"])
        assert row["D"].startswith("=")
        assert row["E"].startswith("=ROUND(")
        assert str(row["B"]).startswith("=") == (line["kind"] in {"material", "labour"})
    text = " ".join(cells.values())
    for name in ("markup", "tax", "minimum_charge", "hour_price", "extra_loss", "material_short"):
        assert name in text


@pytest.mark.parametrize(
    ("lacks", "words"),
    [(None, "minimum charge: nothing to add"), ("120.50", "up to the minimum charge")],
)
def test_the_row_of_the_minimum_charge_says_whether_anything_is_added(hall, lacks, words):
    row = {"what": "x", "quantity": "1", "unit": "job", "price": lacks, "amount": lacks,
           "kind": "minimum", "basis": ""}  # fmt: skip
    content = workbook_bytes(hall | {"lines": [*hall["lines"], *([row] if lacks else [])]})
    found = row_of(values(content), "Bid", words, C="job")
    assert (found["D"], found["E"]) == (float(lacks or 0), float(lacks or 0))
    live = next(text for (_, at), text in formulas(content).items() if words in text)
    assert live.startswith("=IF(E")


def test_formulas_are_those_that_every_spreadsheet_reckons_alike(hall, panels):
    for document in (hall, panels, in_us(panels), material_only(hall)):
        content = workbook_bytes(document)
        cells, cached = formulas(content), values(content)
        used = {name for text in cells.values() for name in FUNCTIONS.findall(text)}
        assert used == {"ROUND", "ROUNDUP", "SUM", "IF", "MAX"}
        assert all(sign not in text for text in cells.values() for sign in "^&;[]{}@")
        # Text that comes to nothing is the one result that is read back as no value.
        without = [at for at in cells if at not in cached]
        assert [cells[at].startswith("=IF(material_short>0") for at in without] == [True]


def test_materials_are_those_of_the_document(hall, panels):
    for document in (hall, panels):
        content = workbook_bytes(document)
        cells = values(content)
        for material in document["materials"]:
            row = row_of(cells, "Materials", material["ingredient"])
            told = [material["net_kg"], material["loss_kg"], 0.0, material["order_kg"]]
            assert [row[column] for column in "BCDE"] == close(told)
            if material["cost"] is None:
                assert row["O"] == "not bought"
                assert not {"G", "H", "J", "L", "N"} & set(row)
                continue
            [bought] = material["bought"]
            assert row["H"] == bought["pack"]
            assert row["J"] == bought["packs"]
            assert [row["K"], row["L"]] == [float(bought["price"]), float(bought["cost"])]
            assert row["M"] == close(material["left_over_kg"])
            assert row["N"] == 0.0


def test_packs_are_counted_by_a_formula_only_where_one_size_is_sold(panels):
    content = workbook_bytes(panels)
    live = {**values(content), **formulas(content)}
    assert row_of(live, "Materials", "white-cement")["J"].startswith("=MAX(0,ROUNDUP(")
    sand = row_of(live, "Materials", "silica-sand")
    assert sand["J"] == 1
    assert sand["O"] == "as bid: cheapest of 25 kg, 500 kg"
    assert any("least-cost choice" in str(value) for value in live.values())
    notes = [value for (sheet, _), value in live.items() if sheet == "Inputs"]
    assert "the sizes bought stay as the bid chose them; bid again if prices move" in notes
    assert "lot C7 holds 300 kg of the 381.73 kg that must all come from one lot" in live.values()


def stocked(document, *, drawn_kg, packs):
    """The hall, with cement in stock."""
    row = next(one for one in document["materials"] if one["ingredient"] == "white-cement")
    bought = [{**row["bought"][0], "packs": packs, "cost": f"{packs * 14.2:.2f}"}] if packs else []
    changed = row | {
        "from_stock": [{"lot": "C7", "mass_kg": drawn_kg}],
        "bought": bought,
        "cost": f"{packs * 14.2:.2f}",
        "left_over_kg": max(0.0, packs * 25.0 - (row["order_kg"] - drawn_kg)),
    }
    materials = [changed if one is row else one for one in document["materials"]]
    lines = [
        line | {"quantity": str(packs), "amount": f"{packs * 14.2:.2f}"}
        if line["what"] == "white-cement"
        else line
        for line in document["lines"]
        if packs or line["what"] != "white-cement"
    ]
    return document | {"materials": materials, "lines": lines}


def test_stock_is_taken_off_and_named(hall):
    content = workbook_bytes(stocked(hall, drawn_kg=100.0, packs=12))
    live = row_of({**values(content), **formulas(content)}, "Materials", "white-cement")
    assert live["F"] == 100.0
    assert live["J"].startswith("=MAX(0,ROUNDUP(")
    assert live["O"] == "counted here, rounded up; 100 kg in stock, lot C7"
    cached = row_of(values(content), "Materials", "white-cement")
    assert cached["G"] == pytest.approx(286.88)
    assert cached["J"] == 12


def test_what_comes_all_from_stock_has_no_packs(hall):
    content = workbook_bytes(stocked(hall, drawn_kg=386.88, packs=0))
    row = row_of(values(content), "Materials", "white-cement")
    assert row["O"] == "all from stock; 386.9 kg in stock, lot C7"
    assert not {"H", "J", "L"} & set(row)
    assert row["N"] == 0.0


def test_pieces_and_layers_are_those_of_the_document(hall, panels):
    for document in (hall, panels):
        cells = values(workbook_bytes(document))
        for piece in document["pieces"]:
            row = row_of(cells, "Pieces", piece["name"])
            area_m2 = piece["area_m2"]
            told = [
                piece["count"],
                piece["forms"],
                area_m2["show_face"],
                area_m2["return"],
                area_m2["upright"],
                piece["form_area_m2"],
                piece["wet_kg"],
                piece["cured_kg"],
                piece["handling_kg"],
                piece["count"] * piece["wet_kg"],
            ]
            assert [row[column] for column in "BCDEFGIJKL"] == close(told)
            true_m3 = sum(piece["layer_volume_m3"].values())
            flat_m3 = sum(piece["flat_volume_m3"].values())
            both = row_of(cells, "Layers", piece["name"], B="both layers")
            assert [both["F"], both["G"]] == close([1000.0 * flat_m3, 1000.0 * true_m3])
            assert both["H"] == pytest.approx(flat_m3 / true_m3 - 1.0, rel=1e-9)


def test_batches_are_those_of_the_document(hall):
    cells = values(workbook_bytes(hall))
    for lot in hall["batch"]["lots"]:
        row = row_of(cells, "Batches", lot["mix"])
        told = [lot[key] for key in ("batch_count", "mass_kg", "placed_kg", "loss_kg")]
        assert [row[column] for column in "DEHI"] == close(told)
        assert [row["J"], row["K"]] == close([lot["residue_kg"], lot["leftover_kg"]])
        assert row["G"] == close(lot["batch_count"] * lot["mass_kg"])
    assert row_of(cells, "Batches", "all mixes")["D"] == hall["batch"]["batch_count"]
    weighed = [
        value for (sheet, at), value in cells.items() if sheet == "Weighing" and at[0] == "E"
    ]
    told = [line["mass_kg"] for lot in hall["batch"]["lots"] for line in lot["ingredients"]]
    assert weighed[1:] == close(told)
    for lot in hall["batch"]["lots"]:
        mixing = row_of(cells, "Weighing", None, B=lot["mix"])
        assert mixing["G"] == "mix 3 min, rest 3 min, mix again 2 min"


def test_inputs_are_marked_named_and_held_to_what_they_can_be(hall):
    content = workbook_bytes(hall)
    sheet = openpyxl.load_workbook(io.BytesIO(content))["Inputs"]
    held = {
        cell for one in sheet.data_validations.dataValidation for cell in str(one.sqref).split()
    }
    marked = {
        cell.coordinate
        for row in sheet.iter_rows()
        for cell in row
        if cell.fill.fgColor.rgb == "FFFFF2CC"
    }
    assert held == marked
    assert all(isinstance(sheet[cell].value, int | float) for cell in marked)
    assert all(sheet[cell.replace("C", "D")].value for cell in marked)
    named = names(content)
    told = {"markup": 0.15, "tax": 0.2, "minimum_charge": 250.0, "hour_price": 38.0}
    for name, value in (told | {"extra_loss": 0.0}).items():
        assert named[name][0] == "Inputs"
        assert sheet[named[name][1]].value == value
    prices = sum(line["kind"] in {"material", "rate"} for line in hall["lines"])
    hours = sum(line["kind"] == "labour" for line in hall["lines"])
    assert len(marked) == len(told) + 1 + prices + hours


def test_material_only_is_said_and_has_no_total(hall):
    content = workbook_bytes(material_only(hall))
    cells, named = values(content), names(content)
    assert "MATERIAL ONLY" in cells["Bid", "A2"]
    book = openpyxl.load_workbook(io.BytesIO(content))
    assert {sheet.oddFooter.left.text for sheet in book} == {"Ferry hall, MATERIAL ONLY"}
    assert row_of(cells, "Bid", "MATERIAL ONLY EUR")["E"] == float(hall["material_total"])
    assert not {"total", "markup", "tax", "minimum_charge", "hour_price"} & set(named)
    assert not any(str(value).startswith("TOTAL") for value in cells.values())
    assert row_of(cells, "Bid", "besides in all")["E"] == pytest.approx(648.14)


def test_notes_and_cautions_are_all_there(hall, panels):
    for document in (hall, panels, material_only(hall)):
        said = [
            value
            for (sheet, _), value in values(workbook_bytes(document)).items()
            if sheet == "Notes and cautions"
        ]
        told = [*document["notes"], *(note for one in document["pieces"] for note in one["notes"])]
        assert {note["text"] for note in told} <= set(said)
        assert set(document["cautions"]) <= set(said)
        assert document["cautions"]


def test_assumptions_stand_with_what_hangs_on_them(panels):
    cells = values(workbook_bytes(panels))
    for one in panels["assumptions"]:
        row = row_of(cells, "Assumptions", one["what"])
        assert (row["B"], row["C"], row["D"]) == (
            one["value"],
            float(one["low"]),
            float(one["high"]),
        )
    row = row_of(cells, "Assumptions", "total")
    ends = panels["total_range"]
    assert (row["C"], row["D"]) == (float(ends["low"]), float(ends["high"]))


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_is_text_everywhere(hall, name):
    piece = hall["pieces"][0] | {"name": name}
    material = hall["materials"][1] | {"ingredient": name}
    lines = [
        line | {"what": name} if line["what"] == "acrylic-dispersion" else line
        for line in hall["lines"]
    ]
    lines[4] = lines[4] | {"what": name}
    lot = hall["batch"]["lots"][0] | {"mix": name}
    document = hall | {
        "job": name,
        "pieces": [piece, *hall["pieces"][1:]],
        "materials": [hall["materials"][0], material, *hall["materials"][2:]],
        "lines": lines,
        "batch": hall["batch"] | {"lots": [lot, *hall["batch"]["lots"][1:]]},
        "notes": [{"code": "mended", "text": name, "where": name}],
    }
    content = workbook_bytes(document)
    book = openpyxl.load_workbook(io.BytesIO(content))
    found = [
        cell
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.value == name.replace("_x0041_", "A") or cell.value == name
    ]
    assert len(found) > 8
    assert {cell.data_type for cell in found} == {"s"}
    inert = name.lstrip().startswith(("=", "+", "-", "@"))
    assert {cell.quotePrefix for cell in found} == {inert}
    assert not any(name in text for text in formulas(content).values())
    assert all(len(sheet.oddFooter.left.text) <= 120 for sheet in book)
    with zipfile.ZipFile(io.BytesIO(content)) as files:
        assert not any("hyperlink" in files.read(one).decode().lower() and "http" in one
                       for one in files.namelist())  # fmt: skip


def test_a_name_that_is_no_text_does_no_harm(hall):
    content = workbook_bytes(hall | {"job": "hall \udcff"})
    assert values(content)["Bid", "A1"] == "hall ?"


def test_the_same_bid_gives_the_same_bytes(hall, panels):
    assert workbook_bytes(hall) == workbook_bytes(hall)
    with zipfile.ZipFile(io.BytesIO(workbook_bytes(panels))) as files:
        assert {one.date_time for one in files.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert "2000-01-01T00:00:00Z" in files.read("docProps/core.xml").decode()


def test_units_and_paper_follow_what_the_job_shows(hall):
    metric, us = workbook_bytes(hall), workbook_bytes(in_us(hall))
    sizes = [
        {sheet.page_setup.paperSize for sheet in openpyxl.load_workbook(io.BytesIO(content))}
        for content in (metric, us)
    ]
    assert sizes == [{9}, {1}]
    row, si = (
        row_of(values(us), "Pieces", "wall panel"),
        row_of(values(metric), "Pieces", "wall panel"),
    )
    assert row["D"] * 0.09290304 == pytest.approx(si["D"], rel=1e-12)
    assert row["I"] * 0.45359237 == pytest.approx(si["I"], rel=1e-12)
    heads = set(values(us).values())
    assert {"show face, sq ft", "wet, lb", "thickness, in", "true volume, gal"} <= heads
    assert names(us) == names(metric)
    assert values(us)[names(us)["total"]] == values(metric)[names(metric)["total"]]


def test_every_sheet_is_set_up_to_be_printed_and_scrolled(hall):
    book = openpyxl.load_workbook(io.BytesIO(workbook_bytes(hall)))
    assert book.sheetnames == [
        "Bid", "Inputs", "Pieces", "Layers", "Materials", "Batches", "Weighing", "Assumptions",
        "Notes and cautions",
    ]  # fmt: skip
    for sheet in book:
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.page_setup.fitToHeight == 0
        assert sheet.print_title_rows
        assert sheet.freeze_panes
        assert "&P" in sheet.oddFooter.right.text
        assert "&N" in sheet.oddFooter.right.text


def test_a_refused_bid_gives_its_reasons_and_no_figures():
    document = refused_bid("hall.toml", PriceError("no pack and price for sand"))
    content = workbook_bytes(document)
    cells = values(content)
    assert {sheet for sheet, _ in cells} == {"Refused"}
    assert cells["Refused", "A1"] == "REFUSED: hall.toml"
    assert row_of(cells, "Refused", "REFUSED")["C"] == "no pack and price for sand"
    assert not formulas(content)


def test_many_pieces_are_counted_at_the_head_of_the_bid(hall):
    many = [hall["pieces"][0] | {"name": f"panel {number}"} for number in range(40)]
    cells = values(workbook_bytes(hall | {"pieces": many}))
    assert cells["Bid", "A3"] == "40 castings of 40 pieces, listed on the sheet Pieces"
    assert values(workbook_bytes(hall))["Bid", "A3"] == (
        "1 x ticket counter, 1 x hearth surround, 6 x wall panel"
    )


def test_without_the_library_the_extra_is_named(hall, monkeypatch):
    monkeypatch.setattr("takeoff.report.bid_workbook.find_spec", lambda name: None)
    with pytest.raises(MissingExtraError, match=r"bid\.xlsx: .* needs the extra \[report\]"):
        workbook_bytes(hall)


@pytest.fixture(scope="module")
def poured():
    """The pour day of the hall."""
    return bid_with_clock()


def test_a_pour_day_stands_batch_by_batch(poured):
    cells = values(workbook_bytes(poured))
    batches = [batch for day in poured["pour_day"]["days"] for batch in day["batches"]]
    assert len(batches) == poured["pour_day"]["batch_count"] > 10
    for batch in batches:
        row = row_of(cells, "Pour day", batch["id"])
        assert [row[column] for column in "BD"] == [batch["mix"], batch["mixer"]]
        assert [row["E"], row["F"]] == close([batch["mass_kg"], 1000.0 * batch["volume_m3"]])
        assert tuple(row[column] for column in "GHI") == batch_clocks(batch)
        assert all(one["piece"] in row["L"] for one in batch["parts"])
    said = set(cells.values())
    assert {day_heading(day) for day in poured["pour_day"]["days"]} <= said
    assert set(default_lines(poured["pour_day"])) <= said
    assert "MATERIAL ONLY" not in cells["Bid", "A2"]
    assert "MATERIAL ONLY" in values(workbook_bytes(bid_of_material()))["Bid", "A2"]


def test_a_pour_without_a_plan_says_why(poured):
    finding = {
        "rule": "pot life",
        "where": "backer",
        "value": 2400.0,
        "limit": 1800.0,
        "unit": "s",
        "fix": "a longer pot life",
        "enough": True,
    }
    pour = poured["pour_day"] | {
        "feasible": False, "findings": [finding], "days": [], "risk": None, "more_hands": None,
    }  # fmt: skip
    cells = values(workbook_bytes(poured | {"pour_day": pour}))
    said = [value for (sheet, _), value in cells.items() if sheet == "Pour day"]
    assert any("backer: pot life" in text and "a longer pot life" in text for text in said)
