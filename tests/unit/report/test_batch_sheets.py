"""Sheets for the wall and the mixer."""

from __future__ import annotations

import copy
import io
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import takeoff
from takeoff.documents import BidDocument
from takeoff.errors import MissingExtraError
from takeoff.report.batch_rows import batch_table
from takeoff.report.batch_sheets import pour_sheets_pdf, sheets_pdf
from takeoff.report.batch_text import pour_day_text
from takeoff.report.bid_page import page_html
from takeoff.report.bid_workbook import workbook_bytes
from takeoff.report.charts import pour_day_svg
from takeoff.report.figures import System
from takeoff.report.pour_clock import batch_clocks, clock_text
from takeoff.report.sheet_blocks import cautions_mm, draw_cautions
from takeoff.report.sheet_layout import Paper, Pen
from takeoff.report.weigh_text import weigh_text
from tests.unit.report.books_read import values
from tests.unit.report.sheet_samples import (
    bid_of,
    bid_of_material,
    bid_with_clock,
    bid_without_clock,
)

Pages = list[list[str]]


def printed(document: BidDocument, *, paper: Paper = Paper.A4) -> Pages:
    """The lines of each page, as they are printed."""
    pages: Pages = []
    new_page, write_line = Pen.new_page, Pen._print

    def begun(pen: Pen) -> float:
        pages.append([])
        return new_page(pen)

    def written(pen: Pen, text: str, *args: Any, **options: Any) -> None:
        pages[pen._pdf.page - 1].append(pen._type.ordered(text))
        write_line(pen, text, *args, **options)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Pen, "new_page", begun)
        patch.setattr(Pen, "_print", written)
        sheets_pdf(document, paper=paper)
    return pages


@cache
def with_clock(paper: Paper = Paper.A4) -> Pages:
    return printed(bid_with_clock(), paper=paper)


@cache
def without_clock() -> Pages:
    return printed(bid_without_clock())


def kilos(text: str) -> float:
    """Read a weight of a metric sheet back."""
    number, unit = text.split()
    return float(number) / (1000.0 if unit == "g" else 1.0)


def weights_on(page: list[str], weights: int) -> Iterator[tuple[float, float]]:
    """What is weighed on a page of a batch, and the running total behind it."""
    totals = [kilos(line.removeprefix("total ")) for line in page if line.startswith("total ")]
    readings = [kilos(line) for line in page if re.fullmatch(r"[\d.]+ k?g", line)]
    yield from zip(readings[:weights], totals, strict=True)


@pytest.mark.parametrize("paper", list(Paper))
def test_every_batch_of_a_pour_says_the_kilos_of_the_document(paper: Paper) -> None:
    document = bid_with_clock()
    pour = document["pour_day"]
    assert pour is not None
    for batch in (one for day in pour["days"] for one in day["batches"]):
        (page,) = [page for page in with_clock(paper) if f"Batch {batch['id']}" in page]
        lines = batch["ingredients"]
        sums = [sum(line["mass_kg"] for line in lines[: at + 1]) for at in range(len(lines))]
        told = list(weights_on(page, len(lines)))
        assert [kg for kg, _ in told] == pytest.approx([line["mass_kg"] for line in lines])
        assert [kg for _, kg in told] == pytest.approx(sums)
        assert f"{batch['mass_kg']:.2f} kg" in page
        assert all(line["name"] in page for line in lines)


def mixing_of(mix: str) -> str:
    """The line of a weigh sheet that says how long to mix."""
    (line,) = [
        line for line in weigh_text(takeoff.weigh(mix, volume="10 L").to_dict()).splitlines()
        if "mix again" in line
    ]  # fmt: skip
    return line.partition("mix")[1] + line.partition("mix")[2]


