"""Ingredients as they are described in TOML, shipped or by a shop."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from pydantic import Field, model_validator

from takeoff.errors import MixError
from takeoff.files.toml_quantities import Density, Share
from takeoff.files.toml_tables import Table
from takeoff.mix.ingredients import LIQUID_ROLES, FibreKind, Ingredient, Role

Described = Literal["cement", "sand", "pozzolan", "polymer", "plasticizer", "fibre", "pigment"]


class SourcedTable(Table):
    """A table that may say where its figures come from."""

    source: str | None = Field(default=None, min_length=1)
    where: str | None = Field(default=None, min_length=1)
    seen: bool = True


class _FigureTable(SourcedTable):
    """One figure, written as a table with its source or as the bare value."""

    @model_validator(mode="before")
    @classmethod
    def _bare(cls, value: object) -> Any:
        return value if isinstance(value, dict) else {"value": value}


class _DensityFigure(_FigureTable):
    value: Density


class _ShareFigure(_FigureTable):
    value: Share


@dataclass(frozen=True, slots=True)
class DescribedIngredient:
    """An ingredient, and which of its figures are known from memory only.

    Parameters
    ----------
    ingredient : Ingredient
        The ingredient.
    from_memory : tuple of str
        Names of the figures whose source was not read.
    """

    ingredient: Ingredient
    from_memory: tuple[str, ...] = ()


class IngredientTable(Table):
    """One ingredient of a mix file."""

    role: Described
    density: _DensityFigure
    solids: _ShareFigure | None = None
    fibre: FibreKind | None = None

    def build(self, name: str) -> DescribedIngredient:
        """Make the ingredient.

        Parameters
        ----------
        name : str
            Its key in the file.

        Returns
        -------
        DescribedIngredient
            The ingredient, liquid where its solids are below 100 %.

        Raises
        ------
        MixError
            If its figures are out of range, or a fibre does not say how it disperses.

        Examples
        --------
        >>> table = IngredientTable.model_validate({"role": "sand", "density": "2650 kg/m3"})
        >>> table.build("silica-sand").ingredient.density_kg_m3
        2650.0
        """
        if self.role == "fibre" and self.fibre is None:
            raise MixError(
                f"a fibre says how it behaves: fibre = {', '.join(FibreKind)}; bundles go in last, "
                "dispersible fibre at the start"
            )
        if self.solids is not None and self.role not in LIQUID_ROLES:
            raise MixError(
                f"only {', '.join(sorted(LIQUID_ROLES))} may be a liquid, not {self.role}"
            )
        figures = {"density": self.density, "solids": self.solids}
        return DescribedIngredient(
            Ingredient(
                name,
                Role(self.role),
                self.density.value,
                water_share=0.0 if self.solids is None else 1.0 - self.solids.value,
                fibre=self.fibre,
            ),
            tuple(
                f"{what} of {name}"
                for what, figure in figures.items()
                if figure is not None and not figure.seen
            ),
        )


class ShippedIngredientTable(IngredientTable):
    """One shipped ingredient, which may be the water."""

    role: Described | Literal["water"]  # type: ignore[assignment]
