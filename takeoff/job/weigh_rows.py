"""A weigh sheet as its JSON document."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from takeoff.documents import SettingValue, WeighDocument
from takeoff.errors import TakeoffError
from takeoff.job.spray_station import Spray
from takeoff.job.weigh_heat import Drying, MixHeat
from takeoff.job.weigh_notes import coat_range_kg_m2
from takeoff.measuring.rows import error_rows, head_of
from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Bag, Mix, Mixing
from takeoff.mix.proportions import proportions_of
from takeoff.mix.spraying import coat_mass_kg_m2
from takeoff.mix.volumes import bag_yield_m3
from takeoff.mix.weigh_sheet import WeighedLine, WeighedMix
from takeoff.weigh_documents import (
    BagRow,
    CoatRow,
    DryingRow,
    IngredientRow,
    MixHeatRow,
    MixingRow,
    PortionRow,
    RangeRow,
    SharesRow,
    SprayRow,
)


def weigh_document(
    weighed: WeighedMix,
    *,
    cautions: Sequence[str],
    settings: Mapping[str, SettingValue],
    heat: MixHeat | None = None,
    drying: Drying | None = None,
    spray: Spray | None = None,
    coat_m: float | None = None,
) -> WeighDocument:
    """Give a weigh sheet as its document.

    Parameters
    ----------
    weighed : WeighedMix
        The masses.
    cautions : sequence of str
        What to mind.
    settings : mapping of str
        What was asked for.
    heat : MixHeat, optional
        Temperature of the mix.
    drying : Drying, optional
        Water that dries off.
    spray : Spray, optional
        The spray station.
    coat_m : float, optional
        Thickness of the coat. [m]

    Returns
    -------
    WeighDocument
        The document.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> from takeoff.mix.weighing import weigh_out
    >>> sheet = weigh_out(read_mix("backer-poured"), mass_kg=20.0)
    >>> weigh_document(sheet, cautions=[], settings={})["mixer_kg"]
    20.0
    """
    head = head_of("takeoff.weigh/1", settings=settings, notes=weighed.notes)
    return WeighDocument(
        **head,
        mix=weighed.mix.name,
        volume_m3=weighed.volume_m3,
        density_kg_m3=weighed.density_kg_m3,
        air_share=weighed.air_share,
        mass_kg=weighed.mass_kg,
        mixer_kg=weighed.mixer_kg,
        water_total_kg=weighed.water_total_kg,
        water_to_add_kg=weighed.water_to_add_kg,
        water_cement_ratio=weighed.water_cement_ratio,
        water_binder_ratio=weighed.water_binder_ratio,
        pot_life_s=weighed.mix.pot_life_s,
        wait_s=weighed.mix.wait_s,
        bag=None if weighed.mix.bag is None else _bag_row(weighed.mix, weighed.mix.bag),
        ingredients=[_ingredient_row(line) for line in weighed.lines],
        mixing=mixing_rows(weighed.mix.mixing),
        coat=None if coat_m is None else _coat_row(weighed, coat_m),
        heat=None if heat is None else _heat_row(weighed, heat),
        drying=None if drying is None else _drying_row(drying),
        spray=None if spray is None else _spray_row(spray),
        cautions=list(cautions),
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
    >>> from takeoff.errors import MixError
    >>> refused_weigh("backer-poured", MixError("give one amount"))["mass_kg"] is None
    True
    """
    head = head_of("takeoff.weigh/1", settings={}, errors=error_rows(error, file=None))
    return WeighDocument(
        **head,
        mix=mix,
        volume_m3=None,
        density_kg_m3=None,
        air_share=None,
        mass_kg=None,
        mixer_kg=None,
        water_total_kg=None,
        water_to_add_kg=None,
        water_cement_ratio=None,
        water_binder_ratio=None,
        pot_life_s=None,
        wait_s=None,
        bag=None,
        ingredients=[],
        mixing=[],
        coat=None,
        heat=None,
        drying=None,
        spray=None,
        cautions=[],
    )


def mixing_rows(mixing: Mixing | None) -> list[MixingRow]:
    """Give how long a mix is mixed and rests, step by step.

    Parameters
    ----------
    mixing : Mixing or None
        Its times; None where nobody told them.

    Returns
    -------
    list of MixingRow
        Mixing, rest and mixing again, those that take time.

    Examples
    --------
    >>> [row["what"] for row in mixing_rows(Mixing(mix_s=180.0, rest_s=60.0))]
    ['mix', 'rest']
    """
    if mixing is None:
        return []
    rows = [
        MixingRow(what="mix", duration_s=mixing.mix_s),
        MixingRow(what="rest", duration_s=mixing.rest_s),
        MixingRow(what="mix again", duration_s=mixing.again_s),
    ]
    return [row for row in rows if row["duration_s"] > 0.0]


def _ingredient_row(line: WeighedLine) -> IngredientRow:
    scale = line.charge.scale
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
        held_back=line.held_back,
        after_rest=line.is_last,
        at_gun=line.charge.at_gun,
        running_kg=line.running_kg,
        scale=None if scale is None else scale.name or None,
        division_kg=None if scale is None else scale.division_kg,
        portions=[
            PortionRow(count=portion.count, mass_kg=portion.mass_kg, bag=portion.bag)
            for portion in line.charge.portions
        ],
    )


def _bag_row(mix: Mix, bag: Bag) -> BagRow:
    shares = {part.ingredient.role: part.mass_share for part in proportions_of(mix).parts}
    return BagRow(
        mass_kg=bag.mass_kg,
        water_to_add_kg=bag.mass_kg * shares[Role.WATER] / shares[Role.PREMIX],
        yield_m3=bag_yield_m3(mix),
    )


def _coat_row(weighed: WeighedMix, thickness_m: float) -> CoatRow:
    aimed_kg_m2 = coat_mass_kg_m2(density_kg_m3=weighed.density_kg_m3, thickness_m=thickness_m)
    span = coat_range_kg_m2(weighed, thickness_m)
    return CoatRow(
        thickness_m=thickness_m,
        mass_kg_m2=aimed_kg_m2,
        mass_range_kg_m2=None
        if span is None
        else RangeRow(low=span[0], aimed=aimed_kg_m2, high=span[1]),
    )


def _heat_row(weighed: WeighedMix, heat: MixHeat) -> MixHeatRow:
    mix = weighed.mix
    return MixHeatRow(
        mix_c=heat.mix_c,
        told=heat.told,
        ice_kg=heat.ice_kg,
        unmelted_kg=heat.unmelted_kg,
        ice_share_of_water=heat.ice_kg / weighed.water_total_kg,
        setting_ratio=heat.setting_ratio,
        pot_life_s=None if mix.pot_life_s is None else heat.pot_life_s(mix.pot_life_s),
        wait_s=None if mix.wait_s is None else heat.wait_s(mix.wait_s),
    )


def _drying_row(drying: Drying) -> DryingRow:
    return DryingRow(rate_kg_m2_h=drying.rate_kg_m2_h, limit_kg_m2_h=drying.limit_kg_m2_h)


def _spray_row(spray: Spray) -> SprayRow:
    return SprayRow(
        slurry_kg_s=spray.slurry_kg_s,
        glass_kg_s=spray.glass_kg_s,
        fibre_share=spray.fibre_share,
        wanted_fibre_share=spray.wanted_share,
        wanted_glass_kg_s=spray.wanted_glass_kg_s,
    )
