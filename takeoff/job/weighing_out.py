"""One filling of the mixer as a shop asks for it: a mix, an amount, its scales and its weather."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from takeoff.documents import SettingValue, WeighDocument
from takeoff.errors import MixError
from takeoff.files.mix_file import read_mix
from takeoff.files.shipped import shipped_cautions, shipped_limits
from takeoff.job.spray_station import Spray, read_spray
from takeoff.job.weigh_heat import (
    Conditions,
    Drying,
    MixHeat,
    drying_of,
    heat_of,
    ice_wanted_kg,
)
from takeoff.job.weigh_notes import coat_notes, drying_notes, heat_notes, spray_notes
from takeoff.job.weigh_words import (
    PerSand,
    read_conditions,
    read_scales,
    read_stock,
    read_use,
)
from takeoff.mix.cautions import cautions_for
from takeoff.mix.limits import limit_notes
from takeoff.mix.mixes import Mix
from takeoff.mix.scales import Scale
from takeoff.mix.weigh_sheet import WeighedMix
from takeoff.mix.weighing import weigh_out
from takeoff.units import length_m, mass_kg, share, volume_m3


@dataclass(frozen=True, slots=True)
class Filling:
    """How much is weighed, and on what.

    Parameters
    ----------
    volume_m3, mass_kg : float or None
        Volume or mass wanted. [m³, kg]
    bags : int or None
        Whole bags of a premix.
    scales : tuple of Scale
        The scales.
    bucket_kg : float or None
        Most that goes into one bucket. [kg]
    """

    volume_m3: float | None
    mass_kg: float | None
    bags: int | None
    scales: tuple[Scale, ...]
    bucket_kg: float | None

    def weighed(self, mix: Mix, *, ice_kg: float = 0.0) -> WeighedMix:
        """Weigh a mix.

        Parameters
        ----------
        mix : Mix
            The mix.
        ice_kg : float, default 0.0
            How much of the water to add is ice. [kg]

        Returns
        -------
        WeighedMix
            The masses.
        """
        return weigh_out(
            mix,
            volume_m3=self.volume_m3,
            mass_kg=self.mass_kg,
            bags=self.bags,
            scales=self.scales,
            bucket_kg=self.bucket_kg,
            ice_kg=ice_kg,
        )


@dataclass(frozen=True, slots=True, eq=False)
class WeighSheet:
    """What goes into the mixer, in order, with its cautions.

    Parameters
    ----------
    weighed : WeighedMix
        The masses.
    cautions : tuple of str
        What to mind, each with its source.
    settings : mapping of str
        What was asked for.
    heat : MixHeat or None, default None
        Temperature of the mix; None where none was told.
    drying : Drying or None, default None
        Water that dries off; None where no weather was told.
    spray : Spray or None, default None
        The spray station; None where it was not tried.
    coat_m : float or None, default None
        Thickness of the coat to be checked with a scale. [m]
    """

    weighed: WeighedMix
    cautions: tuple[str, ...]
    settings: Mapping[str, SettingValue]
    heat: MixHeat | None = None
    drying: Drying | None = None
    spray: Spray | None = None
    coat_m: float | None = None

    @property
    def mass_kg(self) -> float:
        """Sum of all that is weighed, in [kg]."""
        return self.weighed.mass_kg

    @property
    def volume_m3(self) -> float:
        """Fresh volume of it, air included, in [m³]."""
        return self.weighed.volume_m3

    def to_dict(self) -> WeighDocument:
        """Give the sheet as its JSON document.

        Returns
        -------
        WeighDocument
            The document.
        """
        from takeoff.job.weigh_rows import weigh_document

        return weigh_document(
            self.weighed,
            cautions=self.cautions,
            settings=self.settings,
            heat=self.heat,
            drying=self.drying,
            spray=self.spray,
            coat_m=self.coat_m,
        )

    def rows(self) -> list[dict[str, str | float | bool | None]]:
        """Give one flat row per ingredient, in order of addition.

        Returns
        -------
        list of dict
            Ingredient, role, mass, running total, density, shares, scale and when.
        """
        from takeoff.report.ingredient_rows import ingredient_table

        return ingredient_table(self.to_dict()["ingredients"])

    def _repr_html_(self) -> str:
        """Give a small table for notebooks."""
        from takeoff.report.html_table import html_table

        return html_table(self.rows())


def weigh(
    mix: Mix | str | Path,
    *,
    volume: str | None = None,
    mass: str | None = None,
    bags: int | None = None,
    scale: str | Sequence[str] | None = None,
    shop: str | Path | None = None,
    bucket: str | None = None,
    hold_back: str | None = None,
    moisture: PerSand = None,
    absorption: PerSand = None,
    use: str | None = None,
    coat: str | None = None,
    at: Mapping[str, str] | None = None,
    wanted: str | None = None,
    ice: str | None = None,
    gain: str | None = None,
    temperature: str | None = None,
    air: str | None = None,
    humidity: str | None = None,
    wind: str | None = None,
    slurry: str | None = None,
    glass: str | None = None,
) -> WeighSheet:
    """Weigh out a mix for a volume, a mass or a number of bags.

    Parameters
    ----------
    mix : Mix, str or Path
        A mix, the name of a shipped one, or the path of the shop's own file.
    volume, mass : str, optional
        Fresh volume or mass wanted, such as ``"18 L"`` or ``"40 lb"``.
    bags : int, optional
        Whole bags of a premix.
    scale : str or sequence of str, optional
        Scales, such as ``"10 g"`` or ``["1 g to 2 kg", "50 g to 60 kg"]``: each ingredient goes
        on the finest that holds it. Without any, masses are not rounded.
    shop : str or Path, optional
        A shop file, whose scales hold where none are told.
    bucket : str, optional
        Most that goes into one bucket; more is weighed in several.
    hold_back : str, optional
        Share of the water to add that is held back.
    moisture, absorption : mapping of str to str, or str, optional
        Free water on each sand, and water inside its grains, over its oven-dry mass.
    use : str, optional
        ``"cladding"``, where the limits for cladding hold.
    coat : str, optional
        Thickness of the coat, to be checked with a scale.
    at : mapping of str to str, optional
        Temperatures by ingredient or role, of ``"ice"``, or of ``"all"`` not named.
    wanted : str, optional
        Temperature wanted of the mix; ice makes up for what is too warm.
    ice : str, optional
        Ice, as a mass or as a share of the water to add.
    gain : str, optional
        Warming by mixing and carrying, as the shop has measured it.
    temperature : str, optional
        Temperature of the mix, where it is measured.
    air, humidity, wind : str, optional
        The weather over the fresh surface.
    slurry, glass : str, optional
        What the bucket and the bag of a spray station held, as in ``"4.75 kg in 30 s"``.

    Returns
    -------
    WeighSheet
        Masses in order of addition, shares on every basis, cautions.

    Raises
    ------
    QuantityError
        If an amount cannot be read.
    MixError
        If not exactly one amount is given, or the mix cannot be weighed as asked.
    ShopFileError
        If there is no such mix, or its file or that of the shop is wrong.

    Examples
    --------
    >>> sheet = weigh("backer-poured", volume="18 L", scale="10 g")
    >>> round(sheet.volume_m3, 4)
    0.018
    """
    filling = Filling(
        volume_m3=None if volume is None else volume_m3(volume),
        mass_kg=None if mass is None else mass_kg(mass),
        bags=bags,
        scales=read_scales(scale, shop),
        bucket_kg=None if bucket is None else mass_kg(bucket),
    )
    conditions = read_conditions(
        at=at,
        wanted=wanted,
        ice=ice,
        gain=gain,
        temperature=temperature,
        weather=(air, humidity, wind),
    )
    chosen = mix if isinstance(mix, Mix) else read_mix(mix)
    chosen = read_use(read_stock(chosen, moisture=moisture, absorption=absorption), use)
    if hold_back is not None:
        chosen = replace(chosen, held_back_share=share(hold_back))
    try:
        sheet = _in_its_weather(chosen, filling, conditions)
        spray = read_spray(chosen, slurry=slurry, glass=glass)
    except MixError as error:
        raise error.at(chosen.name) from None
    coat_m = None if coat is None else length_m(coat)
    notes = (*spray_notes(sheet.weighed, spray), *coat_notes(sheet.weighed, coat_m))
    return replace(
        sheet,
        weighed=replace(sheet.weighed, notes=(*sheet.weighed.notes, *notes)),
        settings=_told(mix=chosen.name, volume=volume, mass=mass, bags=bags, scale=scale)
        | _told(shop=None if shop is None else str(shop), bucket=bucket, hold_back=hold_back)
        | _told(moisture=moisture, absorption=absorption, use=use, coat=coat, at=at, wanted=wanted)
        | _told(ice=ice, gain=gain, temperature=temperature, air=air, humidity=humidity, wind=wind)
        | _told(slurry=slurry, glass=glass),
        spray=spray,
        coat_m=coat_m,
    )


def _told(**words: SettingValue) -> dict[str, SettingValue]:
    """Name what was asked for, as it was."""
    return words


def _in_its_weather(mix: Mix, filling: Filling, conditions: Conditions) -> WeighSheet:
    """Weigh a mix, with the ice that its temperatures need."""
    plain = filling.weighed(mix)
    ice_kg = ice_wanted_kg(plain, conditions)
    weighed = filling.weighed(mix, ice_kg=ice_kg) if ice_kg > 0.0 else plain
    heat = heat_of(weighed, conditions)
    drying = drying_of(weighed, heat, conditions)
    notes = (
        *weighed.notes,
        *limit_notes(mix, shipped_limits().limits),
        *heat_notes(weighed, heat, conditions),
        *drying_notes(weighed, drying),
    )
    shipped = shipped_cautions()
    cautions = cautions_for([mix], shipped.cautions, closing=shipped.closing)
    return WeighSheet(replace(weighed, notes=notes), cautions, {}, heat=heat, drying=drying)
