"""``takeoff defaults``: every default in force."""

from __future__ import annotations

import click

from takeoff.cli.output import leave, print_result, shared_options, start


@click.command("defaults", short_help="Every default in force, its reason and source.")
@shared_options
def command(as_json: bool | None, strict: bool | None, verbose: bool | None) -> None:
    """List every default in force: value, reason and source."""
    start(verbose)
    from takeoff.facade.rules_in_force import rules_in_force
    from takeoff.report.defaults_text import defaults_text

    document = rules_in_force()
    print_result(document, lambda: defaults_text(document), as_json=as_json)
    leave(document, strict=strict)
