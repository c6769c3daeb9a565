import json
import os
import shutil
import subprocess
import sys

import pytest
import trimesh

from takeoff.report.first_hits import pictures_can_be_drawn
from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"


@pytest.fixture
def hall(tmp_path):
    """A copy of the sample job that a test may spoil."""
    shutil.copytree(SAMPLES, tmp_path / "hall")
    return tmp_path / "hall"


@pytest.fixture
def tray(tmp_path):
    """An open tray 1830 x 620 x 45 mm, show side up, on disk in mm."""
    box = trimesh.creation.box((1830, 620, 45))
    box.update_faces(box.face_normals[:, 2] > -0.5)
    path = tmp_path / "tray.stl"
    box.export(path)
    return path


# check


def test_check_says_size_area_and_edges(run):
    done = run("check", SAMPLES / "wall-panel.dxf")
    assert done.status == 0
    assert "1200 mm x 2700 mm" in done.out
    assert "E2                  right              2700 mm  (1200, 0)" in done.out
    assert "skipped: 1 TEXT" in done.out


def test_check_as_json(run):
    [file] = run("check", SAMPLES / "wall-panel.dxf", "--json").document["files"]
    [piece] = file["pieces"]
    assert piece["area_m2"] == pytest.approx(2.7)
    assert (piece["openings"], piece["layer"], file["unit"]["source"]) == (1, "PANEL", "declared")


def test_a_drawing_without_a_unit_is_refused_naming_units(run):
    done = run("check", SAMPLES / "ticket-counter.stl", "--json")
    assert done.status == 1
    error = done.document["files"][0]["error"]
    assert error["kind"] == "unit-missing"
    for words in ("2.4 x 0.65 x 0.86 m if it is in mm", "if it is in ft", "--unit mm"):
        assert words in error["text"]


def test_a_bad_file_never_stops_the_others(run, tmp_path):
    (tmp_path / "bad.stl").write_bytes(b"\x89PNG\r\n\x1a\n")
    done = run(
        "check", tmp_path / "bad.stl", SAMPLES / "ticket-counter.stl", "--unit", "mm", "--json"
    )
    assert done.status == 1
    bad, good = done.document["files"]
    assert bad["error"] is not None
    assert good["error"] is None


def test_patterns_are_expanded_where_the_shell_did_not(run):
    done = run("check", SAMPLES / "*.stl", "--unit", "mm", "--json")
    assert len(done.document["files"]) == 2


# measure


def test_a_tray_is_measured_to_its_closed_form(run, tray):
    words = ("--unit", "mm", "--kind", "open", "--show", "up", "--face-coat", "4mm")
    [piece] = run("measure", tray, *words, "--backer", "20 mm", "--json").document["pieces"]
    assert piece["area_m2"]["show_face"] == pytest.approx(1.1346, rel=5e-4)
    assert piece["area_m2"]["return"] == pytest.approx(0.2205, rel=5e-4)
    length, width, height, thick = 1.830, 0.620, 0.045, 0.024
    exact_m3 = length * width * height - (length - 2 * thick) * (width - 2 * thick) * (
        height - thick
    )
    volume_m3 = piece["layer_volume_m3"]
    assert volume_m3["face_coat"] + volume_m3["backer"] == pytest.approx(exact_m3, rel=5e-4)


def test_without_thicknesses_there_are_areas_only(run, tray):
    done = run("measure", tray, "--unit", "mm", "--kind", "open", "--show", "up", "--json")
    [piece] = done.document["pieces"]
    assert piece["layers"] == []
    assert piece["area_m2"]["show_face"] == pytest.approx(1.1346)


def test_a_direction_that_cannot_be_found_is_asked_for_with_every_reading(run):
    done = run("measure", SAMPLES / "ticket-counter.stl", "--unit", "mm", "--json")
    assert done.status == 1
    [error] = done.document["errors"]
    assert error["kind"] == "direction-missing"
    for number, side in enumerate(("up", "front", "right", "left", "back", "down"), 1):
        assert f"S{number}  --kind open --show {side} " in error["text"]


def test_a_direction_that_stands_out_is_found_and_said(run):
    done = run("measure", SAMPLES / "hearth-surround.stl", "--unit", "in", "--json")
    [piece] = done.document["pieces"]
    assert (piece["kind"], piece["direction_source"]) == ("piece", "found")
    assert piece["show_direction"] == [0.0, -1.0, 0.0]
    [note] = [note for note in piece["notes"] if note["code"] == "direction-either"]
    assert note["text"].startswith("show side front, as piece: back would give the same")


