"""Every entry of a TOML text is found on its line."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator

import pytest

from takeoff.files.toml_lines import key_lines

TEXT = '''\
title = """not a table:
[piece]
escaped \\""" and "" inside
"""  # [nor.this]
single = \'\'\'[[q]] '' \'\'\'\'
"quoted.key".'single' = [ 1, # [x]
  "]", {k = 1, "l m" = [2]},

  [3, 4],
]
when = 2026-11-25 07:32:00
[[piece]]
name = "a # no comment"
[piece.edge]
E3 = 0
[[piece.add]]
x = 1
[[piece.add]]
[piece.add.size]
[[piece]]
[[piece.add]]
y = { a.b = 1, a.c = "}" }
[ shop . "v w" ]
[shop]
"é \\u00e9" = 1
'''

EXPECTED = {
    ("title",): 1,
    ("single",): 5,
    ("quoted.key",): 6,
    ("quoted.key", "single"): 6,
    ("quoted.key", "single", 0): 6,
    ("quoted.key", "single", 1): 7,
    ("quoted.key", "single", 2): 7,
    ("quoted.key", "single", 2, "k"): 7,
    ("quoted.key", "single", 2, "l m"): 7,
    ("quoted.key", "single", 2, "l m", 0): 7,
    ("quoted.key", "single", 3): 9,
    ("quoted.key", "single", 3, 0): 9,
    ("quoted.key", "single", 3, 1): 9,
    ("when",): 11,
    ("piece",): 12,
    ("piece", 0): 12,
    ("piece", 0, "name"): 13,
    ("piece", 0, "edge"): 14,
    ("piece", 0, "edge", "E3"): 15,
    ("piece", 0, "add"): 16,
    ("piece", 0, "add", 0): 16,
    ("piece", 0, "add", 0, "x"): 17,
    ("piece", 0, "add", 1): 18,
    ("piece", 0, "add", 1, "size"): 19,
    ("piece", 1): 20,
    ("piece", 1, "add"): 21,
    ("piece", 1, "add", 0): 21,
    ("piece", 1, "add", 0, "y"): 22,
    ("piece", 1, "add", 0, "y", "a"): 22,
    ("piece", 1, "add", 0, "y", "a", "b"): 22,
    ("piece", 1, "add", 0, "y", "a", "c"): 22,
    ("shop",): 24,
    ("shop", "v w"): 23,
    ("shop", "é é"): 25,
}


def paths_in(value: object, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Walk what tomllib made of a text."""
    entries = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    for key, inner in entries:
        yield (*path, key)
        yield from paths_in(inner, (*path, key))


def test_each_entry_has_the_line_it_stands_on():
    assert dict(key_lines(TEXT)) == EXPECTED


def test_entries_are_those_that_tomllib_finds():
    assert set(key_lines(TEXT)) == set(paths_in(tomllib.loads(TEXT)))


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_line_ends_of_either_kind_count_once(newline):
    assert key_lines(newline.join(["a = 1", "", "b = 2", ""]))["b",] == 3


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment", "   # and blanks \n\t"])
def test_a_text_without_entries_has_no_lines(text):
    assert key_lines(text) == {}
