import os
import re
import shutil
import tomllib
from pathlib import Path

import pytest

import takeoff
from takeoff.errors import OutputError, QuantityError, ShopFileError, SurfaceError, UnreadableError
from takeoff.files.job_file import read_order
from takeoff.job.starting import start_job
from takeoff.pricing.rates import Measure
from takeoff.report.start_text import start_text
from tests.house.walking import ROOT

HALL = ROOT / "samples" / "ferry-hall"
PANEL = HALL / "wall-panel.dxf"
COUNTER = HALL / "ticket-counter.stl"
SURROUND = HALL / "hearth-surround.stl"
PIECES = ROOT / "tests" / "drawings" / "pieces"

TOLD = {
    "thickness": "16 mm",
    "way": "dammed",
    "edge_depth": "60 mm",
    "show": "S1",
    "kind": "form",
    "unit": "in",
    "pack": "25 kg",
    "price": "14.20",
    "hour_price": "38.00",
    "hours": "0.6 h",
    "capacity": "60 L",
    "minimum_charge": "250.00",
}


def told(text):
    """Put a value in place of every mark, by its key."""
    return re.sub(r'([\w.]+) = "\?"', lambda found: f'{found[1]} = "{TOLD[found[1]]}"', text)


def taken_in(text):
    """Put every entry in force that is commented out."""
    return re.sub(r"^#(?=\S)", "", text, flags=re.MULTILINE)


def edit(folder, *changes):
    for name in ("job.toml", "shop.toml"):
        text = (folder / name).read_text(encoding="utf-8")
        for change in changes:
            text = change(text)
        (folder / name).write_text(text, encoding="utf-8")
    return folder / "job.toml"


def started(folder, *drawings, **said):
    return start_job(drawings, folder, **said)


@pytest.mark.parametrize(
    ("drawings", "said"),
    [
        pytest.param([PANEL], {}, id="an outline"),
        pytest.param([COUNTER], dict(unit="mm", kind="open", show="up"), id="told"),
        pytest.param([COUNTER], dict(unit="mm"), id="direction asked"),
        pytest.param([PIECES / "form_island.stl"], dict(unit="mm", show="down"), id="kind asked"),
        pytest.param([COUNTER, SURROUND], {}, id="unit asked"),
        pytest.param([SURROUND], dict(unit="in"), id="in inches"),
        pytest.param([PIECES / "two_pieces.stl"], dict(unit="mm"), id="two pieces in a drawing"),
        pytest.param([PIECES / "slab.stl", PANEL, COUNTER], dict(unit="mm"), id="several"),
    ],
)
def test_every_entry_that_is_written_is_read_in_force_or_not(tmp_path, drawings, said):
    started(tmp_path, *drawings, **said)
    order = read_order(edit(tmp_path, told))
    assert len(order.pieces) == len(drawings)
    whole = read_order(edit(tmp_path, taken_in, told))
    assert len(whole.pieces[-1].items) == len(whole.pieces[-1].additions) == 1
    assert whole.shop.largest_kg is not None
    assert whole.wall_backer is not None
    assert whole.boards is not None


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_every_mark_is_refused_at_its_line(tmp_path, unit):
    document = started(tmp_path, PANEL, COUNTER, SURROUND, unit=unit)
    for name in ("job.toml", "shop.toml"):
        text = (tmp_path / name).read_text(encoding="utf-8")
        marked = [
            number
            for number, line in enumerate(text.splitlines(), 1)
            if '"?"' in line and not line.startswith("#")
        ]
        with pytest.raises(ShopFileError, match="still to be told") as refused:
            read_order(tmp_path / "job.toml")
        places = [place for place, _ in refused.value.faults]
        assert sorted({int(place.rpartition(":")[2]) for place in places}) == marked
        assert {place.rpartition(":")[0] for place in places} == {str(tmp_path / name)}
        edits = [one for one in document["edits"] if one["file"] == str(tmp_path / name)]
        assert sum(one["marks"] for one in edits) == len(places)
        for number in marked:
            assert any(one["line"] <= number <= one["last_line"] for one in edits)
        (tmp_path / name).write_text(told(text), encoding="utf-8")
    read_order(tmp_path / "job.toml")


