"""Whole runs that start a job from drawings, to its priced bid."""

import shutil
from decimal import Decimal

import takeoff
from tests.house.walking import ROOT

HALL = ROOT / "samples" / "ferry-hall"

# What an estimator writes for the wall panel: the place, and what stands there afterwards.
FIVE_EDITS = (
    ("job.toml", ['thickness = "16 mm"', 'way = "dammed"']),
    ("job.toml", ['edge_depth = "60 mm"']),
    (
        "shop.toml",
        [
            "[[price]]",
            'ingredient = "white-cement"',
            'pack = "25 kg"',
            'price = "14.20"',
            "[[price]]",
            'ingredient = "silica-sand"',
            'pack = "25 kg"',
            'price = "7.90"',
            "[[price]]",
            'ingredient = "acrylic-dispersion"',
            'pack = "20 kg"',
            'price = "96.00"',
            "[[price]]",
            'ingredient = "ar-glass-fibre"',
            'pack = "10 kg"',
            'price = "74.50"',
        ],
    ),
    (
        "shop.toml",
        [
            'hour_price = "38.00"',
            "[[rate]]",
            'what = "build forms"',
            'per = "form_m2"',
            'hours = "0.6 h"',
            "[[rate]]",
            'what = "cast, strip and finish"',
            'per = "casting_m2"',
            'hours = "0.9 h"',
        ],
    ),
    ("shop.toml", ['capacity = "60 L"']),
)


def test_from_a_drawing_to_a_priced_bid_in_five_edits(run, tmp_path):
    shutil.copy(HALL / "wall-panel.dxf", tmp_path)
    done = run("start", tmp_path / "wall-panel.dxf", "-o", tmp_path, "--json")
    assert done.status == 0
    edits = done.document["edits"]
    assert len(edits) == len(FIVE_EDITS) == 5
    for edit, (name, told) in zip(edits, FIVE_EDITS, strict=True):
        path = tmp_path / name
        assert edit["file"] == str(path)
        lines = path.read_text(encoding="utf-8").split("\n")
        place = slice(edit["line"] - 1, edit["last_line"])
        assert sum(line.count('"?"') for line in lines[place]) == edit["marks"]
        assert len(lines[place]) == len(told)
        lines[place] = told
        path.write_text("\n".join(lines), encoding="utf-8")
    bid = takeoff.bid(tmp_path / "job.toml").to_dict()
    # 13.22 L of face coat and 49.41 L of backer take 53.53 kg each of cement and sand, 6.69 kg of
    # dispersion and 3.11 kg of fibre: 3 x 14.20 + 3 x 7.90 + 96.00 + 74.50. 3.348 m2 of form take
    # 2.009 h to build and 3.013 h to cast, at 38.00: 76.34 + 114.49.
    assert Decimal(bid["material_total"]) == Decimal("236.80")
    assert Decimal(bid["total"]) == Decimal("427.63")


def test_what_was_written_found_and_left_is_said(run, tmp_path):
    done = run("start", HALL / "wall-panel.dxf", "-o", tmp_path)
    assert (done.status, done.err) == (0, "")
    job, shop = tmp_path / "job.toml", tmp_path / "shop.toml"
    lines = done.out.splitlines()
    assert lines[0] == f"wrote {job} and {shop}"
    assert lines[2] == (
        f"{HALL / 'wall-panel.dxf'}: unit mm (declared), outline 1200 mm x 2700 mm, 8 edges, "
        "1 opening"
    )
    assert lines[4] == f"5 edits, 15 values left, then takeoff bid {job}:"
    for number, (edit, key) in enumerate(
        zip(
            lines[5:10], ("thickness", "edge_depth", "price", "hour_price", "capacity"), strict=True
        ),
        1,
    ):
        head, _, place = edit.partition(". ")
        assert head == str(number)
        path, _, rest = place.partition(".toml:")
        text = (tmp_path / f"{path.rpartition('/')[2]}.toml").read_text(encoding="utf-8")
        assert key in text.split("\n")[int(rest.split(":")[0]) - 1]


def test_without_a_folder_the_files_stand_here(run, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    done = run("start", HALL / "ticket-counter.stl", "--unit", "mm", "--kind", "open")
    assert done.status == 0
    assert done.out.startswith("wrote job.toml and shop.toml\n")
    assert "\n2. job.toml:" in done.out
    assert sorted(path.name for path in tmp_path.iterdir()) == ["job.toml", "shop.toml"]


def test_a_drawing_that_cannot_be_used_ends_with_1_and_is_named(run, tmp_path):
    done = run("start", HALL / "wall-panel.dxf", HALL / "make_drawings.py", "-o", tmp_path)
    assert done.status == 1
    assert "make_drawings.py: drawings ending in .py are not read" in done.err
    assert (tmp_path / "job.toml").exists()


def test_a_job_that_is_there_is_not_written_over(run, tmp_path):
    (tmp_path / "job.toml").write_text("mine", encoding="utf-8")
    done = run("start", HALL / "wall-panel.dxf", "-o", tmp_path)
    assert (done.status, done.out) == (1, "")
    assert "job.toml: is there already and is not written over" in done.err
    assert (tmp_path / "job.toml").read_text(encoding="utf-8") == "mine"


def test_started_again_with_a_unit_the_files_to_remove_are_named(run, tmp_path):
    drawing = HALL / "ticket-counter.stl"
    assert run("start", drawing, "-o", tmp_path).status == 0
    first = (tmp_path / "job.toml").read_text(encoding="utf-8")
    done = run("start", drawing, "--unit", "mm", "-o", tmp_path)
    assert (done.status, done.out) == (1, "")
    assert "name another folder with -o, or remove job.toml and shop.toml first" in done.err
    assert (tmp_path / "job.toml").read_text(encoding="utf-8") == first


def test_the_document_says_the_same(run, tmp_path):
    said = ("--unit", "mm", "--show", "up", "--kind", "open")
    done = run("start", HALL / "ticket-counter.stl", *said, "-o", tmp_path, "--json")
    document = done.document
    assert document["files"] == [str(tmp_path / "job.toml"), str(tmp_path / "shop.toml")]
    assert document["settings"] == {"unit": "mm", "kind": "open", "show": "up"}
    (piece,) = document["pieces"]
    assert [wall["id"] for wall in piece["drawn"][0]["walls"] if wall["what"] == "upright"] == [
        "U1",
        "U2",
    ]
    assert len(document["edits"]) == 4


def test_a_refusal_is_a_document_too(run, tmp_path):
    done = run("start", "gone.stl", "-o", tmp_path, "--json")
    assert done.status == 1
    assert (done.document["files"], done.document["edits"]) == ([], [])
    assert "no job is written" in done.document["errors"][0]["text"]


def test_a_drawing_must_be_named(run):
    assert run("start").status == 2
