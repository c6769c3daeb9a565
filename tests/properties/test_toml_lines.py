"""Whatever valid TOML is written, every entry is found, on the line where its value stands."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator

from hypothesis import given
from hypothesis import strategies as st

from takeoff.files.toml_lines import key_lines

KEYS = st.sampled_from(["a", "b-1", "c_2", "3", '"q.r"', "'lit eral'", '"[x]"', '"a\\"b"'])
BLANKS = st.sampled_from(["", "\n", "# [not.a.table]\n", "\n  # x = 1\n\n"])
GAPS = st.sampled_from(["", " ", "\n  ", " # ]\n", "\n# {\n"])
TEXTS = st.text(st.characters(codec="ascii", min_codepoint=32), max_size=8)
LONG_TEXTS = st.sampled_from(
    ['"""\n[x]\ny = 1\n"""', "'''[[z]]\n'''", '"""a""b\\""""', "'''\n''it''\n'''", '""""q""""']
)
SCALARS = st.one_of(
    st.integers(-9, 9).map(str),
    st.sampled_from(["true", "1.5e3", "nan", "2026-11-25", "2026-11-25 07:32:00", "07:32:00"]),
    TEXTS.map(json.dumps),
    TEXTS.filter(lambda text: "'" not in text).map("'{}'".format),
    LONG_TEXTS,
)


@st.composite
def arrays(draw: st.DrawFn, elements: st.SearchStrategy[str]) -> str:
    """Write an array, over several lines and with comments."""
    items = [f"{draw(GAPS)}{draw(elements)}{draw(GAPS)}," for _ in range(draw(st.integers(0, 3)))]
    return f"[{''.join(items)}{draw(GAPS)}]"


@st.composite
def inline_tables(draw: st.DrawFn, elements: st.SearchStrategy[str]) -> str:
    """Write a table in braces."""
    keys = draw(st.lists(KEYS, unique=True, max_size=3))
    return "{" + ", ".join(f"{key} = {draw(elements)}" for key in keys) + "}"


VALUES = st.recursive(
    SCALARS, lambda inner: st.one_of(arrays(inner), inline_tables(inner)), max_leaves=6
)


@st.composite
def documents(draw: st.DrawFn) -> str:
    """Write statements one after another, leaving out those that TOML forbids there."""
    text = draw(BLANKS)
    for _ in range(draw(st.integers(0, 8))):
        name = draw(st.sampled_from([".", " . "])).join(
            draw(st.lists(KEYS, min_size=1, max_size=3))
        )
        statement = draw(
            st.one_of(
                st.just(f"[{name}]"),
                st.just(f"[[ {name} ]]"),
                VALUES.map(lambda value, name=name: f"{name} = {value}"),
            )
        )
        longer = f"{text}{statement}\n{draw(BLANKS)}"
        try:
            tomllib.loads(longer)
        except tomllib.TOMLDecodeError:
            continue
        text = longer
    return text


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


@given(documents())
def test_the_entries_found_are_those_that_tomllib_reads(text):
    assert set(key_lines(text)) == set(paths_in(tomllib.loads(text)))


@given(documents(), st.data())
def test_the_line_found_is_the_line_of_the_entry(text, data):
    # An entry put at a known line is found there, whatever stands above and below it.
    above = data.draw(documents())
    marked = "\n[zz-mark]\nhere = 1\n"
    whole = f"{above}{marked}"
    line = whole.count("\n", 0, whole.index("here = 1")) + 1
    assert key_lines(whole)["zz-mark", "here"] == line
    assert all(1 <= found <= text.count("\n") + 1 for found in key_lines(text).values())


@given(documents())
def test_a_line_above_moves_every_entry_down_by_one(text):
    assert key_lines("# one more line\n" + text) == {
        path: line + 1 for path, line in key_lines(text).items()
    }
