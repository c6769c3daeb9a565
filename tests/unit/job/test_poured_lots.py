"""A bid whose job tells the clock is bought batch by batch, as it will be poured."""

import pytest

import takeoff
from takeoff.notes import NoteCode
from takeoff.report.bid_text import bid_text
from tests.unit.job.test_pour_planning import SAMPLES, batches_of, changed_job


@pytest.fixture(scope="module")
def document(tmp_path_factory):
    return takeoff.bid(changed_job(tmp_path_factory.mktemp("pour"))).to_dict()


def test_the_pour_day_stands_in_the_bid(document):
    pour = document["pour_day"]
    assert pour["schema"] == "takeoff.batch/1"
    assert document["batch"]["batch_count"] == pour["batch_count"] == len(batches_of(pour))
    assert "\nday 1: done at " in bid_text(document)


def test_what_is_ordered_is_what_the_batches_take(document):
    batches = batches_of(document["pour_day"])
    weighed_kg = sum(batch["mass_kg"] for batch in batches)
    assert sum(row["order_kg"] for row in document["materials"]) == pytest.approx(weighed_kg)
    lots_kg = sum(lot["batch_count"] * lot["mass_kg"] for lot in document["batch"]["lots"])
    assert lots_kg == pytest.approx(weighed_kg)


def test_what_is_needed_net_is_what_the_pieces_weigh(document):
    wet_kg = sum(piece["count"] * piece["wet_kg"] for piece in document["pieces"])
    assert sum(row["net_kg"] for row in document["materials"]) == pytest.approx(wet_kg)
    lost = ("loss_kg", "residue_kg", "leftover_kg")
    lost_kg = sum(batch[key] for batch in batches_of(document["pour_day"]) for key in lost)
    assert sum(row["loss_kg"] for row in document["materials"]) == pytest.approx(lost_kg)


def test_each_ingredient_is_the_sum_over_the_batches(document):
    cement_kg = sum(
        line["mass_kg"]
        for batch in batches_of(document["pour_day"])
        for line in batch["ingredients"]
        if line["name"] == "white-cement"
    )
    [row] = [row for row in document["materials"] if row["ingredient"] == "white-cement"]
    assert row["order_kg"] == pytest.approx(cement_kg)


def test_a_finger_test_overrides_the_clock_of_a_bid_too(document):
    assert NoteCode.FINGER_TEST.value in [note["code"] for note in document["notes"]]


def test_without_a_plan_the_batches_are_counted_as_before(tmp_path):
    job = changed_job(tmp_path, ("pour-day.toml", "currency", "days = 2\ncurrency"))
    made = takeoff.bid(job)
    [note] = [note for note in made.notes if note.code is NoteCode.NO_PLAN]
    assert "cannot all be placed as told (wall panel: forms)" in note.text
    document = made.to_dict()
    assert document["pour_day"]["feasible"] is False
    assert document["batch"]["batch_count"] == sum(lot.lot.batch_count for lot in made.lots) > 0
    assert "NO PLAN as told; this stands in the way" in bid_text(document)


def test_without_a_clock_there_is_no_pour_day():
    document = takeoff.bid(SAMPLES / "job.toml").to_dict()
    assert document["pour_day"] is None
