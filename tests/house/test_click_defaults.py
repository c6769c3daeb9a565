"""An option that was not given is None; what holds then is decided in the rooms below."""

from __future__ import annotations

from collections.abc import Iterator

import click
import pytest

from tests.house.walking import assert_none


def commands(command: click.Command, path: str) -> Iterator[tuple[str, click.Command]]:
    """A command and everything below it, by the words that call it."""
    yield path, command
    if isinstance(command, click.Group):
        context = click.Context(command)
        for name in command.list_commands(context):
            below = command.get_command(context, name)
            assert below is not None
            yield from commands(below, f"{path} {name}")


def default_findings(command: click.Command, path: str = "takeoff") -> list[str]:
    """Options that are something although they were not given."""
    findings = []
    for words, found in commands(command, path):
        context = found.make_context(words, [], resilient_parsing=True)
        for option in found.params:
            given = context.params.get(option.name or "")
            if isinstance(option, click.Option) and given not in (None, ()):
                findings.append(f"{words} {option.opts[0]} is {given!r} when it is not given")
    return findings


def help_findings(command: click.Command, path: str = "takeoff") -> list[str]:
    """Commands and options that say nothing about themselves."""
    findings = []
    for words, found in commands(command, path):
        if not found.help:
            findings.append(f"{words} has no help")
        findings += [
            f"{words} {option.opts[0]} has no help"
            for option in found.params
            if isinstance(option, click.Option) and not option.help
        ]
    return findings


@pytest.fixture
def whole() -> click.Group:
    from takeoff.cli import app

    (group,) = {value for value in vars(app).values() if isinstance(value, click.Group)}
    return group


def test_options_not_given_are_none(whole: click.Group) -> None:
    assert_none(default_findings(whole))


def test_every_command_and_option_explains_itself(whole: click.Group) -> None:
    assert_none(help_findings(whole))


def group_of(*options: click.Option) -> click.Group:
    inner = click.Command("weigh", params=list(options), help="Weigh.")
    return click.Group("takeoff", commands={"weigh": inner}, help="Take off.")


@pytest.mark.parametrize(
    ("option", "refusal"),
    [
        (click.Option(["--scale"], default="10 g"), "takeoff weigh --scale is '10 g'"),
        (click.Option(["--json"], is_flag=True), "takeoff weigh --json is False"),
        (click.Option(["--jobs"], type=int, default=0), "takeoff weigh --jobs is 0"),
        (click.Option(["-v"], count=True), "takeoff weigh -v is 0"),
        (click.Option(["--layer"], multiple=True, default=["0"]), "--layer is ('0',)"),
    ],
)
def test_an_option_with_a_default_is_found(option: click.Option, refusal: str) -> None:
    (finding,) = default_findings(group_of(option))
    assert refusal in finding


@pytest.mark.parametrize(
    "option",
    [
        click.Option(["--scale"]),
        click.Option(["--need"], required=True),
        click.Option(["--json"], is_flag=True, default=None),
        click.Option(["--layer"], multiple=True),
    ],
)
def test_an_option_without_a_default_passes(option: click.Option) -> None:
    assert default_findings(group_of(option)) == []


def test_silence_is_found() -> None:
    silent = click.Group("takeoff", commands={"a": click.Command("a")}, help="Take off.")
    assert help_findings(silent) == ["takeoff a has no help"]
    assert help_findings(group_of(click.Option(["--x"]))) == ["takeoff weigh --x has no help"]
