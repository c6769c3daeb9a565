"""``takeoff weigh``: what goes into the mixer, in order."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from takeoff.cli.output import leave, print_result, shared_options, start, terminal_width
from takeoff.documents import WeighDocument
from takeoff.errors import TakeoffError


def _by_name(pairs: Sequence[str], *, unnamed: str = "") -> dict[str, str]:
    """Take ``sand=4%`` apart; a value alone stands under the name for that."""
    named = {}
    for pair in pairs:
        name, equals, value = pair.partition("=")
        named[name.strip() if equals else unnamed] = value if equals else pair
    return named


def _text(document: WeighDocument, amount: str) -> str:
    """Write the sheet in the units of the amount asked for."""
    from takeoff.report.system_choice import system_of_amount
    from takeoff.report.weigh_text import weigh_text

    return weigh_text(document, system=system_of_amount(amount), width=terminal_width())


@click.command("weigh", short_help="What goes into the mixer, in order.")
@click.argument("mix")
@click.option("--volume", default=None, help="Fresh volume wanted, like 20L or 5gal.")
@click.option("--mass", default=None, help="Mass wanted, like 25kg or 50lb.")
@click.option("--bags", type=int, default=None, help="Whole bags of a premix.")
@click.option(
    "--scale", multiple=True, help='A scale, like 10g or "1g to 2kg"; repeat for several.'
)
@click.option(
    "--shop", type=click.Path(path_type=Path), default=None, help="Scales of a shop file."
)
@click.option("--bucket", default=None, help="Most that goes into one bucket, like 20kg.")
@click.option("--hold-back", default=None, help="Share of the water to hold back, like 10%.")
@click.option("--moisture", multiple=True, help="Free water on a sand, like silica-sand=4% or 4%.")
@click.option("--absorption", multiple=True, help="Water inside its grains, like 0.5%.")
@click.option("--use", default=None, help="What it is for: cladding, or other.")
@click.option("--coat", default=None, help="Thickness of a coat, to check it with a scale.")
@click.option("--at", multiple=True, help="Temperature of a part, like sand=32C, ice=-5C, all=25C.")
@click.option("--wanted", default=None, help="Temperature wanted of the mix; gives the ice.")
@click.option("--ice", default=None, help="Ice, like 2kg, or 25% of the water to add.")
@click.option("--gain", default=None, help="Warming by mixing and carrying, like 2C.")
@click.option("--temperature", default=None, help="Temperature of the mix, as measured.")
@click.option("--air", default=None, help="Temperature of the air, for drying.")
@click.option("--humidity", default=None, help="Humidity of the air, like 40%.")
@click.option("--wind", default=None, help="Wind over the form, like 10km/h.")
@click.option("--slurry", default=None, help='Bucket of a spray station, like "4.75kg in 30s".')
@click.option("--glass", default=None, help='Bag of a spray station, like "125g in 15s".')
@shared_options
def command(
    mix: str,
    volume: str | None,
    mass: str | None,
    bags: int | None,
    scale: tuple[str, ...],
    shop: Path | None,
    bucket: str | None,
    hold_back: str | None,
    moisture: tuple[str, ...],
    absorption: tuple[str, ...],
    use: str | None,
    coat: str | None,
    at: tuple[str, ...],
    wanted: str | None,
    ice: str | None,
    gain: str | None,
    temperature: str | None,
    air: str | None,
    humidity: str | None,
    wind: str | None,
    slurry: str | None,
    glass: str | None,
    as_json: bool | None,
    strict: bool | None,
    verbose: bool | None,
) -> None:
    """Weigh out MIX, a shipped mix or a mix.toml of your own."""
    start(verbose)
    from takeoff.job.weigh_rows import refused_weigh
    from takeoff.job.weighing_out import weigh

    try:
        document = weigh(
            mix,
            volume=volume,
            mass=mass,
            bags=bags,
            scale=scale or None,
            shop=shop,
            bucket=bucket,
            hold_back=hold_back,
            moisture=_by_name(moisture),
            absorption=_by_name(absorption),
            use=use,
            coat=coat,
            at=_by_name(at, unnamed="all"),
            wanted=wanted,
            ice=ice,
            gain=gain,
            temperature=temperature,
            air=air,
            humidity=humidity,
            wind=wind,
            slurry=slurry,
            glass=glass,
        ).to_dict()
    except TakeoffError as error:
        if not as_json:
            raise
        document = refused_weigh(mix, error)
    amount = volume or mass or " ".join(scale)
    print_result(document, lambda: _text(document, amount), as_json=as_json)
    leave(document, strict=strict)