def test_a_unit_that_is_asked_for_is_refused_at_its_line(tmp_path):
    started(tmp_path, SURROUND)
    lines = (tmp_path / "job.toml").read_text(encoding="utf-8").splitlines()
    line = 1 + next(number for number, text in enumerate(lines) if text.startswith("unit = "))
    with pytest.raises(ShopFileError, match=rf"job\.toml:{line}: piece\[1\]\.unit: still to be"):
        read_order(tmp_path / "job.toml")


def test_the_shop_is_asked_for_exactly_what_the_mixes_are_made_of(tmp_path):
    started(tmp_path, PANEL)
    order = read_order(edit(tmp_path, told))
    doses = [
        dose.ingredient.name
        for layer in (order.face_coat, order.backer)
        for dose in takeoff.read_mix(layer.mix).doses
    ]
    assert set(order.shop.packs) == set(doses)
    assert order.shop.rates[0].per is Measure.FORM_M2


def test_tables_that_messages_advise_can_stand_beside_those_written(tmp_path):
    started(tmp_path, PANEL)
    advised = """
[[price]]
ingredient = "white-cement"
pack = "10 kg"
price = "7.10"

[[rate]]
what = "delivery"
per = "job"
price = "60.00"

[[stock]]
ingredient = "silica-sand"
mass = "12 kg"

[terms]
tax = "20 %"
"""
    edit(tmp_path, told)
    with (tmp_path / "shop.toml").open("a", encoding="utf-8") as shop_file:
        shop_file.write(advised)
    shop = read_order(tmp_path / "job.toml").shop
    assert [pack.pack for pack in shop.packs["white-cement"]] == ["25 kg", "10 kg"]
    assert [rate.what for rate in shop.rates][-1] == "delivery"
    text = (tmp_path / "shop.toml").read_text(encoding="utf-8")
    assert [text.count(f"\n{head}\n") for head in ("[labour]", "[[rate]]")] == [1, 3]


def test_no_price_is_made_up(tmp_path):
    started(tmp_path, PANEL)
    shop = taken_in((tmp_path / "shop.toml").read_text(encoding="utf-8"))
    amounts = re.findall(r'(?:price|hours|minimum_charge|capacity) = "([^"]*)"', shop)
    assert set(amounts) == {"?", "60 kg"}  # the capacity of a scale, commented out


def test_drawings_in_inches_are_asked_and_printed_in_us_units(tmp_path):
    started(tmp_path, SURROUND, unit="in")
    order = read_order(edit(tmp_path, told))
    assert order.show_units == "us"
    assert order.shop.rates[0].per is Measure.FORM_FT2
    assert "return, 6 in deep" not in (tmp_path / "job.toml").read_text(encoding="utf-8")
    assert "upright, 6 in deep, 2 sq ft" in (tmp_path / "job.toml").read_text(encoding="utf-8")


def test_a_found_direction_is_written_with_its_reason(tmp_path):
    started(tmp_path, SURROUND, unit="in")
    job = (tmp_path / "job.toml").read_text(encoding="utf-8")
    assert re.search(r'^show = "front" +# found: show side front, as piece: ', job, re.MULTILINE)
    assert re.search(r'^kind = "piece" ', job, re.MULTILINE)


def test_ids_are_tied_to_the_drawing(tmp_path):
    shutil.copy(PANEL, tmp_path / "panel.dxf")
    started(tmp_path, tmp_path / "panel.dxf")

    def bare(text):
        return text.replace("#[piece.edge]", "[piece.edge]").replace("#E3 = 0", "E3 = 0")

    job = edit(tmp_path, told, bare)
    (panel,) = takeoff.bid(job).to_dict()["pieces"]
    assert panel["area_m2"]["return"] == pytest.approx(0.576)
    text = (tmp_path / "panel.dxf").read_text(encoding="utf-8")
    (tmp_path / "panel.dxf").write_text(f"999\nchanged\n{text}", encoding="utf-8")
    with pytest.raises(SurfaceError, match="is not the one whose E3 were told"):
        takeoff.bid(job)


