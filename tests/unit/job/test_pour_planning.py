"""The pour day of the sample job, held against its own document as an outsider would."""

import json
import math

import pytest

import takeoff
from takeoff.errors import BatchError, ShopFileError
from takeoff.notes import NoteCode
from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"
MIN_S = 60.0


def changed_job(folder, *changes):
    """Copy the sample with some of its text changed, and only the panel of its pieces kept."""
    for name in ("pour-day.toml", "pour-shop.toml", "wall-panel.dxf"):
        (folder / name).write_bytes((SAMPLES / name).read_bytes())
    path = folder / "pour-day.toml"
    head, *pieces = path.read_text(encoding="utf-8").split("[[piece]]")
    path.write_text(f"{head}[[piece]]{pieces[-1]}", encoding="utf-8")
    for name, old, new in changes:
        text = (folder / name).read_text(encoding="utf-8")
        assert old in text
        (folder / name).write_text(text.replace(old, new, 1), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def made():
    return takeoff.plan(SAMPLES / "pour-day.toml")


@pytest.fixture(scope="module")
def document(made):
    return json.loads(json.dumps(made.to_dict()))


def batches_of(document):
    return [batch for day in document["days"] for batch in day["batches"]]


def test_it_is_a_day_plan(made):
    assert isinstance(made, takeoff.DayPlan)
    assert made.feasible
    assert len(made.rows()) == made.batch_count
    assert "pan mixer" in made._repr_html_()


def test_it_tells_how_long_each_batch_is_mixed_and_how_its_walls_are_cast(document):
    for batch in batches_of(document):
        told = [(row["what"], row["duration_s"]) for row in batch["mixing"]]
        assert told == [("mix", 180.0), ("rest", 180.0), ("mix again", 120.0)]
        waiting = [line["name"] for line in batch["ingredients"] if line["after_rest"]]
        assert waiting == (["ar-glass-fibre"] if batch["layer"] == "backer" else [])
    ways = {(row["piece"], row["class"]): row["way"] for row in document["walls"]}
    assert ways == {
        ("ticket counter", "return"): "dammed",
        ("ticket counter", "upright"): "dammed",
        ("hearth surround", "upright"): "dammed",
        ("wall panel", "return"): "dammed",
    }
    panel = [row["surface"] for row in document["walls"] if row["piece"] == "wall panel"]
    assert panel == [f"R{number}" for number in range(1, 8)]


def test_six_panels_from_two_forms_take_three_days(document):
    assert [day["day"] for day in document["days"]] == [1, 2, 3]
    for day in document["days"]:
        panels = {
            part["copy"]
            for batch in day["batches"]
            for part in batch["parts"]
            if part["piece"] == "wall panel"
        }
        assert len(panels) == 2


def test_mass_is_neither_lost_nor_made(document):
    for batch in batches_of(document):
        placed_kg = math.fsum(part["mass_kg"] for part in batch["parts"])
        given_kg = placed_kg + batch["loss_kg"] + batch["residue_kg"] + batch["leftover_kg"]
        assert batch["mass_kg"] == pytest.approx(given_kg, abs=0.01)
        assert batch["leftover_kg"] >= -1e-9
        weighed_kg = math.fsum(line["mass_kg"] for line in batch["ingredients"])
        assert weighed_kg == pytest.approx(batch["mass_kg"])


def test_everything_demanded_is_placed(document):
    keys = ("piece", "copy", "layer", "pass", "class")
    wanted, placed = {}, {}
    for row in document["demand"]:
        wanted[tuple(row[key] for key in keys)] = row["mass_kg"]
    for batch in batches_of(document):
        for part in batch["parts"]:
            key = tuple(part[key] for key in keys)
            placed[key] = placed.get(key, 0.0) + part["mass_kg"]
            assert batch["place_start_s"] - 1e-6 <= part["start_s"] <= part["end_s"]
            assert part["end_s"] <= batch["place_end_s"] + 1e-6
    assert placed == pytest.approx(wanted)


def test_the_demand_is_what_the_bid_places(document):
    bid = takeoff.bid(SAMPLES / "job.toml").to_dict()
    for lot in bid["batch"]["lots"]:
        demanded_kg = math.fsum(
            row["mass_kg"] for row in document["demand"] if row["layer"] == lot["layer"]
        )
        assert demanded_kg == pytest.approx(lot["placed_kg"], rel=1e-9)


def test_every_batch_fits_its_mixer_and_its_pot_life(document):
    mixers = {mixer["name"]: mixer for mixer in document["mixers"]}
    rules = {(rule["mix"], rule["layer"], rule["pass"]): rule for rule in document["rules"]}
    for batch in batches_of(document):
        mixer = mixers[batch["mixer"]]
        assert mixer["least_fill_m3"] - 1e-4 <= batch["volume_m3"] <= mixer["capacity_m3"]
        rule = rules[batch["mix"], batch["layer"], batch["parts"][0]["pass"]]
        usable_s = rule["pot_life_s"] * (1.0 - rule["pot_reserve_share"])
        assert batch["place_end_s"] - batch["mix_end_s"] <= usable_s
        assert batch["use_by_s"] == batch["mix_end_s"] + rule["pot_life_s"]
        assert batch["workers"] == len(batch["placed_by"]) == rule["workers"]


def test_what_overrides_the_clock_is_said(made):
    [note] = [note for note in made.notes if note.code is NoteCode.FINGER_TEST]
    assert "a finger test on the piece overrides it" in note.text


def test_defaults_are_listed_and_what_is_told_is_not(document):
    told = {row["key"] for row in document["defaults"]}
    assert "haul in the shop file" in told
    assert "brush in [face_coat] of the job file" in told
    assert not any(key.startswith("working_day") for key in told)
    assert {row["source"] for row in document["defaults"]} == {"common practice, no source"}


def test_the_same_bytes_come_out_on_every_run(tmp_path):
    job = changed_job(tmp_path)
    one, other = (takeoff.plan(job).to_dict() for _ in range(2))
    assert json.dumps(one) == json.dumps(other)


def test_the_files_are_written(made, tmp_path):
    written = made.write(tmp_path)
    names = [path.name for path in written]
    assert names == ["batch.json", "batches.csv", "pour-day.txt", "batches.pdf"]
    assert (tmp_path / "batches.pdf").read_bytes().startswith(b"%PDF")
    assert "use by" in (tmp_path / "pour-day.txt").read_text(encoding="utf-8")


def test_a_missing_clock_stops_the_plan_and_names_every_figure(tmp_path):
    job = changed_job(
        tmp_path,
        ("pour-day.toml", 'rate = "3 kg/min"', "# no rate"),
        ("pour-day.toml", 'pot_life = "30 min"\nrate', "rate"),
    )
    with pytest.raises(BatchError) as refused:
        takeoff.plan(job)
    for words in ("[face_coat] tells no rate", "[backer] tells no pot_life of backer-poured"):
        assert words in refused.value.text
    assert "data sheet" in refused.value.text


def test_more_days_than_the_job_has_leave_reasons(tmp_path):
    job = changed_job(tmp_path, ("pour-day.toml", "currency", "days = 2\ncurrency"))
    made = takeoff.plan(job)
    assert not made.feasible
    document = made.to_dict()
    [finding] = document["findings"]
    assert finding == {
        "rule": "forms",
        "where": "wall panel",
        "value": 6.0,
        "limit": 4.0,
        "unit": "count",
        "fix": "3 pour days, or 3 forms",
        "enough": True,
    }
    assert (document["days"], document["feasible"]) == ([], False)


def test_a_warm_mix_shortens_pot_life_and_waits(tmp_path):
    job = changed_job(tmp_path, ("pour-day.toml", "passes = 2", 'passes = 2\ntemperature = "30 C"'))
    made = takeoff.plan(job)
    rules = {(rule["layer"], rule["pass"]): rule for rule in made.to_dict()["rules"]}
    # exp(4811 (1/303.15 - 1/293.15)) = 0.582
    assert rules["face_coat", 1]["pot_life_s"] == pytest.approx(1800.0 * 0.582, rel=1e-3)
    assert rules["face_coat", 2]["min_wait_s"] == pytest.approx(300.0 * 0.582, rel=1e-3)
    assert rules["backer", 1]["min_wait_s"] == pytest.approx(1200.0 * 0.582, rel=1e-3)
    assert rules["backer", 1]["pot_life_s"] == 1800.0
    [note] = [note for note in made.notes if note.code is NoteCode.CLOCK_ESTIMATED]
    assert "see the product's data sheet" in note.text


def test_a_cold_mix_waits_longer_but_lasts_no_longer(tmp_path):
    job = changed_job(tmp_path, ("pour-day.toml", "passes = 2", 'passes = 2\ntemperature = "10 C"'))
    rules = {(rule["layer"], rule["pass"]): rule for rule in takeoff.plan(job).to_dict()["rules"]}
    assert rules["face_coat", 1]["pot_life_s"] == 1800.0
    assert rules["backer", 1]["min_wait_s"] > 1200.0


def test_one_pair_of_hands_is_the_default_and_a_second_is_priced_in_time(tmp_path):
    job = changed_job(
        tmp_path,
        ("pour-shop.toml", "[crew]\nhands = 2", ""),
        ("pour-day.toml", 'mix = "backer-poured"', 'mix = "backer-poured"\nwet_edge = "15 min"'),
    )
    document = takeoff.plan(job).to_dict()
    assert document["hands"] == 1
    more = document["more_hands"]
    assert more["hands"] == 2
    assert more["saved_s"] > 0.0


def test_a_joint_that_one_person_cannot_keep_wet_is_told(tmp_path):
    job = changed_job(tmp_path, ("pour-shop.toml", "[crew]\nhands = 2", ""))
    made = takeoff.plan(job)
    [finding] = made.outcome.findings
    # Two batches to a panel: 8 min of mixing and 1 of carrying, 10 min of wet edge less 20 %.
    assert (finding.value_count, finding.limit_count) == (540.0, 480.0)
    assert finding.fix.startswith("one more pair of hands")


def test_figures_told_are_used(tmp_path):
    job = changed_job(
        tmp_path,
        ("pour-day.toml", "passes = 2", 'passes = 2\nbrush = "6 min"\npass_least_wait = "8 min"'),
        ("pour-day.toml", 'mix = "backer-poured"', 'mix = "backer-poured"\nwet_edge = "15 min"'),
        ("pour-shop.toml", "tables = 4", 'tables = 1\nhaul = "3 min"\npot_reserve = "30 %"'),
    )
    document = takeoff.plan(job).to_dict()
    rules = {(rule["layer"], rule["pass"]): rule for rule in document["rules"]}
    assert rules["face_coat", 1]["brush_s"] == 360.0
    assert rules["face_coat", 2]["min_wait_s"] == 480.0
    assert rules["backer", 1]["wet_edge_s"] == 900.0
    assert {rule["haul_s"] for rule in document["rules"]} == {180.0}
    assert {rule["pot_reserve_share"] for rule in document["rules"]} == {0.3}
    assert len(document["days"]) == 6


def test_a_longest_wait_below_the_least_is_refused_at_its_line(tmp_path):
    job = changed_job(
        tmp_path,
        (
            "pour-day.toml",
            "passes = 2",
            'passes = 2\nleast_wait = "20 min"\nlongest_wait = "10 min"',
        ),
    )
    with pytest.raises(ShopFileError, match=r"face_coat.longest_wait: must be above least_wait"):
        takeoff.plan(job)
