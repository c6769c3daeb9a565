"""``takeoff batch``: the pour day of a job."""

from __future__ import annotations

import click

from takeoff.cli.output import (
    leave,
    print_result,
    say_written,
    shared_options,
    start,
    terminal_width,
)
from takeoff.errors import TakeoffError


@click.command("batch", short_help="The pour day: which batches, how big, by when in the form.")
@click.argument("job", metavar="JOB.toml")
@click.option(
    "--prove", is_flag=True, default=None, help="Search until a day is proven, or longer."
)
@click.option("-o", "folder", default=None, metavar="DIR", help="Write the files there too.")
@shared_options
def command(
    job: str,
    prove: bool | None,
    folder: str | None,
    as_json: bool | None,
    strict: bool | None,
    verbose: bool | None,
) -> None:
    """Plan the pour of a job: batches that can be placed before they go off, on a clock."""
    start(verbose)
    from takeoff.job.day_plan import refused_plan
    from takeoff.job.pour_planning import plan
    from takeoff.report.batch_text import batch_text
    from takeoff.report.figures import System

    try:
        made = plan(job, prove=bool(prove))
        written = made.write(folder) if folder is not None else ()
    except TakeoffError as error:
        if not as_json:
            raise
        document = refused_plan(job, error)
        print_result(document, str, as_json=as_json)
        leave(document, strict=strict)
        return
    document = made.to_dict()
    system = System(made.order.show_units)
    print_result(
        document,
        lambda: batch_text(document, system=system, width=terminal_width()),
        as_json=as_json,
    )
    say_written(written)
    if not made.feasible:
        raise click.exceptions.Exit(1)
    leave(document, strict=strict)