@pytest.mark.parametrize("paper", list(Paper))
def test_every_batch_says_how_long_to_mix_where_its_weigh_sheet_does(paper: Paper) -> None:
    pages = [page for page in with_clock(paper) if page[0].startswith("Batch ")]
    assert len(pages) > 10
    for page in pages:
        mix = "backer-poured" if "ar-glass-fibre" in page else "face-coat-sprayed"
        at = page.index(mixing_of(mix))
        assert "held-back water" in page[:at]
        assert ("ar-glass-fibre" in page[at:]) == (mix == "backer-poured")
        assert "whole batch" in page[at:]
    for page in without_clock()[:2]:
        assert mixing_of("face-coat-sprayed") in page


def test_where_nobody_told_how_long_to_mix_no_step_says_so() -> None:
    document: Any = copy.deepcopy(bid_without_clock())
    for lot in document["batch"]["lots"]:
        lot["mixing"] = []
    assert not [line for page in printed(document) for line in page if "mix again" in line]


def test_a_batch_says_how_the_walls_are_cast_that_it_goes_to() -> None:
    coat, backer = without_clock()[:2]
    assert not [line for line in coat if "dammed" in line]
    told = [line for line in backer if "dammed" in line]
    assert told == ["R1 to R6, U1, U2 dammed", "U1 to U8 dammed", "R1 to R7 dammed"]
    document = bid_with_clock()
    pour: Any = document["pour_day"]
    walls = {"wall panel": "R1 to R7 dammed", "hearth surround": "U1 to U8 dammed",
             "ticket counter": "R1 to R6, U1, U2 dammed"}  # fmt: skip
    for batch in (one for day in pour["days"] for one in day["batches"]):
        (page,) = [page for page in with_clock() if f"Batch {batch['id']}" in page]
        deep = {part["piece"] for part in batch["parts"] if part["class"] != "show_face"}
        of_backer = deep if batch["layer"] == "backer" else set()
        told = [line for line in page if "dammed" in line]
        assert sorted(told) == sorted(walls[piece] for piece in of_backer)
    days = " ".join(line for page in with_clock() if page[0].startswith("Day") for line in page)
    assert "wall panel, copy 2 (R1 to R7 dammed)" in days


def test_each_wall_is_told_in_its_own_way() -> None:
    document: Any = copy.deepcopy(bid_without_clock())
    counter = document["pieces"][0]
    counter["ways"] = {"R1": "cored", "U1": "filled", "U2": "packed"}
    backer = printed(document)[1]
    assert [line for line in backer if "cored" in line] == ["R1 cored; U1 filled"]
    assert not [line for line in backer if "packed" in line]


