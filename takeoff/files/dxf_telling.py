"""What a person is told about a DXF file beside its pieces."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from takeoff.errors import DrawingError, LayerError, OutlineError
from takeoff.files.drawing import DrawingUnit, Tally
from takeoff.files.dxf_gathered import Gathered
from takeoff.files.dxf_readers import ACIS, QUIET
from takeoff.notes import Note, NoteCode


def tallies_of(gathered: Gathered) -> tuple[Tally, ...]:
    """Give what was left out, in order of its name.

    Parameters
    ----------
    gathered : Gathered
        What the walk gathered.

    Returns
    -------
    tuple of Tally
        One for each thing and reason.

    Examples
    --------
    >>> from collections import Counter
    >>> from takeoff.files.dxf_rules import DxfRules
    >>> tallies_of(Gathered(0.001, "utf-8", DxfRules(), Counter({("RAY", "endless"): 2})))
    (Tally(what='RAY', count=2, why='endless'),)
    """
    return tuple(
        Tally(what, count, why) for (what, why), count in sorted(gathered.skipped.items()) if count
    )


def skipped_notes(skipped: Sequence[Tally], *, where: str) -> tuple[Note, ...]:
    """Give a note for each reason to leave out what may have bounded the piece.

    Parameters
    ----------
    skipped : sequence of Tally
        What was left out.
    where : str
        The file.

    Returns
    -------
    tuple of Note
        One note a reason; annotation, fills, pictures and layers not asked for give none.

    Examples
    --------
    >>> [note] = skipped_notes([Tally("REGION", 2, "an ACIS body")], where="top.dxf")
    >>> note.text
    'left out: REGION (2): an ACIS body'
    """
    by_why: dict[str, list[str]] = {}
    for tally in skipped:
        if tally.why not in QUIET:
            by_why.setdefault(tally.why, []).append(f"{tally.what} ({tally.count})")
    return tuple(
        Note(NoteCode.SKIPPED, f"left out: {', '.join(whats)}: {why}", where)
        for why, whats in by_why.items()
    )


def style_notes(gathered: Gathered, unit: DrawingUnit, *, where: str) -> tuple[Note, ...]:
    """Say what the outlines are drawn with that was not measured: widths, thickness, heights.

    Parameters
    ----------
    gathered : Gathered
        What the walk gathered.
    unit : DrawingUnit
        Unit of the drawing.
    where : str
        The file.

    Returns
    -------
    tuple of Note
        The doubts.

    Examples
    --------
    >>> from collections import Counter
    >>> from takeoff.files.dxf_rules import DxfRules
    >>> wide = Gathered(0.001, "utf-8", DxfRules(), Counter(), widths_m=[0.025])
    >>> style_notes(wide, DrawingUnit("mm", 0.001, "told"), where="top.dxf")[0].text
    'polylines drawn with a width: 1, up to 25 mm wide; their centre line is measured'
    """

    def shown(length_m: float) -> str:
        return f"{round(length_m / unit.metres_per_unit, 4):.12g} {unit.name}"

    notes = []
    if gathered.widths_m:
        text = (
            f"polylines drawn with a width: {len(gathered.widths_m)}, up to "
            f"{shown(max(gathered.widths_m))} wide; their centre line is measured"
        )
        notes.append(Note(NoteCode.CENTRE_LINE, text, where))
    if gathered.thicknesses_m:
        text = (
            f"lines drawn with a thickness: {len(gathered.thicknesses_m)}, up to "
            f"{shown(max(gathered.thicknesses_m))}; it is not read: tell the depth of the edges"
        )
        notes.append(Note(NoteCode.EDGE_DEPTH, text, where))
    if gathered.heights_m and np.ptp(gathered.heights_m) > gathered.rules.outlines.join_m:
        text = (
            f"lines lie at heights from {shown(min(gathered.heights_m))} to "
            f"{shown(max(gathered.heights_m))}; all are measured in one plan"
        )
        notes.append(Note(NoteCode.PLAN_ONLY, text, where))
    chord_m = max(gathered.chord_errors_m, default=0.0)
    if chord_m > gathered.rules.outlines.chord_m:
        text = (
            f"a fitted curve is stored as chords, which lie up to {shown(chord_m)} off it; "
            "area and length are those of the chords"
        )
        notes.append(Note(NoteCode.CURVE_CHORDS, text, where))
    return tuple(notes)


def nothing_found(
    skipped: Sequence[Tally], chosen: Sequence[str], *, where: str, doubts: Sequence[Note] = ()
) -> DrawingError:
    """Make the refusal of a drawing that holds nothing to measure.

    Parameters
    ----------
    skipped : sequence of Tally
        What was left out, or dropped.
    chosen : sequence of str
        Layers asked for.
    where : str
        The file.
    doubts : sequence of Note, default ()
        Doubts about what was left out.

    Returns
    -------
    DrawingError
        The error to raise, naming what the drawing holds instead.

    Examples
    --------
    >>> print(nothing_found([], (), where="top.dxf"))  # doctest: +ELLIPSIS
    top.dxf: model space holds no closed outline and no mesh; it is empty; draw each outline as ...
    """
    held = "; ".join(
        f"{tally.what} ({tally.count}){': ' if tally.why else ''}{tally.why}" for tally in skipped
    )
    text = "model space holds no closed outline and no mesh; "
    text += f"it holds {held}" if held else "it is empty"
    told = [note.text for note in doubts if note.code is NoteCode.SKIPPED]
    text = "; ".join([text, *told])
    if not told and all(tally.why in {*QUIET, ACIS} for tally in skipped):
        text += (
            "; draw each outline as a closed polyline: ACIS bodies are not read, and some exports "
            "drop them, so explode a REGION to polylines, and export a 3DSOLID as STL"
        )
    if chosen:
        return LayerError(f"on the layers asked for ({', '.join(chosen)}), {text}", where=where)
    return OutlineError(text, where=where)