def test_a_drawing_is_named_as_seen_from_the_job(tmp_path):
    (tmp_path / "in").mkdir()
    shutil.copy(PANEL, tmp_path / "in" / "panel.dxf")
    started(tmp_path / "out" / "deep", tmp_path / "in" / "panel.dxf")
    order = read_order(edit(tmp_path / "out" / "deep", told))
    assert order.pieces[0].drawing.samefile(tmp_path / "in" / "panel.dxf")
    tables = tomllib.loads((tmp_path / "out" / "deep" / "job.toml").read_text(encoding="utf-8"))
    assert tables["piece"][0]["drawing"] == "../../in/panel.dxf"


@pytest.mark.skipif(os.name == "nt", reason="no such names there")
@pytest.mark.parametrize(
    "name",
    [
        'the "long" top.dxf',
        "back\\slash.dxf",
        "line\n[job]\nname = 'x'\n.dxf",
        "# count = 9.dxf",
        "'quote'.dxf",
        "Tür-\u2028-größe-門.dxf",
        "tab\tand\x1bescape.dxf",
        " .dxf",
    ],
)
def test_any_name_of_a_drawing_is_written_so_that_it_is_found_again(tmp_path, name):
    shutil.copy(PIECES.parent / "dxf" / "full_ellipse.dxf", tmp_path / name)
    started(tmp_path, tmp_path / name)
    order = read_order(edit(tmp_path, told))
    (piece,) = order.pieces
    assert piece.drawing.samefile(tmp_path / name)
    assert piece.count == 1
    assert order.name == piece.name


def test_pieces_of_one_name_are_told_apart(tmp_path):
    for folder in ("a", "b"):
        (tmp_path / folder).mkdir()
        shutil.copy(SURROUND, tmp_path / folder / "top.stl")
    drawings = [tmp_path / "a" / "top.stl", tmp_path / "b" / "top.stl"]
    started(tmp_path, *drawings, unit="in")
    order = read_order(edit(tmp_path, told))
    assert [piece.name for piece in order.pieces] == ["top", "top 2"]
    assert order.name == "top and 1 more"


def test_a_drawing_named_twice_counts_once(tmp_path):
    document = started(tmp_path, PANEL, HALL / ".." / "ferry-hall" / PANEL.name)
    assert len(document["pieces"]) == 1


def test_several_pieces_of_a_drawing_are_named_in_a_comment(tmp_path):
    started(tmp_path, PIECES / "two_pieces.stl", unit="mm")
    job = (tmp_path / "job.toml").read_text(encoding="utf-8")
    assert job.count("\n[[piece]]\n") == 1
    assert "# It holds 2 pieces, each of them cast: two_pieces-1 (" in job


def test_what_cannot_be_used_is_left_out_and_the_others_go_on(tmp_path):
    document = started(tmp_path, tmp_path / "gone.stl", PANEL)
    (error,) = document["errors"]
    assert (error["kind"], error["text"]) == ("unreadable", "there is no such file")
    assert len(read_order(edit(tmp_path, told)).pieces) == 1
    job = (tmp_path / "job.toml").read_text(encoding="utf-8")
    assert "gone.stl is left out: there is no such file" in " ".join(job.split("\n# "))


def test_without_a_drawing_that_can_be_used_nothing_is_written(tmp_path):
    with pytest.raises(UnreadableError, match=r"no job is written; .*gone\.stl: there is no such"):
        started(tmp_path / "out", tmp_path / "gone.stl")
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("there", ["job.toml", "shop.toml"])
def test_what_is_there_is_never_written_over(tmp_path, there):
    (tmp_path / there).write_text("mine", encoding="utf-8")
    with pytest.raises(OutputError, match=rf"{there}: is there already and is not written over"):
        started(tmp_path, PANEL)
    assert [path.name for path in tmp_path.iterdir()] == [there]