def test_a_day_has_its_sheet_for_the_wall_with_every_batch_on_it() -> None:
    pour = bid_with_clock()["pour_day"]
    assert pour is not None
    for day in pour["days"]:
        (page,) = [page for page in with_clock() if f"Day {day['day']}" in page]
        for batch in day["batches"]:
            at = page.index(batch["id"])
            mix_at, _, use_by = batch_clocks(batch)
            assert (page[at + 1], page[at + 2]) == (mix_at, use_by)
            minutes = int(batch["use_by_s"] // 300) * 5
            assert use_by == f"{minutes // 60}:{minutes % 60:02d}"
            assert f"{batch['mass_kg']:.2f} kg" in page


def test_sheets_and_text_say_the_same_times() -> None:
    pour = bid_with_clock()["pour_day"]
    assert pour is not None
    text = pour_day_text(pour, system=System.METRIC, width=0)
    batches = [batch for day in pour["days"] for batch in day["batches"]]
    for number, batch in enumerate(batches):
        (row,) = [line for line in text.splitlines() if line.startswith(f"{batch['id']} ")]
        mix_at, _, use_by = re.findall(r"(?<= )\d+:\d\d(?= )", row)
        (page,) = [page for page in with_clock() if f"Batch {batch['id']}" in page]
        assert page[page.index("MIX AT") + 1] == mix_at
        assert page[page.index("USE BY") + 1] == use_by
        if number and batches[number - 1]["id"].split(".")[0] == batch["id"].split(".")[0]:
            before = next(
                one for one in with_clock() if f"Batch {batches[number - 1]['id']}" in one
            )
            assert f"next: batch {batch['id']}, mix at {mix_at}" in before


def test_the_day_says_when_it_is_planned_done() -> None:
    pour = bid_with_clock()["pour_day"]
    assert pour is not None
    for day in pour["days"]:
        (page,) = [page for page in with_clock() if f"Day {day['day']}" in page]
        done = clock_text(day["makespan_s"], up=True)
        assert f"{len(day['batches'])} batches, done at {done}" in page
        assert not [line for line in page if "all in by" in line]


def test_the_end_of_the_pot_life_has_one_name_in_every_output() -> None:
    pour = bid_with_clock()["pour_day"]
    assert pour is not None
    assert set(pour["days"][0]["batches"][0]) >= {"use_by_s"}
    assert "use_by_s" in batch_table(pour["days"])[0]
    said = {
        "text": pour_day_text(pour, system=System.METRIC, width=0),
        "page": re.sub("<[^>]*>", " ", page_html(bid_with_clock())),
        "picture": pour_day_svg(pour["days"][0]),
        "workbook": " ".join(map(str, values(workbook_bytes(bid_with_clock())).values())),
        "sheets": " ".join(line for page in with_clock() for line in page).lower(),
        "sheets of kinds": " ".join(line for page in without_clock() for line in page).lower(),
    }
    for where, text in said.items():
        assert "use by" in text, where
        assert not re.search(r"\b(?:in by|done by|in the form by)\b", text), where


def test_the_sheets_of_a_bid_without_a_clock_count_batches_of_a_kind() -> None:
    batch = bid_without_clock()["batch"]
    assert batch is not None
    for page, lot in zip(without_clock(), batch["lots"], strict=False):
        assert page[:2] == ["Batch", f"of {lot['batch_count']}"]
        told = [kg for kg, _ in weights_on(page, len(lot["ingredients"]))]
        assert told == pytest.approx([line["mass_kg"] for line in lot["ingredients"]])


def test_a_pour_that_nobody_priced_has_the_same_sheets() -> None:
    document = bid_with_clock()
    assert document["pour_day"] is not None
    written = pour_sheets_pdf(document["pour_day"])
    ids = [batch["id"] for day in document["pour_day"]["days"] for batch in day["batches"]]
    count = re.search(rb"/Count (\d+)", written)
    assert count is not None
    assert int(count.group(1)) >= len(ids) + len(document["pour_day"]["days"])


def test_every_page_is_numbered_and_names_the_job() -> None:
    pages = without_clock()
    for number, page in enumerate(pages, 1):
        assert page[-1] == f"page {number} of {len(pages)}"
        assert page[-2].startswith("Ferry hall, 2026-11-25 | made by takeoff ")


def test_while_no_labour_is_priced_every_page_says_material_only() -> None:
    assert bid_of_material()["total"] is None
    pages = printed(bid_of_material())
    assert all(page[-2].startswith("MATERIAL ONLY | ") for page in pages)
    assert not [line for page in with_clock() for line in page if "MATERIAL ONLY" in line]


def test_cautions_and_notes_are_on_the_sheets_and_at_the_foot_of_every_batch() -> None:
    document = bid_with_clock()
    text = " ".join(line for page in with_clock() for line in page)
    for words in (*document["cautions"], *(note["text"] for note in document["notes"])):
        assert words in text
    batches = [page for page in with_clock() if page[0].startswith("Batch ")]
    assert len(batches) > 10
    assert all(any(line.startswith("Caution") for line in page) for page in batches)


def test_cautions_at_the_foot_are_large_and_say_where_all_of_them_are() -> None:
    document = bid_without_clock()
    sizes: dict[str, float] = {}
    write_line = Pen._print

    def written(pen: Pen, text: str, *args: Any, **options: Any) -> None:
        sizes[text] = min(options["size"], sizes.get(text, 99.0))
        write_line(pen, text, *args, **options)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Pen, "_print", written)
        sheets_pdf(document)
    assert all(size >= 10.0 for text, size in sizes.items() if text.startswith("- "))
    mixes = {row["mix"]: row["cautions"] for row in document["mix_cautions"]}
    lots = document["batch"]["lots"]  # type: ignore[index]
    for page, lot in zip(without_clock(), lots, strict=False):
        cautions = mixes[lot["mix"]]
        (head,) = [line for line in page if line.startswith("Caution")]
        told = re.fullmatch(
            rf"Caution: (\d+) of {len(cautions)}, all of them on the sheet at the end", head
        )
        assert told is not None
        foot = " ".join(page[page.index(head) + 1 : -2])
        shown = [text for text in cautions if f"- {text}" in foot]
        most = int(told[1])
        assert shown == [*cautions[: most - 1], cautions[-1]]
        assert most >= 5


