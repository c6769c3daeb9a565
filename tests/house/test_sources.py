"""Every figure about the world says where it comes from, and whether that was seen."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import pytest

from tests.house.walking import ROOT, assert_none, package

DATA = ROOT / "takeoff" / "data"

SOURCE_KEYS = {"title", "edition", "publisher", "year", "address", "seen"}
# Not publications: what follows by arithmetic, and what everybody in the trade does.
OWN_SOURCES = {"derived", "common-practice"}
# These say something about a figure and are none.
ABOUT = {"source", "where", "seen"}

FIGURE = re.compile(r"\d")


def tables(document: Mapping[str, Any], path: str) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """A table and every table inside it, with its path."""
    yield path, document
    for key, value in document.items():
        inner = value if isinstance(value, list) else [value]
        for number, part in enumerate(inner, 1):
            if isinstance(part, dict):
                numbered = f"{key} {number}" if isinstance(value, list) else key
                yield from tables(part, f"{path}: {numbered}")


def holds_figures(value: object) -> bool:
    """Whether a value is a number, a text with a number in it, or a list of such."""
    if isinstance(value, list):
        return any(holds_figures(part) for part in value)
    if isinstance(value, str):
        return FIGURE.search(value) is not None
    return isinstance(value, int | float) and not isinstance(value, bool)


def figure_findings(
    name: str, document: Mapping[str, Any], sources: Mapping[str, Mapping[str, Any]]
) -> list[str]:
    """Figures without a known source, a place in it, or a word that it was not seen."""
    findings = []
    for path, table in tables(document, name):
        figures = [key for key in table if key not in ABOUT and holds_figures(table[key])]
        if not figures and "source" not in table:
            continue
        source = str(table.get("source"))
        if source not in sources:
            findings.append(f"{path}: {', '.join(figures)} has no known source: {source}")
            continue
        if not str(table.get("where", "")).strip():
            findings.append(f"{path}: say where in {source}")
        if sources[source].get("seen") is False and table.get("seen") is not False:
            findings.append(f"{path}: {source} was not seen, so say seen = false here too")
    return findings


def source_findings(sources: Mapping[str, Mapping[str, Any]]) -> list[str]:
    """Sources that do not say what they are."""
    findings = []
    for key, source in sources.items():
        odd = sorted(set(source) - SOURCE_KEYS)
        if odd:
            findings.append(f"sources.toml: {key}: unknown {', '.join(odd)}")
        if not str(source.get("title", "")).strip():
            findings.append(f"sources.toml: {key} has no title")
        if not isinstance(source.get("seen"), bool):
            findings.append(f"sources.toml: {key} does not say whether it was seen")
        elif source["seen"] and key not in OWN_SOURCES and "publisher" not in source:
            findings.append(f"sources.toml: {key} was seen and does not say who published it")
    return findings


def documents() -> dict[str, dict[str, Any]]:
    """Every file of figures, by its path below the data folder."""
    return {
        path.relative_to(DATA).as_posix(): tomllib.loads(path.read_text(encoding="utf-8"))
        for path in sorted(DATA.rglob("*.toml"))
    }


def test_every_figure_has_its_source() -> None:
    figures = documents()
    sources = figures.pop("sources.toml")
    assert figures
    assert_none(line for name in figures for line in figure_findings(name, figures[name], sources))


def test_sources_say_what_they_are() -> None:
    assert_none(source_findings(documents()["sources.toml"]))


def unused_sources(keys: Iterable[str], texts: Iterable[str]) -> list[str]:
    """Sources that no figure and no docstring names."""
    words = {word for text in texts for word in re.findall(r"[a-z0-9][a-z0-9.-]*", text)}
    return [key for key in keys if key not in words | OWN_SOURCES]


def test_every_source_is_used() -> None:
    data = [path for path in DATA.rglob("*.toml") if path.name != "sources.toml"]
    texts = [path.read_text(encoding="utf-8") for path in data]
    texts += [source.text for source in package()]
    unused = unused_sources(documents()["sources.toml"], texts)
    assert_none(f"sources.toml: {key} is used nowhere" for key in unused)


def test_an_unused_source_is_found() -> None:
    texts = ['source = "aci-211.1-91"', "``grca-specification``, table 2"]
    keys = ["aci-211.1-91", "grca-specification", "aci-211.1", "derived"]
    assert unused_sources(keys, texts) == ["aci-211.1"]


def test_data_holds_nothing_but_figures_and_schemas() -> None:
    others = [path.name for path in DATA.rglob("*") if path.is_file() and path.suffix != ".toml"]
    assert [name for name in others if not name.endswith((".schema.json", ".py", ".pyc"))] == []


SOURCES: dict[str, dict[str, Any]] = {
    "book": {"title": "A book", "publisher": "A house", "seen": True},
    "memory": {"title": "Another book", "seen": False},
}


@pytest.mark.parametrize(
    ("text", "refusal"),
    [
        ('[sand]\ndensity = "2650 kg/m3"', "sand: density has no known source: None"),
        ("[sand]\ndensity_kg_m3 = 2650.0", "sand: density_kg_m3 has no known source"),
        ('[sand]\nrange = ["1 m", "2 m"]', "sand: range has no known source"),
        ('[[dose]]\nshare = 0.1\nsource = "nowhere"\nwhere = "p. 1"', "dose 1: share has no known"),
        ('[sand]\ndensity = "2650 kg/m3"\nsource = "book"', "sand: say where in book"),
        ('source = "book"\nwhere = "p. 1"\n[sand]\nshare = 0.1', "sand: share has no known"),
        (
            '[sand]\ndensity = "2650 kg/m3"\nsource = "memory"\nwhere = "p. 1"',
            "memory was not seen, so say seen = false here too",
        ),
    ],
)
def test_a_figure_without_its_source_is_found(text: str, refusal: str) -> None:
    (finding,) = figure_findings("a.toml", tomllib.loads(text), SOURCES)
    assert refusal in finding


@pytest.mark.parametrize(
    "text",
    [
        '[sand]\nrole = "sand"\nheld_back = true',
        '[sand]\nshare = 0.1\nsource = "book"\nwhere = "p. 1"',
        '[sand]\nshare = 0.1\nsource = "book"\nwhere = "p. 1"\nseen = false',
        '[sand.density]\nvalue = "2 kg"\nsource = "memory"\nwhere = "p. 1"\nseen = false',
    ],
)
def test_a_figure_with_its_source_passes(text: str) -> None:
    assert figure_findings("a.toml", tomllib.loads(text), SOURCES) == []


@pytest.mark.parametrize(
    ("source", "refusal"),
    [
        ({"seen": False}, "book has no title"),
        ({"title": "A book"}, "does not say whether it was seen"),
        ({"title": "A book", "seen": "yes"}, "does not say whether it was seen"),
        ({"title": "A book", "seen": True}, "does not say who published it"),
        ({"title": "A book", "seen": False, "isbn": "1"}, "unknown isbn"),
    ],
)
def test_a_source_that_says_too_little_is_found(source: dict[str, Any], refusal: str) -> None:
    (finding,) = source_findings({"book": source})
    assert refusal in finding
