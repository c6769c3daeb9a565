"""What to ask a person where a mesh can be read in several ways."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.errors import DirectionMissingError
from takeoff.piece.directions import direction_text
from takeoff.piece.flats import Flats
from takeoff.piece.reading import Reading
from takeoff.piece.reading_areas import shown_areas_m2
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.surfaces import ModelKind, SurfaceClass


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """What is to be asked about.

    Parameters
    ----------
    flats : Flats
        The mesh.
    readings : tuple of Reading
        The ways to read it, the likeliest first.
    kind : ModelKind or None
        What it shows, if that was told.
    rules : SurfaceRules
        How its surfaces are told apart.
    """

    flats: Flats
    readings: tuple[Reading, ...]
    kind: ModelKind | None
    rules: SurfaceRules


def question(asked: Asked, *, scan: bool = False) -> DirectionMissingError:
    """Ask which side is the show face, and as what the mesh is meant where that was not told.

    Parameters
    ----------
    asked : Asked
        What is asked about.
    scan : bool, default False
        True if the mesh is a scan, of which the direction is always asked.

    Returns
    -------
    DirectionMissingError
        To be raised: every reading with its areas, what speaks for it and what to paste.

    Examples
    --------
    >>> import numpy as np, trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.reading import numbered, reading_of
    >>> plate = flats_of(Mesh.from_trimesh(trimesh.creation.box((2.0, 0.5, 0.04)), unit="m"))
    >>> ways = numbered([reading_of(ModelKind.PIECE, np.array([0.0, 0.0, 1.0]), ())])
    >>> print(question(Asked(plate, ways, None, SurfaceRules())).text.splitlines()[1])
      S1  --kind piece --show up  show face 1.000 m², return 0.200 m², upright 0.000 m², \
back 1.000 m²
    """
    if not asked.readings:
        return DirectionMissingError(_nothing_text(asked.kind))
    options = [
        (f"{one.id}  ", f"{_kind_option(asked, one)}--show {direction_text(one.show_direction)}")
        for one in asked.readings
    ]
    lines = _lines(asked, options)
    if not lines:
        return DirectionMissingError(_nothing_text(asked.kind))
    what = "which side is the show face" if asked.kind else "what is drawn and its show face"
    if scan:
        why = "the mesh is a scan, of which this is always asked"
    elif len(lines) == 1:
        why = "too little speaks for the one reading found"
    else:
        why = f"the drawing can be read in {len(lines)} ways"
    head = (
        f"nobody told {what}, and {why}; paste one of these (or --show S1, S2 ...; up is +Z of the "
        "drawing, front is -Y, right is +X), or give any other direction as --show x,y,z:"
    )
    return DirectionMissingError("\n".join([head, *lines]))


def kind_question(asked: Asked) -> DirectionMissingError:
    """Ask as what a mesh is meant whose show direction was told.

    Parameters
    ----------
    asked : Asked
        What is asked about.

    Returns
    -------
    DirectionMissingError
        To be raised.

    Examples
    --------
    >>> import numpy as np, trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.reading import numbered, reading_of
    >>> plate = flats_of(Mesh.from_trimesh(trimesh.creation.box((2.0, 0.5, 0.04)), unit="m"))
    >>> ways = numbered([reading_of(ModelKind.PIECE, np.array([0.0, 0.0, 1.0]), ())])
    >>> print(kind_question(Asked(plate, ways, None, SurfaceRules())).text.splitlines()[0])
    nobody told what is drawn, and it may be either; paste one of these:
    """
    head = "nobody told what is drawn, and it may be either; paste one of these:"
    lines = [("", f"--kind {one.kind.value}") for one in asked.readings]
    return DirectionMissingError("\n".join([head, *_lines(asked, lines)]))


def _nothing_text(kind: ModelKind | None) -> str:
    """Say that a mesh has no reading of a kind."""
    if kind is ModelKind.FORM:
        return (
            "no cavity of the form opens along an axis of its faces: it is open at an end or has a "
            "hole, its rim is not flat, something stands above its rim, or it is one part of "
            "several; tell the direction from the opening to the floor as --show x,y,z, or model "
            "the surface that is cast as --kind open"
        )
    return "nobody told which side is the show face; tell the direction as --show x,y,z"


def _kind_option(asked: Asked, reading: Reading) -> str:
    return "" if asked.kind else f"--kind {reading.kind.value} "


def _lines(asked: Asked, options: Sequence[tuple[str, str]]) -> list[str]:
    """One line for each reading that has a show face."""
    width = max(len(option) for _, option in options)
    lines = []
    for reading, (number, option) in zip(asked.readings, options, strict=True):
        areas = _areas_text(asked, reading)
        if areas:
            lines.append(f"  {number}{option:<{width}}  {areas}{_signs_text(reading)}")
    return lines


def _areas_text(asked: Asked, reading: Reading) -> str:
    """Areas of a reading; nothing where it has no show face."""
    areas_m2 = shown_areas_m2(asked.flats, reading, rules=asked.rules)
    if areas_m2 is None:
        return ""
    return ", ".join(
        f"{one.value.replace('_', ' ')} {areas_m2[one]:.3f} m²" for one in SurfaceClass
    )


def _signs_text(reading: Reading) -> str:
    """Write what speaks for and against a reading."""
    text = ""
    for word, sense in (("for it", 1.0), ("against it", -1.0)):
        words = [sign.words for sign in reading.signs if sign.points_count * sense > 0.0]
        if words:
            text += f"; {word}: {', '.join(words)}"
    return text
