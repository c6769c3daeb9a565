import hashlib
import re
from base64 import b64decode, b64encode
from dataclasses import replace
from functools import cache
from importlib.resources import files
from itertools import pairwise

import pytest

from takeoff.errors import MissingExtraError, PriceError
from takeoff.job.result import refused_bid
from takeoff.report import page_frame, page_view
from takeoff.report.batch_text import pour_day_text
from takeoff.report.bid_page import page_html
from takeoff.report.bid_text import bid_text
from takeoff.report.figures import System
from tests.unit.report.pages_made import Read, bid_of, copied_hall, copy_of, figures_of, text_at

pytest.importorskip("jinja2")
pytest.importorskip("plotly")
pytest.importorskip("PIL")
pytest.importorskip("embreex")

HOSTILE = (
    "</script><script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "{{ 7 * 7 }}{% raw %}",
    "=1+1 & <b>Зал ожидания</b> 渡輪候船室 \U0001f6a2",
    "a\x00b\x0bc\u2028d",
)

# Heads that are worded otherwise on the page, and what it shows as a table of its own.
LEFT_OUT = ("note: ", "4 forms", "8 forms", "batch  ", "layer  ")


@pytest.fixture(scope="module")
def hall(tmp_path_factory):
    return copied_hall(tmp_path_factory.mktemp("pages"))


@pytest.fixture(scope="module")
def lots(hall):
    """The sample job in metric units: a document, its page, the page read again."""
    document, shapes = bid_of(hall / "job.toml")
    page = page_html(document, shapes=shapes)
    return document, page, Read(page)


@pytest.fixture(scope="module")
def pour(hall):
    """The pour of the sample in US units, without shapes."""
    document, _ = bid_of(hall / "pour-day.toml", us=True)
    page = page_html(document)
    return document, page, Read(page)


@cache
def shapes_of_the_hall(hall):
    return bid_of(hall / "job.toml")[1]


@pytest.mark.parametrize(("made", "system"), [("lots", System.METRIC), ("pour", System.US)])
def test_every_figure_of_the_page_is_that_of_the_document(made, system, request):
    document, _, read = request.getfixturevalue(made)
    shown = [(place, text, text_at(document, place, system)) for place, text in read.at]
    assert [row for row in shown if row[1] != row[2]] == []
    assert len(shown) > 300


def test_the_page_leaves_no_figure_of_the_bid_out(lots):
    document, _, read = lots
    places = {place for place, _ in read.at}
    wanted = {
        place
        for place, value in figures_of(document)
        if re.search(
            r"/surfaces/\d+/area_m2$|/layers/\d+/(area|volume|thickness)_m\d?$|/portions/"
            r"|/openings/|/area_m2/(show_face|return|upright)$|/(layer|flat)_volume_m3/"
            r"|/pieces/\d+/(wet|cured|handling)_kg$|/materials/\d+/(net|loss|order|left_over)_kg$"
            r"|/form_work/|/lots/\d+/(mass_kg|volume_m3|placed_kg)$|/lots/\d+/ingredients/",
            place,
        )
    }
    assert wanted - places == set()
    for key in ("amount", "price", "quantity", "what"):
        assert {f"/lines/{row}/{key}" for row in range(len(document["lines"]))} <= places
    assert {f"/cautions/{row}" for row in range(len(document["cautions"]))} <= places
    assert {f"/notes/{row}/text" for row in range(len(document["notes"]))} <= places
    assert {f"/assumptions/{row}/at_stake" for row in range(3)} <= places
    assert {"/total", "/material_total", "/job", "/date"} <= places


def test_what_a_customer_asks_stands_before_the_details(lots):
    _, _, read = lots
    sections = [attrs["id"] for tag, attrs in read.tags if tag == "section"]
    assert sections[:2] == ["lines", "pieces"]
    assert sections[-3:] == ["materials", "notes", "cautions"]
    places = [place for place, _ in read.at]
    offer = places[: places.index("/pieces/0/name")]
    assert {"/total", "/job", "/date", "/lines/0/amount", "/assumptions/0/at_stake"} <= set(offer)
    assert "1 x ticket counter, 1 x hearth surround, 6 x wall panel" in read.text


def test_one_form_is_not_told_as_several(lots):
    document = copy_of(lots[0])
    assert "in 8 forms" in lots[2].text
    document["form_work"]["forms"] = 1
    text = Read(page_html(document)).text
    assert re.search(r"in 1 form\b", text)


def test_a_depth_of_nothing_is_a_dash(lots):
    document, _, read = lots
    rows = document["pieces"][0]["surfaces"]
    shown = {place for place, _ in read.at}
    for number, row in enumerate(rows):
        assert (f"/pieces/0/surfaces/{number}/depth_m" in shown) == (row["depth_m"] > 0.0)