def test_the_same_drawings_give_the_same_bytes(tmp_path):
    files = [started(tmp_path / name, PANEL, COUNTER, unit="mm")["files"] for name in ("a", "b")]
    for one, other in zip(*files, strict=True):
        assert Path(one).read_bytes() == Path(other).read_bytes()


@pytest.mark.parametrize(
    ("said", "error", "words"),
    [
        (dict(unit="cubit"), QuantityError, "cubit"),
        (dict(kind="statue"), SurfaceError, "no kind of model"),
        (dict(show="sideways"), SurfaceError, "cannot read 'sideways' as a show direction"),
    ],
)
def test_words_that_fit_no_drawing_are_refused_before_any_is_read(tmp_path, said, error, words):
    with pytest.raises(error, match=words):
        started(tmp_path, PANEL, **said)
    assert list(tmp_path.iterdir()) == []


def test_pieces_that_differ_keep_their_own_direction(tmp_path, monkeypatch):
    from takeoff.job import found_drawings

    sides = iter(["up", "front"])
    rows = found_drawings.mesh_rows

    def told_apart(piece, mesh, request):
        (row,) = rows(piece, mesh, request)
        return [{**row, "show": next(sides)}]

    monkeypatch.setattr(found_drawings, "mesh_rows", told_apart)
    started(tmp_path, PIECES / "two_pieces.stl", unit="mm")
    job = (tmp_path / "job.toml").read_text(encoding="utf-8")
    assert "two_pieces-1: piece, up; two_pieces-2: piece, front" in " ".join(job.split("\n# "))
    assert read_order(edit(tmp_path, told)).pieces[0].show is None


@pytest.mark.parametrize(
    ("declared", "unit", "side_m"), [(1, "in", 1200 * 0.0254), (4, "mm", 1.2), (5, "cm", 12.0)]
)
def test_a_unit_told_for_drawings_without_one_leaves_a_declared_one_alone(
    tmp_path, declared, unit, side_m
):
    text = PANEL.read_text(encoding="utf-8")
    panel = tmp_path / "panel.dxf"
    panel.write_text(re.sub(r"(\$INSUNITS\s+70\s+)4", rf"\g<1>{declared}", text), encoding="utf-8")
    document = started(tmp_path, COUNTER, panel, unit="mm")
    counter, drawn = document["pieces"]
    assert (counter["unit"]["name"], counter["unit"]["source"]) == ("mm", "told")
    assert counter["unit"]["passed_over"] is None
    assert (drawn["unit"]["name"], drawn["unit"]["source"]) == (unit, "declared")
    assert drawn["unit"]["passed_over"] == (None if unit == "mm" else "mm")
    assert drawn["drawn"][0]["size_m"][0] == pytest.approx(side_m)
    job = (tmp_path / "job.toml").read_text(encoding="utf-8")
    said = 'mm was told and is not taken; to overrule the drawing, write unit = "mm"'
    assert (said in " ".join(job.split("\n# "))) is (unit != "mm")
    assert (said in start_text(document)) is (unit != "mm")
    assert [piece.unit for piece in read_order(edit(tmp_path, told)).pieces] == ["mm", unit]


def test_a_unit_that_no_file_of_ours_can_tell_is_left_to_the_drawing(tmp_path):
    text = PANEL.read_text(encoding="utf-8")
    told_mile = re.sub(r"(\$INSUNITS\s+70\s+)4", r"\g<1>21", text)
    assert told_mile != text
    (tmp_path / "panel.dxf").write_text(told_mile, encoding="utf-8")
    started(tmp_path, tmp_path / "panel.dxf")
    (piece,) = read_order(edit(tmp_path, told)).pieces
    assert piece.unit in {None, "US survey ft"}
    assert takeoff.measure(piece.drawing, unit=piece.unit, edge_depth="0 mm").pieces
