"""Materials of a bid as flat rows, for CSV files and data frames."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.bid_documents import MaterialRow

MATERIAL_COLUMNS = ("ingredient", "net_kg", "loss_kg", "order_kg", "pack", "packs", "cost")


def material_table(materials: Sequence[MaterialRow]) -> list[dict[str, str | float | None]]:
    """Give one flat row per ingredient.

    Parameters
    ----------
    materials : sequence of MaterialRow
        Materials of a bid.

    Returns
    -------
    list of dict
        The rows.

    Examples
    --------
    >>> material_table([])
    []
    """
    return [
        dict(
            zip(
                MATERIAL_COLUMNS,
                (
                    row["ingredient"],
                    row["net_kg"],
                    row["loss_kg"],
                    row["order_kg"],
                    row["pack"],
                    row["packs"],
                    row["cost"],
                ),
                strict=True,
            )
        )
        for row in materials
    ]