@pytest.mark.parametrize(("made", "system"), [("lots", System.METRIC), ("pour", System.US)])
def test_every_cell_of_the_text_report_stands_on_the_page(made, system, request):
    document, _, read = request.getfixturevalue(made)
    text = " ".join(read.text.split()).lower()
    told = bid_text(document, system=system, ways=True).lower()
    lines = [line for line in told.splitlines() if not line.startswith(LEFT_OUT)]
    assert len(lines) > 80
    for line in lines:
        for cell in re.split(r" {2,}", line.strip()):
            parts = re.split(r" / |, |: |^- | and caution", cell)
            assert [part for part in parts if part not in text] == [], line


def test_a_pour_is_told_in_the_words_of_its_text(pour):
    document, _, read = pour
    text = " ".join(read.text.split()).lower()
    said = pour_day_text(document["pour_day"], system=System.US, width=0).lower()
    for line in said.splitlines():
        if line.startswith(LEFT_OUT):
            continue
        cells = re.split(r" {2,}|, |: |^- | / ", line)
        assert [cell for cell in cells if cell not in text] == [], line
    places = {place for place, _ in read.at}
    for day, row in enumerate(document["pour_day"]["days"]):
        for batch in range(len(row["batches"])):
            assert f"/pour_day/days/{day}/batches/{batch}/mass_kg" in places
    assert read.text.count("hand ") >= 2 * len(document["pour_day"]["days"][0]["batches"])
    assert "m²" not in read.text.replace("m² of", "").replace("m² rel", "").replace("m² seal", "")


def test_what_a_pour_cannot_do_is_told_with_what_would(pour):
    document = copy_of(pour[0])
    fix = "3 pour days <b>or</b> 6 forms"
    document["pour_day"] |= {
        "feasible": False,
        "days": [],
        "findings": [
            {"rule": "tables", "where": "day 1", "value": 6.0, "limit": 4.0, "unit": "count",
             "fix": fix, "enough": True}
        ],
    }  # fmt: skip
    read = Read(page_html(document))
    assert "NO PLAN as told; this stands in the way" in read.text
    assert f"day 1: tables: 6, where 4 is the limit; would do: {fix}" in read.text


def test_the_same_bid_gives_the_same_bytes(lots, hall):
    document, page, _ = lots
    again, shapes = bid_of(hall / "job.toml")
    assert page_html(copy_of(again), shapes=shapes) == page
    assert page == page_html(copy_of(document), shapes=shapes)


def test_scripts_run_by_their_hashes_and_nothing_else_does(lots):
    _, page, read = lots
    policy = next(
        attrs["content"] for tag, attrs in read.tags if attrs.get("http-equiv") is not None
    )
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    hashes = [b64encode(hashlib.sha256(text.encode()).digest()).decode() for text in read.scripts]
    assert rules["script-src"].split() == [f"'sha256-{one}'" for one in hashes]
    assert len(hashes) == 2
    assert rules["default-src"] == "'none'"
    assert "unsafe-eval" not in policy
    assert "\r" not in page


def test_the_page_asks_for_nothing_outside_itself(lots):
    _, _, read = lots
    addresses = [
        attrs[key] for _, attrs in read.tags for key in ("src", "href", "action") if key in attrs
    ]
    assert len(addresses) > 8
    assert [one for one in addresses if not one.startswith(("data:", "#"))] == []
    assert [key for _, attrs in read.tags for key in attrs if key.startswith("on")] == []
    style = files("takeoff.report").joinpath("templates", "bid.css").read_text(encoding="utf-8")
    assert "url(" not in style
    assert "@import" not in style


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_are_words_and_nothing_more(name, lots, hall, monkeypatch):
    monkeypatch.setattr(page_frame, "_view_script", lambda: "var Plotly;")
    document = copy_of(lots[0])
    plain = page_html(document)
    shapes = shapes_of_the_hall(hall)
    document["job"] = document["currency"] = name
    for piece in document["pieces"]:
        piece["name"] = piece["file"] = piece["unit"] = piece["handling_note"] = name
        piece["notes"] = [{"code": "mended", "text": name, "where": name}]
        for surface in piece["surfaces"]:
            surface["why"] = surface["opening"] = name
    for row in (*document["lines"], *document["assumptions"]):
        row["what"] = name
    for row in document["materials"]:
        row["ingredient"] = row["pack"] = name
    read = Read(page_html(document, shapes=[shapes[0], None, None]))
    tags = {tag for tag, _ in read.tags}
    drawn = {"fieldset", "legend", "label", "button", "input"}
    assert tags <= {tag for tag, _ in Read(plain).tags} | drawn
    assert sum(tag == "script" for tag, _ in read.tags) == 2
    sources = [attrs["src"] for tag, attrs in read.tags if tag == "img"]
    assert all(source.startswith("data:image/") for source in sources)
    assert [key for _, attrs in read.tags for key in attrs if key.startswith("on")] == []
    if "\x00" not in name:
        assert dict(read.at)["/pieces/0/name"] == name
        assert name in next(text for place, text in read.at if place == "/job")


def test_a_bid_without_labour_says_material_only(lots):
    document = copy_of(lots[0])
    assert "MATERIAL ONLY" not in lots[2].text
    document["total"] = document["total_range"] = None
    read = Read(page_html(document))
    assert "MATERIAL ONLY EUR 865.10" in read.text
    assert "no labour is priced: this is not the price of the job" in read.text
    assert "/total" not in dict(read.at)
    assert ("p", {"class": "total only"}) in read.tags


