"""The batches of a pour day as lots of a bid, and what they take of every ingredient."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from takeoff.batching.lots import Bound, weighed_kg
from takeoff.documents import BatchIngredientRow, LotRow
from takeoff.job.batch_weighing import key_of
from takeoff.job.day_plan import DayPlan
from takeoff.mix.ingredients import Role
from takeoff.mix.weigh_sheet import WeighedMix
from takeoff.piece.layers import Layer
from takeoff.pour_documents import PouredBatchRow
from takeoff.pricing.materials import Need


def poured_needs(
    made: DayPlan, ranges: Mapping[tuple[Layer, str], tuple[float, float]] | None = None
) -> list[Need]:
    """Give what the batches of a plan take of every ingredient.

    Parameters
    ----------
    made : DayPlan
        The pour day.
    ranges : mapping of tuple to tuple of float, optional
        Volume at the least and the most thickness over that aimed at, by layer and mix; the
        batches stay, larger or smaller. [-]

    Returns
    -------
    list of Need
        Net and weighed mass, batch by batch; empty where there is no plan.

    Examples
    --------
    >>> from takeoff.job.pour_planning import plan
    >>> needs = poured_needs(plan("samples/ferry-hall/pour-day.toml"))
    >>> sorted({need.ingredient for need in needs if need.bought})
    ['acrylic-dispersion', 'ar-glass-fibre', 'silica-sand', 'white-cement']
    """
    needs = []
    for row, sheet in _rows(made):
        ends = (ranges or {}).get((Layer(row["layer"]), row["mix"]), (1.0, 1.0))
        low, high = (_mass_ratio(row, sheet, ratio) for ratio in ends)
        needs += [
            Need(
                ingredient=line.charge.ingredient.name,
                net_kg=line.shares.of_total * _placed_kg(row),
                weighed_kg=line.mass_kg,
                bought=line.role is not Role.WATER,
                low_ratio=low,
                high_ratio=high,
            )
            for line in sheet.lines
        ]
    return needs


def poured_lot_rows(made: DayPlan) -> list[LotRow]:
    """Gather the batches of a plan that are alike.

    Parameters
    ----------
    made : DayPlan
        The pour day.

    Returns
    -------
    list of LotRow
        One row for each mix, layer, mixer and mass, in the order they are first mixed.

    Examples
    --------
    >>> from takeoff.job.pour_planning import plan
    >>> made = plan("samples/ferry-hall/pour-day.toml")
    >>> sum(row["batch_count"] for row in poured_lot_rows(made)) == made.batch_count
    True
    """
    alike: dict[tuple[str, str, str, float], list[PouredBatchRow]] = {}
    for row, _ in _rows(made):
        key = (row["mix"], row["layer"], row["mixer"], row["mass_kg"])
        alike.setdefault(key, []).append(row)
    pot_lives_s = {
        coat.step.mix.name: coat.step.mix.pot_life_s
        for casting in made.pour.castings
        for coat in casting.coats
    }
    return [_lot_row(rows, pot_lives_s[rows[0]["mix"]]) for rows in alike.values()]


def _rows(made: DayPlan) -> Iterator[tuple[PouredBatchRow, WeighedMix]]:
    """Go through the batches of a plan, with what is weighed for each."""
    if made.plan is None:
        return
    days = made.to_dict()["days"]
    for day, row in zip(made.plan.days, days, strict=True):
        for poured, batch in zip(day.batches, row["batches"], strict=True):
            yield batch, made.weighed[key_of(poured.batch)]


def _mass_ratio(row: PouredBatchRow, sheet: WeighedMix, volume_ratio: float) -> float:
    """Give what a batch weighs over what it is planned to, where more or less is placed of it."""
    mass_kg = row["mass_kg"]
    if volume_ratio == 1.0:
        return 1.0
    needed_kg = (_placed_kg(row) + row["loss_kg"]) * volume_ratio + row["residue_kg"]
    if sheet.mix.bag is not None:
        premix_kg = sum(line.mass_kg for line in sheet.lines if line.role is Role.PREMIX)
        bag_kg = mass_kg * sheet.mix.bag.mass_kg / premix_kg
        return weighed_kg(needed_kg, bag_kg=bag_kg) / mass_kg
    if row["bound"] == Bound.LEAST_FILL:
        return max(needed_kg, mass_kg) / mass_kg
    return (needed_kg + row["leftover_kg"]) / mass_kg


def _placed_kg(row: PouredBatchRow) -> float:
    return sum(part["mass_kg"] for part in row["parts"])


def _lot_row(rows: Sequence[PouredBatchRow], pot_life_s: float) -> LotRow:
    first = rows[0]
    return LotRow(
        mix=first["mix"],
        layer=first["layer"],
        mixer=first["mixer"],
        bound=first["bound"],
        batch_count=len(rows),
        mass_kg=first["mass_kg"],
        volume_m3=first["volume_m3"],
        placed_kg=sum(_placed_kg(row) for row in rows),
        loss_kg=sum(row["loss_kg"] for row in rows),
        residue_kg=sum(row["residue_kg"] for row in rows),
        leftover_kg=sum(row["leftover_kg"] for row in rows),
        pot_life_s=pot_life_s,
        ingredients=[
            BatchIngredientRow(
                name=line["name"],
                mass_kg=line["mass_kg"],
                when=line["when"],
                after_rest=line["after_rest"],
            )
            for line in first["ingredients"]
        ],
        mixing=first["mixing"],
    )
