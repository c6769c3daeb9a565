"""Whole runs of the pour day."""

import json
import shutil

import pytest

from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"


@pytest.fixture
def panels(tmp_path):
    """The pour of the wall panels alone, in a copy that a test may spoil."""
    shutil.copytree(SAMPLES, tmp_path / "hall")
    path = tmp_path / "hall" / "pour-day.toml"
    head, *pieces = path.read_text(encoding="utf-8").split("[[piece]]")
    path.write_text(f"{head}[[piece]]{pieces[-1]}", encoding="utf-8")
    return path


def test_a_pour_day_says_what_how_much_where_by_when_and_who(run, panels):
    done = run("batch", panels)
    assert done.status == 0
    for words in (
        "how much",
        "use by",
        "hand 1",
        "wall panel 1",
        "backer-poured",
        "a finger test on the piece overrides it",
        "told by nobody",
        "Caution",
    ):
        assert words in done.out


def test_a_pour_day_as_json_and_as_files(run, panels, tmp_path):
    done = run("batch", panels, "--json", "-o", tmp_path / "out")
    document = done.document
    assert document["feasible"]
    assert document["batch_count"] == sum(len(day["batches"]) for day in document["days"])
    written = json.loads((tmp_path / "out" / "batch.json").read_text(encoding="utf-8"))
    assert written == document
    assert "wrote" in done.err


def test_a_pour_that_cannot_be_is_told_and_ends_with_one(run, panels):
    text = panels.read_text(encoding="utf-8")
    panels.write_text(text.replace("currency", "days = 1\ncurrency", 1), encoding="utf-8")
    done = run("batch", panels)
    assert done.status == 1
    assert "NO PLAN" in done.out
    # Six forms alone would not do: there are four tables.
    assert "wall panel: forms: 6, where 2 is the limit; would do: 3 pour days\n" in done.out
    again = run("batch", panels, "--json")
    assert (again.status, again.document["feasible"]) == (1, False)


def test_a_pour_without_a_clock_is_refused(run, panels):
    text = panels.read_text(encoding="utf-8")
    panels.write_text(text.replace('rate = "4 kg/min"', "", 1), encoding="utf-8")
    done = run("batch", panels)
    assert (done.status, done.out) == (1, "")
    assert "[backer] tells no rate" in done.err
    document = run("batch", panels, "--json").document
    assert document["errors"][0]["kind"] == "batch"
    assert document["days"] == []


def test_a_pour_day_to_be_proven_says_the_same_on_every_run(run, panels):
    one, other = (run("batch", panels, "--prove", "--json") for _ in range(2))
    assert one.out == other.out
