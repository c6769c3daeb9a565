"""The reading of one written quantity: its signs made plain, its numbers and units told apart."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from functools import cache

from takeoff.errors import QuantityError
from takeoff.unit_tables import KINDS, Kind, Unit

_LONGEST_TEXT = 80
_LARGEST_POWER = 99
_LARGEST = 10**15  # in SI; what lies beyond it, or below its inverse, is a slip of the pen

_FOOT_MARKS = "\u2018\u2019\u201b\u2032\u02b9\u02bc\u00b4`"
_INCH_MARKS = "\u201c\u201d\u201f\u2033\u02ba"
_HYPHENS = "\u2010\u2011\u2012\u2013\u2014\u2212"
_DEGREE_MARKS = "\u00ba\u02da"
_PLAIN = str.maketrans(
    {
        **dict.fromkeys(_FOOT_MARKS, "'"),
        **dict.fromkeys(_INCH_MARKS, '"'),
        **dict.fromkeys(_HYPHENS, "-"),
        **dict.fromkeys(_DEGREE_MARKS, "\N{DEGREE SIGN}"),
        "\N{DEGREE CELSIUS}": "\N{DEGREE SIGN}C",
        "\N{DEGREE FAHRENHEIT}": "\N{DEGREE SIGN}F",
        "\N{KELVIN SIGN}": "K",
        "\N{FRACTION SLASH}": "/",
        "\N{DIVISION SLASH}": "/",
    }
)

_BARE = str.maketrans({" ": None, ".": None, "^": None, "²": "2", "³": "3"})

_NUMBER = re.compile(
    r"\s*(?:(?:(?P<whole>[0-9]+)(?:\s+|-))?(?P<over>[0-9]+)\s*/\s*(?P<under>[0-9]+)"
    r"|(?P<decimal>[0-9]+(?:[.,][0-9]+)?|(?<![^\s+-])[.,][0-9]+)(?:e(?P<power>[+-]?[0-9]+))?)",
    re.IGNORECASE,
)
_TWO_READINGS = re.compile(r"0*[1-9][0-9]{0,2},[0-9]{3}")
_WORD = re.compile(r"\s*([^\s0-9.,+-]+)")
_MORE_DIGITS = re.compile(r"\s*[.,_]?[0-9]")
_FEET_DASH = re.compile(r"\s*-")
_PER = re.compile(r"\s*(?:/|per\b)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Part:
    """One number with its unit, and where the two end."""

    number: Fraction
    unit: Unit
    end: int


@dataclass(frozen=True, slots=True)
class _Reading:
    """A text that is being read as a kind of quantity."""

    shown: str
    plain: str
    kind: Kind

    def refusal(self, reason: str, remedy: str = "") -> QuantityError:
        """Say what was found, what is wrong with it, and how to write it."""
        *most, last = (f'"{example}"' for example in self.kind.examples)
        remedy = remedy or f"write for example {', '.join(most)} or {last}"
        return QuantityError(f"cannot read {self.shown} as {self.kind.noun}: {reason}; {remedy}")

    def rest(self, start: int) -> str:
        """Quote what is left from a place on."""
        return repr(self.plain[start:].strip())


def read_quantity(text: object, kind: Kind) -> float:
    """Read one quantity of a kind and round it, once, to a float.

    Parameters
    ----------
    text : object
        What was written; anything but text is refused.
    kind : Kind
        What it must be.

    Returns
    -------
    float
        The quantity in the SI unit of its kind.

    Raises
    ------
    QuantityError
        If it is not a quantity of that kind, or can be read two ways.

    Examples
    --------
    >>> from takeoff.unit_tables import LENGTH
    >>> read_quantity("2ft 6in", LENGTH)
    0.762
    """
    reading = _reading_of(text, kind)
    parts = [_part_at(reading, 1 if reading.plain[0] in "+-" else 0)]
    while parts[-1].end < len(reading.plain):
        parts.append(_part_at(reading, _next_start(reading.plain, parts[-1])))
        _check_descent(reading, *parts[-2:])
    total = sum((part.number * part.unit.size for part in parts), Fraction(0))
    signed = -total if reading.plain[0] == "-" else total
    return _rounded(reading, signed + parts[0].unit.zero)


def read_unit(name: object, kind: Kind) -> float:
    """Give the size of one unit of a kind, by any of its spellings.

    Parameters
    ----------
    name : object
        What was written; anything but text is refused.
    kind : Kind
        What it must be a unit of.

    Returns
    -------
    float
        The size of one unit in the SI unit of its kind.

    Raises
    ------
    QuantityError
        If it is not a unit of that kind.

    Examples
    --------
    >>> from takeoff.unit_tables import LENGTH
    >>> read_unit("Feet", LENGTH)
    0.3048
    """
    for unit in kind.units:
        if unit.symbol == name:
            return float(unit.size)
    plain = _plain(name) if isinstance(name, str) else ""
    found = _unit_at(kind, plain, 0)
    if found is None or found[1] < len(plain):
        known = ", ".join(unit.symbol for unit in kind.units)
        raise QuantityError(f"{_shown(name)} is not a unit of {kind.name}; write one of {known}")
    return float(found[0].size)


def _reading_of(text: object, kind: Kind) -> _Reading:
    """Begin to read, where it is text of a sane length."""
    reading = _Reading(_shown(text), _plain(text) if isinstance(text, str) else "", kind)
    if isinstance(text, int | float) and not isinstance(text, bool):
        raise reading.refusal("a bare number has no unit")
    if not isinstance(text, str):
        raise reading.refusal("it is not text")
    if len(text) > _LONGEST_TEXT:
        raise reading.refusal(f"it is longer than {_LONGEST_TEXT} characters")
    if not reading.plain:
        raise reading.refusal("it is empty")
    return reading


def _shown(text: object) -> str:
    """Quote what was found, shortened where it is long."""
    if isinstance(text, str):
        quoted = repr(text[: _LONGEST_TEXT + 1])
        return quoted if len(quoted) <= _LONGEST_TEXT else f"{quoted[: _LONGEST_TEXT - 3]}..."
    if isinstance(text, float | None) or (isinstance(text, int) and abs(text) <= _LARGEST):
        return repr(text)
    return f"a value of type {type(text).__name__}"


def _plain(text: str) -> str:
    """Bring spaces, quotes, hyphens and vulgar fractions to the plain signs of a keyboard."""
    plain = ""
    for sign in text[: _LONGEST_TEXT + 1].translate(_PLAIN):
        if sign.isspace():
            plain += " "
        elif unicodedata.decomposition(sign).startswith("<fraction>"):
            plain += _spelled_out(sign, after=plain)
        else:
            plain += sign
    return plain.strip()


def _spelled_out(vulgar: str, *, after: str) -> str:
    """Write one vulgar fraction with its digits apart from those beside it."""
    digits = unicodedata.normalize("NFKC", vulgar).replace("\N{FRACTION SLASH}", "/")
    space_before = " " if after[-1:].isdigit() else ""
    space_after = "" if digits.endswith("/") else " "
    return f"{space_before}{digits}{space_after}"


def _part_at(reading: _Reading, start: int) -> _Part:
    """Read one number and its unit."""
    found = _NUMBER.match(reading.plain, start)
    if found is None:
        raise reading.refusal(f"stopped at {reading.rest(start)}, where a number must stand")
    unit = _unit_at(reading.kind, reading.plain, found.end())
    if unit is None:
        raise _unit_missing(reading, found)
    return _Part(_number(reading, found), *unit)


def _number(reading: _Reading, found: re.Match[str]) -> Fraction:
    """Give the exact value of a number that was found."""
    if found["over"]:
        return _broken_number(reading, found)
    decimal = found["decimal"]
    if _TWO_READINGS.fullmatch(decimal):
        readings = (decimal.replace(",", sign) for sign in ("", "."))
        raise _two_readings(reading, decimal, *readings)
    power = int(found["power"] or 0)
    if abs(power) > _LARGEST_POWER:
        raise reading.refusal(f"the power of ten {power} is out of reach")
    return Fraction(decimal.replace(",", ".")) * Fraction(10) ** power


def _broken_number(reading: _Reading, found: re.Match[str]) -> Fraction:
    """Give the exact value of ``3/16``, ``1 1/2`` or ``1-1/2``."""
    whole, over, under = int(found["whole"] or 0), int(found["over"]), int(found["under"])
    if under == 0:
        raise reading.refusal("a fraction cannot have 0 below the line")
    if over < under:
        return whole + Fraction(over, under)
    if found["whole"]:
        raise reading.refusal(f"beside a whole number, {over}/{under} must be less than 1")
    for digits in range(1, len(found["over"])):
        head, tail = found["over"][:digits], found["over"][digits:]
        if 0 < int(tail) < under and tail[0] != "0":
            mixed = f"{over // under} {over % under}/{under}"
            raise _two_readings(reading, found[0].strip(), f"{head} {tail}/{under}", mixed)
    return Fraction(over, under)


def _two_readings(reading: _Reading, number: str, first: str, second: str) -> QuantityError:
    """Say that a number may mean either of two."""
    one, other = (reading.plain.replace(number, number_read) for number_read in (first, second))
    return reading.refusal(
        f"it can be read two ways, as {one!r} or as {other!r}", "write the one that is meant"
    )


def _next_start(plain: str, part: _Part) -> int:
    """Step over the dash that may stand between feet and inches."""
    dash = _FEET_DASH.match(plain, part.end) if part.unit.symbol == "ft" else None
    return dash.end() if dash else part.end


def _check_descent(reading: _Reading, before: _Part, after: _Part) -> None:
    """Refuse parts that do not go together: ``6 in 2 ft``, ``1.5 ft 3 in``, ``1 lb 20 oz``."""
    larger, smaller = before.unit, after.unit
    allowed = any(
        smaller.symbol in chain[chain.index(larger.symbol) + 1 :]
        for chain in reading.kind.chains
        if larger.symbol in chain
    )
    if not allowed:
        raise reading.refusal(f"{smaller.symbol!r} cannot follow {larger.symbol!r}")
    if before.number.denominator != 1:
        raise reading.refusal(
            f"only the last part may be a fraction, not that in {larger.symbol!r}"
        )
    if after.number * smaller.size >= larger.size:
        raise reading.refusal(
            f"the part in {smaller.symbol!r} is not less than one {larger.symbol!r}"
        )


def _rounded(reading: _Reading, exact: Fraction) -> float:
    """Round an exact value once, where it lies within reach."""
    lowest = reading.kind.lowest
    if exact < lowest:
        raise reading.refusal(
            f"it lies below absolute zero, {float(lowest)} C" if lowest else "it is negative"
        )
    if exact and not Fraction(1, _LARGEST) <= abs(exact) <= _LARGEST:
        raise reading.refusal("it is too large, or too small, to be meant")
    return float(exact)


def _unit_missing(reading: _Reading, found: re.Match[str]) -> QuantityError:
    """Say why no unit of the kind stands behind a number."""
    kind, start = reading.kind, found.end()
    if start == len(reading.plain):
        return reading.refusal(f"{found[0].strip()!r} has no unit")
    stop = f"stopped at {reading.rest(start)}"
    if _MORE_DIGITS.match(reading.plain, start):
        remedy = "write a number in one piece, with one decimal sign and no thousands separator"
        return reading.refusal(stop, remedy)
    word_found = _WORD.match(reading.plain, start)
    word = word_found[1] if word_found else ""
    doubt = kind.doubtful.get(word) or kind.doubtful.get(word.lower())
    if doubt:
        return reading.refusal(stop, doubt)
    other = _kind_of_unit(reading.plain, start)
    if other:
        return reading.refusal(f"{stop}, which is a unit of {other.name}")
    spellings = [spelling for unit in kind.units for spelling in unit.spellings]
    near = get_close_matches(word.lower(), spellings, n=1)
    return reading.refusal(stop, f'did you mean "{near[0]}"?' if near else "")


def _kind_of_unit(plain: str, start: int) -> Kind | None:
    """Tell the kind of quantity whose unit fills the rest of a text, if there is one."""
    for kind in KINDS:
        found = _unit_at(kind, plain, start)
        if found and found[1] == len(plain):
            return kind
    return None


def _unit_at(kind: Kind, plain: str, start: int) -> tuple[Unit, int] | None:
    """Find the unit that stands at a place, and where it ends."""
    found = _pattern(kind).match(plain, start)
    if found is not None:
        unit = _units_by_spelling(kind).get(_canonical(found[1]))
        misspelt = unit is None or (unit.exact_case and found[1] not in unit.spellings)
        return None if unit is None or misspelt else (unit, found.end())
    return None if kind.ratio is None else _ratio_at(*kind.ratio, plain, start)


def _ratio_at(above: Kind, below: Kind, plain: str, start: int) -> tuple[Unit, int] | None:
    """Find a unit such as ``kg/m3`` or ``lb per cu ft``."""
    upper = _unit_at(above, plain, start)
    line = _PER.match(plain, upper[1]) if upper else None
    lower = _unit_at(below, plain, line.end()) if line else None
    if upper is None or lower is None:
        return None
    size = upper[0].size / lower[0].size
    return Unit(f"{upper[0].symbol}/{lower[0].symbol}", size, ()), lower[1]


def _canonical(spelling: str) -> str:
    """Bring all ways of writing one spelling to one."""
    return spelling.lower().translate(_BARE)


@cache
def _units_by_spelling(kind: Kind) -> dict[str, Unit]:
    """Gather the units of a kind under all their spellings."""
    return {_canonical(spelling): unit for unit in kind.units for spelling in unit.spellings}


@cache
def _pattern(kind: Kind) -> re.Pattern[str]:
    """Make the pattern of all spellings of the units of a kind, the longest tried first."""
    spellings = {spelling for unit in kind.units for spelling in unit.spellings}
    choices = "|".join(map(_spelling_pattern, sorted(spellings, key=lambda s: (-len(s), s))))
    return re.compile(rf"\s*({choices})", re.IGNORECASE)


def _spelling_pattern(spelling: str) -> str:
    """Make the pattern of one spelling: loose on powers, spaces and full stops, not on its end."""
    pattern = re.escape(spelling).replace("\\ ", r"\.?\s*")
    pattern = pattern.replace("2", "(?:\\^?2|²)").replace("3", "(?:\\^?3|³)")
    if spelling[-1].isalpha():
        pattern += r"(?:\.(?![0-9]))?(?![a-z\u00b5\u03bc²³^]|[23]\s*(?:$|/))"
    return pattern
