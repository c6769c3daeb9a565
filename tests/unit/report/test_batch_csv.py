"""Batches as a CSV file to fill in."""

from __future__ import annotations

import copy
import csv
import io
from typing import Any

import pytest

from takeoff.report.batch_csv import BATCH_SHEET_COLUMNS, batch_csv
from tests.unit.report.sheet_samples import bid_with_clock, bid_without_clock


def rows_of(written: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(written.decode("utf-8-sig"), newline="")))


def test_every_ingredient_of_every_batch_has_its_row() -> None:
    document = bid_with_clock()
    pour = document["pour_day"]
    assert pour is not None
    wanted = [
        (str(day["day"]), batch["id"], line["name"], line["mass_kg"])
        for day in pour["days"]
        for batch in day["batches"]
        for line in batch["ingredients"]
    ]
    rows = [row for row in rows_of(batch_csv(document)) if row["ingredient"]]
    told = [(row["pour_day"], row["batch"], row["ingredient"]) for row in rows]
    assert told == [one[:3] for one in wanted]
    assert [float(row["mass_kg"]) for row in rows] == pytest.approx([one[3] for one in wanted])


def test_mixing_and_rest_have_a_row_between_what_goes_in_before_and_after_them() -> None:
    document = bid_with_clock()
    rows = [row for row in rows_of(batch_csv(document)) if row["mix"] == "backer-poured"]
    mixing = [row for row in rows if not row["ingredient"]]
    assert len(mixing) == len({row["batch"] for row in rows}) > 1
    for row in mixing:
        steps = {one["step"]: one["ingredient"] for one in rows if one["batch"] == row["batch"]}
        assert row["when"] == "mix 3 min, rest 3 min, mix again 2 min"
        assert (row["mass_kg"], row["running_kg"], row["actual"]) == ("", "", "")
        number = int(row["step"])
        assert steps[str(number - 1)] == "held-back water"
        assert steps[str(number + 1)] == "ar-glass-fibre"


def test_a_row_of_mixing_has_as_many_cells_as_any_other() -> None:
    lines = csv.reader(io.StringIO(batch_csv(bid_without_clock()).decode("utf-8-sig"), newline=""))
    assert {len(line) for line in lines} == {len(BATCH_SHEET_COLUMNS)}


def test_batches_without_a_clock_are_numbered_kind_by_kind() -> None:
    document = bid_without_clock()
    assert document["batch"] is not None
    rows = rows_of(batch_csv(document))
    assert len({row["batch"] for row in rows}) == document["batch"]["batch_count"]
    lots = document["batch"]["lots"]
    assert rows[0]["batch"] == "1.1"
    assert rows[-1]["batch"] == f"{len(lots)}.{lots[-1]['batch_count']}"
    last = [row for row in rows if row["batch"] == rows[-1]["batch"]]
    assert float(last[-1]["running_kg"]) == pytest.approx(lots[-1]["mass_kg"])


def test_the_actual_column_is_there_to_be_filled_in() -> None:
    rows = rows_of(batch_csv(bid_without_clock()))
    assert list(rows[0]) == list(BATCH_SHEET_COLUMNS)
    assert {row["actual"] for row in rows} == {""}


def test_a_file_begins_with_a_mark_and_is_the_same_every_time() -> None:
    written = batch_csv(bid_with_clock())
    assert written.startswith(b"\xef\xbb\xbfpour_day,batch,")
    assert batch_csv(bid_with_clock()) == written


def test_names_cannot_run_as_formulas() -> None:
    document: Any = copy.deepcopy(bid_without_clock())
    lot = document["batch"]["lots"][0]
    lot["mix"] = "=HYPERLINK(1)"
    lot["ingredients"][0]["name"] = "@sand"
    row = rows_of(batch_csv(document))[0]
    assert row["mix"] == "'=HYPERLINK(1)"
    assert row["ingredient"] == "'@sand"


def test_a_bid_without_batches_has_the_head_alone() -> None:
    document: Any = {**bid_without_clock(), "batch": None}
    assert rows_of(batch_csv(document)) == []
