"""Every block of the README is run, and what it shows is what comes out."""

from __future__ import annotations

import doctest
import os
import re
import shlex
import shutil
import subprocess
import sys
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.house.walking import ROOT, assert_none

README = ROOT / "README.md"

SET_UP = (
    (
        "python3 -m venv .venv && .venv/bin/pip install '.[all]'"
        " && .venv/bin/takeoff bid samples/ferry-hall/job.toml -o out"
    ),
    "python3 -m venv .venv && .venv/bin/pip install -e '.[all,test]' && .venv/bin/pytest",
)

FENCE = re.compile(
    r"^(?P<indent> *)```(?P<language>\w*) *\n(?P<text>.*?)^(?P=indent)``` *$",
    re.MULTILINE | re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class Block:
    """A fenced block: its language, its text, and the line its text begins on."""

    language: str
    text: str
    line: int

    @property
    def sets_up(self) -> bool:
        """Whether it makes environments: compared word by word, and run by the build."""
        return "-m venv" in self.text


@dataclass(frozen=True, slots=True)
class Command:
    """A command of a console block and what it shows."""

    words: str
    shown: str


def blocks(text: str) -> list[Block]:
    """Give the fenced blocks of a document in order."""
    return [
        Block(
            found["language"],
            textwrap.dedent(found["text"]),
            text.count("\n", 0, found.start("text")) + 1,
        )
        for found in FENCE.finditer(text)
    ]


def commands(text: str) -> list[Command]:
    """Take a console block apart at its prompts."""
    assert text.startswith("$ "), "a console block opens with a prompt"
    parts = re.split(r"^\$ ", text, flags=re.MULTILINE)[1:]
    return [_command(part) for part in parts]


def _command(part: str) -> Command:
    whole = re.sub(r"\\\n *", "", part)
    words, _, shown = whole.partition("\n")
    return Command(words, shown)


def for_powershell(line: str) -> str:
    """Spell a set-up line as PowerShell takes it."""
    parts = line.replace("python3 ", "py ").split(" && ")
    return "; ".join(re.sub(r"\.venv/bin/", r".venv\\Scripts\\", part) for part in parts)


def differences(shown: str, got: str) -> str:
    """Say where output differs from what is shown; "..." stands for anything."""
    want, have = (textwrap.dedent(_without_trailing_blanks(text)) for text in (shown, got))
    checker = doctest.OutputChecker()
    flags = doctest.ELLIPSIS | doctest.DONT_ACCEPT_BLANKLINE
    if checker.check_output(want, have, flags):
        return ""
    return checker.output_difference(doctest.Example("", want), have, flags | doctest.REPORT_UDIFF)


def _without_trailing_blanks(text: str) -> str:
    return "".join(f"{line.rstrip()}\n" for line in text.rstrip().splitlines())


def run_console(block: Block, folder: Path) -> Iterator[str]:
    """Run the commands of a console block; yield what differs from what it shows."""
    status = 0
    listed = commands(block.text)
    for command, following in zip(listed, [*listed[1:], None], strict=True):
        if command.words == "echo $?":
            got = f"{status}\n"
        else:
            got, status = run_command(shlex.split(command.words), folder)
            if status and (following is None or following.words != "echo $?"):
                yield f"$ {command.words}\nended with {status}; show it with echo $?\n{got}"
        difference = differences(command.shown, got)
        if difference:
            yield f"$ {command.words}\n{difference}"


def run_command(words: list[str], folder: Path) -> tuple[str, int]:
    """Run one command as a person at a terminal sees it: both streams, and the exit status."""
    if words[0] == "cat":
        return "".join((folder / name).read_text(encoding="utf-8") for name in words[1:]), 0
    assert words[0] in {"takeoff", ".venv/bin/takeoff"}, f"no way to run {words[0]}"
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1", "COLUMNS": "100"}
    done = subprocess.run(
        [sys.executable, "-m", "takeoff", *words[1:]],
        cwd=folder,
        env=surroundings,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        stdin=subprocess.DEVNULL,
        encoding="utf-8",
        check=False,
    )
    return done.stdout, done.returncode


def run_python(block: Block, names: dict[str, object]) -> Iterator[str]:
    """Run a Python block with the names of those before it."""
    if not block.text.startswith(">>>"):
        exec(compile("\n" * (block.line - 1) + block.text, README.name, "exec"), names)
        return
    examples = doctest.DocTestParser().get_doctest(
        block.text, names, README.name, README.name, block.line - 1
    )
    heard: list[str] = []
    runner = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS)
    runner.run(examples, out=heard.append, clear_globs=False)
    names.update(examples.globs)
    if runner.summarize(verbose=False).failed:
        yield "".join(heard)


def excerpt_findings(block: Block, folder: Path) -> Iterator[str]:
    """Say so if a TOML block does not stand, line by line, in a file of the samples."""
    wanted = block.text.strip()
    files = sorted((folder / "samples").rglob("*.toml"))
    if not any(wanted in path.read_text(encoding="utf-8") for path in files):
        yield f"line {block.line}: this is not an excerpt of a file in samples/"


