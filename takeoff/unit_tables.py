"""The units a shop writes, each with its exact size in SI and the spellings it is known by.

Every factor is exact. The inch, the avoirdupois pound, the US gallon (231 cubic inches) and the
imperial gallon are defined numbers; all other customary units are whole multiples or parts of
them. The US survey foot is not among them.

References
----------
NIST Special Publication 811 (2008), Appendix B (factors from memory).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction


@dataclass(frozen=True, slots=True, eq=False)
class Unit:
    """One unit: its size in SI and how it is written.

    Parameters
    ----------
    symbol : str
        The spelling used in messages.
    size : Fraction
        What one of it is in the SI unit of its kind.
    spellings : tuple of str
        Every spelling, the symbol included. A 2 or 3 also stands for ``²``, ``^2``, ``³``, ``^3``;
        a space stands for any space, or none, or a full stop.
    zero : Fraction, default 0
        Where its zero lies in the SI unit; only temperatures have one.
    exact_case : bool, default False
        Whether another case would mean something else, as ``mg`` and ``Mg`` do.

    Examples
    --------
    >>> Unit("lb", Fraction(45_359_237, 100_000_000), ("lb", "lbs", "pound")).size * 2
    Fraction(45359237, 50000000)
    """

    symbol: str
    size: Fraction
    spellings: tuple[str, ...]
    zero: Fraction = Fraction(0)
    exact_case: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Kind:
    """One kind of quantity: its units, how they combine, and what to say when it is misread.

    Parameters
    ----------
    noun : str
        The kind with its article, as in ``"a length"``.
    units : tuple of Unit
        What its numbers are written in.
    examples : tuple of str
        Spellings to show to whoever wrote something else.
    chains : tuple of tuple of str, default ()
        Symbols that may follow one another in one quantity, largest first.
    doubtful : mapping of str to str, default {}
        Words that mean more than one thing, and what to write in their place.
    ratio : tuple of (Kind, Kind) or None, default None
        The kinds above and below the line, for units such as ``kg/m3``.
    lowest : Fraction, default 0
        Least value in SI.

    Examples
    --------
    >>> [unit.symbol for unit in SHARE.units], SHARE.name
    (['%', '‰'], 'share')
    """

    noun: str
    units: tuple[Unit, ...]
    examples: tuple[str, ...]
    chains: tuple[tuple[str, ...], ...] = ()
    doubtful: Mapping[str, str] = field(default_factory=dict)
    ratio: tuple[Kind, Kind] | None = None
    lowest: Fraction = Fraction(0)

    @property
    def name(self) -> str:
        """The kind without its article."""
        return self.noun.split()[1]


_INCH = Fraction(254, 10_000)
_FOOT = 12 * _INCH
_YARD = 3 * _FOOT
_POUND = Fraction(45_359_237, 100_000_000)
_LITRE = Fraction(1, 1000)
_US_GALLON = 231 * _INCH**3
_IMPERIAL_GALLON = Fraction(454_609, 100_000) * _LITRE


def _both_endings(stem: str) -> tuple[str, ...]:
    """Spell a metre or litre in British and American, one and many."""
    return tuple(stem + ending for ending in ("re", "er", "res", "ers"))


_LENGTHS = (
    Unit("mm", Fraction(1, 1000), ("mm", *_both_endings("millimet"))),
    Unit("cm", Fraction(1, 100), ("cm", *_both_endings("centimet"))),
    Unit("dm", Fraction(1, 10), ("dm", *_both_endings("decimet"))),
    Unit("m", Fraction(1), ("m", *_both_endings("met"))),
    Unit("km", Fraction(1000), ("km", *_both_endings("kilomet"))),
    Unit("in", _INCH, ("in", "inch", "inches", '"', "''")),
    Unit("ft", _FOOT, ("ft", "foot", "feet", "'")),
    Unit("yd", _YARD, ("yd", "yds", "yard", "yards")),
)
_MICROMETRES = ("um", "\N{MICRO SIGN}m", "\N{GREEK SMALL LETTER MU}m", "micron", "microns")
_SMALL_LENGTHS = (
    Unit("mil", _INCH / 1000, ("mil", "mils", "thou")),
    Unit("um", Fraction(1, 1_000_000), (*_MICROMETRES, *_both_endings("micromet"))),
)


def _powers(power: int, words: tuple[str, str], extra: Mapping[str, str]) -> tuple[Unit, ...]:
    """Make the squares or the cubes of the units of length: ``m2``, ``sq ft``, ``cubic yards``."""
    return tuple(
        Unit(
            f"{unit.symbol}{power}",
            unit.size**power,
            tuple(
                spelling
                for name in unit.spellings
                if name.isalpha()
                for spelling in (f"{name}{power}", *(f"{word} {name}" for word in words))
            )
            + tuple(short for short, symbol in extra.items() if symbol == unit.symbol),
        )
        for unit in _LENGTHS
    )


def _us_volume(symbol: str, size: Fraction, spellings: tuple[str, ...]) -> Unit:
    """Make a US unit of volume, which may say that it is one."""
    return Unit(symbol, size, (*spellings, *(f"us {spelling}" for spelling in spellings)))


LENGTH = Kind(
    "a length",
    _LENGTHS + _SMALL_LENGTHS,
    ("20 mm", "3/16 in", "2ft 1 1/2in"),
    chains=(("m", "dm", "cm", "mm"), ("yd", "ft", "in")),
)

AREA = Kind(
    "an area",
    _powers(2, ("sq", "square"), {"sf": "ft"}),
    ("2.5 m2", "30 sq ft"),
)

VOLUME = Kind(
    "a volume",
    (
        *_powers(3, ("cu", "cubic"), {"cf": "ft", "cy": "yd", "cc": "cm"}),
        Unit("L", _LITRE, ("L", *_both_endings("lit"))),
        Unit("dL", _LITRE / 10, ("dL", *_both_endings("decilit"))),
        Unit("cL", _LITRE / 100, ("cL", *_both_endings("centilit"))),
        Unit("mL", _LITRE / 1000, ("mL", *_both_endings("millilit"))),
        _us_volume("gal", _US_GALLON, ("gal", "gals", "gallon", "gallons")),
        _us_volume("qt", _US_GALLON / 4, ("qt", "qts", "quart", "quarts")),
        _us_volume("pt", _US_GALLON / 8, ("pt", "pts", "pint", "pints")),
        _us_volume("fl oz", _US_GALLON / 128, ("fl oz", "fluid ounce", "fluid ounces")),
        Unit(
            "imp gal",
            _IMPERIAL_GALLON,
            tuple(
                f"{of} {gallon}"
                for of in ("imp", "imperial", "uk")
                for gallon in ("gal", "gallon", "gallons")
            ),
        ),
    ),
    ("18 L", "5 gal", "2.5 cu ft"),
    chains=(("gal", "qt", "pt", "fl oz"), ("m3", "L", "dL", "cL", "mL")),
    doubtful={"oz": 'an ounce is a mass; write "fl oz" for a volume'},
)

MASS = Kind(
    "a mass",
    (
        Unit("kg", Fraction(1), ("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms")),
        Unit("g", Fraction(1, 1000), ("g", "gram", "grams", "gramme", "grammes")),
        Unit("mg", Fraction(1, 1_000_000), ("mg",), exact_case=True),
        Unit("t", Fraction(1000), ("t",), exact_case=True),
        Unit("t", Fraction(1000), ("tonne", "tonnes", "metric ton", "metric tons")),
        Unit("lb", _POUND, ("lb", "lbs", "lbm", "pound", "pounds", "#")),
        Unit("oz", _POUND / 16, ("oz", "ounce", "ounces")),
        Unit("short ton", 2000 * _POUND, ("short ton", "short tons", "us ton", "us tons")),
        Unit("long ton", 2240 * _POUND, ("long ton", "long tons")),
    ),
    ("25 kg", "40 lb", "2 lb 3 oz"),
    chains=(("t", "kg", "g", "mg"), ("short ton", "lb", "oz"), ("long ton", "lb", "oz")),
    doubtful={
        **dict.fromkeys(
            ("ton", "tons", "T"),
            'a ton may be any of three; write "t" (1000 kg), "short ton" (2000 lb) '
            'or "long ton" (2240 lb)',
        ),
        **dict.fromkeys(
            ("Mg", "MG"), 'this may be a megagram or a milligram; write "t" or "kg", or "mg"'
        ),
        **dict.fromkeys(("gr", "grs"), 'this may be grams or grains; write "g"'),
    },
)

DENSITY = Kind(
    "a density",
    (Unit("lb/ft3", _POUND / _FOOT**3, ("pcf",)),),
    ("2100 kg/m3", "131 lb/ft3", "17.5 lb/gal"),
    ratio=(MASS, VOLUME),
)

_DEGREE = Fraction(5, 9)
_ICE_POINT = Fraction(27_315, 100)
TEMPERATURE = Kind(
    "a temperature",
    (
        Unit("C", Fraction(1), ("C", "°C", "° C", "deg C", "celsius", "degrees celsius")),
        Unit(
            "F",
            _DEGREE,
            ("F", "°F", "° F", "deg F", "fahrenheit", "degrees fahrenheit"),
            zero=-32 * _DEGREE,
        ),
        Unit("K", Fraction(1), ("K",), zero=-_ICE_POINT, exact_case=True),
        Unit("K", Fraction(1), ("kelvin",), zero=-_ICE_POINT),
    ),
    ("20 C", "68 F"),
    doubtful={
        **dict.fromkeys(
            ("°", "deg", "degree", "degrees"), 'degrees of which scale? write "C" or "F"'
        ),
        "k": 'write "K" for kelvin',
    },
    lowest=-_ICE_POINT,
)

DURATION = Kind(
    "a duration",
    (
        Unit("s", Fraction(1), ("s", "sec", "secs", "second", "seconds")),
        Unit("min", Fraction(60), ("min", "mins", "minute", "minutes")),
        Unit("h", Fraction(3600), ("h", "hr", "hrs", "hour", "hours")),
        Unit("d", Fraction(86_400), ("d", "day", "days")),
    ),
    ("45 s", "90 min", "1 h 30 min"),
    chains=(("d", "h", "min", "s"),),
    doubtful={
        "m": 'this may be metres or minutes; write "min"',
        "'": 'write "min" for minutes',
        '"': 'write "s" for seconds',
        ":": 'this may be hours or minutes; write "1 h 30 min" or "1 min 30 s"',
    },
)

SHARE = Kind(
    "a share",
    (
        Unit("%", Fraction(1, 100), ("%", "percent", "per cent", "pct")),
        Unit("\N{PER MILLE SIGN}", Fraction(1, 1000), ("\N{PER MILLE SIGN}", "per mille")),
    ),
    ("10 %", "3.5 %"),
)

SPEED = Kind(
    "a speed",
    (Unit("mph", 5280 * _FOOT / 3600, ("mph", "miles per hour")),),
    ("5 m/s", "20 km/h", "10 mph"),
    ratio=(LENGTH, DURATION),
)

KINDS = (LENGTH, AREA, VOLUME, MASS, DENSITY, TEMPERATURE, DURATION, SHARE, SPEED)
