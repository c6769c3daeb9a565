"""Lines of a weigh sheet as flat rows, for CSV files and data frames."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.weigh_documents import IngredientRow

INGREDIENT_COLUMNS = (
    "ingredient",
    "role",
    "mass_kg",
    "density_kg_m3",
    "share_of_dry",
    "share_of_cement",
    "share_of_total",
    "running_kg",
    "scale",
    "held_back",
    "after_rest",
    "at_gun",
    "when",
)


def ingredient_table(
    lines: Sequence[IngredientRow],
) -> list[dict[str, str | float | bool | None]]:
    """Give one flat row per ingredient.

    Parameters
    ----------
    lines : sequence of IngredientRow
        Lines of a weigh sheet.

    Returns
    -------
    list of dict
        The rows, in order of addition.

    Examples
    --------
    >>> ingredient_table([])
    []
    """
    return [
        dict(
            zip(
                INGREDIENT_COLUMNS,
                (
                    line["name"],
                    line["role"],
                    line["mass_kg"],
                    line["density_kg_m3"],
                    line["shares"]["of_dry"],
                    line["shares"]["of_cement"],
                    line["shares"]["of_total"],
                    line["running_kg"],
                    line["scale"],
                    line["held_back"],
                    line["after_rest"],
                    line["at_gun"],
                    line["when"],
                ),
                strict=True,
            )
        )
        for line in lines
    ]
