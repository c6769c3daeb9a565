"""One filling of the mixer as a shop asks for it: a mix, an amount, a scale."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from takeoff.documents import IngredientRow, SettingValue, SharesRow, WeighDocument
from takeoff.errors import MixError, TakeoffError
from takeoff.files.mix_file import read_mix
from takeoff.files.shipped import shipped_cautions
from takeoff.measuring.rows import error_row, head_of
from takeoff.mix.cautions import cautions_for
from takeoff.mix.mixes import Mix
from takeoff.mix.weigh_sheet import WeighedLine, WeighedMix
from takeoff.mix.weighing import weigh_out
from takeoff.units import mass_kg, volume_m3


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
    """

    weighed: WeighedMix
    cautions: tuple[str, ...]
    settings: Mapping[str, SettingValue]

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
        weighed = self.weighed
        head = head_of("takeoff.weigh/1", settings=self.settings, notes=weighed.notes)
        return WeighDocument(
            **head,
            mix=weighed.mix.name,
            volume_m3=weighed.volume_m3,
            density_kg_m3=weighed.density_kg_m3,
            air_share=weighed.air_share,
            mass_kg=weighed.mass_kg,
            water_total_kg=weighed.water_total_kg,
            water_to_add_kg=weighed.water_to_add_kg,
            ingredients=[_ingredient_row(line) for line in weighed.lines],
            cautions=list(self.cautions),
        )

    def rows(self) -> list[dict[str, str | float | None]]:
        """Give one flat row per ingredient, in order of addition.

        Returns
        -------
        list of dict
            Ingredient, role, mass, density, shares and when.
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
    scale: str | None = None,
) -> WeighSheet:
    """Weigh out a mix for a volume, a mass or a number of bags.

    Parameters
    ----------
    mix : Mix, str or Path
        A mix, the name of a shipped one, or the path of the shop's own file.
    volume : str, optional
        Fresh volume wanted, such as ``"18 L"``.
    mass : str, optional
        Mass in the mixer wanted, such as ``"40 lb"``.
    bags : int, optional
        Whole bags of a premix.
    scale : str, optional
        Division of the scale, such as ``"10 g"``; without it masses are not rounded.

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
        If there is no such mix, or its file is wrong.

    Examples
    --------
    >>> sheet = weigh("backer-poured", volume="18 L", scale="10 g")
    >>> round(sheet.volume_m3, 4)
    0.018
    """
    division_kg = None if scale is None else mass_kg(scale)
    if division_kg is not None and division_kg <= 0.0:
        raise MixError(f"a scale cannot have a division of {scale}; write it like 10 g")
    chosen = mix if isinstance(mix, Mix) else read_mix(mix)
    weighed = weigh_out(
        chosen,
        volume_m3=None if volume is None else volume_m3(volume),
        mass_kg=None if mass is None else mass_kg(mass),
        bags=bags,
        division_kg=division_kg,
    )
    shipped = shipped_cautions()
    return WeighSheet(
        weighed,
        cautions_for([chosen], shipped.cautions, closing=shipped.closing),
        settings=dict(mix=chosen.name, volume=volume, mass=mass, bags=bags, scale=scale),
    )


def refused_weigh(mix: str, error: TakeoffError) -> WeighDocument:
    """Give the document of a weigh sheet that was refused: complete, and empty.

    Parameters
    ----------
    mix : str
        The mix, as asked for.
    error : TakeoffError
        Why.

    Returns
    -------
    WeighDocument
        The document.

    Examples
    --------
    >>> refused_weigh("backer-poured", MixError("give one amount"))["mass_kg"] is None
    True
    """
    head = head_of("takeoff.weigh/1", settings={}, errors=[error_row(error, file=None)])
    return WeighDocument(
        **head,
        mix=mix,
        volume_m3=None,
        density_kg_m3=None,
        air_share=None,
        mass_kg=None,
        water_total_kg=None,
        water_to_add_kg=None,
        ingredients=[],
        cautions=[],
    )


def _ingredient_row(line: WeighedLine) -> IngredientRow:
    return IngredientRow(
        name=line.name,
        role=line.role.value,
        mass_kg=line.mass_kg,
        density_kg_m3=line.density_kg_m3,
        shares=SharesRow(
            of_dry=line.shares.of_dry,
            of_cement=line.shares.of_cement,
            of_total=line.shares.of_total,
        ),
        when=line.when,
    )
