"""``takeoff weigh``: what goes into the mixer, in order."""

from __future__ import annotations

import click

from takeoff.cli.output import leave, print_result, shared_options, start, terminal_width
from takeoff.errors import TakeoffError


@click.command("weigh", short_help="What goes into the mixer, in order.")
@click.argument("mix")
@click.option("--volume", default=None, help="Fresh volume wanted, like 20L or 5gal.")
@click.option("--mass", default=None, help="Mass in the mixer wanted, like 25kg or 50lb.")
@click.option("--bags", type=int, default=None, help="Whole bags of a premix.")
@click.option("--scale", default=None, help="Division of the scale, like 10g.")
@shared_options
def command(
    mix: str,
    volume: str | None,
    mass: str | None,
    bags: int | None,
    scale: str | None,
    as_json: bool | None,
    strict: bool | None,
    verbose: bool | None,
) -> None:
    """Weigh out MIX, a shipped mix or a mix.toml of your own."""
    start(verbose)
    from takeoff.job.weighing_out import refused_weigh, weigh
    from takeoff.report.system_choice import system_of_amount
    from takeoff.report.weigh_text import weigh_text

    try:
        document = weigh(mix, volume=volume, mass=mass, bags=bags, scale=scale).to_dict()
    except TakeoffError as error:
        if not as_json:
            raise
        document = refused_weigh(mix, error)
    system = system_of_amount(volume or mass)
    print_result(
        document,
        lambda: weigh_text(document, system=system, width=terminal_width()),
        as_json=as_json,
    )
    leave(document, strict=strict)
