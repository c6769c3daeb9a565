"""``takeoff start``: a commented job file and shop file, from drawings."""

from __future__ import annotations

import click

from takeoff.cli.output import (
    expanded,
    leave,
    print_result,
    shared_options,
    start,
    terminal_width,
)
from takeoff.errors import TakeoffError


@click.command("start", short_help="Drawings to a job file and a shop file to edit.")
@click.argument("drawings", nargs=-1, required=True, metavar="DRAWING...")
@click.option("-o", "folder", default=None, metavar="DIR", help="Write the files there; else here.")
@click.option("--unit", default=None, help="Unit of drawings that declare none: mm, cm, m ...")
@click.option("--kind", default=None, help="piece, form (it is cast in), open (surface cast).")
@click.option("--show", default=None, help="up, down, front, back, left, right, S2 or x,y,z.")
@shared_options
def command(
    drawings: tuple[str, ...],
    folder: str | None,
    unit: str | None,
    kind: str | None,
    show: str | None,
    as_json: bool | None,
    strict: bool | None,
    verbose: bool | None,
) -> None:
    """Write job.toml and shop.toml, commented, with all that is found in the drawings.

    What only the shop knows is asked for; the edits left are listed with their lines. Files that
    are there already are never written over.
    """
    start(verbose)
    from takeoff.job.starting import refused_start, start_job
    from takeoff.report.start_text import left_out_lines, start_text

    try:
        document = start_job(
            expanded(drawings), "." if folder is None else folder, unit=unit, kind=kind, show=show
        )
    except TakeoffError as error:
        if not as_json:
            raise
        document = refused_start(error)
        print_result(document, str, as_json=as_json)
        leave(document, strict=strict)
        return
    print_result(document, lambda: start_text(document, width=terminal_width()), as_json=as_json)
    for line in left_out_lines(document):
        click.echo(line, err=True)
    leave(document, strict=strict)