def test_a_reading_is_chosen_by_its_number(run):
    words = ("--unit", "mm", "--kind", "open", "--show", "S1", "--json")
    [piece] = run("measure", SAMPLES / "ticket-counter.stl", *words).document["pieces"]
    assert (piece["show_direction"], piece["direction_source"]) == ([0.0, 0.0, 1.0], "told")
    assert "S1 is up, as open" in [note["text"] for note in piece["notes"]]


def test_what_was_asked_about_is_drawn_reading_by_reading(run, tmp_path):
    pytest.importorskip("embreex")
    out = tmp_path / "out"
    done = run("measure", SAMPLES / "ticket-counter.stl", "--unit", "mm", "-o", out)
    assert done.status == 1
    names = sorted(path.name for path in out.iterdir())
    assert names == ["measure.json", "surfaces.csv", "ticket-counter-readings.png"]
    assert (out / "ticket-counter-readings.png").read_bytes().startswith(b"\x89PNG")


def test_without_the_extra_no_picture_is_drawn_and_that_is_said(run, tmp_path, monkeypatch):
    monkeypatch.setattr("takeoff.report.first_hits.find_spec", lambda name: None)
    words = ("--edge-depth", "60mm", "-o", tmp_path / "out", "--strict")
    done = run("measure", SAMPLES / "wall-panel.dxf", *words)
    assert "no pictures are drawn: they need the extra [report]" in done.out
    assert not list((tmp_path / "out").glob("*.png"))
    assert done.status == 0


def test_an_outline_without_edge_depth_is_refused(run):
    done = run("measure", SAMPLES / "wall-panel.dxf")
    assert done.status == 1
    assert "--edge-depth 40mm" in done.out


def test_edges_of_an_outline_have_depths_of_their_own(run):
    words = ("--edge-depth", "60mm", "--edge", "E3=0", "--edge", "E1=200mm", "--json")
    [piece] = run("measure", SAMPLES / "wall-panel.dxf", *words).document["pieces"]
    assert piece["area_m2"]["upright"] == pytest.approx(1.2 * 0.2)
    assert piece["area_m2"]["return"] == pytest.approx((2 * 2.7 + 3.0) * 0.06)


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--edge", "E3"), "cannot read --edge 'E3'"),
        (("--edge", "=4mm"), "cannot read --edge '=4mm'"),
        (("--colour", "red"), "No such option"),
    ],
)
def test_words_that_are_no_option_end_with_2(run, words, message):
    done = run("measure", SAMPLES / "wall-panel.dxf", *words)
    assert done.status == 2
    assert message in done.err


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--edge-depth", "60"), "'60' has no unit"),
        (("--edge-depth", "60mm", "--edge", "E99=0"), "there is no edge E99"),
        (("--edge-depth", "60mm", "--kind", "open"), "leave the kind out"),
        (("--edge-depth", "60mm", "--show", "front"), "leave the direction out"),
        (("--edge-depth", "60mm", "--face-coat", "0mm"), "a layer of 0mm is no layer"),
        (("--edge-depth", "60mm", "--layer", "NOWHERE"), "NOWHERE"),
    ],
)
def test_what_does_not_fit_is_refused(run, words, message):
    done = run("measure", SAMPLES / "wall-panel.dxf", *words)
    assert done.status == 1
    assert message in done.out + done.err
    refused = run("measure", SAMPLES / "wall-panel.dxf", *words, "--json")
    assert refused.status == 1
    assert message in refused.document["errors"][0]["text"]


def test_what_cannot_be_written_is_not_printed_as_done(run, tmp_path):
    (tmp_path / "out").write_bytes(b"")
    words = ("--edge-depth", "60mm", "-o", tmp_path / "out")
    done = run("measure", SAMPLES / "wall-panel.dxf", *words)
    assert (done.status, done.out) == (1, "")
    assert "name another folder with -o" in done.err


def test_measure_writes_its_files(run, tmp_path):
    run("measure", SAMPLES / "wall-panel.dxf", "--edge-depth", "60mm", "-o", tmp_path / "out")
    names = sorted(path.name for path in (tmp_path / "out").iterdir())
    drawn = ["WALL-PANEL.png"] if pictures_can_be_drawn() else []
    assert names == [*drawn, "measure.json", "surfaces.csv"]


# weigh


