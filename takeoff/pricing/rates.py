"""What a shop charges by what is measured: a price, or hours of work, for each unit of a measure.

A rate is priced in the unit the shop writes, metric or US customary, so that the printed quantity
times the printed price is what is charged; factors between the two are exact.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from takeoff.errors import PriceError, QuantityError
from takeoff.pricing.lines import Line, LineKind, line_of, printed_quantity
from takeoff.unit_tables import AREA, DURATION, LENGTH, MASS, Kind

_LARGEST = 10**15  # what lies beyond it is no quantity of a job


class Measure(StrEnum):
    """What a rate is charged by, in the words of the shop file.

    Attributes
    ----------
    FORM_M2, FORM_FT2
        Area of the forms that are built, each once.
    INNER_FORM_M2, INNER_FORM_FT2
        Area of inner forms behind walls.
    CASTING_M2, CASTING_FT2
        Area cast against the form, of every casting.
    SHOW_FACE_M2, RETURN_M2, UPRIGHT_M2, SHOW_FACE_FT2, RETURN_FT2, UPRIGHT_FT2
        Area of one class of surface, of every casting.
    ARRIS_M, ARRIS_FT
        Length of arris, of every casting.
    BEAD_M, BEAD_FT
        Length of sealant bead in the forms.
    OPENING, BATCH, FORM, PIECE
        Their number.
    KG, LB
        Mass of what is cast.
    RELEASE_M2, RELEASE_FT2, SEALER_M2, SEALER_FT2
        Area that takes release before casting, and sealer after it.
    DAY, HOUR
        Days and hours of work.
    JOB
        Once.
    """

    FORM_M2 = "form_m2"
    INNER_FORM_M2 = "inner_form_m2"
    CASTING_M2 = "casting_m2"
    SHOW_FACE_M2 = "show_face_m2"
    RETURN_M2 = "return_m2"
    UPRIGHT_M2 = "upright_m2"
    ARRIS_M = "arris_m"
    BEAD_M = "bead_m"
    OPENING = "opening"
    BATCH = "batch"
    FORM = "form"
    PIECE = "piece"
    KG = "kg"
    RELEASE_M2 = "release_m2"
    SEALER_M2 = "sealer_m2"
    DAY = "day"
    HOUR = "hour"
    JOB = "job"
    FORM_FT2 = "form_ft2"
    INNER_FORM_FT2 = "inner_form_ft2"
    CASTING_FT2 = "casting_ft2"
    SHOW_FACE_FT2 = "show_face_ft2"
    RETURN_FT2 = "return_ft2"
    UPRIGHT_FT2 = "upright_ft2"
    ARRIS_FT = "arris_ft"
    BEAD_FT = "bead_ft"
    LB = "lb"
    RELEASE_FT2 = "release_ft2"
    SEALER_FT2 = "sealer_ft2"

    @property
    def unit(self) -> str:
        """One of it, as it is written on the bid.

        Examples
        --------
        >>> Measure.FORM_M2.unit, Measure.FORM_FT2.unit, Measure.OPENING.unit
        ('m² of form', 'sq ft of form', 'opening')
        """
        return _WRITTEN[self].unit

    @property
    def told_as(self) -> Measure:
        """The measure that a job counts for it: itself, or the metric one.

        Examples
        --------
        >>> str(Measure.FORM_FT2.told_as), str(Measure.BATCH.told_as)
        ('form_m2', 'batch')
        """
        return _WRITTEN[self].told_as


@dataclass(frozen=True, slots=True)
class _Written:
    """How a measure is written, and what one of it is in the measure that a job counts."""

    unit: str
    told_as: Measure
    size: Fraction = Fraction(1)


def _size(kind: Kind, symbol: str) -> Fraction:
    """Exact size of a unit in SI."""
    return next(unit.size for unit in kind.units if unit.symbol == symbol)


def _metric_and_us() -> dict[Measure, _Written]:
    """Write the measures that come in two units."""
    square, run = ("m²", "sq ft", _size(AREA, "ft2")), ("m", "ft", _size(LENGTH, "ft"))
    mass = ("kg", "lb", _size(MASS, "lb"))
    rows = (
        (Measure.FORM_M2, Measure.FORM_FT2, square, " of form"),
        (Measure.INNER_FORM_M2, Measure.INNER_FORM_FT2, square, " of inner form"),
        (Measure.CASTING_M2, Measure.CASTING_FT2, square, " of casting"),
        (Measure.SHOW_FACE_M2, Measure.SHOW_FACE_FT2, square, " of show face"),
        (Measure.RETURN_M2, Measure.RETURN_FT2, square, " of return"),
        (Measure.UPRIGHT_M2, Measure.UPRIGHT_FT2, square, " of upright"),
        (Measure.RELEASE_M2, Measure.RELEASE_FT2, square, " released"),
        (Measure.SEALER_M2, Measure.SEALER_FT2, square, " sealed"),
        (Measure.ARRIS_M, Measure.ARRIS_FT, run, " of arris"),
        (Measure.BEAD_M, Measure.BEAD_FT, run, " of bead"),
        (Measure.KG, Measure.LB, mass, ""),
    )
    written = {}
    for si, us, (si_unit, us_unit, size), of_what in rows:
        written[si] = _Written(si_unit + of_what, si)
        written[us] = _Written(us_unit + of_what, si, size)
    return written


_WRITTEN: Mapping[Measure, _Written] = {
    **_metric_and_us(),
    Measure.OPENING: _Written("opening", Measure.OPENING),
    Measure.BATCH: _Written("batch", Measure.BATCH),
    Measure.FORM: _Written("form", Measure.FORM),
    Measure.PIECE: _Written("piece", Measure.PIECE),
    Measure.DAY: _Written("day", Measure.DAY),
    Measure.HOUR: _Written("h", Measure.HOUR),
    Measure.JOB: _Written("job", Measure.JOB),
}
_BY_THE_CLOCK = frozenset({Measure.DAY, Measure.HOUR})


@dataclass(frozen=True, slots=True)
class Rate:
    """What is charged for each unit of a measure.

    Parameters
    ----------
    what : str
        What is charged, in the shop's own words.
    per : Measure
        By what it is charged.
    price : Decimal
        Price of one unit of the measure; of one hour, where hours are told.
    hours_s : float or None, default None
        Work that one unit of the measure takes. [s]
    labour : bool, default False
        Whether a rate told as a price is for labour; one told in hours always is.
    """

    what: str
    per: Measure
    price: Decimal
    hours_s: float | None = None
    labour: bool = False

    @property
    def is_labour(self) -> bool:
        """Whether it is for labour.

        Examples
        --------
        >>> Rate("casting", Measure.CASTING_M2, Decimal("38.00"), hours_s=1800.0).is_labour
        True
        """
        return self.labour or self.hours_s is not None

    def counted(self, quantities: Mapping[Measure, float]) -> float:
        """Give how much of its measure there is, in its own unit.

        Parameters
        ----------
        quantities : mapping of Measure to float
            Quantities by metric measure.

        Returns
        -------
        float
            The quantity, not rounded; 0 where it is not counted. [-]

        Examples
        --------
        >>> Rate("boards", Measure.FORM_FT2, Decimal("1.20")).counted({Measure.FORM_M2: 0.09290304})
        1.0
        """
        return quantities.get(self.per.told_as, 0.0) / float(_WRITTEN[self.per].size)


def is_priced(rates: Iterable[Rate]) -> bool:
    """Tell whether any labour is paid for; until then a bid is for material only.

    Parameters
    ----------
    rates : iterable of Rate
        The rates of a shop.

    Returns
    -------
    bool
        Whether one of them is labour at a price above 0.

    Examples
    --------
    >>> is_priced([Rate("boards", Measure.FORM_M2, Decimal("12.50"))])
    False
    """
    return any(rate.is_labour and rate.price > 0 for rate in rates)


def rate_lines(rates: Iterable[Rate], quantities: Mapping[Measure, float]) -> tuple[Line, ...]:
    """Charge each rate on what was measured.

    Parameters
    ----------
    rates : iterable of Rate
        The rates of a shop.
    quantities : mapping of Measure to float
        What the job counts, each in the unit its measure names: m², m, kg, h, or a number. US
        customary measures are taken from the metric ones.

    Returns
    -------
    tuple of Line
        A line for each rate, in their order, of nothing where nothing was measured. Of a rate
        told in hours the quantity is the hours: the printed quantity of its measure, times the
        hours of one unit, as printed.

    Raises
    ------
    PriceError
        If the job does not count what a rate is charged by; all such rates are named.
    QuantityError
        If a quantity is below 0, or no number that a job can have.

    Examples
    --------
    >>> boards = Rate("boards", Measure.FORM_M2, Decimal("12.50"))
    >>> setting = Rate("set up forms", Measure.FORM_M2, Decimal("38.00"), hours_s=2160.0)
    >>> lines = rate_lines([boards, setting], {Measure.FORM_M2: 23.42})
    >>> for line in lines:
    ...     print(line.what, line.quantity, line.unit, line.price, line.amount)
    boards 23.42 m² of form 12.50 292.75
    set up forms 14.052 h 38.00 533.98
    >>> lines[1].basis
    '23.42 m² of form x 0.6 h'
    """
    rates = tuple(rates)
    _refuse_uncounted([rate for rate in rates if rate.per.told_as not in quantities], quantities)
    return tuple(_charged(rate, quantities[rate.per.told_as]) for rate in rates)


def _charged(rate: Rate, told_count: float) -> Line:
    """Make the line of one rate."""
    if not 0.0 <= told_count < _LARGEST:
        raise QuantityError(
            f"{told_count} is no quantity to charge {rate.what!r} on, in {rate.per.told_as.unit}"
        )
    # The shortest decimal that names the float: 0.1 is a tenth, not the binary next to it.
    exact = Fraction(repr(float(told_count))) / _WRITTEN[rate.per].size
    quantity = printed_quantity(exact)
    kind = LineKind.LABOUR if rate.is_labour else LineKind.RATE
    if rate.hours_s is None:
        return line_of(rate.what, quantity, rate.per.unit, rate.price, kind)
    work_s = Fraction(repr(float(rate.hours_s)))
    hours = printed_quantity(Fraction(quantity) * work_s / _size(DURATION, "h"))
    basis = f"{quantity} {rate.per.unit} x {_written_work(work_s)}"
    return line_of(rate.what, hours, Measure.HOUR.unit, rate.price, kind, basis=basis)


def _written_work(work_s: Fraction) -> str:
    """Write a duration in the largest unit that three decimals of it tell exactly, else in s."""
    for symbol in ("h", "min", "s"):
        number = work_s / _size(DURATION, symbol)
        if Fraction(printed_quantity(number)) == number:
            break
    return f"{printed_quantity(number)} {symbol}"


def _refuse_uncounted(rates: list[Rate], quantities: Mapping[Measure, float]) -> None:
    if rates:
        listed = ", ".join(f"{rate.what!r} per {rate.per}" for rate in rates)
        counted = ", ".join(measure for measure in Measure if measure.told_as in quantities)
        clock = any(rate.per in _BY_THE_CLOCK for rate in rates)
        hint = "; days and hours are counted once the pour day can be planned" if clock else ""
        raise PriceError(
            f"this job does not count what these rates are charged by: {listed}; charge them by "
            f"what it counts: {counted or 'nothing'}{hint}"
        )
