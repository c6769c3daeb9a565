"""A mix held against the ranges of published specifications, each on its own basis."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Mix, MixLayer, Placing, Use
from takeoff.mix.proportions import Part, Proportions, proportions_of
from takeoff.notes import Note, NoteCode


class Figure(StrEnum):
    """What of a mix a specification limits."""

    WATER_CEMENT = "water:cement"
    SAND_CEMENT = "sand:cement"
    POLYMER = "polymer solids of cement"
    GLASS = "glass fibre of total"
    PIGMENT = "pigment of cement"


_RATIOS = frozenset({Figure.WATER_CEMENT, Figure.SAND_CEMENT})


@dataclass(frozen=True, slots=True)
class Limit:
    """One published range.

    Parameters
    ----------
    figure : Figure
        What is limited.
    least_ratio, most_ratio : float or None
        The range; None where it is open. [-]
    cited : str
        Where it comes from, as printed behind it.
    seen : bool
        Whether the source was read.
    placings : frozenset of Placing, default empty
        Ways of placing that it is for; empty for all.
    use : Use or None, default None
        What it is for; None for everything.

    Examples
    --------
    >>> Limit(Figure.PIGMENT, None, 0.1, "ASTM C979", seen=True).said
    'published: at most 10 % (ASTM C979)'
    """

    figure: Figure
    least_ratio: float | None
    most_ratio: float | None
    cited: str
    seen: bool
    placings: frozenset[Placing] = frozenset()
    use: Use | None = None

    @property
    def said(self) -> str:
        """The range in words, with its source."""
        least, most = (
            None if ratio is None else _written(ratio, self.figure)
            for ratio in (self.least_ratio, self.most_ratio)
        )
        span = f"{least} to {most}" if least and most else f"at {'least' if least else 'most'} "
        span += "" if least and most else str(least or most)
        aim = "" if self.use is None else f" for {self.use}"
        return f"published: {span}{aim} ({self.cited}{'' if self.seen else ', from memory'})"

    def concerns(self, mix: Mix) -> bool:
        """Tell whether it is meant for a mix.

        Parameters
        ----------
        mix : Mix
            The mix.

        Returns
        -------
        bool
            True where it is.
        """
        return (not self.placings or mix.placing in self.placings) and self.use in (None, mix.use)

    def holds(self, ratio: float) -> bool:
        """Tell whether a figure lies in the range.

        Parameters
        ----------
        ratio : float
            The figure. [-]

        Returns
        -------
        bool
            True where it does, its ends included.
        """
        least = -_CLOSE if self.least_ratio is None else self.least_ratio
        most = float("inf") if self.most_ratio is None else self.most_ratio
        return least - _CLOSE <= ratio <= most + _CLOSE


@dataclass(frozen=True, slots=True)
class ThicknessTolerance:
    """How far a layer may be off its thickness.

    Parameters
    ----------
    over_m, under_m : float
        Most above and below what is drawn. [m]
    cited : str
        Where it comes from.
    use : Use
        What it is for.

    Examples
    --------
    >>> ThicknessTolerance(0.006, 0.0, "UFGS 02870", Use.CLADDING).over_m
    0.006
    """

    over_m: float
    under_m: float
    cited: str
    use: Use


_CLOSE = 1e-9


def limit_notes(mix: Mix, limits: Iterable[Limit]) -> tuple[Note, ...]:
    """Note each figure of a mix that lies outside a published range.

    Parameters
    ----------
    mix : Mix
        The mix.
    limits : iterable of Limit
        The ranges.

    Returns
    -------
    tuple of Note
        One note per range missed; what a bag does not tell is not judged.

    Examples
    --------
    >>> from takeoff.mix.ingredients import Ingredient
    >>> from takeoff.mix.mixes import Basis, Dose
    >>> thin = Mix("thin", MixLayer.FACE_COAT, Placing.SPRAYED, doses=(
    ...     Dose(Ingredient("cement", Role.CEMENT, 3150.0), 1.0, Basis.OF_CEMENT),),
    ...     water=Dose(Ingredient("water", Role.WATER, 998.0), 0.5, Basis.OF_CEMENT),
    ...     air_share=0.05)
    >>> print(*(note.text for note in limit_notes(
    ...     thin, [Limit(Figure.WATER_CEMENT, 0.3, 0.4, "a standard", seen=True)])))
    water:cement is 0.5; published: 0.3 to 0.4 (a standard)
    """
    figures = dict(_figures(mix, proportions_of(mix)))
    return tuple(
        Note(
            NoteCode.MIX_LIMIT,
            f"{limit.figure} is {_written(figures[limit.figure], limit.figure)}; {limit.said}",
            where=mix.name,
        )
        for limit in limits
        if limit.figure in figures
        and limit.concerns(mix)
        and not limit.holds(figures[limit.figure])
    )


def _figures(mix: Mix, shares: Proportions) -> Iterator[tuple[Figure, float]]:
    """Give every figure that the mix tells."""
    held = {role: _mass_share(shares.parts, role) for role in Role}
    bagged = mix.bag is not None
    if shares.cement_share is not None:
        yield Figure.WATER_CEMENT, shares.water_share / shares.cement_share
        yield Figure.PIGMENT, held[Role.PIGMENT] / shares.cement_share
    if shares.cement_share is not None and not bagged:
        yield Figure.SAND_CEMENT, held[Role.SAND] / shares.cement_share
        yield Figure.POLYMER, held[Role.POLYMER] / shares.cement_share
    fibres = [dose.ingredient.fibre for dose in mix.doses if dose.ingredient.role is Role.FIBRE]
    all_glass = all(fibre is None or fibre.is_glass for fibre in fibres)
    in_the_bag = bagged and not fibres
    if mix.layer is MixLayer.BACKER and all_glass and not in_the_bag:
        yield Figure.GLASS, held[Role.FIBRE]


def _mass_share(parts: Iterable[Part], role: Role) -> float:
    """Add up a role over the whole mass: sand without its water, liquids by their solids."""
    held = [part for part in parts if part.ingredient.role is role]
    if role is Role.SAND:
        return sum(part.mass_share * part.ingredient.dry_share for part in held)
    return sum(part.mass_share * part.ingredient.solids_share for part in held)


def _written(ratio: float, figure: Figure) -> str:
    """Write a ratio as it is, a share in percent."""
    return f"{ratio:.4g}" if figure in _RATIOS else f"{100.0 * ratio:.4g} %"
