"""What of a job its rates are charged by, measure by measure."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from takeoff.files.order_parts import Portion
from takeoff.job.cast_pieces import CastPiece
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.mix.mixes import Mix
from takeoff.piece.surfaces import SurfaceClass
from takeoff.piece.ways import INNER_FORMS
from takeoff.pricing.rates import Measure


@dataclass(frozen=True, slots=True)
class FormWork:
    """What the forms of a job take.

    Parameters
    ----------
    form_count : int
        How many forms are built.
    form_m2, inner_form_m2 : float
        Their area, and that of inner forms at walls, each form once. [m²]
    bead_m : float
        Sealant bead in their inside corners, each form once. [m]
    release_m2 : float
        What is oiled, forms and inner forms, for every casting. [m²]
    sealer_m2 : float
        What comes out of the form, of every casting. [m²]
    """

    form_count: int
    form_m2: float
    inner_form_m2: float
    bead_m: float
    release_m2: float
    sealer_m2: float


def form_work(cast: Sequence[CastPiece]) -> FormWork:
    """Add up what the forms take.

    Parameters
    ----------
    cast : sequence of CastPiece
        What is cast; samples and boards need no form of their own.

    Returns
    -------
    FormWork
        Forms once, release and sealer for every casting.

    Examples
    --------
    >>> form_work([]).form_m2
    0.0
    """
    drawn = [(piece, piece.measured) for piece in cast if piece.measured is not None]
    form_m2 = [measured.form_area_m2 for _, measured in drawn]
    inner_m2 = [_inner_m2(piece, measured) for piece, measured in drawn]
    forms = [piece.form_count for piece, _ in drawn]
    counts = [piece.count for piece, _ in drawn]
    arris_m = [measured.surfaces.arris_m for _, measured in drawn]
    both_m2 = [form + inner for form, inner in zip(form_m2, inner_m2, strict=True)]
    return FormWork(
        form_count=sum(forms),
        form_m2=_dot(form_m2, forms),
        inner_form_m2=_dot(inner_m2, forms),
        bead_m=_dot(arris_m, forms),
        release_m2=_dot(both_m2, counts),
        sealer_m2=_dot(form_m2, counts),
    )


def quantities_of(
    cast: Sequence[CastPiece],
    mixes: Mapping[Portion, Mix],
    *,
    batch_count: int,
    days: int | None = None,
    crew_s: float | None = None,
) -> dict[Measure, float]:
    """Give the quantity of every measure that the job has.

    Parameters
    ----------
    cast : sequence of CastPiece
        What is cast.
    mixes : mapping of Portion to Mix
        Its mixes.
    batch_count : int
        How many batches are mixed.
    days : int or None, optional
        Days of the pour; None where there is no plan, and no quantity then.
    crew_s : float or None, optional
        Working time of all hands over the pour, likewise. [s]

    Returns
    -------
    dict
        Quantity by measure, SI; hours in hours.

    Examples
    --------
    >>> quantities_of([], {}, batch_count=3)[Measure.BATCH]
    3.0
    """
    drawn = [(piece, piece.measured) for piece in cast if piece.measured is not None]

    def over(each: Callable[[MeasuredPiece], float]) -> float:
        return float(sum(each(measured) * piece.count for piece, measured in drawn))

    def area_m2(kind: SurfaceClass) -> float:
        return over(lambda measured: measured.surfaces.area_m2[kind])

    work = form_work(cast)
    found = {
        Measure.FORM_M2: work.form_m2,
        Measure.INNER_FORM_M2: work.inner_form_m2,
        Measure.CASTING_M2: work.sealer_m2,
        Measure.SHOW_FACE_M2: area_m2(SurfaceClass.SHOW_FACE),
        Measure.RETURN_M2: area_m2(SurfaceClass.RETURN),
        Measure.UPRIGHT_M2: area_m2(SurfaceClass.UPRIGHT),
        Measure.ARRIS_M: over(lambda measured: measured.surfaces.arris_m),
        Measure.BEAD_M: work.bead_m,
        Measure.OPENING: over(lambda measured: len(measured.surfaces.openings)),
        Measure.BATCH: float(batch_count),
        Measure.FORM: float(work.form_count),
        Measure.PIECE: float(sum(piece.count for piece, _ in drawn)),
        Measure.KG: float(sum(piece.wet_kg(mixes) * piece.count for piece in cast)),
        Measure.RELEASE_M2: work.release_m2,
        Measure.SEALER_M2: work.sealer_m2,
        Measure.JOB: 1.0,
    }
    if days is not None:
        found[Measure.DAY] = float(days)
    if crew_s is not None:
        found[Measure.HOUR] = crew_s / 3600.0
    return found


def _inner_m2(piece: CastPiece, measured: MeasuredPiece) -> float:
    """Area of inner forms at the walls of one casting."""
    return sum(
        wall.inner_form_m2
        for wall in measured.layers.walls
        if piece.ways.get(wall.surface) in INNER_FORMS
    )


def _dot(values: Sequence[float], counts: Sequence[int]) -> float:
    return float(sum(value * count for value, count in zip(values, counts, strict=True)))
