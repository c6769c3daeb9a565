"""The keys of the JSON documents are named in one place."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest

from takeoff import (
    bid_documents,
    documents,
    measure_documents,
    pour_documents,
    start_documents,
    way_documents,
    weigh_documents,
)
from tests.house.walking import (
    Source,
    assert_none,
    constant_text,
    full_name,
    last_name,
    package,
    parsed,
)

# Where rows are typed.
TYPED_IN = {
    "documents",
    "bid_documents",
    "measure_documents",
    "pour_documents",
    "start_documents",
    "way_documents",
    "weigh_documents",
}

# The rooms that build documents or read them back.
ROOMS = {"cli", "facade", "job", "measuring", "report"}

# The commands of the program are named by what they do, whatever a document calls its parts.
COMMANDS = "takeoff.cli.app"

# The settings of a document are named by the options that set them, not by keys.
FREE_KEYWORD = "settings"

KEY_CALLS = {"get", "pop", "setdefault"}


def document_keys() -> frozenset[str]:
    """Every key of every typed dictionary of ``documents``."""
    modules = (
        documents,
        bid_documents,
        measure_documents,
        pour_documents,
        start_documents,
        way_documents,
        weigh_documents,
    )
    values = [value for module in modules for value in vars(module).values()]
    rows = [value for value in values if hasattr(value, "__required_keys__")]
    return frozenset(key for row in rows for key in row.__required_keys__ | row.__optional_keys__)


def spelt_keys(tree: ast.Module) -> Iterator[tuple[ast.AST, str]]:
    """Every string used as the key of a dictionary, settings left out."""
    free = {
        id(keyword.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        for keyword in node.keywords
        if keyword.arg == FREE_KEYWORD
    }
    for node in ast.walk(tree):
        if id(node) in free:
            continue
        for key in _keys_at(node):
            text = constant_text(key)
            if key is not None and text is not None:
                yield node, text
        if isinstance(node, ast.Call) and full_name(node.func) == "dict":
            yield from ((node, keyword.arg) for keyword in node.keywords if keyword.arg)


def _keys_at(node: ast.AST) -> list[ast.expr | None]:
    if isinstance(node, ast.Dict):
        return list(node.keys)
    if isinstance(node, ast.DictComp):
        return [node.key]
    if isinstance(node, ast.Subscript):
        return [node.slice]
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
        return list(node.args[:1]) if node.func.attr in KEY_CALLS else []
    return []


def key_findings(source: Source, keys: frozenset[str]) -> list[str]:
    """Keys of a document spelt outside ``documents``.

    A typed row may be read by subscript: there the type checker knows every key.
    """
    if source.room not in ROOMS or source.module == COMMANDS:
        return []
    return [
        f'{source.at(node)}: "{text}" is a key of a document; build the row by its type'
        for node, text in spelt_keys(source.tree)
        if text in keys and not _only_reads(node)
    ]


def _only_reads(node: ast.AST) -> bool:
    return isinstance(node, ast.Subscript) and isinstance(node.ctx, ast.Load)


def type_findings(source: Source) -> list[str]:
    """Typed dictionaries made outside ``documents``."""
    if source.room in TYPED_IN:
        return []
    return [
        f"{source.at(node)}: rows are typed in documents.py only"
        for node in ast.walk(source.tree)
        if "TypedDict"
        in {
            *(last_name(base) for base in getattr(node, "bases", [])),
            full_name(node.func) if isinstance(node, ast.Call) else "",
        }
    ]


def test_rows_are_typed_in_documents_only() -> None:
    assert_none(line for source in package() for line in type_findings(source))


@pytest.mark.parametrize(
    ("path", "text", "count"),
    [
        ("report/a", "class Row(TypedDict):\n    a: int", 1),
        ("report/a", 'Row = TypedDict("Row", {"class": str})', 1),
        ("report/a", "class Row(NamedTuple):\n    a: int", 0),
        ("documents", "class Row(TypedDict):\n    a: int", 0),
    ],
)
def test_a_row_typed_elsewhere_is_found(path: str, text: str, count: int) -> None:
    assert len(type_findings(parsed(f"takeoff/{path}.py", text))) == count


def test_keys_are_spelt_in_documents_only() -> None:
    keys = document_keys()
    assert_none(line for source in package() for line in key_findings(source, keys))


def test_keys_of_the_documents_are_known() -> None:
    assert {"schema", "errors", "class", "return", "order_kg"} <= document_keys()


@pytest.mark.parametrize(
    "text",
    [
        'row = {"area_m2": 1.0}',
        'row = {"area_m2": a for a in b}',
        'row["area_m2"] = 1.0',
        'x = document.get("area_m2", 0.0)',
        "row = dict(area_m2=1.0)",
    ],
)
def test_a_key_spelt_elsewhere_is_found(text: str) -> None:
    (finding,) = key_findings(parsed("takeoff/measuring/a.py", text), frozenset({"area_m2"}))
    assert '"area_m2" is a key of a document' in finding


@pytest.mark.parametrize(
    "text",
    [
        "row = SurfaceRow(area_m2=1.0)",
        'x = row["area_m2"]',
        'head = head_of(settings={"area_m2": 1.0})',
        'x = "area_m2"',
        'x = {"red": 1}',
        "x[0]",
    ],
)
def test_what_spells_no_key_passes(text: str) -> None:
    assert key_findings(parsed("takeoff/measuring/a.py", text), frozenset({"area_m2"})) == []