def test_the_sheet_of_a_batch_cautions_of_what_its_mix_brings() -> None:
    for page in with_clock():
        if not page[0].startswith("Batch "):
            continue
        text = " ".join(page)
        coat = "face coat" in text.split("hand")[0]
        assert ("Spray mist" in text) == coat
        assert ("Glass fibre" in text) != coat
    ends = " ".join(line for page in with_clock()[-2:] for line in page)
    assert "Spray mist" in ends
    assert "Glass fibre" in ends


def test_cautions_that_find_no_room_are_not_cut_short() -> None:
    pen = Pen(Paper.A4)
    top = pen.new_page()
    every = [f"caution {number} " + "of some length " * 6 for number in range(30)]
    assert draw_cautions(pen, every, (top, pen.bottom))
    assert not draw_cautions(pen, every, (pen.bottom - 19.0, pen.bottom))
    assert cautions_mm(pen, every) == cautions_mm(pen, every[:4]) > 19.0


@pytest.mark.parametrize("paper", list(Paper))
def test_each_batch_of_the_ferry_hall_fits_its_page(paper: Paper) -> None:
    first = [page[0] for page in with_clock(paper)]
    assert not [line for line in first if line.startswith("Batch") and line.endswith("continued")]


def test_sheets_are_the_same_every_time() -> None:
    first = sheets_pdf(bid_without_clock())
    time.sleep(1.1)  # a date of the clock would show
    assert sheets_pdf(bid_without_clock()) == first
    assert b"D:20261125000000" in first


def test_paper_is_of_its_size() -> None:
    sizes = [re.search(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", sheets_pdf(bid_without_clock(),
             paper=paper)) for paper in Paper]  # fmt: skip
    assert [tuple(map(float, one.groups())) for one in sizes if one] == [
        (595.28, 841.89),
        (612.0, 792.0),
    ]


def test_a_shop_of_pounds_and_ounces_weighs_in_them() -> None:
    document = bid_of(
        {'division = "10 g"': 'division = "0.1 oz"', "[job]": '[job]\nshow_units = "us"'}
    )
    page = next(page for page in printed(document) if page[0] == "Batch 1.1")
    at = page.index("water")
    assert re.fullmatch(r"\d+ lb \d+\.\d oz", page[at + 2])
    assert re.fullmatch(r"[\d.]+ kg", page[at + 3])
    assert re.fullmatch(r"total \d+ lb \d+\.\d oz", page[at + 4])


def test_what_goes_in_at_the_gun_is_in_no_running_total() -> None:
    document = copy.deepcopy(bid_without_clock())
    lots: Any = document["batch"]["lots"]  # type: ignore[index]
    words = "not into the mixer: at the gun, chopped into the spray"
    lots[0]["ingredients"].append(
        {"name": "roving", "mass_kg": 1.5, "when": words, "after_rest": True}
    )
    page = printed(document)[0]
    at = page.index("roving")
    assert "1.50 kg" in page[at:]
    assert "not into the mixer" in page[at:]
    assert any(line.endswith("of it 1.50 kg at the gun") for line in page)


