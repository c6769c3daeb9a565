"""A module is one sentence, and a function fits one glance."""

from __future__ import annotations

import ast
import io
import re
import tokenize

import pytest

from tests.house.walking import Function, Source, assert_none, functions, package, parsed

MODULE_LINES = 400
BODY_LINES = 40
BANNED = {"utils", "util", "core", "common", "helpers", "helper", "base", "manager", "misc"}


def body_lines(function: Function) -> int:
    """Lines from the first statement after the docstring to the last."""
    body = function.node.body
    if ast.get_docstring(function.node) is not None:
        body = body[1:]
    if not body:
        return 0
    return (body[-1].end_lineno or 0) - body[0].lineno + 1


def size_findings(source: Source) -> list[str]:
    """Modules and functions too long to take in."""
    findings = []
    lines = len(source.text.splitlines())
    if lines > MODULE_LINES:
        findings.append(f"{source.at(1)}: {lines} lines; a module has at most {MODULE_LINES}")
    for function in functions(source.tree):
        length = body_lines(function)
        if length > BODY_LINES:
            findings.append(
                f"{source.at(function.node)}: the body of {function.name} has {length} lines;"
                f" {BODY_LINES} at most"
            )
    return findings


def opening_findings(source: Source) -> list[str]:
    """Modules that do not open with one sentence."""
    docstring = ast.get_docstring(source.tree)
    if docstring is None:
        return [f"{source.at(1)}: no docstring; a module opens with one sentence"]
    opening = " ".join(docstring.split("\n\n")[0].split())
    if not opening.endswith(".") or re.search(r"[.!?] +[A-Z]", opening):
        return [f"{source.at(1)}: the docstring does not open with one sentence: {opening}"]
    return []


def name_findings(source: Source) -> list[str]:
    """Module names that say nothing of their subject."""
    findings = []
    for name in source.module.split(".")[1:]:
        if name in BANNED:
            findings.append(f"{source.at(1)}: {name} is no subject; name the module for its own")
        if re.search(r"\d$|_more$|_impl$", name):
            findings.append(f"{source.at(1)}: {name} is a number or a remainder, no subject")
    return findings


def chain_findings(source: Source) -> list[str]:
    """Statements chained on one line."""
    tokens = tokenize.generate_tokens(io.StringIO(source.text).readline)
    return [
        f"{source.at(token.start[0])}: one statement a line"
        for token in tokens
        if token.type == tokenize.OP and token.string == ";"
    ]


def test_modules_and_functions_are_small() -> None:
    assert_none(line for source in package() for line in size_findings(source))


def test_modules_open_with_one_sentence() -> None:
    assert_none(line for source in package() for line in opening_findings(source))


def test_modules_are_named_for_their_subject() -> None:
    assert_none(line for source in package() for line in name_findings(source))


def test_statements_stand_on_lines_of_their_own() -> None:
    assert_none(line for source in package() for line in chain_findings(source))


def test_a_long_module_is_found() -> None:
    assert size_findings(parsed("takeoff/a.py", "x = 1\n" * 400)) == []
    (finding,) = size_findings(parsed("takeoff/a.py", "x = 1\n" * 401))
    assert "401 lines" in finding


def test_a_long_body_is_found_and_its_docstring_not_counted() -> None:
    opening = '"""Say it.\n\n' + "More.\n" * 20 + '    """\n'
    fits = "class A:\n  def f(self):\n    " + opening + "    x = 1\n" * 40
    assert size_findings(parsed("takeoff/a.py", fits)) == []
    (finding,) = size_findings(parsed("takeoff/a.py", fits + "    y = 1\n"))
    assert "the body of A.f has 41 lines" in finding


@pytest.mark.parametrize(
    ("text", "refusal"),
    [
        ("x = 1", "no docstring"),
        ('"""Things without a stop"""', "does not open with one sentence"),
        ('"""One thing. And another."""', "does not open with one sentence"),
    ],
)
def test_a_module_without_its_sentence_is_found(text: str, refusal: str) -> None:
    (finding,) = opening_findings(parsed("takeoff/a.py", text))
    assert refusal in finding


def test_more_may_follow_the_sentence() -> None:
    assert opening_findings(parsed("takeoff/a.py", '"""One\nthing.\n\nMore. And more.\n"""')) == []


@pytest.mark.parametrize("name", ["geometry/utils", "core/mesh", "piece/walls2", "mix/doses_more"])
def test_a_name_without_a_subject_is_found(name: str) -> None:
    (finding,) = name_findings(parsed(f"takeoff/{name}.py", ""))
    assert "no subject" in finding


def test_a_chain_is_found_and_a_text_is_not() -> None:
    (finding,) = chain_findings(parsed("takeoff/a.py", "a = 1; b = 2\nc = 'x; y'\n"))
    assert finding == "takeoff/a.py:1: one statement a line"
