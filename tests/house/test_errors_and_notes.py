"""Every kind of error and every code of a note comes up in a test."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest

from takeoff import errors
from takeoff.errors import ErrorKind, TakeoffError
from takeoff.notes import NoteCode
from tests.house.walking import Source, assert_none, last_name, parsed, sources_in

ENUMS = {"ErrorKind", "NoteCode"}

# Python's own words, not ours to compare.
WORDLESS = {"FrozenInstanceError"}


def error_classes() -> dict[str, ErrorKind]:
    """Every error of the tree that has a kind, by name."""
    return {
        name: value.kind
        for name, value in vars(errors).items()
        if isinstance(value, type) and issubclass(value, TakeoffError) and hasattr(value, "kind")
    }


def other_tests() -> tuple[Source, ...]:
    """Every test except the house's own, which only speak of the rules."""
    return tuple(source for source in sources_in("tests") if "house" not in source.path.parts)


def errors_raised(source: Source) -> Iterator[str]:
    """Names of the errors that a test expects, by ``pytest.raises`` or in a table for it."""
    for node in ast.walk(source.tree):
        if isinstance(node, ast.Name | ast.Attribute) and last_name(node).endswith("Error"):
            yield last_name(node)


def expectations_without_words(source: Source) -> list[str]:
    """Refusals expected without the words a person would read, and not kept to be read after."""
    kept = {
        id(item.context_expr)
        for node in ast.walk(source.tree)
        if isinstance(node, ast.With)
        for item in node.items
        if item.optional_vars is not None
    }
    return [
        f"{source.at(node)}: {ast.unparse(node)} does not say match="
        for node in ast.walk(source.tree)
        if isinstance(node, ast.Call)
        and last_name(node.func) == "raises"
        and id(node) not in kept
        and not (node.args and last_name(node.args[0]) in WORDLESS)
        and not any(keyword.arg in {"match", "check"} for keyword in node.keywords)
    ]


def members_named(source: Source) -> set[str]:
    """Members of the two enums that a test names, and every text it holds."""
    named = {
        node.attr
        for node in ast.walk(source.tree)
        if isinstance(node, ast.Attribute) and last_name(node.value) in ENUMS
    }
    texts = {
        node.value
        for node in ast.walk(source.tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    return named | texts


def test_every_kind_of_error_is_raised_in_a_test() -> None:
    expected = {name for source in other_tests() for name in errors_raised(source)}
    kinds = {kind for name, kind in error_classes().items() if name in expected}
    named = {name for source in other_tests() for name in members_named(source)}
    assert_none(
        f"takeoff/errors.py: no test raises an error of kind {kind.value}"
        for kind in ErrorKind
        if kind not in kinds and kind.name not in named
    )


def test_every_note_comes_up_in_a_test() -> None:
    named = {name for source in other_tests() for name in members_named(source)}
    assert_none(
        f"takeoff/notes.py: no test shows the note {code.value}"
        for code in NoteCode
        if code.name not in named and code.value not in named
    )


def test_every_kind_belongs_to_one_error() -> None:
    kinds = [
        kind for name, kind in error_classes().items() if "kind" in vars(getattr(errors, name))
    ]
    assert sorted(kinds) == sorted(ErrorKind)


def test_refusals_are_matched_by_their_words() -> None:
    assert_none(line for source in other_tests() for line in expectations_without_words(source))


def test_an_expected_error_is_seen() -> None:
    text = "with pytest.raises(errors.MeshError, match='x'): pass\nTABLE = [MixError]"
    assert set(errors_raised(parsed("tests/a.py", text))) == {"MeshError", "MixError"}


def test_a_named_member_is_seen() -> None:
    text = "x = NoteCode.MENDED\ny = 'from-memory'\nz = other.SKIPPED"
    assert {"MENDED", "from-memory"} == members_named(parsed("tests/a.py", text))


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("with pytest.raises(MeshError): pass", 1),
        ("with pytest.raises(MeshError, match='open'): pass", 0),
        ("with pytest.raises(MeshError) as refused: pass", 0),
        ("with pytest.raises(dataclasses.FrozenInstanceError): pass", 0),
    ],
)
def test_an_expectation_without_words_is_found(text: str, count: int) -> None:
    assert len(expectations_without_words(parsed("tests/a.py", text))) == count
