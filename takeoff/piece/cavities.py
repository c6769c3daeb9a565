"""The cavities of a form: what is cast in it, taken out of the block or the boards around."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import SurfaceError
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.welding import compacted
from takeoff.piece.cavity_rules import CavityRules
from takeoff.piece.directions import direction_text
from takeoff.piece.flats import Flats
from takeoff.piece.plan_axes import cosines_ratio

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]

_INSTEAD = "model the surface that is cast as --kind open, or the piece itself as --kind piece"


@dataclass(frozen=True, slots=True, eq=False)
class Cavities:
    """The cavities that open one way.

    Parameters
    ----------
    meshes : tuple of Mesh
        The surface cast in each, its normals out of the finished piece; the largest first.
    outside_m2 : float
        Area of the rest of the form: its rim and its outside. [m²]
    left_out : int
        Holes in the rim too small to be cavities.
    """

    meshes: tuple[Mesh, ...]
    outside_m2: float
    left_out: int


def cavities_of(
    flats: Flats, show_direction: FloatArray, *, rules: CavityRules = CavityRules()
) -> Cavities:
    """Take the cavities out of a form.

    Parameters
    ----------
    flats : Flats
        The form, closed.
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the finished show face: from the opening of the form to its
        floor. [-]
    rules : CavityRules, optional
        How flat the rim is.

    Returns
    -------
    Cavities
        What is cast.

    Raises
    ------
    SurfaceError
        If the form has no flat rim square to the direction, something stands above it, or the
        inside hangs together with the outside: an open end, a hole, a second part.

    Notes
    -----
    Without the rim the surface falls apart: what holds the outermost point behind the floor is
    the outside, the rest that borders the rim are the cavities.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.piece.flats import flats_of
    >>> block, plug = trimesh.creation.box((1.0, 0.8, 0.3)), trimesh.creation.box((0.8, 0.6, 0.3))
    >>> plug.apply_translation((0.0, 0.0, 0.1))  # doctest: +ELLIPSIS
    <trimesh.Trimesh(...)>
    >>> form = block.difference(plug, engine="manifold")
    >>> flats = flats_of(Mesh.from_trimesh(form, unit="m"))
    >>> cavities_of(flats, np.array([0.0, 0.0, -1.0])).meshes
    (Mesh(points=8, triangles=10),)
    """
    heights_m = flats.mesh.points_m @ -show_direction
    rim = _rim(flats, show_direction, heights_m, rules)
    region = flats.regions(~rim)
    outside = _outside(flats, region, heights_m)
    inside = _beside_rim(flats, region, rim) - {outside}
    if not inside:
        raise SurfaceError(_closed_text(flats, rim, show_direction))
    areas_m2 = np.bincount(region, np.where(rim, 0.0, flats.area_m2), minlength=flats.count)
    order = sorted(inside, key=lambda number: (-round(float(areas_m2[number]), 9), number))
    kept = [
        number
        for number in order
        if areas_m2[number] >= rules.least_cavity_share * areas_m2[order[0]]
    ]
    meshes = tuple(_cast(flats, region == number) for number in kept)
    outside_m2 = float(flats.area_m2.sum() - areas_m2[kept].sum())
    return Cavities(meshes, outside_m2, len(order) - len(kept))


def _rim(
    flats: Flats, show_direction: FloatArray, heights_m: FloatArray, rules: CavityRules
) -> BoolArray:
    """Tell the flats of the rim: the plane that nothing stands above."""
    facing = cosines_ratio(flats.normals, -show_direction) > np.cos(np.radians(rules.rim_deg))
    low_m = np.full(flats.count, np.inf)
    for corner in range(3):
        np.minimum.at(low_m, flats.of_facet, heights_m[flats.mesh.triangles[:, corner]])
    top_m, extent_m = float(heights_m.max()), float(np.ptp(heights_m))
    within_m = max(rules.rim_ratio * extent_m, rules.rim_m)
    rim: BoolArray = facing & (low_m > top_m - within_m)
    if not rim.any():
        raise SurfaceError(
            "the form has no flat rim square to the show direction "
            f"{direction_text(show_direction)}, so that the cavity cannot be told from the "
            f"outside; tell the direction from the opening to the floor, or {_INSTEAD}"
        )
    return rim


def _outside(flats: Flats, region: IntArray, heights_m: FloatArray) -> int:
    """Give the number of the region that holds the point farthest behind the floor."""
    point = int(heights_m.argmin())
    facet = int((flats.mesh.triangles == point).any(axis=1).argmax())
    return int(region[flats.of_facet[facet]])


def _beside_rim(flats: Flats, region: IntArray, rim: BoolArray) -> set[int]:
    """Numbers of the regions that border the rim."""
    joints = flats.joints
    left, right = rim[joints.left], rim[joints.right]
    beside = np.concatenate([joints.right[left & ~right], joints.left[right & ~left]])
    return set(region[beside].tolist())


def _cast(flats: Flats, chosen: BoolArray) -> Mesh:
    """Take the surface of a cavity, turned to look out of what is cast."""
    facets = chosen[flats.of_facet]
    turned = np.ascontiguousarray(flats.mesh.triangles[facets][:, ::-1])
    return compacted(Mesh(flats.mesh.points_m, turned))


def _closed_text(flats: Flats, rim: BoolArray, show_direction: FloatArray) -> str:
    """Say why no cavity comes apart from the outside."""
    way = direction_text(-show_direction)
    hollow = (cosines_ratio(flats.normals, -show_direction) > 0.5) & ~rim
    if not hollow.any():
        return (
            f"the form has nothing hollow that opens towards {way}; tell the direction from the "
            f"opening to the floor, or {_INSTEAD}"
        )
    return (
        f"the cavity that opens towards {way} hangs together with the outside of the form: it is "
        "open at an end or has a hole, its rim is not flat, something stands above its rim, or it "
        f"is one part of several; close it or cut it off at the rim, or {_INSTEAD}"
    )
