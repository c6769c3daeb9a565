"""The package and its tests as parsed source, for the tests of the house rules."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path, PurePosixPath

import pytest

ROOT = Path(__file__).resolve().parents[2]

FunctionNode = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True, slots=True, eq=False)
class Source:
    """One Python file: where it stands, its text and its tree."""

    path: PurePosixPath
    text: str
    tree: ast.Module

    @property
    def module(self) -> str:
        """Dotted name: ``takeoff.geometry.mesh``; a room's ``__init__`` is the room itself."""
        parts = self.path.with_suffix("").parts
        return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)

    @property
    def room(self) -> str:
        """Name of the room, or of the module that stands in none; "" for the package itself."""
        parts = self.module.split(".")
        return parts[1] if len(parts) > 1 else ""

    @property
    def is_room_front(self) -> bool:
        """Whether this is the ``__init__`` of a room."""
        return self.path.name == "__init__.py" and self.room != ""

    def at(self, node: ast.AST | int) -> str:
        """Path and line, to open a finding with."""
        line = node if isinstance(node, int) else getattr(node, "lineno", 1)
        return f"{self.path}:{line}"


@dataclass(frozen=True, slots=True)
class Function:
    """A function with what stands around it."""

    node: FunctionNode
    owner: ast.ClassDef | None
    nested: bool

    @property
    def name(self) -> str:
        """Name as a person would look for it."""
        return f"{self.owner.name}.{self.node.name}" if self.owner else self.node.name

    @property
    def public(self) -> bool:
        """Whether people outside the module may call it by name."""
        hidden = self.owner is not None and self.owner.name.startswith("_")
        return not (self.nested or hidden or self.node.name.startswith("_"))

    @property
    def decorators(self) -> set[str]:
        """Last names of its decorators."""
        return {last_name(decorator) for decorator in self.node.decorator_list}

    @property
    def parameters(self) -> list[ast.arg]:
        """Every parameter except ``self`` and ``cls``."""
        spec = self.node.args
        listed = [*spec.posonlyargs, *spec.args]
        if self.owner is not None and "staticmethod" not in self.decorators:
            listed = listed[1:]
        stars = [star for star in (spec.vararg, spec.kwarg) if star is not None]
        return [*listed, *spec.kwonlyargs, *stars]


def parsed(path: str, text: str) -> Source:
    """Take a text for the file at a path below the top level."""
    return Source(PurePosixPath(path), text, ast.parse(text))


def sources_in(*folders: str) -> tuple[Source, ...]:
    """Every Python file below some folders of the top level, in order of path."""
    return tuple(source for folder in folders for source in _sources_in(folder))


@cache
def _sources_in(folder: str) -> tuple[Source, ...]:
    paths = sorted((ROOT / folder).rglob("*.py"))
    return tuple(
        parsed(path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8"))
        for path in paths
    )


def package() -> tuple[Source, ...]:
    """Every module of the package."""
    return sources_in("takeoff")


def functions(tree: ast.Module) -> Iterator[Function]:
    """Every function of a module: top level, methods, and those inside functions."""

    def walk(node: ast.AST, owner: ast.ClassDef | None, nested: bool) -> Iterator[Function]:
        for child in ast.iter_child_nodes(node):
            if isinstance(child, FunctionNode):
                yield Function(child, owner, nested)
                yield from walk(child, None, True)
            elif isinstance(child, ast.ClassDef):
                yield from walk(child, child, nested)
            else:
                yield from walk(child, owner, nested)

    yield from walk(tree, None, False)


def last_name(node: ast.AST) -> str:
    """Give the last name of ``a.b.c`` or of ``a.b.c(...)``; "" for anything else."""
    if isinstance(node, ast.Call):
        return last_name(node.func)
    if isinstance(node, ast.Attribute):
        return node.attr
    return node.id if isinstance(node, ast.Name) else ""


def full_name(node: ast.AST) -> str:
    """Give ``a.b.c`` as written; "" for what is no plain chain of names."""
    if isinstance(node, ast.Attribute):
        before = full_name(node.value)
        return f"{before}.{node.attr}" if before else ""
    return node.id if isinstance(node, ast.Name) else ""


def constant_text(node: ast.AST | None) -> str | None:
    """Give the text of a string constant, None for anything else."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    return None


def is_dataclass(node: ast.ClassDef) -> bool:
    """Whether a class is a dataclass or a named tuple: its annotated names are its fields."""
    decorated = any(last_name(decorator) == "dataclass" for decorator in node.decorator_list)
    return decorated or any(last_name(base) == "NamedTuple" for base in node.bases)


def fields(node: ast.ClassDef) -> list[ast.AnnAssign]:
    """Give the fields of a dataclass in order; class variables are none."""
    return [
        statement
        for statement in node.body
        if isinstance(statement, ast.AnnAssign)
        and isinstance(statement.target, ast.Name)
        and "ClassVar" not in ast.unparse(statement.annotation)
    ]


def field_name(field: ast.AnnAssign) -> str:
    """Give the name of a field."""
    return last_name(field.target)


def assert_none(findings: Iterable[str]) -> None:
    """Fail with every finding on a line of its own."""
    listed = list(findings)
    if listed:
        pytest.fail("\n".join(listed), pytrace=False)