def block_findings(block: Block, folder: Path, names: dict[str, object]) -> list[str]:
    """Run one block, whatever it is; give what is wrong with it."""
    if block.sets_up:
        return []
    if block.language == "console":
        return list(run_console(block, folder))
    if block.language == "python":
        return list(run_python(block, names))
    if block.language == "toml":
        return list(excerpt_findings(block, folder))
    return [f"line {block.line}: no way to run a block of {block.language or 'no language'}"]


BLOCKS = blocks(README.read_text(encoding="utf-8")) if README.exists() else []


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that holds the samples, as the top level does."""
    made = tmp_path_factory.mktemp("readme")
    shutil.copytree(ROOT / "samples", made / "samples")
    return made


@pytest.fixture(scope="module")
def names() -> dict[str, object]:
    """What the Python blocks have named so far."""
    return {"__name__": "__main__"}


@pytest.mark.parametrize("block", BLOCKS, ids=lambda block: f"{block.language}, {block.line}")
def test_the_block_does_what_it_shows(
    block: Block, folder: Path, names: dict[str, object], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(folder)
    assert_none(block_findings(block, folder, names))


def test_the_set_up_lines_are_the_ones_that_are_tried() -> None:
    lines = [line for block in BLOCKS if block.sets_up for line in block.text.splitlines()]
    plain = [line.removeprefix("$ ") for line in lines if line and not line.startswith("#")]
    windows = [for_powershell(line) for line in SET_UP]
    assert [line for line in plain if line not in windows] == list(SET_UP)
    assert [line for line in plain if line in windows] == windows


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_files_that_the_text_names_are_there(name: str) -> None:
    missing = missing_files((ROOT / name).read_text(encoding="utf-8"))
    assert_none(f"{name}: {path} is not there" for path in missing)


def missing_files(text: str) -> list[str]:
    """Give the files that a text links to, or names by their path, and that are not there."""
    prose = FENCE.sub("", text)
    linked = re.findall(r"\]\((?!\w+:|#)([^)#\s]+)", prose)
    named = re.findall(r"`((?:takeoff|tests|samples|notebooks|\.ci)/[\w./-]*)`", prose)
    return [path for path in [*linked, *named] if not (ROOT / path).exists()]


DOCUMENT = """# A

```console
$ takeoff --help
Usage ...
$ echo $?
0
```

- in a list:
  ```python
  a = 1
  ```
"""


def test_blocks_are_found_with_their_lines() -> None:
    first, second = blocks(DOCUMENT)
    assert (first.language, first.line) == ("console", 4)
    assert commands(first.text) == [Command("takeoff --help", "Usage ...\n"),
                                    Command("echo $?", "0\n")]  # fmt: skip
    assert second == Block("python", "a = 1\n", 12)


@pytest.mark.parametrize(
    ("shown", "got", "same"),
    [
        ("a 1\nb 2\n", "a 1 \nb 2\n\n", True),
        ("a\n...\nd\n", "a\nb\nc\nd\n", True),
        ("a 1\n", "a 2\n", False),
        ("", "a\n", False),
        ("a\n", "", False),
    ],
)
def test_output_is_compared(shown: str, got: str, same: bool) -> None:
    assert (differences(shown, got) == "") is same


@pytest.mark.parametrize(
    ("block", "refusal"),
    [
        (Block("python", ">>> 1 + 1\n3\n", 1), "Expected:\n    3\nGot:\n    2"),
        (Block("console", "$ cat a.txt\nother\n", 1), "Expected:\n    other"),
        (Block("toml", 'name = "nowhere"\n', 7), "line 7: this is not an excerpt"),
        (Block("", "x\n", 7), "line 7: no way to run a block of no language"),
        (Block("json", "{}\n", 7), "line 7: no way to run a block of json"),
    ],
)
def test_a_block_that_does_something_else_is_found(
    block: Block, refusal: str, tmp_path: Path
) -> None:
    (tmp_path / "a.txt").write_text("this\n")
    (finding,) = block_findings(block, tmp_path, {})
    assert refusal in finding


def test_a_command_that_fails_unseen_is_found(tmp_path: Path) -> None:
    listed = list(run_console(Block("console", "$ takeoff no-such\n...\n", 1), tmp_path))
    assert "show it with echo $?" in listed[0]


def test_a_python_block_that_raises_fails() -> None:
    with pytest.raises(ZeroDivisionError, match="division by zero"):
        block_findings(Block("python", "1 / 0\n", 1), ROOT, {})


def test_python_blocks_share_their_names() -> None:
    names: dict[str, object] = {}
    assert block_findings(Block("python", "a = 2\n", 1), ROOT, names) == []
    assert block_findings(Block("python", ">>> b = a\n>>> b\n2\n", 1), ROOT, names) == []
    assert names["b"] == 2


def test_powershell_is_spelt_its_own_way() -> None:
    assert for_powershell(SET_UP[1]) == (
        r"py -m venv .venv; .venv\Scripts\pip install -e '.[all,test]'; .venv\Scripts\pytest"
    )


def test_a_file_that_is_not_there_is_found() -> None:
    text = "[a](tests/none.md) [b](#here) `takeoff/none.py` `takeoff/errors.py`"
    assert missing_files(text) == ["tests/none.md", "takeoff/none.py"]
