"""Layers on every facet of a mesh, for scripts that know themselves what is cast."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from takeoff.errors import LayerVolumeError
from takeoff.geometry.layering import Grown, Layering, layer_up
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.skin_edges import SkinEdges, skin_edges
from takeoff.geometry.sums import dot
from takeoff.notes import Note
from takeoff.piece.layer_rules import LayerRules
from takeoff.piece.meeting_notes import meeting_notes
from takeoff.piece.thickness import Thickness, read_thickness

FloatArray = NDArray[np.float64]

LAYERS = ("face_coat", "backer")


@dataclass(frozen=True, slots=True)
class LayerVolumes:
    """The layers on a mesh.

    Parameters
    ----------
    volume_m3 : mapping of str to float
        Volume of ``"face_coat"`` and ``"backer"``. [m³]
    flat_volume_m3 : mapping of str to float
        Area times thickness, for comparison. [m³]
    centroid_m : mapping of str to tuple of float
        Centroid of each layer that is there. [m]
    uncertainty_share : float
        How far the volume of both may be off; 0 where it is exact. [-]
    area_m2 : float
        Area of the mesh. [m²]
    inner_area_m2 : float
        Area of the inner face of the backer. [m²]
    notes : tuple of Note
        Where layers meet, and what else a person must see.
    """

    volume_m3: Mapping[str, float]
    flat_volume_m3: Mapping[str, float]
    centroid_m: Mapping[str, tuple[float, float, float]]
    uncertainty_share: float
    area_m2: float
    inner_area_m2: float
    notes: tuple[Note, ...]


def layer_volumes(
    mesh: Mesh,
    *,
    face_coat: str | None = None,
    backer: str | None = None,
    face_coat_m: ArrayLike | None = None,
    backer_m: ArrayLike | None = None,
    rules: LayerRules = LayerRules(),
) -> LayerVolumes:
    """Compute the true volume of a face coat and a backer on a mesh.

    Parameters
    ----------
    mesh : Mesh
        What is cast, all of it: every triangle carries both layers, which grow against its
        normal and end square at open edges.
    face_coat, backer : str, optional
        Thickness of the layers, such as ``"4 mm"``; the backer may ``"fill"`` a closed mesh.
    face_coat_m, backer_m : array_like of float, shape (k,), optional
        Thickness on every triangle, instead. [m]
    rules : LayerRules, optional
        What makes a mesh unfit.

    Returns
    -------
    LayerVolumes
        Volumes, centroids, and how far they may be off.

    Raises
    ------
    QuantityError
        If a thickness cannot be read.
    LayerVolumeError
        If a thickness is negative or missing on a triangle, if the triangles are not joined or
        not wound one way, or if a mesh to be filled is not closed.

    Examples
    --------
    >>> import trimesh
    >>> tray = trimesh.creation.box((400, 300, 50))
    >>> tray.update_faces(tray.face_normals[:, 2] > -0.5)
    >>> laid = layer_volumes(Mesh.from_trimesh(tray, unit="mm"), face_coat="4 mm", backer="16 mm")
    >>> exact_m3 = 0.4 * 0.3 * 0.05 - 0.36 * 0.26 * 0.03
    >>> round(sum(laid.volume_m3.values()) / exact_m3, 9), laid.uncertainty_share
    (1.0, 0.0)
    """
    skin = skin_edges(mesh)
    _refuse_unfit(skin, rules)
    first_m = _thicknesses_m("face_coat", face_coat, face_coat_m, skin)
    fills = backer is not None and read_thickness(backer).fill
    second_m = _thicknesses_m("backer", None if fills else backer, backer_m, skin)
    solid_m3 = _solid_m3(skin)
    one_class = np.broadcast_to(1.0, (len(first_m), 1))
    laid = layer_up(skin, one_class, first_m, second_m, solid_m3=solid_m3 or np.inf)
    if fills:
        laid = _filled(laid, skin, solid_m3)
    area_m2 = skin.facets.area_m2
    grown = dict(zip(LAYERS, (laid.first, laid.second), strict=True))
    flat_m3 = (dot(area_m2, first_m), dot(area_m2, second_m))
    return LayerVolumes(
        volume_m3={name: float(layer.volume_m3.sum()) for name, layer in grown.items()},
        flat_volume_m3=dict(zip(LAYERS, flat_m3, strict=True)),
        centroid_m={
            name: middle_m
            for name, layer in grown.items()
            if (middle_m := layer.centroid_m()) is not None
        },
        uncertainty_share=laid.uncertainty_share,
        area_m2=float(area_m2.sum()),
        inner_area_m2=float(laid.inner_m2.sum()),
        notes=tuple(meeting_notes(laid)),
    )


def _thicknesses_m(
    layer: str, text: str | None, given_m: ArrayLike | None, skin: SkinEdges
) -> FloatArray:
    """Thickness of a layer on every facet, from a written one or an array."""
    count = len(skin.mesh.triangles)
    if text is not None and given_m is not None:
        raise LayerVolumeError(f"the {layer} is given twice; give {layer} or {layer}_m")
    if given_m is None:
        told = Thickness(0.0) if text is None else read_thickness(text)
        if told.fill:
            raise LayerVolumeError("only the backer can fill a piece; give the face coat in mm")
        return np.broadcast_to(told.aimed_m, count)
    try:
        thickness_m = np.asarray(given_m, dtype=np.float64)
    except (TypeError, ValueError):
        raise LayerVolumeError(
            f"{layer}_m is no array of numbers; give one thickness in metres for each of the "
            f'{count} triangles, or {layer} like "4 mm"'
        ) from None
    if thickness_m.shape != (count,):
        raise LayerVolumeError(
            f"{layer}_m has the shape {thickness_m.shape}, but the mesh has {count} triangles; "
            "give one thickness for each"
        )
    if not (np.isfinite(thickness_m).all() and (thickness_m >= 0.0).all()):
        raise LayerVolumeError(f"{layer}_m holds a value that is no thickness: below 0, or none")
    return thickness_m


def _refuse_unfit(skin: SkinEdges, rules: LayerRules) -> None:
    """Refuse a mesh whose facets do not hang together."""
    edges = skin.edges
    if not len(skin.mesh.triangles):
        raise LayerVolumeError("the mesh has no triangles; no layer to lay")
    if len(edges.open_facet) > rules.loose_share * (len(edges.left) + len(edges.open_facet)):
        used_m = skin.mesh.points_m[np.unique(skin.mesh.triangles)]
        if len(np.unique(used_m, axis=0)) < len(used_m):
            raise LayerVolumeError(
                "the triangles do not share their points, so that no edge has two; merge equal "
                "points first (trimesh: merge_vertices)"
            )
    if edges.same_way.any():
        raise LayerVolumeError(
            f"{int(edges.same_way.sum())} edges are wound the same way by both their triangles, "
            "so that it cannot be told to which side the layers grow; make the normals consistent"
        )


def _solid_m3(skin: SkinEdges) -> float | None:
    """Volume of a closed mesh wound outward; None of any other."""
    volume_m3 = skin.facets.enclosed_m3
    if volume_m3 is None or not skin.edges.sound:
        return None
    return volume_m3 if volume_m3 > 0.0 else None


def _filled(laid: Layering, skin: SkinEdges, solid_m3: float | None) -> Layering:
    """Put what the face coat leaves of a solid for the backer."""
    from dataclasses import replace

    if solid_m3 is None:
        raise LayerVolumeError(
            "the mesh is not closed, so that there is nothing to fill; give the backer in mm"
        )
    moment_m4 = solid_moment_m4(skin)
    rest_m3 = max(solid_m3 - float(laid.first.volume_m3.sum()), 0.0)
    second = Grown(np.array([rest_m3]), moment_m4 - laid.first.moment_m4)
    return replace(laid, second=second, inner_m2=np.zeros(1), edge_sum_m3=solid_m3)


def solid_moment_m4(skin: SkinEdges) -> FloatArray:
    """Give the first moment of the body within a closed mesh.

    Parameters
    ----------
    skin : SkinEdges
        The closed mesh.

    Returns
    -------
    ndarray of float, shape (3,)
        The moment. [m⁴]

    Examples
    --------
    >>> import trimesh
    >>> box = trimesh.creation.box(bounds=[[0, 0, 0], [2, 2, 2]])
    >>> solid_moment_m4(skin_edges(Mesh.from_trimesh(box, unit="m"))).round(9).tolist()
    [8.0, 8.0, 8.0]
    """
    mesh = skin.mesh
    middle_m = mesh.points_m.mean(axis=0)
    corners_m = mesh.points_m[mesh.triangles] - middle_m
    height_m = np.einsum("ij,ij->i", corners_m[:, 0], skin.facets.normals)
    tetra_m3 = height_m * skin.facets.area_m2 / 3.0
    moment_m4: FloatArray = tetra_m3 @ corners_m.sum(axis=1) / 4.0 + tetra_m3.sum() * middle_m
    return moment_m4
