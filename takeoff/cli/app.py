"""The command ``takeoff``: sub-commands loaded when asked for, every failure in plain words."""

from __future__ import annotations

import importlib
import sys
from typing import TextIO

import click

from takeoff import __version__
from takeoff.errors import TakeoffError

COMMANDS = {
    "start": "takeoff.cli.start_command",
    "check": "takeoff.cli.check_command",
    "measure": "takeoff.cli.measure_command",
    "weigh": "takeoff.cli.weigh_command",
    "batch": "takeoff.cli.batch_command",
    "bid": "takeoff.cli.bid_command",
    "defaults": "takeoff.cli.defaults_command",
}


class _LazyGroup(click.Group):
    """A group whose commands live in modules of their own."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(COMMANDS[cmd_name])
        command: click.Command = module.command
        return command


@click.group(cls=_LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="takeoff")
def takeoff() -> None:
    """Material takeoff for thin-shell glass-fibre concrete.

    From an STL or DXF drawing to areas, layer volumes, weighed mixes and a bid.
    """


def main() -> None:
    """Run the command line and leave with its exit status.

    0 done, 1 refused, 2 usage, 3 done with notes under --strict, 130 interrupted.
    """
    for stream in (sys.stdout, sys.stderr):
        _tolerant(stream)
    try:
        status = takeoff.main(prog_name="takeoff", standalone_mode=False)
        sys.stdout.flush()
    except click.exceptions.Exit as leaving:
        status = leaving.exit_code
    except click.ClickException as error:
        error.show()
        status = error.exit_code
    except (click.Abort, KeyboardInterrupt):
        status = _say("interrupted", 130)
    except BrokenPipeError:
        status = _closed_pipe()
    except TakeoffError as error:
        status = _say(str(error), 1)
    except OSError as error:
        status = _say(f"cannot read or write: {error.strerror or error}", 1)
    except MemoryError:
        status = _say("not enough memory for this drawing", 1)
    except Exception as error:  # noqa: BLE001 - the last door before the user: no traceback
        status = _say(f"a fault in takeoff itself, please report it: {error!r}", 1)
    sys.exit(status or 0)


def _tolerant(stream: TextIO) -> None:
    """Let a console that lacks a letter print something else instead of failing."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="replace")


def _say(text: str, status: int) -> int:
    click.echo(f"Error: {text}", err=True)
    return status


def _closed_pipe() -> int:
    """End quietly when the reader of the output has gone."""
    import os

    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0
