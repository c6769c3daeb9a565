import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.report.toml_sheet import (
    SheetLine,
    entry,
    off,
    printable,
    prose,
    sheet_edits,
    sheet_text,
    toml_text,
)

ANY_TEXT = st.text(st.characters(exclude_categories=["Cs"]))


@given(ANY_TEXT)
def test_any_text_is_read_back_as_it_was(text):
    assert tomllib.loads(f"a = {toml_text(text)}") == {"a": text}


@given(ANY_TEXT)
def test_no_text_breaks_out_of_its_line(text):
    lines = [entry("a", text, text), *prose(text), off("b = 1", text), SheetLine("[c]")]
    written = sheet_text(lines)
    assert tomllib.loads(written) == {"a": text, "c": {}}
    assert len(written.splitlines()) == len(lines)


@pytest.mark.parametrize("sign", ["\n", "\r", "\x85", "\u2028", "\x1b", "\x7f", "\ud800"])
def test_what_ends_a_line_or_cannot_be_printed_becomes_a_blank(sign):
    assert printable(f"a{sign}b") == "a b"


def test_comments_of_entries_stand_in_a_column():
    text = sheet_text([entry("unit", "mm", "told"), SheetLine("count = 1", "how many")])
    assert text == 'unit = "mm"  # told\ncount = 1    # how many\n'


def test_a_long_sentence_is_wrapped():
    written = sheet_text(prose("word " * 60)).splitlines()
    assert len(written) > 1
    assert all(line.startswith("# word") and len(line) <= 100 for line in written)


def test_lines_that_follow_each_other_and_ask_the_same_are_one_edit():
    lines = [
        SheetLine("price = ["),
        SheetLine('  { pack = "?", price = "?" },', asks="packs"),
        SheetLine('  { pack = "?", price = "?" },', asks="packs"),
        SheetLine("]"),
        entry("unit", "?", asks="the unit"),
        entry("unit", "?", asks="the unit of another"),
    ]
    found = [
        (edit["what"], edit["line"], edit["last_line"], edit["marks"])
        for edit in sheet_edits(lines, "shop.toml")
    ]
    assert found == [
        ("packs", 2, 3, 4),
        ("the unit", 5, 5, 1),
        ("the unit of another", 6, 6, 1),
    ]


def test_a_mark_that_is_commented_out_asks_nothing():
    assert off('minimum_charge = "?"').marks == 0
