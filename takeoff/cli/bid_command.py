"""``takeoff bid``: a whole job, from its drawings to priced materials."""

from __future__ import annotations

import click

from takeoff.cli.output import (
    leave,
    print_result,
    say_notes,
    say_written,
    shared_options,
    start,
    terminal_width,
)
from takeoff.errors import TakeoffError


@click.command("bid", short_help="A whole job, from its drawings to priced materials.")
@click.argument("job", metavar="JOB.toml")
@click.option("-o", "folder", default=None, metavar="DIR", help="Write the files of the bid there.")
@click.option(
    "--ways", is_flag=True, default=None, help="Set the ways to cast each wall side by side."
)
@shared_options
def command(
    job: str,
    folder: str | None,
    ways: bool | None,
    as_json: bool | None,
    strict: bool | None,
    verbose: bool | None,
) -> None:
    """Bid a job: areas, layer volumes, batches, packs and what they cost."""
    start(verbose)
    from takeoff.job.bid_files import left_out
    from takeoff.job.bidding import bid
    from takeoff.job.result import refused_bid
    from takeoff.report.bid_text import bid_text
    from takeoff.report.figures import System

    try:
        made = bid(job)
        written = made.write(folder) if folder is not None else ()
    except TakeoffError as error:
        if not as_json:
            raise
        document = refused_bid(job, error)
        print_result(document, str, as_json=as_json)
        leave(document, strict=strict)
        return
    document = made.to_dict()
    system = System(made.order.show_units)
    print_result(
        document,
        lambda: bid_text(document, system=system, width=terminal_width(), ways=bool(ways)),
        as_json=as_json,
    )
    say_written(written)
    if folder is not None:
        say_notes(left_out([path.name for path in written]))
    leave(document, strict=strict)
