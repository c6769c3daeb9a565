"""What corners add to a layer: parts of balls where a skin is smooth, mitres where it is sharp."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.geometry.corners import Bends, Corners, bends_at, corners_of, facet_angles_rad
from takeoff.geometry.edge_draws import EdgeDraws, off_zero_ratio
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.sums import summed

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class CornerTerms:
    """What corners add, in cubes of the thickness.

    Parameters
    ----------
    all_count : ndarray of float, shape (k,)
        All of it, by facet. [-]
    mitred_count : ndarray of float, shape (k,)
        That of mitred corners alone. [-]
    foot_count : float
        How far it may be off where edges run aslant into a border. [-]
    """

    all_count: FloatArray
    mitred_count: FloatArray
    foot_count: float


def corner_terms(
    skin: SkinEdges, draws: EdgeDraws, *, rules: OffsetRules = OffsetRules()
) -> CornerTerms:
    """Give the cubes added where edges meet, on one facet of each smooth patch at the corner.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    draws : EdgeDraws
        How far its layers draw back from edges.
    rules : OffsetRules, optional
        What counts as flat and as smooth.

    Returns
    -------
    CornerTerms
        By facet, in cubes of its thickness.

    Notes
    -----
    Where three or more sharp edges meet, the corner is mitred, and so is the tip of a cone.
    Along one sharp arris that runs round it follows from how the patches on both sides turn
    (half the angle defect at a right angle), elsewhere it is a part of a ball: a third.

    Where a sharp edge runs into a border square to it, nothing is added. Where it runs aslant,
    as at the foot of a pyramid, the layer of either face ends square to its own border, and
    reaches past the end of the edge or falls short of it: by a sixth of the square of what it
    draws back, times the cotangent of the angle of the face there; past it only as far as
    the other face does, too.

    Examples
    --------
    The corners of a box are cubes:

    >>> import trimesh
    >>> from takeoff.geometry.edge_draws import edge_draws
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> box = skin_edges(Mesh.from_trimesh(trimesh.creation.box((1, 1, 1)), unit="m"))
    >>> draws = edge_draws(box, np.flatnonzero(box.turn_rad > 1.0), np.ones(12))
    >>> terms = corner_terms(box, draws)
    >>> round(float(terms.all_count.sum()), 9), terms.foot_count
    (8.0, 0.0)
    """
    bends = bends_at(skin, rules)
    sharp = bends.sharp_count > 0
    cubes = _smooth_terms(skin, draws, bends, rules)
    corners, patch = _corners_between(skin, sharp, rules.smooth_deg)
    hard = np.abs(skin.turn_rad[draws.edge]) > np.radians(rules.smooth_deg)
    degree, total, squares = corners.edge_sums(
        skin.edges,
        draws.edge[hard],
        (_tangents(draws.left_ratio[hard]), _tangents(draws.right_ratio[hard])),
        patch,
    )
    mitred = _mitred(corners, (degree, total, squares), rules)
    at = corners.point
    pointed = ~bends.even[at] & (bends.sharp_count[at] > 2)
    ball = corners.defect_rad * np.where(bends.even[at], 1.0 / 3.0, 1.0 / 2.0)
    rim = ~bends.even[at] & (bends.sharp_count[at] == 2)
    ball = np.where(rim, _rim(corners, degree, total, ball, rules), ball)
    value = np.where(pointed, mitred * bends.easing_ratio[at] / 3.0, ball)
    foot = ~bends.inner[at] & (degree == 1)
    value = np.where(bends.inner[at], value, 0.0)
    value[foot] = _feet(at[foot], corners.angle_rad[foot], total[foot], rules)
    count = len(cubes)
    cubes += summed(corners.facet, value, count)
    return CornerTerms(
        cubes,
        summed(corners.facet, np.where(pointed & ~foot, value, 0.0), count),
        rules.foot_share * float(np.abs(value[foot]).sum()),
    )


def _tangents(drawn_ratio: FloatArray) -> FloatArray:
    """Put mitres for the rounds of inside corners."""
    return np.where(drawn_ratio < 0.0, np.tan(np.clip(drawn_ratio, -1.45, 0.0)), drawn_ratio)


def _mitred(
    corners: Corners, sums: tuple[IntArray, FloatArray, FloatArray], rules: OffsetRules
) -> FloatArray:
    """Thrice the cubes of mitred corners, from the draws of the two edges of each."""
    degree, total, squares = sums
    product = np.where(degree == 2, (total**2 - squares) / 2.0, 0.0)
    spread = np.where(degree == 2, squares - 2.0 * product, 0.0)
    limit = rules.cotangent_limit_ratio
    cotangent = np.clip(1.0 / off_zero_ratio(np.tan(corners.angle_rad)), -limit, limit)
    mitred: FloatArray = product / off_zero_ratio(np.tan(corners.angle_rad / 2.0))
    return mitred + spread * cotangent / 2.0


def _feet(
    point: IntArray, angle_rad: FloatArray, tangent_ratio: FloatArray, rules: OffsetRules
) -> FloatArray:
    """Cubes where one edge ends on a border: square mitres at an arris, or part of a round.

    Past the end of the edge, a face meets the layer of the other only where that reaches past
    it as well: not where an arris runs straight on as the border of one of the two.
    """
    round_ratio = 2.0 * (1.0 - np.cos(np.arctan(tangent_ratio)))
    square = np.where(tangent_ratio > 0.0, tangent_ratio**2, round_ratio)
    limit = rules.cotangent_limit_ratio
    slope = np.clip(1.0 / off_zero_ratio(np.tan(angle_rad)), -limit, limit)
    other = np.zeros(len(slope))
    both = np.flatnonzero(point[:-1] == point[1:])
    other[both], other[both + 1] = slope[both + 1], slope[both]
    slope = np.maximum(slope, np.minimum(other, 0.0))
    aslant = np.abs(slope) > np.radians(rules.flat_deg)
    return np.where(aslant, square * slope / 6.0, 0.0)


def _rim(
    corners: Corners, degree: IntArray, total: FloatArray, ball: FloatArray, rules: OffsetRules
) -> FloatArray:
    """Put what an arris that runs round adds on each of the two patches that meet there.

    Drawn back by τ, the tangent of half the turn between the patches, a patch has a sixth of
    its own turn along the arris, and 1 + τ² sixths of that of the other.
    """
    value = ball.copy()
    both = np.flatnonzero((corners.point[:-1] == corners.point[1:]) & (degree[:-1] == 2))
    drawn = total[both] / 2.0
    alike = (degree[both + 1] == 2) & np.isclose(drawn, total[both + 1] / 2.0)
    alike &= (drawn > 0.0) & (drawn < rules.mitre_limit_ratio)
    one, square = both[alike], drawn[alike] ** 2
    turn = np.pi - corners.angle_rad
    beyond = (1.0 + square) / 6.0
    value[one] = turn[one] / 6.0 + turn[one + 1] * beyond
    value[one + 1] = turn[one + 1] / 6.0 + turn[one] * beyond
    return value


def _smooth_terms(
    skin: SkinEdges, draws: EdgeDraws, bends: Bends, rules: OffsetRules
) -> FloatArray:
    """Thirds of the angle defects at smooth points, booked on one facet each; mitres at tips."""
    mesh = skin.mesh
    cubes = np.zeros(len(mesh.triangles))
    bent = skin.points_on(np.abs(skin.turn_rad) > np.radians(rules.flat_deg))
    smooth = bent & bends.inner & (bends.sharp_count == 0)
    if not smooth.any():
        return cubes
    around_rad, home = np.zeros(len(mesh.points_m)), np.zeros(len(mesh.points_m), dtype=np.int64)
    facets = _facets_at(mesh, smooth)
    angles_rad = facet_angles_rad(mesh, facets)
    for corner in range(3):
        at = mesh.triangles[facets, corner]
        around_rad += summed(at, angles_rad[:, corner], len(around_rad))
        home[at] = facets
    tips = smooth & (2.0 * np.pi - around_rad > np.radians(rules.tip_deg))
    tips &= ~skin.points_on(skin.turn_rad < -np.radians(rules.flat_deg))
    if tips.any():
        cubes += _tip_terms(skin, draws, tips, rules)
    round_off = smooth & ~tips
    third = (2.0 * np.pi - around_rad[round_off]) / 3.0
    return cubes + summed(home[round_off], third, len(cubes))


def _tip_terms(
    skin: SkinEdges, draws: EdgeDraws, tips: NDArray[np.bool_], rules: OffsetRules
) -> FloatArray:
    """Mitres between the flat faces round tips, booked on one facet of each face."""
    corners, face = _corners_between(skin, tips, rules.flat_deg)
    sums = corners.edge_sums(
        skin.edges, draws.edge, (_tangents(draws.left_ratio), _tangents(draws.right_ratio)), face
    )
    count = len(skin.mesh.triangles)
    return summed(corners.facet, _mitred(corners, sums, rules) / 3.0, count)


def _corners_between(
    skin: SkinEdges, points: NDArray[np.bool_], most_deg: float
) -> tuple[Corners, IntArray]:
    """Corners at some points of patches that turn by no more than an angle, and the patches."""
    mesh, edges = skin.mesh, skin.edges
    facets = _facets_at(mesh, points)
    slot = np.full(len(mesh.triangles), -1, dtype=np.int64)
    slot[facets] = np.arange(len(facets))
    left, right = slot[edges.left], slot[edges.right]
    within = (left >= 0) & (right >= 0)
    within &= np.abs(skin.turn_rad) <= np.radians(most_deg)
    patch = np.zeros(len(mesh.triangles), dtype=np.int64)
    patch[facets] = component_labels(len(facets), left[within], right[within])
    return corners_of(mesh, patch, facets=facets, points=points), patch


def _facets_at(mesh: Mesh, points: NDArray[np.bool_]) -> IntArray:
    """Numbers of the facets that touch some points."""
    touched = points[mesh.triangles[:, 0]]
    for corner in (1, 2):
        touched |= points[mesh.triangles[:, corner]]
    return np.flatnonzero(touched)