def _with_names(names: list[str]) -> BidDocument:
    """The ferry hall with other names of pieces and of the job."""
    document: Any = copy.deepcopy(bid_with_clock())
    told = dict(zip(("ticket counter", "hearth surround", "wall panel"), names, strict=True))
    for piece in document["pieces"]:
        piece["name"] = told[piece["name"]]
    pour = document["pour_day"]
    rows = [*pour["demand"], *(part for day in pour["days"] for batch in day["batches"]
                               for part in batch["parts"])]  # fmt: skip
    for row in rows:
        row["piece"] = told[row["piece"]]
    document["job"] = " ".join(names)
    pour["days"] = [{**pour["days"][0], "batches": pour["days"][0]["batches"][1:4]}]
    return document


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (["Стойка", "Очаг", "Панель"], ["Стойка", "Очаг", "Панель"]),
        (["πάγκος", "τζάκι", "πλάκα"], ["πάγκος", "τζάκι", "πλάκα"]),
        (["售票台", "壁炉", "墙板"], ["售票台", "壁炉", "墙板"]),
        (["カウンター", "櫃檯", "壁"], ["カウンター", "櫃檯", "壁"]),
        (["😀", "🏗️ a", "👷‍♂️"], ["😀", "[building construction] a", "[construction worker]♂"]),
        (["벽", "가마", "แผ่น"], ["Byeog", "GaMa", "aephn"]),
        (["\ue000", "\ue001", "\ue002"], ["? (1)", "? (2)", "? (3)"]),
        (["<b>&", "=1+1", "{nb}"], ["<b>&", "=1+1", "{nb}"]),
        (["x" * 300, "a b " * 60, "\ud800"], ["x" * 10, "a b", "?"]),
    ],
)
def test_names_in_any_script_are_printed(names: list[str], told: list[str]) -> None:
    text = "\n".join(line for page in printed(_with_names(names)) for line in page)
    assert all(name in text for name in told)


def test_a_long_name_never_hides_which_copy_is_meant() -> None:
    pages = printed(_with_names(["counter " * 9, "x" * 90, "wall panel"]))
    (page,) = [page for page in pages if page[0] == "Batch 1.2"]
    assert len([line for line in page if line.startswith("copy 1, pass 1: start ")]) == 3


def test_arabic_is_joined_and_runs_from_right_to_left() -> None:
    pages = printed(_with_names(["لوحة", "בר", "جدار"]))
    text = "\n".join(line for page in pages for line in page)
    assert "to \ufe94\ufea3\ufeee\ufedf, copy 1; רב, copy 1;" in text
    assert all(", 2026-11-25 | made by takeoff" in page[-2] for page in pages)


def test_a_picture_that_is_handed_over_is_shown() -> None:
    from PIL import Image

    kept = io.BytesIO()
    Image.new("RGB", (60, 40), (200, 30, 30)).save(kept, format="PNG")
    pictures = {"wall panel": kept.getvalue()}
    with_picture = sheets_pdf(bid_without_clock(), pictures=pictures)
    assert b"/Subtype /Image" in with_picture
    assert b"/Subtype /Image" not in sheets_pdf(bid_without_clock())


def test_without_the_library_the_extra_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "fpdf", None)
    with pytest.raises(MissingExtraError, match=r"batches.pdf: .* pip install '\.\[report\]'"):
        sheets_pdf(bid_without_clock())


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="no pdftotext here")
def test_the_text_can_be_taken_out_of_the_file(tmp_path: Path) -> None:
    path = tmp_path / "batches.pdf"
    document = _with_names(["售票台", "Очаг", "wall panel"])
    path.write_bytes(sheets_pdf(document))
    done = subprocess.run(
        ["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True
    )
    assert document["pour_day"] is not None
    for batch in document["pour_day"]["days"][0]["batches"]:
        assert f"Batch {batch['id']}" in done.stdout
        assert f"{batch['mass_kg']:.2f} kg" in done.stdout
    assert "售票台" in done.stdout
    assert "Очаг" in done.stdout
