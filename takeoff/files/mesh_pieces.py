"""Meshes of a drawing mended, split into pieces, named and doubted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from takeoff.errors import MeshError
from takeoff.files.drawing import DrawingUnit, DrawnPiece, Tally
from takeoff.files.drawing_unit import size_notes
from takeoff.files.mesh_notes import mesh_notes, place, repair_notes
from takeoff.geometry.facets import bounds_m
from takeoff.geometry.mending import MendedMesh, mend
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.mesh_rules import MeshRules, rules_for_size
from takeoff.geometry.repairs import summed
from takeoff.geometry.solids import examine_mesh
from takeoff.geometry.splitting import split_solids
from takeoff.notes import Note, NoteCode


@dataclass(frozen=True, slots=True, eq=False)
class DrawnMesh:
    """A mesh as drawn, in metres, with its name in the drawing.

    Parameters
    ----------
    name : str
        Empty where it has none.
    mesh : Mesh
        Not mended yet.
    resolution_m : float, default 0.0
        Step of the stored coordinates at its far end. [m]
    welded : bool, default False
        True where no point is repeated exactly.
    layer : str or None
        Drawing layer.
    """

    name: str
    mesh: Mesh
    resolution_m: float = 0.0
    welded: bool = False
    layer: str | None = None


@dataclass(frozen=True, slots=True, eq=False)
class MeshPieces:
    """The pieces that some meshes are.

    Parameters
    ----------
    pieces : tuple of DrawnPiece
        One for each solid that stands clear of the others.
    mended : tuple of Tally
        Defects put right.
    notes : tuple of Note
        Doubts.
    """

    pieces: tuple[DrawnPiece, ...]
    mended: tuple[Tally, ...]
    notes: tuple[Note, ...]


def mesh_pieces(
    meshes: Sequence[DrawnMesh],
    unit: DrawingUnit,
    *,
    stem: str,
    where: str,
    rules: MeshRules = MeshRules(),
) -> MeshPieces:
    """Mend meshes and make pieces of them.

    Parameters
    ----------
    meshes : sequence of DrawnMesh
        As drawn; at least one.
    unit : DrawingUnit
        Unit of the drawing.
    stem : str
        Name for pieces that have none.
    where : str
        The file.
    rules : MeshRules, optional
        Tolerances.

    Returns
    -------
    MeshPieces
        A mesh of several closed solids clear of each other gives several pieces; named
        meshes that only together close give one.

    Raises
    ------
    MeshError
        If a mesh has no area, a body no thickness, or bodies of one mesh run into each
        other.

    Examples
    --------
    >>> import trimesh
    >>> box = Mesh.from_trimesh(trimesh.creation.box((1.0, 1.0, 1.0)), unit="m")
    >>> metre = DrawingUnit("m", 1.0, "told")
    >>> found = mesh_pieces([DrawnMesh("", box)], metre, stem="plinth", where="plinth.stl")
    >>> found.pieces[0].name, found.pieces[0].report.volume_m3
    ('plinth', 1.0)
    """
    rules = rules_for_size(_overall_m(meshes), rules)
    try:
        mended = [_mended(mesh, rules) for mesh in meshes]
        together = _together(meshes, mended, rules)
    except MeshError as error:
        raise error.at(where) from None
    notes = []
    if together is not None:
        text = f"{len(meshes)} solids that share their rims are one closed surface"
        notes.append(Note(NoteCode.NAME_CHANGED, text, where))
        meshes, mended = [replace(meshes[0], name="")], [together]
    solids = [
        (drawn, solid)
        for drawn, whole in zip(meshes, mended, strict=True)
        for solid in _solids(whole, unit, where, rules)
    ]
    names = _numbered([drawn.name or stem for drawn, _ in solids])
    repairs = summed(repair for whole in mended for repair in whole.repairs)
    notes += repair_notes(repairs, where=where)
    pieces, extents_m = [], {}
    for name, (drawn, solid) in zip(names, solids, strict=True):
        report = examine_mesh(solid, rules=rules)
        pieces.append(DrawnPiece(name, solid.mesh, drawn.layer, report, solid))
        about = where if len(solids) == 1 else f"{where}: {name}"
        notes += mesh_notes(report, where=about, unit=unit, rules=rules)
        low_m, high_m = report.bounds_m
        extents_m[name] = np.subtract(high_m, low_m).tolist()
    notes += size_notes(extents_m, unit, where=where)
    tallies = tuple(Tally(repair.what.value, repair.count) for repair in repairs)
    return MeshPieces(tuple(pieces), tallies, tuple(notes))


def _overall_m(meshes: Sequence[DrawnMesh]) -> float:
    """Give the largest extent of some meshes together."""
    bounds = [bounds_m(drawn.mesh) for drawn in meshes if len(drawn.mesh.points_m)]
    if not bounds:
        return 0.0
    lows_m, highs_m = zip(*bounds, strict=True)
    return float((np.max(highs_m, axis=0) - np.min(lows_m, axis=0)).max())


def _mended(drawn: DrawnMesh, rules: MeshRules) -> MendedMesh:
    """One mesh mended by itself."""
    return mend(drawn.mesh, welded=drawn.welded, resolution_m=drawn.resolution_m, rules=rules)


def _together(
    meshes: Sequence[DrawnMesh], mended: Sequence[MendedMesh], rules: MeshRules
) -> MendedMesh | None:
    """All meshes mended as one, where their rims then close; else nothing."""
    rims = sum(len(whole.edges.open_facet) for whole in mended)
    if len(meshes) == 1 or not rims:
        return None
    offsets = np.cumsum([0, *(len(drawn.mesh.points_m) for drawn in meshes)])
    triangles = [
        drawn.mesh.triangles + np.int32(offset)
        for drawn, offset in zip(meshes, offsets, strict=False)
    ]
    whole = mend(
        Mesh(
            np.concatenate([drawn.mesh.points_m for drawn in meshes]),
            np.concatenate(triangles),
        ),
        resolution_m=max(drawn.resolution_m for drawn in meshes),
        rules=rules,
    )
    return whole if len(whole.edges.open_facet) < rims else None


def _solids(
    whole: MendedMesh, unit: DrawingUnit, where: str, rules: MeshRules
) -> tuple[MendedMesh, ...]:
    """Split a mesh into solids; refuse it where two share material, or one has none."""
    flat = np.flatnonzero(whole.bodies.flat(within_m=rules.weld_m))
    if len(flat):
        middle = (whole.bodies.low_m[flat[0]] + whole.bodies.high_m[flat[0]]) / 2.0
        raise MeshError(
            f"{len(flat)} closed bodies have no thickness, the first near {place(middle, unit)}: "
            "the surface is drawn from both sides and would count twice; keep one of them",
            where=where,
        )
    if not whole.roles.overlapping:
        return split_solids(whole)
    one, other = whole.roles.overlapping[0]
    low = np.maximum(whole.bodies.low_m[one], whole.bodies.low_m[other])
    high = np.minimum(whole.bodies.high_m[one], whole.bodies.high_m[other])
    middle = (low + high) / 2.0
    raise MeshError(
        f"bodies overlap: {len(whole.roles.overlapping)} pairs run into each other or lie "
        f"one inside the other, the first near {place(middle, unit)}, and their common material "
        "would count twice; unite them in CAD (or subtract the inner one), and export again",
        where=where,
    )


def _numbered(names: Sequence[str]) -> list[str]:
    """Put a number behind every name that occurs more than once."""
    total = Counter(names)
    seen: Counter[str] = Counter()
    numbered = []
    for name in names:
        seen[name] += 1
        numbered.append(f"{name}-{seen[name]}" if total[name] > 1 else name)
    return numbered
