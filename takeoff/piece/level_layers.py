"""The layers above a level: what of them lies behind the skin cut off there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.layering import Layering
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.skin_edges import SkinEdges, skin_edges
from takeoff.geometry.sums import dot
from takeoff.piece.layer_rules import LayerRules
from takeoff.piece.slicing import sliced

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]

Lay = Callable[[SkinEdges, IntArray], Layering]
"""Lays both layers on a part of the skin, each facet of which is of one of the whole."""


@dataclass(frozen=True, slots=True, eq=False)
class LevelLayers:
    """The layers of a skin, told above any level.

    Parameters
    ----------
    skin : SkinEdges
        The skin that carries layers.
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the finished show face. [-]
    depth_m : ndarray of float, shape (k,)
        Thickness of both layers on each facet. [m]
    volume_m3 : float
        All layers. [m³]
    lay : callable
        Lays them on a part of the skin.
    rules : LayerRules
        What counts as on a level.
    """

    skin: SkinEdges
    show_direction: FloatArray
    depth_m: FloatArray
    volume_m3: float
    lay: Lay
    rules: LayerRules

    def above_m3(self, level_m: float) -> float:
        """Give the layers above a level.

        Parameters
        ----------
        level_m : float
            The level, as a height. [m]

        Returns
        -------
        float
            Volume of both layers that lies above it; all of it where no part of the skin lies
            on the level or below. [m³]

        Notes
        -----
        The skin is cut off at the level, and the layers laid on what is above it end square
        there. Where it leans, a wedge is left between that end and the level, half of the square
        of the thickness by the tangent of its lean: it is below the level where the wall leans
        out, and missing above where it leans in.

        Examples
        --------
        >>> import trimesh
        >>> from takeoff.geometry.layering import layer_up
        >>> box = trimesh.creation.box((0.4, 0.3, 0.05))
        >>> box.update_faces(box.face_normals[:, 2] > -0.5)
        >>> tray = skin_edges(Mesh.from_trimesh(box, unit="m"))
        >>> def lay(skin, of):
        ...     return layer_up(skin, np.ones((len(of), 1)), np.full(len(of), 0.004),
        ...                     np.full(len(of), 0.016))
        >>> whole = lay(tray, np.arange(10))
        >>> layers = LevelLayers(tray, np.array([0.0, 0.0, 1.0]), np.full(10, 0.020),
        ...                      whole.volume_m3, lay, LayerRules())
        >>> exact_m3 = 0.4 * 0.3 * 0.04 - 0.36 * 0.26 * 0.02
        >>> round(layers.above_m3(-0.015) / exact_m3, 9)
        1.0
        """
        height_m = self.skin.mesh.points_m @ self.show_direction - level_m
        corners_m = height_m[self.skin.mesh.triangles]
        within_m = self.rules.level_m
        below = corners_m.max(axis=1) <= within_m
        cut = ~below & (corners_m.min(axis=1) < -within_m)
        below_m3 = self._below_m3(corners_m)
        if below_m3 <= self.rules.right_share * self.volume_m3:
            return self.volume_m3 - below_m3
        if below.all():
            return 0.0
        skin, of = self._above(level_m, ~below & ~cut, np.flatnonzero(cut))
        return max(self.lay(skin, of).volume_m3 - self._wedges_m3(skin, of, level_m), 0.0)

    def _below_m3(self, corners_m: FloatArray) -> float:
        """Area times thickness of what is below a level: close enough where it is next to none."""
        low_m, high_m = corners_m.min(axis=1), corners_m.max(axis=1)
        width_m = np.maximum(high_m - low_m, np.finfo(np.float64).tiny)
        share = np.where(high_m <= self.rules.level_m, 1.0, np.clip(-low_m / width_m, 0.0, 1.0))
        share[(low_m >= -self.rules.level_m) & (high_m > self.rules.level_m)] = 0.0
        return dot(self.skin.facets.area_m2 * share, self.depth_m)

    def _above(
        self, level_m: float, whole: NDArray[np.bool_], cut: IntArray
    ) -> tuple[SkinEdges, IntArray]:
        """Cut the skin off at a level."""
        if not len(cut):
            return self.skin.part(whole), np.flatnonzero(whole)
        mesh = self.skin.mesh
        halves = sliced(
            Mesh(mesh.points_m, mesh.triangles[cut]),
            self.show_direction,
            np.array([level_m]),
            within_m=self.rules.level_m,
        )
        upper = halves.band == 1
        triangles = np.concatenate([mesh.triangles[whole], halves.mesh.triangles[upper]])
        of = np.concatenate([np.flatnonzero(whole), cut[halves.source[upper]]])
        return skin_edges(Mesh(halves.mesh.points_m, triangles)), of

    def _wedges_m3(self, skin: SkinEdges, of: IntArray, level_m: float) -> float:
        """Tell what layers ending square at a level have below it, less what they lack above it."""
        edges, points_m = skin.edges, skin.mesh.points_m
        start_m, end_m = points_m[edges.open_start], points_m[edges.open_end]
        off_m = np.abs(np.stack([start_m, end_m]) @ self.show_direction - level_m).max(axis=0)
        at = np.flatnonzero(off_m <= self.rules.level_m)
        facet = edges.open_facet[at]
        sine = skin.facets.normals[facet] @ self.show_direction
        tangent = sine / np.sqrt(np.maximum(1.0 - sine**2, np.finfo(np.float64).eps))
        length_m = np.linalg.norm(end_m[at] - start_m[at], axis=1)
        return dot(length_m * tangent, self.depth_m[of[facet]] ** 2) / 2.0
