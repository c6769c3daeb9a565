"""Tolerances of geometry stand in rules classes, where their reason is."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest

from tests.house.walking import Source, assert_none, package, parsed

ROOMS = {"geometry", "piece"}
SMALLEST, LARGEST = 1e-12, 1e-3


def tolerances(tree: ast.Module) -> Iterator[ast.AST]:
    """Numbers written out as a tolerance would be, outside rules classes."""

    def walk(node: ast.AST) -> Iterator[ast.AST]:
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.ClassDef) and child.name.endswith("Rules"):
                continue
            if _is_small_number(child) or _is_small_power(child):
                yield child
            yield from walk(child)

    yield from walk(tree)


def _is_small_number(node: ast.AST) -> bool:
    if not (isinstance(node, ast.Constant) and isinstance(node.value, float)):
        return False
    return SMALLEST <= abs(node.value) <= LARGEST


def _is_small_power(node: ast.AST) -> bool:
    if not (isinstance(node, ast.BinOp) and isinstance(node.op, ast.Pow)):
        return False
    base, power = node.left, node.right
    negative = isinstance(power, ast.UnaryOp) and isinstance(power.op, ast.USub)
    return negative and isinstance(base, ast.Constant) and base.value in (2, 10)


def literal_findings(source: Source) -> list[str]:
    """Tolerances that stand beside the code instead of in a rules class."""
    if source.room not in ROOMS:
        return []
    return [
        f"{source.at(node)}: {ast.unparse(node)} belongs in a class of Rules, with its reason"
        for node in tolerances(source.tree)
    ]


def test_tolerances_stand_in_rules_classes() -> None:
    assert_none(line for source in package() for line in literal_findings(source))


@pytest.mark.parametrize("literal", ["1e-9", "-0.0005", "0.001", "1e-12", "10.0**-6", "2**-20"])
@pytest.mark.parametrize("frame", ["x = {}", "def f(a={}): pass", "class Mesh:\n    tol_m = {}"])
def test_a_tolerance_beside_the_code_is_found(literal: str, frame: str) -> None:
    for room in ROOMS:
        (finding,) = literal_findings(parsed(f"takeoff/{room}/a.py", frame.format(literal)))
        assert "belongs in a class of Rules" in finding


@pytest.mark.parametrize(
    ("room", "text"),
    [
        ("geometry", "class MeshRules:\n    weld_m: float = 1e-6"),
        ("geometry", "half = 0.5\nnothing = 0.0\nsmall = 0.0254\ntiny = 1e-300\ncount = 0"),
        ("mix", "x = 1e-6"),
    ],
)
def test_what_is_no_tolerance_passes(room: str, text: str) -> None:
    assert literal_findings(parsed(f"takeoff/{room}/a.py", text)) == []
