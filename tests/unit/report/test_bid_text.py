"""The text of a bid, and the notes that every output of it says."""

from __future__ import annotations

import re
from typing import Any

import pytest

from takeoff.report.bid_text import bid_text
from takeoff.report.bid_words import doubts_line, what_is_bid
from takeoff.report.figures import System, written_mass
from takeoff.report.note_text import bid_notes
from tests.unit.report.sheet_samples import bid_without_clock


@pytest.mark.parametrize(("count", "words"), [(1, "1 form "), (8, "8 forms ")])
def test_one_form_is_not_told_as_several(count: int, words: str) -> None:
    document: Any = bid_without_clock()
    work = {**document["form_work"], "forms": count}
    told = bid_text({**document, "form_work": work})
    assert [line for line in told.splitlines() if line.startswith(words)]


@pytest.mark.parametrize("system", list(System))
def test_what_is_left_over_of_every_ingredient_stands_beside_its_cost(system: System) -> None:
    document = bid_without_clock()
    lines = bid_text(document, system=system).splitlines()
    head = next(line for line in lines if line.startswith("material "))
    assert head.split()[-2:] == ["left", "over"]
    rows = lines[lines.index(head) + 1 :]
    for material, row in zip(document["materials"], rows, strict=False):
        assert row.startswith(material["ingredient"])
        assert row.endswith(f"  {written_mass(material['left_over_kg'], system)}")
    assert any(material["left_over_kg"] > 1.0 for material in document["materials"])


def test_notes_of_the_job_its_pieces_and_what_was_left_out_are_gathered_once() -> None:
    document: Any = {
        "notes": [{"code": "x", "where": "", "text": "of the job"}],
        "pieces": [
            {"name": "bench", "notes": [{"code": "x", "where": "bench", "text": "heavy"},
                                        {"code": "x", "where": "O1", "text": "bare"}]},
        ],
        "skipped": [{"count": 2, "what": "TEXT", "why": "annotation"}],
    }  # fmt: skip
    told = list(bid_notes(document))
    assert [note.line for note in told] == [
        "note: of the job",
        "note: bench: heavy",
        "note: bench: O1: bare",
        "skipped: 2 TEXT: annotation",
    ]
    assert [note.at for note in told] == [
        "/notes/0/text", "/pieces/0/notes/0/text", "/pieces/0/notes/1/text", "",
    ]  # fmt: skip


def test_pieces_are_named_until_they_are_many() -> None:
    many: Any = {"pieces": [{"count": 2, "name": f"panel {number}"} for number in range(13)]}
    few: Any = {"pieces": many["pieces"][:2]}
    assert what_is_bid(few, listed="below") == "2 x panel 0, 2 x panel 1"
    assert what_is_bid(many, listed="below") == "26 castings of 13 pieces, listed below"


def noted(*codes: str) -> list[dict[str, str]]:
    return [{"code": code, "text": "said", "where": ""} for code in codes]


@pytest.mark.parametrize(
    ("of_job", "of_piece", "line"),
    [
        ((), (), ""),
        (("unit-declared", "heavy"), ("layer-flat", "head", "hold-down"), ""),
        (("from-memory",), ("heavy",), "1 note may change this price"),
        (("from-memory", "size-absurd"), ("default-used",), "3 notes may change this price"),
    ],
)
def test_notes_that_may_change_the_price_are_counted(
    of_job: tuple[str, ...], of_piece: tuple[str, ...], line: str
) -> None:
    document: Any = {"notes": noted(*of_job), "pieces": [{"notes": noted(*of_piece)}]}
    assert doubts_line(document) == line


def test_the_count_stands_under_the_total() -> None:
    hall = bid_without_clock()
    lines = bid_text(hall).splitlines()
    total = next(number for number, text in enumerate(lines) if text.startswith("TOTAL "))
    assert re.fullmatch(r"\d+ notes may change this price", lines[total + 1])
    assert lines[total + 1] == doubts_line(hall)
