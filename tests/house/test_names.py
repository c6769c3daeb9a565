"""A float says its unit in its name: fields, parameters and what functions give back."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Mapping

import pytest

from tests.house.walking import (
    Function,
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

ROOMS = {"geometry", "piece", "mix", "batching", "pricing"}

UNITS = "m|m2|m3|m4|kg|kg_m2|kg_m3|kg_s|kg_m2_h|deg|rad|c|s|m_s|pa|kj_kg|j_kg_k|shares?|ratio|count"
WITH_UNIT = re.compile(rf"(^|_)({UNITS})$|^[a-z0-9]+_per_[a-z0-9]+$")

# Pure directions have no unit: a unit vector, a rotation made of three of them, a sign.
DIRECTIONS = re.compile(
    r"(^|_)(direction|directions|normal|normals|axis|axes|rotation|frame|sign)$"
)

# A dose by its basis is a share: of the dry mass, of the cement, of the total.
DOSES = re.compile(r"^of_(dry|cement|total)$")

# The word of the drawing format for the tangent of a quarter of an arc's turn.
BULGES = re.compile(r"(^|_)bulges?(_|$)")

# Names that are kept as they are, each with its reason.
KEPT: Mapping[tuple[str, str], str] = {
    ("takeoff.geometry.curves", "breaks"): "parameters of a curve have no unit",
    ("takeoff.geometry.curves", "knots"): "the geometer's word, as above",
    ("takeoff.geometry.curves", "weights"): "the geometer's word for factors of control points",
    ("takeoff.geometry.corners", "value"): "adds up a value of any unit",
    ("takeoff.geometry.sums", "values"): "adds up values of any unit",
    ("takeoff.geometry.sums", "summed"): "their sums, in the same unit",
    ("takeoff.geometry.sums", "one"): "multiplies rows of any unit",
    ("takeoff.geometry.sums", "other"): "multiplies rows of any unit, as above",
    ("takeoff.geometry.sums", "row_products"): "in the product of the units of the rows",
    ("takeoff.geometry.sums", "dot"): "in the product of the units of the rows, as above",
    ("takeoff.piece.flats", "value"): "adds up a value of any unit",
    ("takeoff.piece.flats", "sums"): "their sums, in the same unit",
    ("takeoff.piece.directions", "show_vector"): "a unit vector has no unit",
    ("takeoff.geometry.welding", "corners"): "in the unit of the drawing, before that is known",
    ("takeoff.geometry.strips", "corners"): "in the unit of the drawing, as above",
    ("takeoff.pricing.rates", "quantities"): "each in the unit that its measure names",
    ("takeoff.pricing.rates", "counted"): "in the unit of the measure of the rate",
    ("takeoff.pricing.bill", "quantities"): "each in the unit that its measure names, as above",
}


def float_aliases(sources: tuple[Source, ...]) -> dict[str, frozenset[str]]:
    """Names under which each module keeps or imports an annotation that holds floats."""
    kept = {
        source.module: frozenset(
            last_name(node.targets[0])
            for node in source.tree.body
            if isinstance(node, ast.Assign)
            and _is_annotation(node.value)
            and holds_floats(node.value, frozenset())
        )
        for source in sources
    }
    return {
        source.module: kept[source.module] | frozenset(_imported_aliases(source.tree, kept))
        for source in sources
    }


def _imported_aliases(tree: ast.Module, kept: Mapping[str, frozenset[str]]) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom):
            known = kept.get(node.module or "", frozenset())
            yield from (alias.asname or alias.name for alias in node.names if alias.name in known)


def _is_annotation(node: ast.AST) -> bool:
    return isinstance(node, ast.Subscript | ast.BinOp | ast.Name | ast.Attribute)


def holds_floats(annotation: ast.AST | None, aliases: frozenset[str]) -> bool:
    """Whether a value so annotated is a float, or floats in a container."""
    if annotation is None:
        return False
    text = annotation.value if isinstance(annotation, ast.Constant) else None
    if isinstance(text, str):
        return holds_floats(ast.parse(text, mode="eval").body, aliases)
    if isinstance(annotation, ast.Subscript) and last_name(annotation.value) == "Callable":
        return False
    name = last_name(annotation)
    if name in aliases or name in {"float", "float32", "float64", "floating"}:
        return True
    return any(holds_floats(child, aliases) for child in ast.iter_child_nodes(annotation))


def says_its_unit(source: Source, name: str) -> bool:
    """Whether a name ends in a unit, or needs none."""
    told = any(pattern.search(name) for pattern in (WITH_UNIT, DIRECTIONS, DOSES, BULGES))
    return told or (source.module, name) in KEPT


def name_findings(source: Source, aliases: frozenset[str]) -> list[str]:
    """Floats whose name does not say their unit."""
    if source.room not in ROOMS:
        return []
    findings = [
        f"{source.at(field)}: field {node.name}.{field_name(field)} does not say its unit"
        for node in ast.walk(source.tree)
        if isinstance(node, ast.ClassDef) and is_dataclass(node)
        for field in fields(node)
        if holds_floats(field.annotation, aliases) and not says_its_unit(source, field_name(field))
    ]
    for function in functions(source.tree):
        findings += _function_findings(source, function, aliases)
    return findings


def _function_findings(source: Source, function: Function, aliases: frozenset[str]) -> list[str]:
    # Private functions may work on plain numbers of any unit, but only on whole arrays.
    aliases_here = aliases if function.public else frozenset()
    findings = [
        f"{source.at(parameter)}: parameter {parameter.arg} of {function.name}"
        " does not say its unit"
        for parameter in function.parameters
        if _is_held(parameter.annotation, aliases_here, function)
        and not says_its_unit(source, parameter.arg)
    ]
    gives_floats = _is_of_floats_only(function.node.returns) and holds_floats(
        function.node.returns, aliases
    )
    if function.public and gives_floats and not says_its_unit(source, function.node.name):
        findings.append(f"{source.at(function.node)}: {function.name} does not say its unit")
    return findings


def _is_of_floats_only(annotation: ast.AST | None) -> bool:
    """Whether one name can speak for all of it; the parts of a mixed tuple cannot share one."""
    if not (isinstance(annotation, ast.Subscript) and last_name(annotation.value) == "tuple"):
        return True
    parts = annotation.slice.elts if isinstance(annotation.slice, ast.Tuple) else []
    return all(ast.unparse(part) in {"float", "..."} for part in parts)


def _is_held(annotation: ast.AST | None, aliases: frozenset[str], function: Function) -> bool:
    if function.public:
        return holds_floats(annotation, aliases)
    return annotation is not None and ast.unparse(annotation) in {"float", "float | None"}


def test_floats_say_their_unit() -> None:
    aliases = float_aliases(package())
    assert_none(
        line for source in package() for line in name_findings(source, aliases[source.module])
    )


FIELD = "@dataclass(frozen=True)\nclass A:\n    {}"


@pytest.mark.parametrize(
    ("text", "refusal"),
    [
        (FIELD.format("depth: float"), "field A.depth does not say its unit"),
        (FIELD.format("depth: float | None = None"), "field A.depth"),
        (FIELD.format("depth: 'float'"), "field A.depth"),
        (FIELD.format("points: NDArray[np.float64]"), "field A.points"),
        (FIELD.format("points: Floats"), "field A.points"),
        (FIELD.format("masses: Mapping[str, float]"), "field A.masses"),
        ("class A(NamedTuple):\n    depth: float", "field A.depth"),
        ("def f(depth: float): pass", "parameter depth of f does not say its unit"),
        ("def _f(depth: float): pass", "parameter depth of _f"),
        ("def f(*, depth: float = 0.1): pass", "parameter depth of f"),
        ("def f(*depths: float): pass", "parameter depths of f"),
        ("def f(points: Floats): pass", "parameter points of f"),
        ("class A:\n  def f(self, room: float): pass", "parameter room of A.f"),
        ("def depth() -> float: pass", "depth does not say its unit"),
        ("class A:\n  @property\n  def depth(self) -> float: pass", "A.depth does not say"),
        ("def sizes() -> tuple[float, float]: pass", "sizes does not say its unit"),
        ("def areas() -> dict[str, float]: pass", "areas does not say its unit"),
    ],
)
def test_a_float_without_its_unit_is_found(text: str, refusal: str) -> None:
    (finding,) = name_findings(parsed("takeoff/mix/a.py", text), frozenset({"Floats"}))
    assert refusal in finding


@pytest.mark.parametrize(
    "text",
    [
        FIELD.format("depth_m: float"),
        FIELD.format("share: float"),
        FIELD.format("metres_per_unit: float"),
        FIELD.format("show_direction: tuple[float, float, float]"),
        FIELD.format("kind: ClassVar[float] = 1.0"),
        FIELD.format("law: Callable[[float], float]"),
        FIELD.format("count: int"),
        "def f(speed_m_s: float, heat_j_kg_k: float): pass",
        "def _f(value: Floats): pass",
        "def normals(mesh: Mesh) -> Floats: pass",
        "def _depth() -> float: pass",
        "def volume_m3() -> float: pass",
        "def run(bulges: Floats) -> tuple[Floats, Ints]: pass",
    ],
)
def test_a_float_with_its_unit_passes(text: str) -> None:
    assert name_findings(parsed("takeoff/mix/a.py", text), frozenset({"Floats"})) == []


def test_names_kept_are_still_there() -> None:
    names = {
        (source.module, name)
        for source in package()
        for node in ast.walk(source.tree)
        for name in [getattr(node, "arg", None) or getattr(node, "name", None)]
    }
    assert_none(f"{module} has no {name} any more" for module, name in set(KEPT) - names)


def test_names_for_arrays_of_floats_are_known_where_they_are_used() -> None:
    text = "FloatArray = NDArray[np.float64]\nIntArray = NDArray[np.int64]\nhalf = 0.5"
    home = parsed("takeoff/geometry/a.py", text)
    user = parsed("takeoff/geometry/b.py", "from takeoff.geometry.a import FloatArray as Floats")
    stranger = parsed("takeoff/geometry/c.py", "class FloatArray: pass")
    assert float_aliases((home, user, stranger)) == {
        "takeoff.geometry.a": {"FloatArray"},
        "takeoff.geometry.b": {"Floats"},
        "takeoff.geometry.c": set(),
    }