def test_a_mix_is_weighed_in_order_with_cautions(run):
    done = run("weigh", "backer-poured", "--volume", "18L", "--scale", "10g")
    assert done.status == 0
    assert done.out.index("water") < done.out.index("white-cement") < done.out.index("ar-glass")
    assert "1910.1053" in done.out
    assert done.out.rstrip().endswith("Follow the safety data sheets and local rules.")


def test_a_weigh_sheet_takes_the_words_of_a_caster(run):
    words = ("--scale", "1g to 2kg", "--scale", "20g to 60kg", "--bucket", "20kg")
    words += ("--moisture", "4%", "--absorption", "silica-sand=0.5%", "--hold-back", "15%")
    words += ("--at", "32C", "--at", "water=12C", "--at", "ice=-5C", "--wanted", "18C")
    words += ("--gain", "1C", "--air", "28C", "--humidity", "45%", "--wind", "12km/h")
    document = run("weigh", "backer-sprayed", "--mass", "60kg", *words, "--json").document
    rows = {row["name"]: row for row in document["ingredients"]}
    assert rows["silica-sand"]["portions"][0]["mass_kg"] == 20.0
    assert rows["silica-sand"]["mass_kg"] / rows["white-cement"]["mass_kg"] == pytest.approx(
        1.045, abs=0.002
    )
    assert (rows["held-back water"]["held_back"], rows["water"]["held_back"]) == (True, False)
    assert rows["ice"]["scale"] == "1g"
    assert rows["ar-glass-fibre"]["at_gun"] is True
    assert document["heat"]["mix_c"] == pytest.approx(18.0, abs=0.05)
    assert document["drying"]["limit_kg_m2_h"] == 0.5
    assert document["settings"]["at"] == {"all": "32C", "water": "12C", "ice": "-5C"}


def test_a_coat_and_a_spray_station_are_told(run):
    words = ("--coat", "12mm", "--use", "cladding", "--slurry", "4.75kg/30s", "--glass", "125g/15s")
    done = run("weigh", "backer-sprayed", "--mass", "60kg", *words)
    assert done.status == 0
    assert "a coat of 12 mm weighs 24.96 kg/m²" in done.out
    assert "at least 24.96 kg/m², at most 37.44 kg/m²" in done.out
    assert "it gives 500 g/min of fibre: 5 % of total" in done.out


def test_scales_come_from_the_shop_and_the_temperature_from_a_thermometer(run):
    shop = ("--shop", SAMPLES / "shop.toml")
    done = run("weigh", "backer-poured", "--volume", "18L", *shop, "--temperature", "30C")
    assert "15.30 kg" in done.out
    assert "setting takes about 0.58 times what it takes at 20 C (an estimate)" in done.out


def test_pounds_and_ounces_are_for_a_scale_that_shows_them(run):
    done = run("weigh", "backer-poured", "--volume", "18L", "--scale", "0.1oz")
    assert "33 lb 11.8 oz" in done.out
    bags = run("weigh", "backer-poured", "--mass", "40lb", "--scale", "0.01lb")
    assert "16.23 lb" in bags.out


def test_every_fault_of_a_mix_file_is_an_error_of_its_own(run, tmp_path):
    path = tmp_path / "mix.toml"
    path.write_text('name = "a"\nlayer = "core"\nplacing = "thrown"\n', encoding="utf-8")
    refused = run("weigh", path, "--mass", "20kg", "--json")
    assert refused.status == 1
    places = [error["where"].rsplit(":", 1)[1] for error in refused.document["errors"]]
    assert places == ["1", "1", "1", "2", "3"]


def test_what_is_weighed_gives_its_volume_back(run):
    document = run("weigh", "backer-poured", "--volume", "18 L", "--json").document
    solid_m3 = sum(row["mass_kg"] / row["density_kg_m3"] for row in document["ingredients"])
    assert solid_m3 / (1 - document["air_share"]) == pytest.approx(0.018, rel=1e-9)


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("backer-poured",), "give one of volume, mass or bags"),
        (("backer-poured", "--volume", "18"), "'18' has no unit"),
        (("backer-poured", "--bags", "2"), "comes from ingredients"),
        (("backer-poured", "--volume", "18L", "--scale", "0g"), "cannot have a division of 0g"),
        (("backer-poured", "--volume", "18L", "--wanted", "18C"), "ice needs the temperatures"),
        (("backer-poured", "--volume", "18L", "--moisture", "beach=4%"), "has no sand named beach"),
        (("backer-poured", "--mass", "2kg", "--scale", "50g"), "times as much at once"),
        (("backer-pured", "--volume", "18L"), "backer-poured"),
    ],
)
def test_what_cannot_be_weighed_is_refused(run, words, message):
    done = run("weigh", *words)
    assert done.status == 1
    assert message in done.err
    refused = run("weigh", *words, "--json")
    assert refused.status == 1
    assert message in refused.document["errors"][0]["text"]


