"""The public list is complete, proven by use, and shadows no module."""

from __future__ import annotations

import ast
import importlib
import subprocess
import sys
from collections.abc import Iterable
from types import ModuleType

import pytest

import takeoff
from tests.house.walking import ROOT, Source, assert_none, full_name, package, parsed, sources_in

HEAVY = ("click", "ezdxf", "numpy", "pydantic", "rich", "scipy", "shapely", "trimesh")


def module_names() -> list[str]:
    """Every module of the package that can be imported for its names."""
    return [source.module for source in package() if source.module != "takeoff.__main__"]


def front_findings(front: ModuleType) -> list[str]:
    """Where the public list, what ``dir`` shows and what can be had do not agree."""
    listed = list(front.__all__)
    findings = [] if listed == sorted(set(listed)) else ["the public list is not in order"]
    if sorted(dir(front)) != sorted(listed):
        odd = sorted(set(dir(front)) ^ set(listed))
        findings.append(f"dir and the public list differ in {', '.join(odd)}")
    for name in listed:
        value = getattr(front, name, None)
        if value is None or isinstance(value, ModuleType):
            findings.append(f"{name} is {'a module' if value is not None else 'not there'}")
        elif callable(value) and not (value.__doc__ or "").strip():
            findings.append(f"{name} has no docstring")
    return findings


def clashes(names: Iterable[str], modules: Iterable[str]) -> list[str]:
    """Public names that are the name of a module or room too, at any depth."""
    parts = {part for module in modules for part in module.split(".")}
    return [f"{name} is the name of a module too" for name in sorted(set(names) & parts)]


def names_used(sources: Iterable[Source]) -> set[str]:
    """Names that are taken out of the package as a user would: ``takeoff.name``."""
    return {
        node.attr
        for source in sources
        for node in ast.walk(source.tree)
        if isinstance(node, ast.Attribute) and full_name(node.value) == "takeoff"
    }


def test_every_module_can_be_imported() -> None:
    for name in module_names():
        importlib.import_module(name)


def test_public_names_are_had_once_every_module_is_loaded() -> None:
    test_every_module_can_be_imported()
    assert_none(front_findings(takeoff))


def test_public_names_shadow_no_module() -> None:
    assert_none(clashes(takeoff.__all__, module_names()))


def test_every_public_name_is_used_in_a_test() -> None:
    elsewhere = [source for source in sources_in("tests") if "house" not in source.path.parts]
    unused = set(takeoff.__all__) - names_used(elsewhere)
    assert_none(f"no test uses takeoff.{name}" for name in sorted(unused))


def test_a_name_that_is_not_there_is_refused() -> None:
    with pytest.raises(AttributeError, match="measurre"):
        takeoff.measurre  # noqa: B018


def test_importing_the_package_loads_no_library() -> None:
    code = f"import sys, takeoff; print([name for name in {HEAVY!r} if name in sys.modules])"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


def front(**names: object) -> ModuleType:
    made = ModuleType("front")
    vars(made).clear()
    vars(made).update(names)
    return made


def area() -> None:
    """Give the area."""


@pytest.mark.parametrize(
    ("made", "refusal"),
    [
        (front(__all__=["b", "a"], a=1, b=2, __dir__=lambda: ["a", "b"]), "not in order"),
        (front(__all__=["a"], a=1, b=2, __dir__=lambda: ["a", "b"]), "differ in b"),
        (front(__all__=["a"], __dir__=lambda: ["a"]), "a is not there"),
        (front(__all__=["a"], a=ast, __dir__=lambda: ["a"]), "a is a module"),
        (front(__all__=["a"], a=lambda: None, __dir__=lambda: ["a"]), "a has no docstring"),
    ],
)
def test_a_front_that_does_not_agree_is_found(made: ModuleType, refusal: str) -> None:
    (finding,) = front_findings(made)
    assert refusal in finding


def test_a_front_that_agrees_passes() -> None:
    assert front_findings(front(__all__=["area"], area=area, __dir__=lambda: ["area"])) == []


def test_a_name_that_shadows_a_module_is_found() -> None:
    assert clashes(["bid", "weigh"], ["takeoff.mix.bid", "takeoff.mix"]) == [
        "bid is the name of a module too"
    ]


def test_use_is_seen() -> None:
    text = "import takeoff\ntakeoff.measure('a.stl')\nother.plan()\ntakeoff.mix.doses.share"
    assert names_used([parsed("tests/a.py", text)]) == {"measure", "mix"}
