"""Public docstrings say what goes in, what comes out, what is refused, and show it."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

import pytest

import takeoff
from tests.house.walking import (
    Function,
    FunctionNode,
    Source,
    assert_none,
    field_name,
    fields,
    functions,
    is_dataclass,
    last_name,
    package,
    parsed,
)

HEADING = re.compile(r"^(\w[\w ]*)\n-{3,}$", re.MULTILINE)

# Functions of one table take the same; its type says what, once for all of them.
SHARED_SIGNATURES = {("here", "gathered")}


def sections(docstring: str) -> dict[str, str]:
    """Give the numpydoc sections of a docstring by their heading."""
    parts = HEADING.split(docstring)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def listed_names(section: str) -> set[str]:
    """Names that a Parameters section describes; several may share a line."""
    heads = [line for line in section.splitlines() if line and not line.startswith(" ")]
    return {name.strip(" *") for head in heads for name in head.split(" : ")[0].split(",")}


def raised(function: Function) -> Iterator[str]:
    """Names of what a function itself raises; "" where it is made elsewhere."""

    def walk(node: ast.AST) -> Iterator[str]:
        for child in ast.iter_child_nodes(node):
            if isinstance(child, FunctionNode | ast.ClassDef | ast.Lambda):
                continue
            if isinstance(child, ast.Raise) and child.exc is not None:
                name = last_name(child.exc)
                yield name if name.endswith("Error") else ""
            yield from walk(child)

    yield from walk(function.node)


def function_findings(source: Source, function: Function) -> list[str]:
    """Sections that the docstring of a public function lacks.

    A method says at least what it does and when it refuses; those of the classes that users see
    say the rest too.
    """
    docstring = ast.get_docstring(function.node)
    place = f"{source.at(function.node)}: {function.name}"
    if docstring is None:
        return [f"{place} has no docstring"]
    if function.decorators & {"property", "cached_property"}:
        return []
    found = sections(docstring)
    findings = [
        f"{place} does not say when it raises {name or 'an error'}"
        for name in sorted(set(raised(function)))
        if name not in found.get("Raises", "") or "Raises" not in found
    ]
    parameters = tuple(parameter.arg for parameter in function.parameters)
    unseen = function.owner is not None and function.owner.name not in takeoff.__all__
    if unseen or parameters in SHARED_SIGNATURES:
        return findings
    missing = set(parameters) - listed_names(found.get("Parameters", ""))
    findings += [f"{place} does not describe {name}" for name in sorted(missing)]
    returns = function.node.returns
    given = "" if returns is None else ast.unparse(returns)
    if given not in {"", "None", "NoReturn", "Never"} and not found.keys() & {"Returns", "Yields"}:
        findings.append(f"{place} does not say what it returns")
    if function.owner is None and ">>>" not in found.get("Examples", ""):
        findings.append(f"{place} shows no example")
    return findings


def class_findings(source: Source, node: ast.ClassDef) -> list[str]:
    """What the docstring of a public class lacks: itself, or one of its fields."""
    place = f"{source.at(node)}: {node.name}"
    docstring = ast.get_docstring(node)
    if docstring is None:
        return [f"{place} has no docstring"]
    wanted: set[str] = set()
    if is_dataclass(node):
        wanted = {field_name(field) for field in fields(node) if _is_parameter(field)}
    for function in functions(ast.Module(body=[node], type_ignores=[])):
        if function.node.name == "__init__" and not function.nested:
            wanted |= {parameter.arg for parameter in function.parameters}
    missing = wanted - listed_names(sections(docstring).get("Parameters", ""))
    return [f"{place} does not describe {name}" for name in sorted(missing)]


def _is_parameter(field: ast.AnnAssign) -> bool:
    """Whether people see a field: not one that starts with an underscore."""
    return not field_name(field).startswith("_")


def docstring_findings(source: Source) -> list[str]:
    """Public functions and classes whose docstring leaves something out."""
    if source.room in {"cli", "__main__"}:
        return []  # docstrings of commands are their help texts
    findings = []
    for node in ast.walk(source.tree):
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            findings += class_findings(source, node)
    for function in functions(source.tree):
        if function.public and "overload" not in function.decorators:
            findings += function_findings(source, function)
    if "+SKIP" in source.text:
        findings.append(f"{source.at(1)}: every example is run; none is skipped")
    return findings


def test_docstrings_are_complete() -> None:
    assert_none(line for source in package() for line in docstring_findings(source))


FULL = '''
def area_m2(length_m: float, *, rules: Rules) -> float:
    """Give the area.

    Parameters
    ----------
    length_m : float
        Length. [m]
    rules : Rules
        Limits.

    Returns
    -------
    float
        Area. [m²]

    Raises
    ------
    MeshError
        If it is folded.

    Examples
    --------
    >>> area_m2(1.0)
    1.0
    """
    raise MeshError("folded")
'''


def test_a_complete_docstring_passes() -> None:
    assert docstring_findings(parsed("takeoff/mix/a.py", FULL)) == []


@pytest.mark.parametrize(
    ("old", "new", "refusal"),
    [
        ("    length_m : float\n", "    size : float\n", "area_m2 does not describe length_m"),
        ("    Returns\n    -------\n", "    Gives\n    -----\n", "does not say what it returns"),
        ("    MeshError\n", "    MixError\n", "does not say when it raises MeshError"),
        ("    Raises\n    ------\n", "", "does not say when it raises MeshError"),
        ('raise MeshError("folded")', "raise folded()\n    raise MeshError(1)", None),
        ("    >>> area_m2(1.0)\n", "", "shows no example"),
        ("area_m2(1.0)\n", "area_m2(1.0)  # doctest: +SKIP\n", "none is skipped"),
    ],
)
def test_what_a_docstring_leaves_out_is_found(old: str, new: str, refusal: str | None) -> None:
    findings = docstring_findings(parsed("takeoff/mix/a.py", FULL.replace(old, new, 1)))
    if refusal is None:
        assert findings == []
    else:
        (finding,) = findings
        assert refusal in finding


@pytest.mark.parametrize(
    ("text", "refusal"),
    [
        ("def f(): pass", "f has no docstring"),
        ("class A: pass", "A has no docstring"),
        ('@dataclass\nclass A:\n    """One."""\n\n    x: int', "A does not describe x"),
        (
            'class A:\n    """One."""\n    def __init__(self, x: int): pass',
            "A does not describe x",
        ),
        ('class A:\n    """One."""\n    def f(self): pass', "A.f has no docstring"),
    ],
)
def test_a_missing_docstring_is_found(text: str, refusal: str) -> None:
    (finding,) = docstring_findings(parsed("takeoff/mix/a.py", text))
    assert refusal in finding


METHOD = '''
class {}:
    """Say it."""

    def area_m2(self, rules: Rules) -> float:
        """Give the area."""
        raise MeshError("folded")
'''


@pytest.mark.parametrize(
    ("name", "refusals"),
    [
        ("Joints", ["when it raises MeshError"]),
        ("Bid", ["when it raises MeshError", "does not describe rules", "what it returns"]),
        ("_Joints", []),
    ],
)
def test_methods_say_more_where_users_see_them(name: str, refusals: list[str]) -> None:
    findings = docstring_findings(parsed("takeoff/mix/a.py", METHOD.format(name)))
    assert len(findings) == len(refusals)
    for finding, refusal in zip(findings, refusals, strict=True):
        assert refusal in finding


def test_functions_of_one_table_are_described_once() -> None:
    text = 'def read_arc(here: Placed, gathered: Gathered) -> None:\n    """Read an arc."""'
    assert docstring_findings(parsed("takeoff/files/a.py", text)) == []


@pytest.mark.parametrize("path", ["takeoff/cli/app.py", "takeoff/__main__.py"])
def test_help_texts_are_left_alone(path: str) -> None:
    assert docstring_findings(parsed(path, "def f(): pass")) == []
