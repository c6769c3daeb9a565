"""What is too heavy for one person to lift even under ideal conditions."""

from __future__ import annotations

from collections.abc import Iterable

from takeoff.files.shipped_handling import shipped_handling
from takeoff.notes import Note, NoteCode
from takeoff.pricing.packs import Pack
from takeoff.report.figures import System, written_mass

_CLOSE_SHARE = 1e-9


def passed_23kg(mass_kg: float) -> bool:
    """Tell whether a mass is above the load constant of 23 kg (51 lb).

    Parameters
    ----------
    mass_kg : float
        The mass. [kg]

    Returns
    -------
    bool
        True above it; the constant itself does not pass it.

    References
    ----------
    ``niosh-94-110``: the load constant holds for one person under ideal conditions and says
    nothing of teams, so no number of people follows from it.

    Examples
    --------
    >>> passed_23kg(23.0), passed_23kg(25.0)
    (False, True)
    """
    return mass_kg > shipped_handling().load_constant.most_kg * (1.0 + _CLOSE_SHARE)


def lifting_words() -> str:
    """Say what lies above the load constant, and how such a thing is moved.

    Returns
    -------
    str
        The words, without a number of people.

    Examples
    --------
    >>> print(lifting_words())  # doctest: +NORMALIZE_WHITESPACE
    above 23 kg (51 lb), the load constant for one person under ideal conditions (NIOSH 94-110):
    mechanical handling or an assessed team lift, local rules
    """
    load = shipped_handling().load_constant
    return (
        f"above {load.said}, the load constant for one person under ideal conditions "
        f"({load.cited}): mechanical handling or an assessed team lift, local rules"
    )


def heavy_packs_note(packs: Iterable[Pack]) -> Note | None:
    """Note the packs that are too heavy for one person.

    Parameters
    ----------
    packs : iterable of Pack
        What is bought.

    Returns
    -------
    Note or None
        One note that names them all; None where no pack is.

    Examples
    --------
    >>> from decimal import Decimal
    >>> sand = Pack("silica-sand", 25.0, "25 kg", Decimal("7.90"))
    >>> fibre = Pack("ar-glass-fibre", 10.0, "10 kg", Decimal("74.50"))
    >>> print(heavy_packs_note([sand, fibre]).text.partition(", the load")[0])
    packs of silica-sand (25 kg) are above 23 kg (51 lb)
    >>> heavy_packs_note([fibre]) is None
    True
    """
    heavy = dict.fromkeys(
        f"{pack.ingredient} ({pack.pack})" for pack in packs if passed_23kg(pack.pack_kg)
    )
    if not heavy:
        return None
    return Note(NoteCode.HEAVY, f"packs of {', '.join(heavy)} are {lifting_words()}")


def heavy_piece_note(name: str, handling_kg: float, *, system: System) -> Note | None:
    """Note a piece that is too heavy for one person.

    Parameters
    ----------
    name : str
        The piece.
    handling_kg : float
        What is moved, at its heaviest. [kg]
    system : System
        Which units to write.

    Returns
    -------
    Note or None
        The note; None where it is not.

    Examples
    --------
    >>> note = heavy_piece_note("wall panel", 129.1, system=System.METRIC)
    >>> print(note.text.partition(", the load")[0])
    handled at 129.1 kg, above 23 kg (51 lb)
    >>> note.text.endswith("lifting points, suction and early strength are not computed")
    True
    >>> heavy_piece_note("tile", 3.0, system=System.METRIC) is None
    True
    """
    if not passed_23kg(handling_kg):
        return None
    return Note(
        NoteCode.HEAVY,
        f"handled at {written_mass(handling_kg, system)}, {lifting_words()}; lifting points, "
        "suction and early strength are not computed",
        where=name,
    )
