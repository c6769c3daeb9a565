"""The face coat and the backer laid on a piece: their true volume, class by class."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import LayerVolumeError
from takeoff.geometry.dihedrals import edge_lengths_m, turns_deg
from takeoff.geometry.edges import edge_table
from takeoff.geometry.facets import facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.offsets import LayerFront, OffsetCoefficients, front_m3, offset_coefficients
from takeoff.geometry.sums import summed
from takeoff.notes import Note, NoteCode
from takeoff.piece.surfaces import SurfaceClass, Surfaces

CAST_CLASSES = (SurfaceClass.SHOW_FACE, SurfaceClass.RETURN, SurfaceClass.UPRIGHT)


class Layer(StrEnum):
    """A layer of the piece, in the order it is placed."""

    FACE_COAT = "face_coat"
    BACKER = "backer"


@dataclass(frozen=True, slots=True)
class LayerVolume:
    """One layer on one class of surface.

    Parameters
    ----------
    layer : Layer
        Which layer.
    surface_class : SurfaceClass
        On which class of surface.
    thickness_m : float
        Thickness. [m]
    area_m2 : float
        Area covered. [m²]
    volume_m3 : float
        True volume. [m³]
    """

    layer: Layer
    surface_class: SurfaceClass
    thickness_m: float
    area_m2: float
    volume_m3: float


@dataclass(frozen=True, slots=True)
class LaidLayers:
    """All layers of a piece.

    Parameters
    ----------
    rows : tuple of LayerVolume
        Layer by layer, class by class; empty where no thickness was given.
    flat_m3 : mapping of Layer to float
        Area times thickness, for comparison. [m³]
    notes : tuple of Note
        The difference explained, and what may make the volume inexact.
    """

    rows: tuple[LayerVolume, ...]
    flat_m3: Mapping[Layer, float]
    notes: tuple[Note, ...]

    def volume_m3(self, layer: Layer) -> float:
        """Give the true volume of one layer over all classes.

        Parameters
        ----------
        layer : Layer
            Which layer.

        Returns
        -------
        float
            Its volume, 0 where it was not asked for. [m³]

        Examples
        --------
        >>> LaidLayers((), {}, ()).volume_m3(Layer.BACKER)
        0.0
        """
        return float(sum(row.volume_m3 for row in self.rows if row.layer is layer))


def lay(
    surfaces: Surfaces,
    *,
    face_coat_m: float = 0.0,
    backer_m: float = 0.0,
    solid_m3: float | None = None,
    rules: OffsetRules = OffsetRules(),
) -> LaidLayers:
    """Lay a face coat and a backer on the cast surfaces of a piece.

    Parameters
    ----------
    surfaces : Surfaces
        The classified piece.
    face_coat_m : float, default 0
        Thickness of the face coat; 0 for none. [m]
    backer_m : float, default 0
        Thickness of the backer behind it; 0 for none. [m]
    solid_m3 : float, optional
        Volume of the piece where it is modelled as a solid. [m³]
    rules : OffsetRules, optional
        When the volume is noted or refused as inexact.

    Returns
    -------
    LaidLayers
        Volume of each layer on each class, beside area times thickness.

    Raises
    ------
    LayerVolumeError
        If a thickness is negative, or the layers are too thick for the shape.

    Examples
    --------
    >>> import numpy as np, trimesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.surfaces import ModelKind
    >>> box = trimesh.creation.box((0.4, 0.3, 0.05))
    >>> box.update_faces(box.face_normals[:, 2] > -0.5)
    >>> tray = classify(Mesh.from_trimesh(box, unit="m"), kind=ModelKind.OPEN,
    ...                 show_direction=np.array([0.0, 0.0, 1.0]))
    >>> laid = lay(tray, face_coat_m=0.004, backer_m=0.016)
    >>> exact_m3 = 0.4 * 0.3 * 0.05 - 0.36 * 0.26 * 0.03
    >>> total_m3 = laid.volume_m3(Layer.FACE_COAT) + laid.volume_m3(Layer.BACKER)
    >>> round(total_m3 / exact_m3, 9)
    1.0
    """
    if min(face_coat_m, backer_m) < 0.0:
        raise LayerVolumeError("a layer cannot be thinner than 0; give a thickness like 4 mm")
    total_m = face_coat_m + backer_m
    if total_m == 0.0:
        return LaidLayers((), {}, ())
    skin, shares = cast_skin(surfaces)
    terms = offset_coefficients(skin, rules=rules)
    rim_m = _rim_terms_m(surfaces)
    face, whole = (
        _with_rim(front_m3(terms, depth_m, rules=rules), rim_m, depth_m)
        for depth_m in (face_coat_m, total_m)
    )
    notes = _trust_notes(whole, total_m, solid_m3, rules)
    rows: list[LayerVolume] = []
    flat: dict[Layer, float] = {}
    for layer, thickness_m, facet_m3 in (
        (Layer.FACE_COAT, face_coat_m, face.facet_m3),
        (Layer.BACKER, backer_m, whole.facet_m3 - face.facet_m3),
    ):
        if thickness_m > 0.0:
            made = _rows_of(layer, thickness_m, terms.area_m2, facet_m3, shares)
            rows.extend(made)
            flat[layer] = sum(row.area_m2 * row.thickness_m for row in made)
    notes.append(_difference_note(terms, whole, total_m, rules))
    return LaidLayers(tuple(rows), flat, tuple(notes))


def cast_skin(surfaces: Surfaces) -> tuple[Mesh, NDArray[np.float64]]:
    """Take the facets that are cast against the form out of a classified piece.

    Parameters
    ----------
    surfaces : Surfaces
        The classified piece.

    Returns
    -------
    tuple of Mesh and ndarray of float, shape (facets, 3)
        The skin as an open surface, and the share of each facet that is show face, return
        and upright. [-]

    Raises
    ------
    LayerVolumeError
        If nothing is cast against the form.

    Examples
    --------
    >>> import numpy as np, trimesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.surfaces import ModelKind
    >>> slab = classify(Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m"),
    ...                 kind=ModelKind.PIECE, show_direction=np.array([0.0, 0.0, 1.0]))
    >>> len(cast_skin(slab)[0].triangles)
    10
    """
    order = list(SurfaceClass)
    shares = surfaces.shares[:, [order.index(kind) for kind in CAST_CLASSES]]
    cast = _is_cast(surfaces)
    if not cast.any():
        raise LayerVolumeError("nothing of the piece is cast against the form; no layer to lay")
    return Mesh(surfaces.mesh.points_m, surfaces.mesh.triangles[cast]), shares[cast]


def _is_cast(surfaces: Surfaces) -> NDArray[np.bool_]:
    """Tell the facets that are cast against the form."""
    back = list(SurfaceClass).index(SurfaceClass.BACK)
    return np.asarray(surfaces.shares[:, back] <= 0.5)


def _rim_terms_m(surfaces: Surfaces) -> NDArray[np.float64]:
    """Give what the back plane adds to or takes off the square end of each cast facet's layer.

    Where a wall meets the back of a solid at a turn other than a right angle, the layer ends
    in that plane: a wedge of half the square of the thickness by the tangent of the difference.
    """
    cast = _is_cast(surfaces)
    mesh = surfaces.mesh
    edges = edge_table(mesh)
    turn_deg = turns_deg(mesh, facets_of(mesh), edges)
    rim = (cast[edges.left] != cast[edges.right]) & (turn_deg > 45.0) & (turn_deg < 135.0)
    wedge = -np.tan(np.radians(turn_deg - 90.0)) / 2.0 * edge_lengths_m(mesh, edges)
    facet = np.where(cast[edges.left], edges.left, edges.right)
    return summed(facet[rim], wedge[rim], len(cast))[cast]


def _with_rim(front: LayerFront, rim_m: NDArray[np.float64], depth_m: float) -> LayerFront:
    return LayerFront(front.facet_m3 + rim_m * depth_m**2, front.error_m3)


def _rows_of(
    layer: Layer,
    thickness_m: float,
    area_m2: NDArray[np.float64],
    facet_m3: NDArray[np.float64],
    shares: NDArray[np.float64],
) -> list[LayerVolume]:
    """One row for each class that the layer covers."""
    rows = []
    for column, surface_class in enumerate(CAST_CLASSES):
        covered_m2 = float(area_m2 @ shares[:, column])
        if covered_m2 > 0.0:
            volume_m3 = float(facet_m3 @ shares[:, column])
            rows.append(LayerVolume(layer, surface_class, thickness_m, covered_m2, volume_m3))
    return rows


def _trust_notes(
    whole: LayerFront, total_m: float, solid_m3: float | None, rules: OffsetRules
) -> list[Note]:
    """Refuse layers too thick for the shape; note what makes their volume inexact."""
    volume_m3 = whole.volume_m3
    if solid_m3 is not None and volume_m3 > solid_m3 * (1.0 + rules.note_share):
        raise LayerVolumeError(
            f"layers of {total_m * 1e3:g} mm would take {volume_m3 * 1e3:.2f} L, more than the "
            f"{solid_m3 * 1e3:.2f} L of the solid piece: it is thinner than they are together; "
            "give thinner layers"
        )
    share = whole.error_m3 / volume_m3
    if share > rules.refuse_share:
        raise LayerVolumeError(
            f"layers of {total_m * 1e3:g} mm are thicker than parts of the shape can hold (ribs, "
            "flutes or rims narrower than the layers), so that their volume could be "
            f"wrong by about {share * 100.0:.1f} %; give thinner layers, or a model without them"
        )
    if share > rules.note_share:
        text = (
            f"layers of {total_m * 1e3:g} mm are thicker than small parts of the shape "
            f"can hold; the volume may be off by about {share * 100.0:.1f} %"
        )
        return [Note(NoteCode.THICK_FOR_SHAPE, text)]
    return []


def _difference_note(
    terms: OffsetCoefficients, whole: LayerFront, total_m: float, rules: OffsetRules
) -> Note:
    """Say why the true volume is not area times thickness."""
    flat_m3 = float(terms.area_m2.sum()) * total_m
    true_m3 = whole.volume_m3
    arris_m3 = -float(terms.arris_m.sum()) * total_m**2
    inside_m3 = float(terms.inside_m.sum()) * total_m**2
    off = flat_m3 / true_m3 - 1.0
    much = (
        f"{abs(off) * 100.0:.1f} % too {'much' if off > 0 else 'little'}"
        if abs(off) >= rules.note_share
        else "right"
    )
    return Note(
        NoteCode.LAYER_FLAT,
        f"area x thickness gives {flat_m3 * 1e3:.2f} L, true volume {true_m3 * 1e3:.2f} L: "
        f"{much}; layers share {arris_m3 * 1e3:.2f} L at arrises and need "
        f"{inside_m3 * 1e3:.2f} L more at inside corners",
    )
