"""The files of a bid: all of them, the same figures in each, and what is left out said."""

from __future__ import annotations

import csv
import io
import json

import pytest

import takeoff
from takeoff.errors import MissingExtraError
from takeoff.job import bid_files as module
from takeoff.job.bid_files import OF_EXTRA, bid_files, left_out
from takeoff.notes import NoteCode
from tests.unit.job.test_bidding import SAMPLES, changed_job


@pytest.fixture(scope="module")
def hall():
    return takeoff.bid(SAMPLES / "job.toml")


@pytest.fixture(scope="module")
def contents(hall):
    return bid_files(hall)


def test_every_file_is_there(contents):
    assert {*OF_EXTRA, "bid.json", "batches.csv", "pieces.dxf", "wall-panel.png"} <= set(contents)
    assert left_out(list(contents)) == ()


def test_the_total_stands_in_page_and_document(hall, contents):
    assert json.loads(contents["bid.json"])["total"] == str(hall.total)
    assert str(hall.total) in contents["bid.html"].decode("utf-8")


def test_every_batch_has_a_row_for_what_was_really_weighed(hall, contents):
    rows = list(csv.DictReader(io.StringIO(contents["batches.csv"].decode("utf-8-sig"))))
    assert all(row["actual"] == "" for row in rows)
    names = {line["name"] for lot in hall.to_dict()["batch"]["lots"] for line in lot["ingredients"]}
    assert names <= {row["ingredient"] for row in rows}


def test_without_the_extra_the_rest_is_written_and_what_is_missing_said(hall, monkeypatch):
    def missing(*words, **more):
        raise MissingExtraError("it needs the extra [report]")

    for name in ("page_html", "workbook_bytes", "sheets_pdf"):
        monkeypatch.setattr(module, name, missing)
    written = bid_files(hall)
    assert not set(OF_EXTRA) & set(written)
    [note] = [note for note in left_out(list(written)) if note.code is NoteCode.FILE_LEFT_OUT]
    assert "not written: bid.html, bid.xlsx, batches.pdf" in note.text


def test_the_page_shows_in_a_notebook(hall):
    frame = hall.view()._repr_html_()
    assert frame.startswith("<iframe")
    assert 'sandbox="allow-scripts"' in frame
    assert "Ferry hall" in frame


def test_names_in_any_script_are_harmless(tmp_path):
    name = '"Зал 候船 🚢 <script>alert(1)</script> =1+1 ../x"'
    job = changed_job(tmp_path, ("job.toml", '"wall panel"', name))
    made = takeoff.bid(job)
    paths = made.write(tmp_path / "out")
    assert all(path.parent == tmp_path / "out" for path in paths)
    page = (tmp_path / "out" / "bid.html").read_text(encoding="utf-8")
    assert "<script>alert(1)</script>" not in page
    assert "候船" in page
