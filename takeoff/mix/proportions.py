"""A mix solved: what share of the whole mass each ingredient is, whatever basis its dose named."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import MixError
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mix_rules import MixRules
from takeoff.mix.mixes import Basis, Dose, Mix

_BASES = tuple(Basis)
_WHAT_ADDS_UP = {
    Basis.OF_DRY: "the dry ingredients",
    Basis.OF_CEMENT: "the cements",
    Basis.OF_TOTAL: "all ingredients and the water",
}


@dataclass(frozen=True, slots=True)
class Part:
    """One ingredient and its share of the whole mass.

    Parameters
    ----------
    ingredient : Ingredient
        What is weighed; the water is the water to add.
    mass_share : float
        Its mass as weighed over the whole mass in the mixer. [-]
    """

    ingredient: Ingredient
    mass_share: float


@dataclass(frozen=True, slots=True)
class Proportions:
    """All shares of a mix, of its whole mass in the mixer.

    Parameters
    ----------
    parts : tuple of Part
        Every ingredient in the order of the mix, the water to add last.
    dry_share : float
        Dry ingredients. [-]
    cement_share : float or None
        Cement; None where the bag of a premix does not say. [-]
    water_share : float
        All mix water: to add, in liquid polymer and admixtures, and free on sand. [-]
    """

    parts: tuple[Part, ...]
    dry_share: float
    cement_share: float | None
    water_share: float


def proportions_of(mix: Mix, *, rules: MixRules = MixRules()) -> Proportions:
    """Solve the doses of a mix, each on its own basis, for shares of the whole mass.

    Parameters
    ----------
    mix : Mix
        The mix.
    rules : MixRules, optional
        How well shares must add up.

    Returns
    -------
    Proportions
        Share of every ingredient; they add up to 1.

    Raises
    ------
    MixError
        If the shares of a basis do not add up to 100 %, cement is missing or not known where
        a dose is counted on it, or liquids and wet sand bring more water than the mix takes.

    Notes
    -----
    With :math:`C, D, T` the cement, dry and total mass, each dose weighs its share times one
    of the three, and the three are sums of such masses: three linear equations with one
    solution up to scale. Water in a liquid counts once, as part of the water of the mix.

    Examples
    --------
    >>> from takeoff.mix.mixes import MixLayer, Placing
    >>> mortar = Mix("mortar", MixLayer.BACKER, Placing.PACKED, doses=(
    ...     Dose(Ingredient("cement", Role.CEMENT, 3150.0), 1.0, Basis.OF_CEMENT),
    ...     Dose(Ingredient("sand", Role.SAND, 2650.0), 0.5, Basis.OF_DRY)),
    ...     water=Dose(Ingredient("water", Role.WATER, 998.0), 0.5, Basis.OF_CEMENT),
    ...     air_share=0.05)
    >>> [round(part.mass_share, 9) for part in proportions_of(mortar).parts]
    [0.4, 0.4, 0.2]
    """
    bases = _bases_in(mix)
    matrix = _matrix(mix, bases)
    base_share = _solved(mix, matrix, bases, rules)
    doses = tuple(Part(dose.ingredient, dose.share * base_share[dose.basis]) for dose in mix.doses)
    water_share = mix.water.share * base_share[mix.water.basis]
    held_share = sum(part.mass_share * part.ingredient.water_share for part in doses)
    to_add_share = water_share - held_share
    if to_add_share < -rules.closure_share:
        wet_sand = any(part.ingredient.role is Role.SAND for part in doses if _is_wet(part))
        who = "the liquids and the wet sand" if wet_sand else "the liquids alone"
        raise MixError(
            f"{who} bring {100.0 * held_share / water_share:.4g} % of the water that "
            "the mix takes; give more water, less of the liquids, drier sand, or a powder polymer",
            where=mix.water.ingredient.name,
        )
    if to_add_share < rules.closure_share:
        to_add_share = 0.0
    return Proportions(
        parts=(*doses, Part(mix.water.ingredient, to_add_share)),
        dry_share=base_share[Basis.OF_DRY],
        cement_share=base_share.get(Basis.OF_CEMENT),
        water_share=water_share,
    )


def _is_wet(part: Part) -> bool:
    """Tell whether it brings water."""
    return part.ingredient.water_share > 0.0


def _bases_in(mix: Mix) -> tuple[Basis, ...]:
    """Give the bases that the mix can be counted on; cement only where it is known."""
    cement = [dose.ingredient.own_cement_share for dose in mix.doses]
    if not any(share is None or share > 0.0 for share in cement):
        raise MixError("there is no cement and no premix in it", where=mix.name)
    if None not in cement:
        return _BASES
    for dose in (*mix.doses, mix.water):
        if dose.basis is Basis.OF_CEMENT:
            raise MixError(
                f"{dose.ingredient.name} is dosed of cement, but the bag does not say its cement; "
                "write the cement of the bag, or dose it of_dry or of_total",
                where=dose.ingredient.name,
            )
    return (Basis.OF_DRY, Basis.OF_TOTAL)


def _counted(dose: Dose, basis: Basis) -> float:
    """Give the part of a dose that counts towards the mass of a basis."""
    if basis is Basis.OF_CEMENT:
        return dose.ingredient.own_cement_share or 0.0
    if basis is Basis.OF_DRY:
        return dose.ingredient.dry_share
    # The water of a liquid, or on sand, is in the water of the mix already.
    return dose.ingredient.solids_share


def _matrix(mix: Mix, bases: tuple[Basis, ...]) -> NDArray[np.float64]:
    """Write each basis (row) as a sum of shares of the bases (columns)."""
    matrix = np.zeros((len(bases), len(bases)))
    for dose in (*mix.doses, mix.water):
        column = bases.index(dose.basis)
        for row, basis in enumerate(bases):
            matrix[row, column] += dose.share * _counted(dose, basis)
    return matrix


def _solved(
    mix: Mix, matrix: NDArray[np.float64], bases: tuple[Basis, ...], rules: MixRules
) -> dict[Basis, float]:
    """Find the masses of the bases that reproduce themselves, with a total of 1."""
    for row, basis in enumerate(bases):
        others = np.delete(matrix[row], row)
        if not others.any() and abs(matrix[row, row] - 1.0) > rules.closure_share:
            raise MixError(
                f"{_WHAT_ADDS_UP[basis]} add up to {100.0 * matrix[row, row]:.6g} % "
                f"{basis.replace('_', ' ')}, not 100 %",
                where=mix.name,
            )
    _, sizes, vectors = np.linalg.svd(np.eye(len(bases)) - matrix)
    mass = vectors[-1] / (vectors[-1][-1] or 1.0)
    if sizes[-1] > rules.closure_share * sizes[0] or mass.min() <= rules.closure_share:
        raise MixError(
            "the doses contradict each other; count cement and sand on one basis, of_cement "
            "with the cement at 100 %, or of_dry with all dry ingredients adding up to 100 %",
            where=mix.name,
        )
    return dict(zip(bases, mass.tolist(), strict=True))
