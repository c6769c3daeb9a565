"""Batches of a pour day as flat rows, for CSV files and data frames."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from takeoff.pour_documents import PouredBatchRow, PouredDayRow

BATCH_COLUMNS = (
    "pour_day",
    "batch",
    "mixer",
    "mix",
    "layer",
    "mass_kg",
    "mix_start_s",
    "mix_end_s",
    "place_start_s",
    "place_end_s",
    "use_by_s",
    "workers",
    "goes_to",
)


def batch_table(days: Sequence[PouredDayRow]) -> list[dict[str, str | float | None]]:
    """Give one flat row per batch.

    Parameters
    ----------
    days : sequence of PouredDayRow
        The days of a plan.

    Returns
    -------
    list of dict
        Day, batch, mixer, mix, layer, mass, times from the start of the day, hands and where it
        goes.

    Examples
    --------
    >>> batch_table([])
    []
    """
    return [_row(day, batch) for day in days for batch in day["batches"]]


def _row(day: PouredDayRow, batch: PouredBatchRow) -> dict[str, str | float | None]:
    cells = (
        day["day"],
        batch["id"],
        batch["mixer"],
        batch["mix"],
        batch["layer"],
        batch["mass_kg"],
        batch["mix_start_s"],
        batch["mix_end_s"],
        batch["place_start_s"],
        batch["place_end_s"],
        batch["use_by_s"],
        batch["workers"],
        "; ".join(f"{name} {mass_kg:.4g} kg" for name, mass_kg in places_of(batch)),
    )
    return dict(zip(BATCH_COLUMNS, cells, strict=True))


def places_of(batch: PouredBatchRow) -> Iterator[tuple[str, float]]:
    """Say where a batch goes: piece and copy, its classes added up.

    Parameters
    ----------
    batch : PouredBatchRow
        The batch.

    Yields
    ------
    tuple of str and float
        The place, and what stays there. [kg]

    Examples
    --------
    >>> from takeoff.pour_documents import demand_row, part_row
    >>> demand = demand_row("panel", 2, "face_coat", pass_number=2, surface_class="return",
    ...                     mass_kg=2.0)
    >>> part = part_row(demand, mass_kg=1.5, start_s=0.0, end_s=30.0)
    >>> list(places_of({"parts": [part, part]}))
    [('panel 2, pass 2', 3.0)]
    """
    places: dict[tuple[str, int, int], float] = {}
    for part in batch["parts"]:
        key = (part["piece"], part["copy"], part["pass"])
        places[key] = places.get(key, 0.0) + part["mass_kg"]
    for (piece, copy, number), mass_kg in places.items():
        yield f"{piece} {copy}" + (f", pass {number}" if number > 1 else ""), mass_kg
