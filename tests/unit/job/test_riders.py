"""Samples and test boards are cast along with pieces, from their batches."""

from __future__ import annotations

import pytest

import takeoff
from takeoff.job import pour_planning
from takeoff.notes import NoteCode
from tests.unit.job.test_bidding import SAMPLES

PASSES = 'mix = "face-coat-sprayed"\noverspray = "10 %"\n'


def clocked(folder, *, hands=3):
    """Copy the panels of the sample with a clock for all that is mixed."""
    for path in (path for path in SAMPLES.iterdir() if path.is_file()):
        (folder / path.name).write_bytes(path.read_bytes())
    job = (SAMPLES / "panels.toml").read_text(encoding="utf-8")
    job = job.replace("panels-shop", "clock-shop")
    job = job.replace(PASSES, PASSES + 'passes = 2\npot_life = "30 min"\nrate = "3 kg/min"\n')
    way = 'way = "dammed"\n'
    job = job.replace(way, way + 'pot_life = "30 min"\nrate = "4 kg/min"\n', 1)
    packed = 'mix = "backer-packed"\n'
    job = job.replace(packed, packed + 'pot_life = "40 min"\nrate = "2 kg/min"\n')
    (folder / "clock.toml").write_text(job, encoding="utf-8")
    shop, _, _ = (SAMPLES / "pour-shop.toml").read_text(encoding="utf-8").partition("[[price]]")
    shop = shop.replace('suits = ["backer-poured"]', "").replace("hands = 2", f"hands = {hands}")
    prices = (SAMPLES / "panels-shop.toml").read_text(encoding="utf-8")
    text = shop + "\n" + prices[prices.index("[labour]") :]
    (folder / "clock-shop.toml").write_text(text, encoding="utf-8")
    return folder / "clock.toml"


@pytest.fixture(scope="module")
def planned(tmp_path_factory):
    return takeoff.plan(clocked(tmp_path_factory.mktemp("panels")))


def parts_of(document, piece):
    return [
        (day["day"], part)
        for day in document["days"]
        for batch in day["batches"]
        for part in batch["parts"]
        if part["piece"].startswith(piece)
    ]


def test_every_mix_has_a_board_on_every_day(planned):
    document = planned.to_dict()
    days = [day["day"] for day in document["days"]]
    for mix in ("face-coat-sprayed", "backer-packed", "backer-poured"):
        boards = parts_of(document, f"test board {mix}")
        assert sorted({day for day, _ in boards}) == days
        assert {part["copy"] for _, part in boards} == set(range(1, len(days) + 1))


def test_boards_and_samples_weigh_what_they_hold(planned):
    document = planned.to_dict()
    boards_kg = sum(part["mass_kg"] for _, part in parts_of(document, "test board backer-poured"))
    # 0.6 x 0.6 m, 12 mm thick: 4.32 L on each of three days, at 2095 kg/m3
    assert boards_kg == pytest.approx(3 * 0.00432 * 2095, rel=1e-3)
    asked = [row for row in document["demand"] if row["piece"].startswith("sample")]
    placed = parts_of(document, "sample")
    demand_kg = sum(row["mass_kg"] for row in asked)
    assert sum(part["mass_kg"] for _, part in placed) == pytest.approx(demand_kg)


def test_walls_packed_first_are_poured_against_on_the_same_day(planned):
    for day in planned.plan.days:
        steps = [one.batch.step for one in day.batches]
        mixes = [step.mix.name for step in steps]
        assert mixes.index("backer-packed") < mixes.index("backer-poured")


def test_a_day_without_a_board_is_noted(tmp_path, monkeypatch):
    monkeypatch.setattr(pour_planning, "_MOST_TRIES", 0)
    made = takeoff.plan(clocked(tmp_path))
    [note] = [note for note in made.notes if note.code is NoteCode.BOARD_MISSING]
    assert "day 1, 2, 3: a mix is used of which no test board is cast" in note.text
