"""The unit that the header of a DXF file declares."""

from __future__ import annotations

from fractions import Fraction

from takeoff.files.drawing import DrawingUnit
from takeoff.files.drawing_unit import told_unit
from takeoff.files.dxf_tags import exact_number
from takeoff.notes import Note, NoteCode

_SURVEY_FOOT = Fraction(1200, 3937)
_METRE = Fraction(1)
_INCH = Fraction(254, 10_000)

INSERT_UNITS: dict[int, tuple[str, Fraction]] = {
    1: ("in", _INCH),
    2: ("ft", 12 * _INCH),
    3: ("mile", 63_360 * _INCH),
    4: ("mm", _METRE / 1000),
    5: ("cm", _METRE / 100),
    6: ("m", _METRE),
    7: ("km", 1000 * _METRE),
    8: ("microinch", _INCH / 1_000_000),
    9: ("mil", _INCH / 1000),
    10: ("yd", 36 * _INCH),
    11: ("angstrom", _METRE / 10**10),
    12: ("nm", _METRE / 10**9),
    13: ("micrometre", _METRE / 10**6),
    14: ("dm", _METRE / 10),
    15: ("dam", 10 * _METRE),
    16: ("hm", 100 * _METRE),
    17: ("Gm", 10**9 * _METRE),
    18: ("astronomical unit", 149_597_870_700 * _METRE),
    19: ("light year", 9_460_730_472_580_800 * _METRE),
    20: ("parsec", Fraction(30_856_775_814_913_673) * _METRE),
    21: ("US survey ft", _SURVEY_FOOT),
    22: ("US survey in", _SURVEY_FOOT / 12),
    23: ("US survey yd", 3 * _SURVEY_FOOT),
    24: ("US survey mile", 5280 * _SURVEY_FOOT),
}
"""Name and metres of each code of ``$INSUNITS``; 0 is not stated.

Codes as in the DXF reference. The inch is 25.4 mm and the US survey foot 1200/3937 m exactly; the
astronomical unit is 149 597 870 700 m and the light year 9 460 730 472 580 800 m exactly; the
parsec is 648 000/pi astronomical units to the metre (all from memory).
"""

_METRIC_CODES = frozenset((4, 5, 6, 7, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20))
_IMPERIAL_CODES = frozenset((1, 2, 3, 8, 9, 10, 21, 22, 23, 24))


def declared_unit(header: dict[str, bytes]) -> DrawingUnit | None:
    """Give the unit that the header of the file itself declares.

    Parameters
    ----------
    header : dict of str to bytes
        Header variables.

    Returns
    -------
    DrawingUnit or None
        The unit; None where ``$INSUNITS`` is missing, 0 or no code that is known.

    Examples
    --------
    >>> declared_unit({"$INSUNITS": b"1"}).metres_per_unit
    0.0254
    >>> declared_unit({"$INSUNITS": b"0"})
    """
    code = _whole(header, "$INSUNITS")
    if code not in INSERT_UNITS:
        return None
    name, metres = INSERT_UNITS[code]
    return DrawingUnit(name, float(metres), "declared")


def _whole(header: dict[str, bytes], name: str) -> int | None:
    """Give a header variable as a whole number; None where it is none."""
    try:
        return int(exact_number(header[name]))
    except (KeyError, ValueError):
        return None


def unit_in_force(
    told: str | None, header: dict[str, bytes], *, where: str
) -> tuple[DrawingUnit | None, tuple[Note, ...]]:
    """Choose the unit: the told one before the declared one; say where they disagree.

    Parameters
    ----------
    told : str or None
        Unit told by the user.
    header : dict of str to bytes
        Header variables.
    where : str
        The file, for notes.

    Returns
    -------
    unit : DrawingUnit or None
        The unit; None where it is neither told nor declared.
    notes : tuple of Note
        Doubts about it.

    Raises
    ------
    QuantityError
        If the told unit is not a unit of length.

    Examples
    --------
    >>> unit, notes = unit_in_force("mm", {"$INSUNITS": b"1"}, where="top.dxf")
    >>> unit.name, notes[0].code.value
    ('mm', 'unit-disagrees')
    """
    declared = declared_unit(header)
    code = _whole(header, "$INSUNITS")
    notes = []
    if told is not None:
        unit = told_unit(told)
        if declared is not None and declared.metres_per_unit != unit.metres_per_unit:
            text = (
                f"the file declares {declared.name} ($INSUNITS = {code}), but {unit.name} was "
                f"told; measured in {unit.name}"
            )
            notes.append(Note(NoteCode.UNIT_DISAGREES, text, where))
        return unit, tuple(notes)
    if declared is None:
        return None, ()
    text = f"the unit {declared.name} is the one the file declares ($INSUNITS = {code})"
    notes.append(Note(NoteCode.UNIT_DECLARED, text, where))
    system = _whole(header, "$MEASUREMENT")
    other = {0: ("imperial", _METRIC_CODES), 1: ("metric", _IMPERIAL_CODES)}.get(
        -1 if system is None else system
    )
    if other and code in other[1]:
        text = (
            f"the header disagrees with itself: $INSUNITS = {code} says {declared.name}, but "
            f"$MEASUREMENT = {system} says {other[0]}; measured in {declared.name}: tell the unit "
            "if that is wrong"
        )
        notes.append(Note(NoteCode.UNIT_DISAGREES, text, where))
    return declared, tuple(notes)
