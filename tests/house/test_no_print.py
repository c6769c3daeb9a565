"""Only the command line speaks; nothing reads the clock, the locale or chance."""

from __future__ import annotations

import ast

import pytest

from tests.house.walking import Source, assert_none, full_name, package, parsed

CLOCK_MODULES = {"time", "locale", "random", "secrets", "uuid"}
CLOCK_NAMES = {"now", "today", "utcnow", "fromtimestamp"}
SPEAKING_MODULES = {"logging", "warnings"}
SURROUNDINGS = {"os.environ", "os.getenv", "os.environb", "os.getcwd", "Path.cwd", "Path.home"}
STREAMS = {"sys.stdout", "sys.stderr", "sys.stdin", "sys.exit"}


def speech_findings(source: Source) -> list[str]:
    """Words said outside the command line, other than a debug line while reading files."""
    if source.room in {"cli", "__main__"}:
        return []
    findings = []
    for node in ast.walk(source.tree):
        name = full_name(node.func) if isinstance(node, ast.Call) else full_name(node)
        spoken = isinstance(node, ast.Call) and name in {"print", "input", "breakpoint"}
        if spoken or (isinstance(node, ast.Attribute) and name in STREAMS):
            findings.append(f"{source.at(node)}: {name} is for the command line only")
    for node, module, names in _imported(source.tree):
        if module in SPEAKING_MODULES and not (
            source.room == "files" and module == "logging" and names <= {"getLogger"}
        ):
            findings.append(
                f"{source.at(node)}: {module} is not used here; a doubt is a Note on the result"
            )
    return findings + _loud_findings(source)


def _loud_findings(source: Source) -> list[str]:
    loud = {"info", "warning", "error", "critical", "exception", "setLevel", "addHandler"}
    return [
        f"{source.at(node)}: log at debug only"
        for node in ast.walk(source.tree)
        if isinstance(node, ast.Attribute)
        and node.attr in loud
        and full_name(node).split(".")[0].lower().strip("_") in {"logger", "log"}
    ]


def clock_findings(source: Source) -> list[str]:
    """What would make the same input give other bytes tomorrow, or elsewhere."""
    findings = [
        f"{source.at(node)}: {module} makes the result depend on when and where it is run"
        for node, module, names in _imported(source.tree)
        if module in CLOCK_MODULES and not (module == "random" and names == {"Random"})
    ]
    findings += [
        f"{source.at(node)}: Random without a seed depends on when and where it is run"
        for node in ast.walk(source.tree)
        if isinstance(node, ast.Call) and full_name(node.func) == "Random" and not node.args
    ]
    for node in ast.walk(source.tree):
        name = full_name(node) if isinstance(node, ast.Attribute) else ""
        before, _, last = name.rpartition(".")
        dated = last in CLOCK_NAMES and before.split(".")[-1] in {"datetime", "date"}
        chance = before in {"np.random", "numpy.random"}
        surroundings = name in SURROUNDINGS and source.room not in {"cli", "__main__"}
        if dated or chance or surroundings:
            findings.append(f"{source.at(node)}: {name} depends on when and where it is run")
    return findings


def _imported(tree: ast.Module) -> list[tuple[ast.AST, str, set[str]]]:
    found: list[tuple[ast.AST, str, set[str]]] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found += [(node, alias.name.split(".")[0], set()) for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module:
            names = {alias.name for alias in node.names}
            found.append((node, node.module.split(".")[0], names))
    return found


def test_only_the_command_line_speaks() -> None:
    assert_none(line for source in package() for line in speech_findings(source))


def test_nothing_depends_on_when_and_where_it_is_run() -> None:
    assert_none(line for source in package() for line in clock_findings(source))


@pytest.mark.parametrize(
    ("path", "text", "refusal"),
    [
        ("mix/a", "print(1)", "print is for the command line only"),
        ("mix/a", "def f():\n    sys.stderr.write('x')", "sys.stderr is for the command line"),
        ("mix/a", "import logging", "logging is not used here"),
        ("mix/a", "from warnings import warn", "a doubt is a Note"),
        ("files/a", "from logging import basicConfig", "logging is not used here"),
        ("files/a", "_logger.warning('x')", "log at debug only"),
    ],
)
def test_speech_elsewhere_is_found(path: str, text: str, refusal: str) -> None:
    (finding,) = speech_findings(parsed(f"takeoff/{path}.py", text))
    assert refusal in finding


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("cli/app", "print(1)\nsys.stdout.write('x')"),
        ("files/a", "import logging\nlogging.getLogger(__name__).debug('x')"),
        ("files/a", "from logging import getLogger\ngetLogger(__name__).debug('x')"),
        ("mix/a", "self.print(1)"),
    ],
)
def test_speech_in_its_place_passes(path: str, text: str) -> None:
    assert speech_findings(parsed(f"takeoff/{path}.py", text)) == []


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("cli/app", "import time"),
        ("cli/app", "from time import perf_counter"),
        ("job/a", "import locale"),
        ("mix/a", "import random"),
        ("mix/a", "from random import Random, random"),
        ("mix/a", "x = Random()"),
        ("job/a", "x = datetime.now()"),
        ("job/a", "x = datetime.datetime.now()"),
        ("job/a", "x = date.today()"),
        ("mix/a", "x = np.random.default_rng()"),
        ("files/a", "x = os.environ['HOME']"),
        ("files/a", "x = os.getenv('HOME')"),
        ("files/a", "x = Path.cwd()"),
    ],
)
def test_what_depends_on_when_and_where_is_found(path: str, text: str) -> None:
    (finding,) = clock_findings(parsed(f"takeoff/{path}.py", text))
    assert "when and where it is run" in finding


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("cli/app", "x = os.environ"),
        ("job/a", "from datetime import date\ndate.fromisoformat(x)"),
        ("batching/a", "from random import Random\nx = Random(1)"),
    ],
)
def test_what_does_not_depend_on_it_passes(path: str, text: str) -> None:
    assert clock_findings(parsed(f"takeoff/{path}.py", text)) == []
