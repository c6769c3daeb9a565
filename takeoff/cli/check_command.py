"""``takeoff check``: is a drawing sound, and how large is it."""

from __future__ import annotations

import click

from takeoff.cli.output import (
    leave,
    print_result,
    shared_options,
    start,
    terminal_width,
)


@click.command("check", short_help="Is a drawing sound, and how large is it?")
@click.argument("files", nargs=-1, required=True, metavar="FILE...")
@click.option("--unit", default=None, help="Unit of the drawings: mm, cm, m, in or ft.")
@click.option("--layer", "layers", multiple=True, default=None, help="Drawing layer to take.")
@shared_options
def command(
    files: tuple[str, ...],
    unit: str | None,
    layers: tuple[str, ...],
    as_json: bool | None,
    strict: bool | None,
    verbose: bool | None,
) -> None:
    """Say whether drawings are sound, with raw areas, volumes, perimeters and edge ids."""
    start(verbose)
    from takeoff.facade.checking import check
    from takeoff.report.check_text import check_text

    document = check(files, unit=unit, layers=layers).to_dict()
    print_result(document, lambda: check_text(document, width=terminal_width()), as_json=as_json)
    leave(document, strict=strict)
