"""Imports point down only, to the module that defines the name, and stay with their room."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import pytest

from tests.house.walking import (
    FunctionNode,
    Source,
    assert_none,
    constant_text,
    full_name,
    package,
    parsed,
)

# From the top down. Rooms on one floor are strangers to each other.
FLOORS: tuple[tuple[str, ...], ...] = (
    ("__main__",),
    ("cli",),
    ("facade",),
    ("job",),
    ("measuring",),
    ("files", "report"),
    ("pricing",),
    ("batching",),
    ("piece", "mix"),
    ("geometry",),
    ("units",),
    ("quantity_text",),
    ("unit_tables", "argument_types"),
    ("errors", "notes", "documents"),
    (
        "bid_documents",
        "measure_documents",
        "pour_documents",
        "start_documents",
        "way_documents",
    ),
    ("weigh_documents",),  # a batch of a pour has its rows of mixing
)
FLOOR = {room: -number for number, rooms in enumerate(FLOORS) for room in rooms}

# Which rooms may import which library; numpy is at home everywhere.
ROOMS_OF_LIBRARY: Mapping[str, frozenset[str]] = {
    "numpy": frozenset(FLOOR),
    "click": frozenset({"cli"}),
    "typing_extensions": frozenset(
        {
            "documents",
            "bid_documents",
            "measure_documents",
            "pour_documents",
            "start_documents",
            "way_documents",
            "weigh_documents",
        }
    ),
    "pydantic": frozenset({"files"}),
    "pydantic_core": frozenset({"files"}),
    "ezdxf": frozenset({"files", "report"}),
    "trimesh": frozenset({"files", "report"}),
    "shapely": frozenset({"geometry", "piece"}),
    "scipy": frozenset({"geometry", "piece", "pricing"}),
    "jinja2": frozenset({"report"}),
    "plotly": frozenset({"report"}),
    "fpdf": frozenset({"report"}),
    "fontTools": frozenset({"report"}),
    "anyascii": frozenset({"report"}),
    "xlsxwriter": frozenset({"report"}),
    "embreex": frozenset({"report"}),
    "PIL": frozenset({"report"}),
    "meshoptimizer": frozenset({"geometry"}),
    "manifold3d": frozenset({"geometry"}),
    "ortools": frozenset({"batching"}),
    "cascadio": frozenset({"files"}),
    "distributed": frozenset({"facade"}),
}
# One module hands meshes to the library and back; it may load it inside functions.
INSIDE_FUNCTIONS_OF = {("takeoff.geometry.mesh", "trimesh")}

# Above all floors, so they may load by a table of names; nothing can be above them.
CALLERS = {"", "cli"}


@dataclass(frozen=True, slots=True)
class Import:
    """One imported module, and the name taken out of it if any."""

    node: ast.AST
    target: str
    name: str
    level: int
    inside: bool
    for_types: bool


def imports(tree: ast.Module) -> Iterator[Import]:
    """Every import of a module: top level, function bodies, for type checkers, by call."""

    def walk(node: ast.AST, inside: bool, for_types: bool) -> Iterator[Import]:
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.Import):
                for alias in child.names:
                    yield Import(child, alias.name, "", 0, inside, for_types)
            elif isinstance(child, ast.ImportFrom):
                for alias in child.names:
                    target = child.module or ""
                    yield Import(child, target, alias.name, child.level, inside, for_types)
            elif isinstance(child, ast.Call) and _is_import_call(child):
                called = constant_text(child.args[0]) if child.args else None
                yield Import(child, called or "", "", 0, inside, for_types)
            typing = isinstance(child, ast.If) and "TYPE_CHECKING" in ast.unparse(child.test)
            yield from walk(
                child,
                inside or isinstance(child, FunctionNode | ast.Lambda),
                for_types or typing,
            )

    yield from walk(tree, False, False)


def _is_import_call(node: ast.Call) -> bool:
    return full_name(node.func) in {"importlib.import_module", "import_module", "__import__"}


def room_of(found: Import) -> str:
    """Room an import of the package goes to; "" for the package itself."""
    parts = [*found.target.split("."), found.name]
    return parts[1]


def direction_findings(source: Source) -> list[str]:
    """Imports inside the package that do not point down."""
    findings = []
    if source.room and source.room not in FLOOR and not source.is_room_front:
        findings.append(f"{source.at(1)}: no floor is set for {source.room}")
    for found in imports(source.tree):
        if found.level:
            findings.append(f"{source.at(found.node)}: write the import from takeoff on, in full")
            continue
        if found.target.split(".")[0] != "takeoff" or not source.room:
            continue
        room = room_of(found)
        if room in ("", "__version__") or room not in FLOOR:
            if room != "__version__":
                findings.append(
                    f"{source.at(found.node)}: {source.room} must not import {room or 'takeoff'}"
                )
            continue
        if room != source.room and FLOOR[room] >= FLOOR.get(source.room, 0):
            findings.append(f"{source.at(found.node)}: {source.room} must not import {room}")
    return findings


def front_findings(source: Source) -> list[str]:
    """Rooms whose ``__init__`` holds more than a docstring; a package that loads at once."""
    if source.path.name != "__init__.py":
        return []
    if source.is_room_front:
        return [
            f"{source.at(statement)}: the __init__ of {source.room} holds a docstring only"
            for statement in source.tree.body[1:]
        ]
    return [
        f"{source.at(found.node)}: the package loads {found.target} before it is asked for"
        for found in imports(source.tree)
        if not (found.inside or found.for_types)
        and found.target.split(".")[0] not in sys.stdlib_module_names
    ]


def library_findings(source: Source) -> list[str]:
    """Libraries imported by a room that has no business with them."""
    findings = []
    for found in imports(source.tree):
        library = found.target.split(".")[0]
        if found.level or library == "takeoff" or library in sys.stdlib_module_names:
            continue
        if not library:
            if source.room not in CALLERS:
                findings.append(f"{source.at(found.node)}: name the module imported by call")
            continue
        rooms = ROOMS_OF_LIBRARY.get(library, frozenset())
        inside = (source.module, library) in INSIDE_FUNCTIONS_OF
        if source.room in rooms or (inside and (found.inside or found.for_types)):
            continue
        where = ", ".join(sorted(rooms)) if rooms else "no room"
        findings.append(
            f"{source.at(found.node)}: {source.room or 'takeoff'} must not import {library}"
            f" (at home in {where})"
        )
    return findings


def defined_names(tree: ast.Module) -> set[str]:
    """Names that a module defines itself at its top level."""
    names: set[str] = set()
    for node in tree.body:
        if isinstance(node, FunctionNode | ast.ClassDef):
            names.add(node.name)
        elif isinstance(node, ast.Assign):
            names.update(
                part.id
                for target in node.targets
                for part in ast.walk(target)
                if isinstance(part, ast.Name)
            )
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            names.add(node.target.id)
    return names


def borrowed_findings(source: Source, defined: Mapping[str, set[str]]) -> list[str]:
    """Names imported from a module that only imports them itself."""
    findings = []
    for found in imports(source.tree):
        known = defined.get(found.target)
        if known is None or not found.name or found.name in known:
            continue
        if f"{found.target}.{found.name}" not in defined:
            findings.append(
                f"{source.at(found.node)}: {found.name} is not defined in {found.target};"
                " import it from where it is"
            )
    return findings


def test_imports_point_down() -> None:
    assert_none(line for source in package() for line in direction_findings(source))


def test_rooms_open_with_a_docstring_only() -> None:
    assert_none(line for source in package() for line in front_findings(source))


def test_libraries_stay_in_their_rooms() -> None:
    assert_none(line for source in package() for line in library_findings(source))


def test_names_come_from_the_module_that_defines_them() -> None:
    defined = {source.module: defined_names(source.tree) for source in package()}
    assert_none(line for source in package() for line in borrowed_findings(source, defined))


@pytest.mark.parametrize(
    ("path", "text", "refusal"),
    [
        ("geometry/mesh", "from takeoff.mix.weighing import weigh", "geometry must not import mix"),
        ("geometry/mesh", "import takeoff.mix.weighing", "geometry must not import mix"),
        ("geometry/mesh", "from takeoff import mix", "geometry must not import mix"),
        ("geometry/mesh", "def f():\n    import takeoff.mix.doses", "geometry must not import mix"),
        (
            "geometry/mesh",
            "if TYPE_CHECKING:\n    from takeoff.piece.rules import SurfaceRules",
            "geometry must not import piece",
        ),
        (
            "units",
            "def f():\n    import_module('takeoff.geometry.mesh')",
            "units must not import geometry",
        ),
        ("piece/rules", "from takeoff.mix.doses import Dose", "piece must not import mix"),
        ("files/stl", "from takeoff.report.csv import text", "files must not import report"),
        ("notes", "from takeoff.errors import MeshError", "notes must not import errors"),
        ("pricing/packs", "from takeoff import bid", "pricing must not import bid"),
        ("pricing/packs", "import takeoff", "pricing must not import takeoff"),
        ("piece/rules", "from . import surfaces", "write the import from takeoff on"),
        ("attic/things", "", "no floor is set for attic"),
    ],
)
def test_an_import_that_does_not_point_down_is_found(path: str, text: str, refusal: str) -> None:
    (finding,) = direction_findings(parsed(f"takeoff/{path}.py", text))
    assert refusal in finding


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("mix/weighing", "from takeoff.mix.doses import Dose"),
        ("cli/app", "from takeoff.facade.survey import survey"),
        ("job/whole", "from takeoff.files.job_file import read_job"),
        ("report/text", "from takeoff import __version__"),
        ("geometry/mesh", "import numpy as np\nfrom takeoff.units import metres_per_unit"),
    ],
)
def test_an_import_that_points_down_passes(path: str, text: str) -> None:
    assert direction_findings(parsed(f"takeoff/{path}.py", text)) == []


@pytest.mark.parametrize(
    ("path", "text", "refusal"),
    [
        ("mix/doses", "import shapely", "mix must not import shapely (at home in geometry, piece)"),
        ("piece/walls", "def f():\n    import trimesh", "piece must not import trimesh"),
        ("geometry/mesh", "import trimesh", "geometry must not import trimesh"),
        ("geometry/facets", "def f():\n    import trimesh", "geometry must not import trimesh"),
        ("files/stl", "import requests", "files must not import requests (at home in no room)"),
        ("job/whole", "def f(name):\n    import_module(name)", "name the module imported by call"),
    ],
)
def test_a_library_out_of_its_room_is_found(path: str, text: str, refusal: str) -> None:
    (finding,) = library_findings(parsed(f"takeoff/{path}.py", text))
    assert refusal in finding


def test_the_one_way_to_the_mesh_library_passes() -> None:
    text = "if TYPE_CHECKING:\n    import trimesh\ndef f():\n    import trimesh"
    assert library_findings(parsed("takeoff/geometry/mesh.py", text)) == []


@pytest.mark.parametrize(
    ("path", "text", "refusal"),
    [
        ("takeoff/mix/__init__.py", '"""Mixes."""\nx = 1', "holds a docstring only"),
        ("takeoff/__init__.py", "import numpy", "loads numpy before it is asked for"),
        ("takeoff/__init__.py", "from takeoff.units import share", "loads takeoff.units"),
    ],
)
def test_a_front_that_does_more_is_found(path: str, text: str, refusal: str) -> None:
    (finding,) = front_findings(parsed(path, text))
    assert refusal in finding


def test_a_borrowed_name_is_found() -> None:
    source = parsed("takeoff/piece/walls.py", "from takeoff.geometry.mesh import NDArray, Mesh")
    (finding,) = borrowed_findings(source, {"takeoff.geometry.mesh": {"Mesh"}})
    assert "NDArray is not defined in takeoff.geometry.mesh" in finding
