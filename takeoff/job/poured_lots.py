"""The batches of a pour day as lots of a bid, and what they take of every ingredient."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from takeoff.documents import BatchIngredientRow, LotRow
from takeoff.job.batch_weighing import key_of
from takeoff.job.day_plan import DayPlan
from takeoff.mix.ingredients import Role
from takeoff.mix.weigh_sheet import WeighedMix
from takeoff.pour_documents import PouredBatchRow
from takeoff.pricing.materials import Need


def poured_needs(made: DayPlan) -> list[Need]:
    """Give what the batches of a plan take of every ingredient.

    Parameters
    ----------
    made : DayPlan
        The pour day.

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
    return [
        Need(
            ingredient=line.charge.ingredient.name,
            net_kg=line.shares.of_total * _placed_kg(row),
            weighed_kg=line.mass_kg,
            bought=line.role is not Role.WATER,
        )
        for row, sheet in _rows(made)
        for line in sheet.lines
    ]


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
            BatchIngredientRow(name=line["name"], mass_kg=line["mass_kg"], when=line["when"])
            for line in first["ingredients"]
        ],
    )
