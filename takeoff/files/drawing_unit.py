"""The unit of a drawing: told or declared, else refused with the sizes it would give."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from takeoff.errors import UnitMissingError
from takeoff.files.drawing import DrawingUnit
from takeoff.notes import Note, NoteCode
from takeoff.units import metres_per_unit

PLAUSIBLE_UNITS = ("mm", "cm", "m", "in", "ft")


@dataclass(frozen=True, slots=True)
class SizeRules:
    """How large a piece can be.

    Parameters
    ----------
    smallest_m : float, default 0.1
        A piece smaller than this overall is noted: nothing under a hand's breadth is cast
        in a form of its own. [m]
    largest_m : float, default 20.0
        A piece larger than this overall is noted: nothing longer than a lorry is cast, or
        carried, in one. It is not priced. [m]
    least_priced_m : float, default 0.05
        A drawing whose largest piece is smaller than this is not priced: between two walls of
        common thickness there would be nothing left. [m]
    """

    smallest_m: float = 0.1
    largest_m: float = 20.0
    least_priced_m: float = 0.05


def told_unit(name: str) -> DrawingUnit:
    """Take the unit that the user told.

    Parameters
    ----------
    name : str
        ``"mm"``, ``"inch"`` ...

    Returns
    -------
    DrawingUnit
        The unit, with source ``"told"``.

    Raises
    ------
    QuantityError
        If it is not a unit of length.

    Examples
    --------
    >>> told_unit("in").metres_per_unit
    0.0254
    """
    return DrawingUnit(name, metres_per_unit(name), "told")


def unit_missing(extents: Sequence[float], *, where: str) -> UnitMissingError:
    """Say that nobody told or declared the unit, and how large the drawing would be in each.

    Parameters
    ----------
    extents : sequence of float
        Overall sizes of the drawing in its own unit, per axis. [-]
    where : str
        The file.

    Returns
    -------
    UnitMissingError
        The error to raise.

    Examples
    --------
    >>> print(unit_missing((96.0, 25.5), where="top.stl").text.split(";")[0])
    the drawing does not say its unit, and none was told
    """
    sizes = ", or ".join(
        " x ".join(f"{extent * metres_per_unit(unit):.4g}" for extent in extents)
        + f" m if it is in {unit}"
        for unit in PLAUSIBLE_UNITS
    )
    return UnitMissingError(
        "the drawing does not say its unit, and none was told; it would measure "
        f"{sizes}; tell it with --unit mm (or cm, m, in, ft), or with unit = in the job file",
        where=where,
    )


def size_notes(
    extents_m: Mapping[str, Sequence[float]],
    unit: DrawingUnit,
    *,
    where: str,
    rules: SizeRules = SizeRules(),
) -> tuple[Note, ...]:
    """Doubt the unit once for all pieces that it makes absurdly small, and once for large ones.

    Parameters
    ----------
    extents_m : mapping of str to sequence of float
        Overall sizes of each piece, per axis. [m]
    unit : DrawingUnit
        The unit that gave them.
    where : str
        The file.
    rules : SizeRules, optional
        What is absurd.

    Returns
    -------
    tuple of Note
        At most two, each about the largest piece of its kind.

    Examples
    --------
    >>> sizes_m = {"A": (0.02, 0.01), "B": (0.03, 0.01), "C": (1.0, 0.5)}
    >>> [note] = size_notes(sizes_m, told_unit("mm"), where="tops.dxf")
    >>> note.where, note.text.split(";")[0]
    ('tops.dxf: B', '0.03 x 0.01 m overall, the largest of 2 pieces as absurd')
    """
    large = {at: size for at, size in extents_m.items() if _overall_m(size) > rules.largest_m}
    small = {at: size for at, size in extents_m.items() if _overall_m(size) < rules.smallest_m}
    notes = []
    for absurd in (large, small):
        if absurd:
            name = max(absurd, key=lambda name: max(absurd[name]))
            about = where if len(extents_m) == 1 else f"{where}: {name}"
            note = size_note(absurd[name], unit, where=about, rules=rules, alike=len(absurd))
            notes += [note] if note else []
    return tuple(notes)


def size_note(
    extents_m: Sequence[float],
    unit: DrawingUnit,
    *,
    where: str,
    rules: SizeRules = SizeRules(),
    alike: int = 1,
) -> Note | None:
    """Doubt the unit where it makes a piece absurdly small or large.

    Parameters
    ----------
    extents_m : sequence of float
        Overall sizes of a piece, per axis. [m]
    unit : DrawingUnit
        The unit that gave them.
    where : str
        The file or piece.
    rules : SizeRules, optional
        What is absurd.
    alike : int, default 1
        How many pieces are as absurd, this one, the largest, included.

    Returns
    -------
    Note or None
        The doubt, naming the units that would give a sensible size; None where there is none.

    Examples
    --------
    >>> note = size_note((61.9, 16.1), told_unit("in"), where="top.dxf")
    >>> note.text
    '61.9 x 16.1 m overall is absurd; the unit is in (told); it would be 2.437 m in mm'
    """
    overall_m = _overall_m(extents_m)
    if rules.smallest_m <= overall_m <= rules.largest_m:
        return None
    size = " x ".join(f"{extent:.4g}" for extent in extents_m)
    drawn = overall_m / unit.metres_per_unit
    likely = [
        f"{drawn * metres_per_unit(name):.4g} m in {name}"
        for name in PLAUSIBLE_UNITS
        if rules.smallest_m <= drawn * metres_per_unit(name) <= rules.largest_m
    ]
    instead = f"; it would be {', '.join(likely)}" if likely else ""
    judged = " is absurd" if alike == 1 else f", the largest of {alike} pieces as absurd"
    text = f"{size} m overall{judged}; the unit is {unit.name} ({unit.source}){instead}"
    return Note(NoteCode.SIZE_ABSURD, text, where)


def _overall_m(extents_m: Sequence[float]) -> float:
    """Give the largest extent, to the millionth of a millimetre."""
    return round(float(max(extents_m)), 9)
