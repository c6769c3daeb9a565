"""What each return and upright takes, whichever way it is cast: dammed, cored, filled, packed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks
from takeoff.geometry.layering import Layering
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.sums import summed
from takeoff.piece.cast_skin import CastSkin
from takeoff.piece.layers import CAST_CLASSES, LayerVolume, WallLayer
from takeoff.piece.surfaces import Surface, SurfaceClass, Surfaces

FloatArray = NDArray[np.float64]


def wall_layers(
    surfaces: Surfaces,
    cast: CastSkin,
    space: SpaceBehind,
    laid: Layering,
    rows: Sequence[LayerVolume],
) -> tuple[WallLayer, ...]:
    """Give what each return and upright takes.

    Parameters
    ----------
    surfaces : Surfaces
        The classified piece.
    cast : CastSkin
        Its skin that carries layers.
    space : SpaceBehind
        The space behind its show face.
    laid : Layering
        The layers, by class.
    rows : sequence of LayerVolume
        Their rows.

    Returns
    -------
    tuple of WallLayer
        One for each wall that carries layers, in the order of the surfaces.

    Notes
    -----
    Each wall has the layers behind its own facets; what lies behind facets that are part of
    one class and part of another is divided by the area of them. Where the layers are counted,
    those of a class are divided among its walls by area, and its inner face by what the layers
    of the show face leave of their depth.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.laying import lay
    >>> from takeoff.piece.surfaces import ModelKind
    >>> from takeoff.piece.thickness import everywhere
    >>> box = trimesh.creation.box((0.4, 0.3, 0.05))
    >>> box.update_faces(box.face_normals[:, 2] > -0.5)
    >>> tray = classify(Mesh.from_trimesh(box, unit="m"), kind=ModelKind.OPEN,
    ...                 show_direction=np.array([0.0, 0.0, 1.0]))
    >>> walls = lay(tray, backer=everywhere(0.02)).walls
    >>> round(sum(wall.inner_form_m2 for wall in walls), 6), round(walls[0].filled_m3, 6)
    (0.0372, 0.002808)
    """
    bare = {opening.id for opening in surfaces.openings if opening.bare}
    show_m = max(
        (
            sum(row.thickness_m for row in rows if row.surface_class is kind)
            for kind in (SurfaceClass.SHOW_FACE,)
        ),
        default=0.0,
    )
    found: list[WallLayer] = []
    for column, kind in enumerate(CAST_CLASSES):
        walls = [
            surface
            for surface in surfaces.surfaces
            if surface.surface_class is kind and surface.opening not in bare
        ]
        if kind is SurfaceClass.SHOW_FACE or not walls:
            continue
        layers_m3 = float(laid.first.volume_m3[column] + laid.second.volume_m3[column])
        inner_m2 = max(float(laid.inner_m2[column]), 0.0)
        by_facet = laid.by_facet
        if by_facet is None:
            area = _parts([wall.area_m2 for wall in walls])
            inner = _parts([_inner_m2(wall, show_m) for wall in walls])
        else:
            held = _Held.of(walls, cast, column, len(surfaces.mesh.triangles))
            area = _parts(held.sums(by_facet.volume_m3))
            inner = _parts(held.sums(by_facet.inner_m2))
        for wall, inner_share, area_share in zip(walls, inner, area, strict=True):
            filled_m3 = _filled_m3(surfaces, space, laid, wall)
            found.append(
                WallLayer(wall.id, layers_m3 * area_share, inner_m2 * inner_share, filled_m3)
            )
    return tuple(found)


@dataclass(frozen=True, slots=True, eq=False)
class _Held:
    """Which facets of the skin the walls of one class hold.

    The number of the wall stands for each facet, and that behind the last for those of none.
    """

    shares: FloatArray
    wall: NDArray[np.int32]
    lacking_share: list[float]

    @classmethod
    def of(cls, walls: Sequence[Surface], cast: CastSkin, column: int, facets: int) -> _Held:
        shares, count = cast.shares[:, column], len(walls)
        wall_of = np.full(facets, count, dtype=np.int32)
        for number, wall in enumerate(walls):
            wall_of[wall.facets] = number
        held = wall_of[cast.facets]
        own_m2 = summed(held, cast.skin.facets.area_m2 * shares, count + 1)
        area_m2 = np.array([wall.area_m2 for wall in walls])
        return cls(shares, held, _parts(np.maximum(area_m2 - own_m2[:count], 0.0).tolist()))

    def sums(self, values: FloatArray) -> list[float]:
        """Sum over each wall, and divide what no facet of theirs holds by the area they lack."""
        *own, rest = summed(self.wall, values * self.shares, len(self.lacking_share) + 1).tolist()
        return [
            max(one + rest * lacking, 0.0)
            for one, lacking in zip(own, self.lacking_share, strict=True)
        ]


@dataclass(frozen=True, slots=True, eq=False)
class SpaceBehind:
    """The space behind the show face, told for any level.

    Parameters
    ----------
    low_m, high_m : ndarray of float, shape (k,)
        Lowest and highest corner of each facet, in the order of the first. [m]
    seen_m2 : ndarray of float, shape (k,)
        Area of each as seen against the show direction, below 0 where it faces away. [m²]
    corners_m : ndarray of float, shape (n,)
        Height of the points of the mesh. [m]
    triangles : ndarray of int, shape (k, 3)
        The facets, in the same order.
    area_m2 : ndarray of float, shape (k + 1,)
        The area seen, of each and all behind it; 0 at the end. [m²]
    moment_m3 : ndarray of float, shape (k + 1,)
        The same times height. [m³]
    top_m, foot_m : float
        Highest and lowest point of the skin. [m]
    """

    low_m: FloatArray
    high_m: FloatArray
    seen_m2: FloatArray
    corners_m: FloatArray
    triangles: NDArray[np.integer]
    area_m2: FloatArray
    moment_m3: FloatArray
    top_m: float
    foot_m: float

    @classmethod
    def of(cls, surfaces: Surfaces, skin: SkinEdges) -> SpaceBehind:
        """Measure the space behind the show face of a piece.

        Parameters
        ----------
        surfaces : Surfaces
            The classified piece.
        skin : SkinEdges
            The skin that carries layers.

        Returns
        -------
        SpaceBehind
            The space.
        """
        mesh, facets, up = skin.mesh, skin.facets, surfaces.show_direction
        at_m = np.einsum("ij,j->i", mesh.points_m, up)
        low_m, high_m, seen_m2, moment_m3 = (np.empty(len(facets.area_m2)) for _ in range(4))
        for piece in blocks(len(low_m)):
            corners_m = at_m.take(mesh.triangles[piece].T)
            low_m[piece], high_m[piece] = corners_m.min(axis=0), corners_m.max(axis=0)
            seen_m2[piece] = facets.area_m2[piece] * np.einsum("ij,j->i", facets.normals[piece], up)
            moment_m3[piece] = seen_m2[piece] * (corners_m.sum(axis=0) / 3.0)
        order = np.argsort(low_m, kind="stable").astype(np.int32)
        low_m, high_m, seen_m2 = low_m[order], high_m[order], seen_m2[order]
        return cls(
            low_m,
            high_m,
            seen_m2,
            at_m,
            mesh.triangles[order],
            _from_the_end(seen_m2),
            _from_the_end(moment_m3[order]),
            float(high_m.max()),
            float(low_m[0]),
        )

    def filled_m3(self, depth_m: float | None = None) -> float:
        """Give the space down to a level.

        Parameters
        ----------
        depth_m : float, optional
            The level, as a depth behind the highest part of the show face; the foot of the
            deepest wall where it is left out. [m]

        Returns
        -------
        float
            Volume between the skin and that level, the layers included. [m³]

        Notes
        -----
        Each facet stands for the prism between it and the level, below 0 where it faces away,
        as walls do that lean in; of those that pass through the level, the part above it.

        Examples
        --------
        >>> import trimesh
        >>> from takeoff.geometry.mesh import Mesh
        >>> from takeoff.piece.cast_skin import cast_skin
        >>> from takeoff.piece.classifying import classify
        >>> from takeoff.piece.surfaces import ModelKind
        >>> box = trimesh.creation.box((0.4, 0.3, 0.05))
        >>> box.update_faces(box.face_normals[:, 2] > -0.5)
        >>> tray = classify(Mesh.from_trimesh(box, unit="m"), kind=ModelKind.OPEN,
        ...                 show_direction=np.array([0.0, 0.0, 1.0]))
        >>> round(SpaceBehind.of(tray, cast_skin(tray).skin).filled_m3(), 9)
        0.006
        """
        level_m = self.foot_m if depth_m is None else max(self.top_m - depth_m, self.foot_m)
        above = int(np.searchsorted(self.low_m, level_m))
        whole_m3 = float(self.moment_m3[above] - level_m * self.area_m2[above])
        cut = np.flatnonzero(self.high_m[:above] > level_m)
        over_m = np.sort(self.corners_m[self.triangles[cut]] - level_m, axis=1)
        return whole_m3 + float(self.seen_m2[cut] @ _mean_above_m(over_m))


def _from_the_end(values: FloatArray) -> FloatArray:
    """Add each value up with all behind it."""
    behind = np.zeros(len(values) + 1)
    np.cumsum(values[::-1], out=behind[-2::-1])
    return behind


def _mean_above_m(over_m: FloatArray) -> FloatArray:
    """Mean over triangles of the height above a level that passes through them, 0 below it.

    The three heights of each ascend, the first below the level, the last above it.
    """
    low_m, middle_m, high_m = over_m.T
    width_m = np.maximum(high_m - low_m, np.finfo(np.float64).tiny)
    tip = middle_m <= 0.0  # one corner alone is above the level, or one alone below it
    beside_m = np.where(tip, high_m - middle_m, middle_m - low_m)
    alone_m = np.where(tip, high_m, -low_m)
    cap_m = alone_m**3 / np.maximum(width_m * beside_m, np.finfo(np.float64).tiny) / 3.0
    mean_m: FloatArray = np.where(tip, cap_m, over_m.sum(axis=1) / 3.0 + cap_m)
    return mean_m


def _filled_m3(surfaces: Surfaces, space: SpaceBehind, laid: Layering, wall: Surface) -> float:
    """Tell what filling to the foot of one wall takes beyond the layers above its level."""
    walls = [
        other
        for other in surfaces.surfaces
        if other.surface_class in {SurfaceClass.RETURN, SurfaceClass.UPRIGHT}
    ]
    area_m2 = np.array([other.area_m2 for other in walls])
    foot_m = np.array([other.depth_m for other in walls])
    above = np.minimum(foot_m, wall.depth_m) / np.maximum(foot_m, np.finfo(np.float64).tiny)
    above[foot_m <= wall.depth_m] = 1.0
    by_class_m3 = laid.first.volume_m3 + laid.second.volume_m3
    above_share = float(area_m2 @ above) / float(area_m2.sum())
    layers_m3 = float(by_class_m3[0] + by_class_m3[1:].sum() * above_share)
    return max(space.filled_m3(wall.depth_m) - layers_m3, 0.0)


def _inner_m2(wall: Surface, show_m: float) -> float:
    """Area of a wall below the layers of the show face."""
    depth_m = wall.mean_depth_m if wall.mean_depth_m > 0.0 else wall.depth_m
    return wall.area_m2 * max(0.0, 1.0 - show_m / depth_m) if depth_m > 0.0 else 0.0


def _parts(values_m2: list[float]) -> list[float]:
    """Shares of a total; equal ones where there is none."""
    total_m2 = sum(values_m2)
    if total_m2 <= 0.0:
        return [1.0 / len(values_m2)] * len(values_m2)
    return [value / total_m2 for value in values_m2]
