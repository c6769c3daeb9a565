"""What a mesh shows and which side of it, told, found, or asked for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import SurfaceError
from takeoff.geometry.mesh import Mesh
from takeoff.notes import Note, NoteCode
from takeoff.piece.asking import Asked, kind_question, question
from takeoff.piece.casting import areas_cast_m2
from takeoff.piece.classifying import refuse_open
from takeoff.piece.directions import direction_text, reading_number, show_vector
from takeoff.piece.flats import Flats, flats_of
from takeoff.piece.noise import noise_of
from takeoff.piece.reading import Reading
from takeoff.piece.reading_rules import ReadingRules
from takeoff.piece.readings import Readings, readings_of, readings_towards
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.smoothing import smooth_scan
from takeoff.piece.surfaces import ModelKind, SurfaceClass

FloatArray = NDArray[np.float64]


class Source(StrEnum):
    """Who said which side is the show face."""

    TOLD = "told"
    FOUND = "found"


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """What a mesh is read as.

    Parameters
    ----------
    kind : ModelKind
        What it shows.
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the finished show face. [-]
    source : Source
        Whether the direction was told or found.
    notes : tuple of Note
        What was found, and why.
    """

    kind: ModelKind
    show_direction: FloatArray
    source: Source
    notes: tuple[Note, ...]


def find(
    mesh: Mesh,
    *,
    kind: ModelKind | None = None,
    show: str | None = None,
    layers_m: float = 0.0,
    flats: Flats | None = None,
    rules: SurfaceRules = SurfaceRules(),
    reading_rules: ReadingRules = ReadingRules(),
) -> Found:
    """Settle what a mesh shows and which side of it.

    Parameters
    ----------
    mesh : Mesh
        The mended mesh.
    kind : ModelKind, optional
        What it shows, if that was told.
    show : str, optional
        The show direction, if that was told: a word, ``x,y,z``, or the number of a reading.
    layers_m : float, default 0
        Thickness of all layers to be laid: two sides of a curve differ by it. [m]
    flats : Flats, optional
        Flats of the mesh, where they are known already.
    rules : SurfaceRules, optional
        How surfaces are told apart.
    reading_rules : ReadingRules, optional
        What speaks for a reading.

    Returns
    -------
    Found
        What was told, or the one reading that stands out, or the first of several that come to
        the same.

    Raises
    ------
    DirectionMissingError
        If it can be read in several ways that differ; all of them are listed.
    SurfaceError
        If what was told cannot be read or does not fit the mesh.

    Examples
    --------
    >>> import trimesh
    >>> plate = Mesh.from_trimesh(trimesh.creation.box((2.0, 0.6, 0.04)), unit="m")
    >>> found = find(plate)
    >>> found.kind.value, found.source.value, found.show_direction.tolist()
    ('piece', 'found', [0.0, 0.0, 1.0])
    """
    number = None if show is None else reading_number(show)
    if show is not None and number is None:
        direction = show_vector(show)
        if kind is not None:
            return Found(kind, direction, Source.TOLD, ())
        return _kind_of(_smoothed(mesh, flats, rules)[0], direction, rules, reading_rules)
    flats, scan = _smoothed(mesh, flats, rules)
    if kind is not None:
        _refuse_kind(flats, kind)
    readings = readings_of(flats, rules=reading_rules)
    if number is not None:
        return _chosen(readings, number, kind)
    ways = [one for one in readings.listed if kind is None or one.kind is kind]
    asked = Asked(flats, tuple(ways), kind, rules)
    if not ways or scan:
        raise question(asked, scan=scan)
    return _standing_out(asked, readings, layers_m=layers_m, rules=reading_rules)


def readings_asked(
    mesh: Mesh,
    *,
    kind: ModelKind | None = None,
    rules: SurfaceRules = SurfaceRules(),
    reading_rules: ReadingRules = ReadingRules(),
) -> tuple[Reading, ...]:
    """List the readings a person is asked to choose from.

    Parameters
    ----------
    mesh : Mesh
        The mended mesh.
    kind : ModelKind, optional
        What it shows, if that was told.
    rules : SurfaceRules, optional
        How surfaces are told apart.
    reading_rules : ReadingRules, optional
        What speaks for a reading.

    Returns
    -------
    tuple of Reading
        The likeliest first.

    Examples
    --------
    >>> import trimesh
    >>> plate = Mesh.from_trimesh(trimesh.creation.box((2.0, 0.6, 0.04)), unit="m")
    >>> [reading.id for reading in readings_asked(plate)]
    ['S1', 'S2', 'S3', 'S4', 'S5', 'S6']
    """
    readings = readings_of(_smoothed(mesh, None, rules)[0], rules=reading_rules)
    return tuple(one for one in readings.listed if kind is None or one.kind is kind)


def _smoothed(mesh: Mesh, flats: Flats | None, rules: SurfaceRules) -> tuple[Flats, bool]:
    """Take the flats of a mesh, the noise taken off a scan; tell whether it is one."""
    flats = flats_of(mesh, rules=rules) if flats is None else flats
    if not noise_of(flats).scan:
        return flats, False
    return flats_of(smooth_scan(flats).mesh, rules=rules), True


def _refuse_kind(flats: Flats, kind: ModelKind) -> None:
    """Refuse a kind that the mesh cannot be."""
    if kind in {ModelKind.PIECE, ModelKind.FORM}:
        refuse_open(flats)
    elif not len(flats.open_edges.flat):
        raise SurfaceError(
            "the mesh is closed, so it is no open surface; say --kind piece, or --kind form if it "
            "is what the piece is cast in"
        )


def _chosen(readings: Readings, number: int, kind: ModelKind | None) -> Found:
    """Take the reading that was asked for by its number."""
    for reading in readings.listed:
        if reading.id != f"S{number}":
            continue
        if kind is not None and reading.kind is not kind:
            raise SurfaceError(
                f"{reading.id} reads the mesh as {reading.kind.value}, not as {kind.value}; say "
                f"--kind {reading.kind.value} --show {reading.id}, or choose another reading"
            )
        text = f"{reading.id} is {direction_text(reading.show_direction)}, as {reading.kind.value}"
        notes = (Note(NoteCode.DIRECTION_FOUND, text),)
        return Found(reading.kind, reading.show_direction, Source.TOLD, notes)
    raise SurfaceError(
        f"there is no reading S{number}: the mesh has {len(readings.listed)}; leave --show out to "
        "see them"
    )


def _kind_of(
    flats: Flats, direction: FloatArray, rules: SurfaceRules, reading_rules: ReadingRules
) -> Found:
    """Find what a mesh shows, the direction being told."""
    ways = readings_towards(flats, direction, rules=reading_rules)
    best, *others = ways
    lead = min((best.points_count - one.points_count for one in others), default=np.inf)
    if lead < reading_rules.accept_count:
        raise kind_question(Asked(flats, ways, None, rules))
    if not others:
        return Found(best.kind, direction, Source.TOLD, ())
    why = "; ".join(sign.words for sign in best.signs)
    note = Note(NoteCode.KIND_FOUND, f"read as {best.kind.value}: {why}")
    return Found(best.kind, direction, Source.TOLD, (note,))


def _standing_out(
    asked: Asked, readings: Readings, *, layers_m: float, rules: ReadingRules
) -> Found:
    """Take the one reading that stands out, or the first of several that come to the same."""
    best = asked.readings[0]
    rivals = [
        one
        for one in asked.readings[1:]
        if best.points_count - one.points_count < rules.accept_count
    ]
    side = direction_text(best.show_direction)
    if not rivals:
        why = best.signs[0].words if best.signs else "no other side is as large"
        text = f"show side {side}, as {best.kind.value}: {why}"
        return Found(
            best.kind, best.show_direction, Source.FOUND, (Note(NoteCode.DIRECTION_FOUND, text),)
        )
    if readings.plate and _alike(asked, [best, *rivals], layers_m=layers_m, rules=rules):
        others = ", ".join(direction_text(one.show_direction) for one in rivals)
        text = (
            f"show side {side}, as {best.kind.value}: {others} would give the same show face, "
            "return and upright"
        )
        return Found(
            best.kind, best.show_direction, Source.FOUND, (Note(NoteCode.DIRECTION_EITHER, text),)
        )
    raise question(asked)


def _alike(
    asked: Asked, readings: Sequence[Reading], *, layers_m: float, rules: ReadingRules
) -> bool:
    """Whether readings come to the same material."""
    flats = asked.flats
    if len({reading.kind for reading in readings}) > 1:
        return False
    if readings[0].kind is ModelKind.OPEN and _bend_share(flats, layers_m) > rules.same_share:
        return False
    amounts = []
    for reading in readings:
        try:
            areas_m2 = areas_cast_m2(
                flats, kind=reading.kind, show_direction=reading.show_direction, rules=asked.rules
            )
        except SurfaceError:
            return False
        amounts.append([areas_m2[one] for one in SurfaceClass if one is not SurfaceClass.BACK])
    table = np.array(amounts)
    off: float = np.abs(table - table[0]).max()
    return bool(off < rules.same_share * table[0].sum())


def _bend_share(flats: Flats, layers_m: float) -> float:
    """How much layers on the two sides of an open surface differ, as it bends one way."""
    joints = flats.joints
    bend_m = float(np.radians(joints.turn_deg) @ joints.length_m) / 2.0
    return 2.0 * layers_m * abs(bend_m) / float(flats.area_m2.sum())