def test_the_range_with_the_thickness_is_told(lots):
    document = copy_of(lots[0])
    document["total_range"] = {"low": "4500.00", "aimed": "4716.04", "high": "4900.00"}
    document["materials"][0]["order_range_kg"] |= {"low": 95.0, "high": 110.0}
    text = Read(page_html(document)).text
    assert "from 4500.00 to 4900.00 with the thickness" in text
    assert "95 kg to 110 kg" in text


def test_stock_is_told_used_or_passed_over(lots):
    document = copy_of(lots[0])
    document["materials"][2]["from_stock"] = [{"lot": "A7", "mass_kg": 50.0}]
    document["materials"][2]["stock_passed_over"] = [
        {"lot": "A1", "mass_kg": 25.0, "why": "past its day"}
    ]
    text = Read(page_html(document)).text
    assert "16 x 25 kg, 50 kg in stock of lot A7" in text
    assert "white-cement: 25 kg of lot A1 in stock not used: past its day" in text


def test_a_refused_bid_says_why():
    read = Read(page_html(refused_bid("hall.toml", PriceError("no price for <sand>"))))
    assert "Refused" in read.text
    assert "no price for <sand>" in read.text


def test_without_shapes_the_page_is_small_and_draws_nothing(pour):
    _, page, read = pour
    assert len(page) < 500_000
    assert [attrs for tag, attrs in read.tags if attrs.get("class") in {"view", "still"}] == []
    assert len(read.scripts) == 1


def test_a_shape_thinned_out_says_so(lots, hall, monkeypatch):
    document, _, read = lots
    assert "thinned out" not in read.text
    monkeypatch.setattr(page_view, "_MOST_FACETS", 20)
    monkeypatch.setattr(page_frame, "_view_script", lambda: "var Plotly;")
    shapes = shapes_of_the_hall(hall)
    whole = len(shapes[0].surfaces.mesh.triangles)
    text = Read(page_html(document, shapes=[shapes[0], None, None])).text
    (shown,) = re.findall(rf"thinned out for display, (\d+) of {whole} facets", text)
    assert 0 < int(shown) <= 20


def test_a_flat_pattern_is_shown(lots, hall, monkeypatch):
    monkeypatch.setattr(page_frame, "_view_script", lambda: "var Plotly;")
    pattern = '<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
    shape = replace(shapes_of_the_hall(hall)[0], pattern_svg=pattern)
    read = Read(page_html(lots[0], shapes=[None, shape, None]))
    (image,) = [attrs for _, attrs in read.tags if attrs.get("class") == "pattern"]
    assert b64decode(image["src"].partition(",")[2]).decode() == pattern
    assert image["alt"] == "flat pattern of hearth surround"
    assert "Flat pattern" not in lots[2].text


def test_the_page_can_be_used_without_a_mouse_or_eyes(lots):
    _, page, read = lots
    assert ("html", {"lang": "en-GB"}) in read.tags
    levels = [int(tag[1]) for tag, _ in read.tags if re.fullmatch(r"h\d", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    ids = [attrs["id"] for _, attrs in read.tags if "id" in attrs]
    assert len(ids) == len(set(ids))
    links = [attrs["href"][1:] for tag, attrs in read.tags if tag == "a"]
    assert set(links) <= set(ids)
    assert links[0] == "content"
    assert all(attrs.get("alt") for tag, attrs in read.tags if tag == "img")
    assert all(attrs.get("scope") for tag, attrs in read.tags if tag == "th")
    tables = page.count("<table>")
    rows = [attrs.get("tabindex") for tag, attrs in read.tags if tag == "tr" and attrs]
    assert tables > 15
    assert rows.count("0") == tables
    assert set(rows) == {"0", "-1"}
    regions = [attrs for _, attrs in read.tags if attrs.get("role") == "region"]
    assert len({attrs["aria-label"] for attrs in regions}) == len(regions)


def luminance(colour):
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize(
    ("ink", "paper"),
    [("ink", "paper"), ("ink", "tint"), ("quiet", "paper"), ("quiet", "tint"), ("link", "paper"),
     ("paper", "late")],
)  # fmt: skip
def test_words_stand_out_from_what_is_behind_them(ink, paper):
    # Contrast ratio as WCAG 2.2 defines it (from memory).
    style = files("takeoff.report").joinpath("templates", "bid.css").read_text(encoding="utf-8")
    colours = dict(re.findall(r"--(\w+): (#[0-9a-f]{6});", style))
    light = sorted((luminance(colours[ink]), luminance(colours[paper])))
    assert (light[1] + 0.05) / (light[0] + 0.05) >= 6.0


def test_a_missing_extra_is_named(monkeypatch):
    document = refused_bid("hall.toml", PriceError("no price for sand"))
    monkeypatch.setattr(page_frame, "find_spec", lambda name: None)
    with pytest.raises(MissingExtraError, match=r"the page needs the extra \[report\]"):
        page_html(document)
