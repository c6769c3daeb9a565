"""What may lie in the repository, and what may be written in it."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterable
from fnmatch import fnmatch
from functools import cache
from pathlib import Path

import pytest

from tests.house.walking import ROOT, assert_none

ALLOWED = {
    "README.md", "DEVELOPERS.md", "pyproject.toml", ".gitignore",
    "takeoff", "tests", "samples", "notebooks", ".ci",
}  # fmt: skip
LARGEST_BYTES = 1_000_000

LOCK_FILES = ("*.lock", "*-lock.*", "pylock*.toml", "npm-shrinkwrap.json", "requirements*.txt")

# Written so that no pattern finds itself.
UNWANTED = {
    r"pypi[.]|python[h]osted|npmj[s]|deb[.]debian|extra-i[n]dex|--i[n]dex-url|conda-f[o]rge": (
        "names a package registry"
    ),
    r"(?<![\w.~}])/(work|tmp|root|home)/": "holds a path of one machine",
    r"\bTO[D]O\b|\bFIX[M]E\b|\bXX[X]\b": "leaves something undone",
}


@cache
def files_of_the_repository() -> tuple[str, ...]:
    """Every file that is, or would be, committed; all that lies here where git cannot say."""
    if shutil.which("git") and (ROOT / ".git").exists():
        listed = subprocess.run(
            ["git", "-c", "safe.directory=*", "ls-files", "-z", "--cached", "--others",
             "--exclude-standard"],
            cwd=ROOT, capture_output=True, text=True, check=True,
        )  # fmt: skip
        names = [name for name in listed.stdout.split("\0") if name]
    else:
        ignored = _ignored_patterns()
        names = [
            path.relative_to(ROOT).as_posix()
            for path in ROOT.rglob("*")
            if path.is_file()
            and not any(
                fnmatch(part, pattern)
                for part in path.relative_to(ROOT).parts
                for pattern in ignored
            )
        ]
    return tuple(sorted(name for name in names if (ROOT / name).is_file()))


def _ignored_patterns() -> list[str]:
    lines = (ROOT / ".gitignore").read_text(encoding="utf-8").splitlines()
    return [".git", *(line.strip("/") for line in lines if line and not line.startswith("#"))]


def place_findings(names: Iterable[str]) -> list[str]:
    """Files that lie where nothing may, and lock files anywhere."""
    findings = []
    for name in names:
        if name.split("/")[0] not in ALLOWED:
            findings.append(f"{name}: nothing else may lie at the top level")
        if any(fnmatch(name.rpartition("/")[2], pattern) for pattern in LOCK_FILES):
            findings.append(f"{name}: no lock file; pyproject.toml says what is needed")
    return findings


def size_findings(sizes: Iterable[tuple[str, int]]) -> list[str]:
    """Files too large to keep."""
    return [
        f"{name}: {size} bytes; {LARGEST_BYTES} at most"
        for name, size in sizes
        if size > LARGEST_BYTES
    ]


def text_findings(name: str, text: str) -> list[str]:
    """Lines that say what a repository must not say."""
    return [
        f"{name}:{number}: {what}: {found.group()}"
        for number, line in enumerate(text.splitlines(), 1)
        for pattern, what in UNWANTED.items()
        if (found := re.search(pattern, line))
    ]


def text_of(path: Path) -> str:
    """Give the text of a file, nothing for one that is no text."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return ""


def test_everything_lies_where_it_may() -> None:
    assert_none(place_findings(files_of_the_repository()))


def test_no_file_is_too_large() -> None:
    assert_none(size_findings((name, (ROOT / name).stat().st_size)
                              for name in files_of_the_repository()))  # fmt: skip


def test_no_file_says_what_it_must_not() -> None:
    assert_none(
        line
        for name in files_of_the_repository()
        for line in text_findings(name, text_of(ROOT / name))
    )


@pytest.mark.parametrize(
    "name",
    ["setup.py", "docs/index.md", "conftest.py", "tests/uv.lock", "samples/package-lock.json"],
)
def test_a_file_out_of_place_is_found(name: str) -> None:
    assert len(place_findings([name])) == 1


def test_files_in_place_pass() -> None:
    assert place_findings(["README.md", "takeoff/mix/doses.py", ".ci/run", ".gitignore"]) == []


def test_a_large_file_is_found() -> None:
    (finding,) = size_findings([("a.stl", 1_000_000), ("b.stl", 1_000_001)])
    assert finding.startswith("b.stl: 1000001 bytes")


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("see " + "pypi" + ".org", "names a package registry"),
        ("--" + "index-url x", "names a package registry"),
        ("open('/" + "tmp/x')", "holds a path of one machine"),
        ("/" + "work/main", "holds a path of one machine"),
        ("# TO" + "DO later", "leaves something undone"),
    ],
)
def test_what_must_not_be_said_is_found(text: str, what: str) -> None:
    (finding,) = text_findings("a.md", f"fine\n{text}\n")
    assert finding.startswith(f"a.md:2: {what}")


@pytest.mark.parametrize(
    "text", ["homework/main", "$work/tmp", "out/tmp/a", "https://a.org/work/b"]
)
def test_what_may_be_said_passes(text: str) -> None:
    assert text_findings("a.md", text) == []
