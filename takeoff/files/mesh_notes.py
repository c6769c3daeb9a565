"""Doubts about a mesh that a person must see."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from takeoff.files.drawing import DrawingUnit
from takeoff.geometry.mesh_rules import MeshRules
from takeoff.geometry.repairs import Defect, Repair
from takeoff.geometry.solids import MeshReport
from takeoff.notes import Note, NoteCode

METRE = DrawingUnit("m", 1.0, "told")

_CODES = {Defect.WINDING: NoteCode.WINDING, Defect.INSIDE_OUT: NoteCode.INSIDE_OUT}


def mesh_notes(
    report: MeshReport,
    *,
    where: str,
    unit: DrawingUnit = METRE,
    rules: MeshRules = MeshRules(),
) -> tuple[Note, ...]:
    """Put what is odd about a mesh into sentences.

    Parameters
    ----------
    report : MeshReport
        Of the mesh.
    where : str
        File or piece.
    unit : DrawingUnit, optional
        Unit that coordinates are written in: the one of the drawing.
    rules : MeshRules, optional
        From when on the rounding of coordinates matters.

    Returns
    -------
    tuple of Note
        Nothing for a clean, closed mesh.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mending import mend
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.solids import examine_mesh
    >>> box = trimesh.creation.box((1.0, 1.0, 0.1))
    >>> box.update_faces(box.face_normals[:, 2] < 0.5)
    >>> lid_less = examine_mesh(mend(Mesh.from_trimesh(box, unit="m")))
    >>> [note.code.value for note in mesh_notes(lid_less, where="tray.stl")]
    ['not-closed']
    """
    return tuple(
        Note(code, text, where)
        for code, text in [
            *_openness(report, unit),
            *_bodies(report),
            *_coarseness(report, rules),
        ]
    )


def repair_notes(repairs: Iterable[Repair], *, where: str) -> tuple[Note, ...]:
    """Name every kind of defect that was put right.

    Parameters
    ----------
    repairs : iterable of Repair
        Of a mesh.
    where : str
        File or piece.

    Returns
    -------
    tuple of Note
        One for each kind.

    Examples
    --------
    >>> repair_notes([Repair(Defect.DUPLICATE, 3)], where="top.stl")[0].text
    '3 duplicate facets dropped'
    """
    return tuple(
        Note(_CODES.get(repair.what, NoteCode.MENDED), f"{repair.count} {repair.what}", where)
        for repair in repairs
    )


def place(point_m: Iterable[float], unit: DrawingUnit = METRE) -> str:
    """Write coordinates for a message.

    Parameters
    ----------
    point_m : iterable of three float
        A point. [m]
    unit : DrawingUnit, optional
        Unit to write it in: the one of the drawing, so that it can be found there.

    Returns
    -------
    str
        Its coordinates to four decimals.

    Examples
    --------
    >>> place((1.0, 0.25, 0.00004))
    '(1, 0.25, 0) m'
    >>> place((0.0254, 0.0, 0.0), DrawingUnit("in", 0.0254, "told"))
    '(1, 0, 0) in'
    """
    values = (float(value_m) / unit.metres_per_unit for value_m in point_m)
    return f"({', '.join(f'{round(value, 4) + 0.0:.10g}' for value in values)}) {unit.name}"


def _openness(report: MeshReport, unit: DrawingUnit) -> Iterator[tuple[NoteCode, str]]:
    """Edges that are open or torn, and parts that have one side only."""
    if report.first_open_m is not None:
        small = f", {report.small_holes} of the holes are small" if report.small_holes else ""
        text = (
            f"{report.open_edges} open edges, the first at "
            f"{place(report.first_open_m, unit)}{small}: the surface has an area, but no volume"
        )
        yield NoteCode.NOT_CLOSED, text
    if report.torn_edges:
        text = (
            "three or more facets meet along an edge and do not pair off, so the surface "
            "encloses no clear volume; an inner wall may be counted in the area"
        )
        yield NoteCode.NOT_CLOSED, text
    if not report.oriented:
        yield NoteCode.WINDING, "a part of the surface is one-sided and has no outside"


def _bodies(report: MeshReport) -> Iterator[tuple[NoteCode, str]]:
    """Cavities, and bodies that may overlap."""
    if report.cavities:
        yield NoteCode.CAVITY, f"{report.cavities} cavities inside are taken off the volume"
    if report.unexamined:
        text = f"{report.unexamined} pairs of bodies were not tried for overlap; no volume is given"
        yield NoteCode.OVERLAP, text


def _coarseness(report: MeshReport, rules: MeshRules) -> Iterator[tuple[NoteCode, str]]:
    """Coordinates so far from the origin that their last digit shows in the measures."""
    size_m, of_what = report.thickness_m, "mean thickness"
    if size_m is None:
        size_m, of_what = report.area_m2**0.5, "size"
    if report.resolution_m > rules.coarse_share * size_m:
        text = (
            f"coordinates reach {report.farthest_m:.4g} m from the origin and are stored rounded "
            f"to steps of {1e3 * report.resolution_m:.2g} mm, which is "
            f"{report.resolution_m / size_m:.1%} of the {of_what} of {1e3 * size_m:.3g} mm; "
            "move the piece near the origin and export again"
        )
        yield NoteCode.COARSE_COORDINATES, text
