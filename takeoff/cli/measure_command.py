"""``takeoff measure``: surfaces and layers of the pieces of a drawing."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import click

from takeoff.cli.output import (
    expanded,
    leave,
    print_result,
    say_written,
    shared_options,
    start,
    terminal_width,
)
from takeoff.errors import TakeoffError


@click.command("measure", short_help="Show face, returns, uprights; volume of every layer.")
@click.argument("files", nargs=-1, required=True, metavar="FILE...")
@click.option("--unit", default=None, help="Unit of the drawing: mm, cm, m, in or ft.")
@click.option("--kind", default=None, help="piece, form (it is cast in), open (surface cast).")
@click.option("--show", default=None, help="up, down, front, back, left, right, S2 or x,y,z.")
@click.option("--return-limit", default=None, help="Deepest wall called a return; 110mm.")
@click.option("--edge-depth", default=None, help="Depth of the walls round an outline.")
@click.option("--edge", "edges", multiple=True, default=None, help="Depth at one edge: E3=0mm.")
@click.option("--face-coat", default=None, help="Thickness of the face coat: 4mm, 3-4-5mm.")
@click.option("--backer", default=None, help="Thickness of the backer behind it: 16mm, fill.")
@click.option("--backer-return", default=None, help="The same on returns, where it differs.")
@click.option("--backer-upright", default=None, help="The same on uprights, where it differs.")
@click.option("--exact", is_flag=True, default=None, help="Check layers by a slow method too.")
@click.option("--layer", "layers", multiple=True, default=None, help="Drawing layer to take.")
@click.option("-o", "folder", default=None, metavar="DIR", help="Write the files there too.")
@shared_options
def command(
    files: tuple[str, ...],
    edges: tuple[str, ...],
    exact: bool | None,
    folder: str | None,
    as_json: bool | None,
    strict: bool | None,
    verbose: bool | None,
    **wanted: Any,
) -> None:
    """Measure show face, returns and uprights, and the true volume of every layer."""
    start(verbose)
    from takeoff.facade.measuring_many import measure_all, refused_measurements
    from takeoff.measuring.taking import measure_request
    from takeoff.report.measure_text import measure_text

    depths = _edges(edges)
    try:
        request = measure_request(edges=depths, **wanted)
        request = replace(request, exact=bool(exact))
        measured = measure_all(expanded(files), request, with_pictures=folder is not None)
        written = measured.write(folder) if folder is not None else ()
    except TakeoffError as error:
        if not as_json:
            raise
        measured, written = refused_measurements(error), ()
    document = measured.to_dict()
    print_result(document, lambda: measure_text(document, width=terminal_width()), as_json=as_json)
    say_written(written)
    leave(document, strict=strict)


def _edges(texts: tuple[str, ...]) -> dict[str, str]:
    """Read ``E3=40mm`` pairs; a plain 0 is a bare edge."""
    edges = {}
    for text in texts or ():
        edge, equals, depth = (part.strip() for part in text.partition("="))
        if not (edge and equals and depth):
            raise click.UsageError(f"cannot read --edge {text!r}; write it like --edge E3=40mm")
        edges[edge] = "0 mm" if depth == "0" else depth
    return edges
