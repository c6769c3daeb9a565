"""How far layers draw back from the edges of the faces they lie on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.skin_edges import SkinEdges

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class EdgeDraws:
    """How far the layers on both sides of the bent edges draw back from them.

    Parameters
    ----------
    edge : ndarray of int, shape (b,)
        Numbers of the edges that bend, or between layers of two thicknesses.
    left_ratio, right_ratio : ndarray of float, shape (b,)
        By the depth on each side; below 0 at an inside corner, where the layer reaches over
        the edge. [-]
    """

    edge: IntArray
    left_ratio: FloatArray
    right_ratio: FloatArray

    def of(self, piece: slice) -> EdgeDraws:
        """Give some of the edges.

        Parameters
        ----------
        piece : slice
            Which of them.

        Returns
        -------
        EdgeDraws
            Those edges.
        """
        return EdgeDraws(self.edge[piece], self.left_ratio[piece], self.right_ratio[piece])


def edge_draws(
    skin: SkinEdges,
    bent: IntArray,
    ratio: FloatArray,
    *,
    rules: OffsetRules = OffsetRules(),
) -> EdgeDraws:
    """Tell how far the layers on both sides of some edges draw back from them.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    bent : ndarray of int, shape (b,)
        Numbers of the edges.
    ratio : ndarray of float, shape (k,)
        Thickness on each facet, as a ratio. [-]
    rules : OffsetRules, optional
        How far at most.

    Returns
    -------
    EdgeDraws
        By the depth on each side.

    Examples
    --------
    At a right angle, each layer draws back by the thickness of the other:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> box = skin_edges(Mesh.from_trimesh(trimesh.creation.box((1, 1, 1)), unit="m"))
    >>> ratio = np.where(box.facets.normals[:, 2] > 0.5, 1.0, 0.5)
    >>> draws = edge_draws(box, np.flatnonzero(box.turn_rad > 1.0), ratio)
    >>> sorted(set(np.r_[draws.left_ratio, draws.right_ratio].round(9).tolist()))
    [0.5, 1.0, 2.0]
    """
    turn_rad = skin.turn_rad[bent]
    plain = np.where(turn_rad > 0.0, drawn_back_ratio(turn_rad, rules), turn_rad / 2.0)
    one, other = ratio[skin.edges.left[bent]], ratio[skin.edges.right[bent]]
    unlike = np.flatnonzero((one != other) & (turn_rad > np.radians(rules.smooth_deg)))
    if not len(unlike):
        return EdgeDraws(bent, plain, plain)
    left, right = plain.copy(), plain.copy()
    turn, limit = turn_rad[unlike], rules.mitre_limit_ratio
    for side, own, beyond in ((left, one, other), (right, other, one)):
        drawn = (beyond[unlike] / off_zero_ratio(own[unlike]) - np.cos(turn)) / off_zero_ratio(
            np.sin(turn)
        )
        side[unlike] = np.clip(drawn, -limit, limit)
    return EdgeDraws(bent, left, right)


def drawn_back_ratio(turn_rad: FloatArray, rules: OffsetRules) -> FloatArray:
    """Give the tangents of half the turns of arrises, 0 for inside corners.

    Parameters
    ----------
    turn_rad : ndarray of float, shape (b,)
        Turns. [rad]
    rules : OffsetRules
        How far an arris turns at most.

    Returns
    -------
    ndarray of float, shape (b,)
        By how many thicknesses layers draw back on either side. [-]

    Examples
    --------
    >>> drawn_back_ratio(np.radians([-90.0, 90.0]), OffsetRules()).round(9).tolist()
    [0.0, 1.0]
    """
    turned: FloatArray = np.tan(np.clip(turn_rad, 0.0, np.radians(rules.most_turn_deg)) / 2.0)
    return turned


def off_zero_ratio(ratio: FloatArray) -> FloatArray:
    """Keep divisors off zero, where what they divide is capped or zero.

    Parameters
    ----------
    ratio : ndarray of float
        Divisors. [-]

    Returns
    -------
    ndarray of float
        The same, but for zeros. [-]

    Examples
    --------
    >>> bool((off_zero_ratio(np.zeros(2)) > 0.0).all())
    True
    """
    tiny = np.finfo(np.float64).tiny
    return np.where(np.abs(ratio) < tiny, tiny, ratio)
