"""Cautions that go with a weigh sheet, each with its source."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from takeoff.mix.ingredients import FibreKind, Role
from takeoff.mix.mixes import Mix, Placing


@dataclass(frozen=True, slots=True)
class Caution:
    """One short caution.

    Parameters
    ----------
    text : str
        What to mind.
    cited : str
        The rule or paper it comes from, as printed behind it.
    seen : bool
        Whether the source was read; False for one known from memory.
    roles : frozenset of Role, default empty
        Shown only for mixes with such an ingredient; empty for all mixes.
    placings : frozenset of Placing, default empty
        Shown only for mixes placed so; empty for all.
    fibres : frozenset of FibreKind, default empty
        Shown only for mixes with such a fibre, or with one of no told kind; empty for all.

    Examples
    --------
    >>> print(Caution("Mixer guarded", "29 CFR 1910.212", seen=False).sentence)
    Mixer guarded (29 CFR 1910.212, from memory).
    """

    text: str
    cited: str
    seen: bool
    roles: frozenset[Role] = frozenset()
    placings: frozenset[Placing] = frozenset()
    fibres: frozenset[FibreKind] = frozenset()

    @property
    def sentence(self) -> str:
        """The caution with its source behind it."""
        return f"{self.text} ({self.cited}{'' if self.seen else ', from memory'})."

    def concerns(self, mix: Mix) -> bool:
        """Tell whether a mix holds, or is placed in a way, that the caution is about.

        Parameters
        ----------
        mix : Mix
            The mix.

        Returns
        -------
        bool
            True where it is to be shown.

        Examples
        --------
        >>> from takeoff.mix.ingredients import Ingredient
        >>> from takeoff.mix.mixes import Basis, Dose, MixLayer
        >>> paste = Mix("paste", MixLayer.BACKER, Placing.PACKED, (Dose(Ingredient("cement",
        ...     Role.CEMENT, 3150.0), 1.0, Basis.OF_CEMENT),), Dose(Ingredient("water",
        ...     Role.WATER, 998.0), 0.4, Basis.OF_CEMENT), air_share=0.05)
        >>> Caution("Mind the fibre", "", seen=True, roles=frozenset({Role.FIBRE})).concerns(paste)
        False
        """
        held = {dose.ingredient.role for dose in mix.doses}
        kinds = {dose.ingredient.fibre for dose in mix.doses if dose.ingredient.role is Role.FIBRE}
        return (
            (not self.roles or bool(self.roles & held))
            and (not self.placings or mix.placing in self.placings)
            and (not self.fibres or bool(kinds & {*self.fibres, None}))
        )


def cautions_for(
    mixes: Iterable[Mix], cautions: Iterable[Caution], *, closing: str
) -> tuple[str, ...]:
    """Give the sentences that concern any of some mixes, the closing one last.

    Parameters
    ----------
    mixes : iterable of Mix
        The mixes at hand.
    cautions : iterable of Caution
        All cautions, in the order to show them.
    closing : str
        The sentence that ends the list.

    Returns
    -------
    tuple of str
        Sentences to print.

    Examples
    --------
    >>> cautions_for([], [Caution("Mixer guarded", "29 CFR 1910.212", seen=True)],
    ...              closing="Follow the safety data sheets.")
    ('Follow the safety data sheets.',)
    """
    at_hand = tuple(mixes)
    shown = [
        caution.sentence for caution in cautions if any(caution.concerns(mix) for mix in at_hand)
    ]
    return (*shown, closing)


def cautions_by_mix(
    mixes: Iterable[Mix], cautions: Iterable[Caution], *, closing: str
) -> dict[str, tuple[str, ...]]:
    """Give the sentences that concern each of some mixes, for a sheet that holds one of them.

    Parameters
    ----------
    mixes : iterable of Mix
        The mixes at hand.
    cautions : iterable of Caution
        All cautions, in the order to show them.
    closing : str
        The sentence that ends each list.

    Returns
    -------
    dict of str to tuple of str
        Sentences by the name of the mix; where two have one name, what concerns either.

    Examples
    --------
    >>> cautions_by_mix([], [], closing="Follow the safety data sheets.")
    {}
    """
    every = tuple(cautions)
    named: dict[str, list[Mix]] = {}
    for mix in mixes:
        named.setdefault(mix.name, []).append(mix)
    return {name: cautions_for(those, every, closing=closing) for name, those in named.items()}