# bid


def test_the_sample_job_is_bid(run, tmp_path):
    done = run("bid", SAMPLES / "job.toml", "-o", tmp_path / "out")
    assert done.status == 0
    assert "TOTAL EUR" in done.out
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == [
        "batches.csv",
        "batches.pdf",
        "bid.html",
        "bid.json",
        "bid.xlsx",
        "hearth-surround.png",
        "materials.csv",
        "pieces.dxf",
        "surfaces.csv",
        "ticket-counter.png",
        "wall-panel.png",
    ]
    written = json.loads((tmp_path / "out" / "bid.json").read_text(encoding="utf-8"))
    assert written == run("bid", SAMPLES / "job.toml", "--json").document


def test_the_same_job_gives_the_same_bytes(tmp_path):
    """Each run has its own seed for the order of sets, as it has on the machine of a user."""
    words = [sys.executable, "-m", "takeoff", "bid", str(SAMPLES / "job.toml"), "-o"]
    made = []
    for seed in ("1", "2"):
        folder = tmp_path / seed
        seeded = {**os.environ, "PYTHONHASHSEED": seed}
        subprocess.run([*words, str(folder)], check=True, capture_output=True, env=seeded, cwd=ROOT)
        made.append({path.name: path.read_bytes() for path in folder.iterdir()})
    assert made[0] == made[1]


def test_strict_ends_with_3_where_there_are_notes(run):
    assert run("bid", SAMPLES / "job.toml", "--strict").status == 3


def test_strict_passes_where_there_is_only_information(run, tray):
    words = ("--unit", "mm", "--kind", "open", "--show", "up", "--backer", "20mm", "--strict")
    assert run("measure", tray, *words).status == 0


def test_a_missing_price_refuses_the_bid_and_names_it(run, hall):
    shop = hall / "shop.toml"
    text = shop.read_text(encoding="utf-8").replace("ar-glass-fibre", "e-glass")
    shop.write_text(text, encoding="utf-8")
    done = run("bid", hall / "job.toml", "--json")
    assert done.status == 1
    [error] = done.document["errors"]
    assert "no pack and price for ar-glass-fibre" in error["text"]
    last = text[: text.rindex("[[price]]")].count("\n") + 1
    assert f"{shop}:{last}" in error["where"]
    assert done.document["material_total"] is None


@pytest.mark.parametrize("command", ["bid", "batch"])
@pytest.mark.parametrize("name", ["wall-panel.dxf", "ticket-counter.stl"])
def test_a_drawing_given_as_a_job_is_told_what_makes_one_of_it(run, command, name):
    done = run(command, SAMPLES / name)
    assert (done.status, done.out) == (1, "")
    assert f"takeoff start {SAMPLES / name} makes a job of it" in done.err


def test_a_fault_of_a_piece_names_its_line(run, hall):
    job = hall / "job.toml"
    text = job.read_text(encoding="utf-8").replace('show = "front"', 'show = "sideways"')
    job.write_text(text, encoding="utf-8")
    done = run("bid", job)
    assert done.status == 1
    assert "hearth-surround.stl" in done.err
    assert "sideways" in done.err


def test_an_output_folder_that_is_a_file_is_refused(run, tmp_path):
    (tmp_path / "out").write_bytes(b"")
    done = run("bid", SAMPLES / "job.toml", "-o", tmp_path / "out")
    assert done.status == 1
    assert "name another folder with -o" in done.err


# all


def test_the_module_runs_as_the_command_does():
    done = subprocess.run(
        [sys.executable, "-m", "takeoff", "--version"], capture_output=True, text=True, check=True
    )
    assert done.stdout.startswith("takeoff, version ")


def test_an_unforeseen_fault_reaches_the_user_in_one_line(run, monkeypatch):
    def broken(*words, **options):
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr("takeoff.facade.checking.check", broken)
    done = run("check", "a.stl")
    assert done.status == 1
    assert "a fault in takeoff itself, please report it" in done.err


def test_an_interrupt_ends_with_130(run, monkeypatch):
    def interrupted(*words, **options):
        raise KeyboardInterrupt

    monkeypatch.setattr("takeoff.facade.checking.check", interrupted)
    assert run("check", "a.stl").status == 130
