"""What filling the space behind a show face takes, down to any level."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.piece.level_layers import LevelLayers
from takeoff.piece.surfaces import Surfaces

FloatArray = NDArray[np.float64]

_LEVEL_DIGITS = 6
"""Levels are told apart by micrometres."""


@dataclass(frozen=True, slots=True, eq=False)
class Fillings:
    """What filling takes beyond the layers, told once for each level.

    Parameters
    ----------
    space : SpaceBehind
        The space behind the show face.
    layers : LevelLayers
        The layers in it.
    """

    space: SpaceBehind
    layers: LevelLayers
    _by_level_m3: dict[float, float] = field(default_factory=dict, init=False, repr=False)

    def to_foot_m3(self, depth_m: float | None = None) -> float:
        """Give what filling to the foot of a wall takes beyond the layers above its level.

        Parameters
        ----------
        depth_m : float, optional
            Depth of the wall; the deepest where it is left out. [m]

        Returns
        -------
        float
            Volume between the backs of the layers, above that level. [m³]

        Notes
        -----
        Layers below the level, such as those of a show face that lies at the foot of the wall,
        take nothing of the space above it.
        """
        level_m = self.space.level_m(depth_m)
        known = round(level_m, _LEVEL_DIGITS)
        if known not in self._by_level_m3:
            space_m3 = self.space.filled_m3(depth_m)
            self._by_level_m3[known] = max(space_m3 - self.layers.above_m3(level_m), 0.0)
        return self._by_level_m3[known]


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

    def level_m(self, depth_m: float | None = None) -> float:
        """Give the height of a level.

        Parameters
        ----------
        depth_m : float, optional
            Its depth behind the highest part of the show face; the foot of the deepest wall
            where it is left out. [m]

        Returns
        -------
        float
            Its height, at the lowest that of the foot. [m]
        """
        return self.foot_m if depth_m is None else max(self.top_m - depth_m, self.foot_m)

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
        level_m = self.level_m(depth_m)
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
