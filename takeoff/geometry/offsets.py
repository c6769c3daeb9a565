"""Volume of a layer of even thickness grown inward from the facets of a mesh.

The layer under each flat face is a prism whose sides lie in the bisecting planes of its
edges, so that its section at depth s is the face shrunk by s tan(turn / 2) along every edge.
Summed over all faces this is area times thickness, less the square of the thickness along
every arris (more of it along every inside corner), plus a cube at every corner.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.geometry.corners import bends_at, corners_of
from takeoff.geometry.dihedrals import edge_lengths_m, turns_deg
from takeoff.geometry.easing import Borders, eased_arrises, lost_m3
from takeoff.geometry.edges import EdgeTable, edge_table
from takeoff.geometry.facets import facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.sums import summed

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class OffsetCoefficients:
    """The polynomial that gives the layer volume of every facet at any thickness.

    The volume of facet i at thickness t is ``area t + arris t² + inside t² + corner t³``.

    Parameters
    ----------
    area_m2 : ndarray of float, shape (k,)
        Facet areas. [m²]
    arris_m : ndarray of float, shape (k,)
        What the arrises of a facet take away, as a length (zero or negative). [m]
    inside_m : ndarray of float, shape (k,)
        What its inside corners add, as a length (zero or positive). [m]
    corner_count : ndarray of float, shape (k,)
        What its corners add, in cubes of the thickness. [-]
    region : ndarray of int, shape (k,)
        Number of the flat face each facet belongs to.
    borders : Borders
        Edges between these faces, and how the faces shrink with depth.
    """

    area_m2: FloatArray
    arris_m: FloatArray
    inside_m: FloatArray
    corner_count: FloatArray
    region: IntArray
    borders: Borders

    def facet_volumes_m3(self, thickness_m: float) -> FloatArray:
        """Give the layer volume of each facet.

        Parameters
        ----------
        thickness_m : float
            Thickness of the layer, measured from the facets. [m]

        Returns
        -------
        ndarray of float, shape (k,)
            Volume under each facet; the sum is the volume of the layer. [m³]

        Examples
        --------
        >>> import numpy as np
        >>> from takeoff.geometry.mesh import Mesh
        >>> square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]], dtype=float)
        >>> flat = Mesh(square, np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32))
        >>> float(offset_coefficients(flat).facet_volumes_m3(0.02).sum())
        0.02
        """
        square = self.arris_m + self.inside_m
        return thickness_m * (
            self.area_m2 + thickness_m * (square + thickness_m * self.corner_count)
        )


@dataclass(frozen=True, slots=True, eq=False)
class LayerFront:
    """A layer from the surface down to one depth.

    Parameters
    ----------
    facet_m3 : ndarray of float, shape (k,)
        Volume under each facet. [m³]
    error_m3 : float
        How far their sum may be off, where faces are too narrow for the layer. [m³]
    """

    facet_m3: FloatArray
    error_m3: float

    @property
    def volume_m3(self) -> float:
        """Volume of the layer, in [m³]."""
        return float(self.facet_m3.sum())


def offset_coefficients(mesh: Mesh, *, rules: OffsetRules = OffsetRules()) -> OffsetCoefficients:
    """Sum facets, edges and corners of a skin once, for layers of any thickness.

    Parameters
    ----------
    mesh : Mesh
        The skin the layer is laid on, wound consistently; the layer grows against the normals
        and ends square at open edges.
    rules : OffsetRules, optional
        What counts as flat and as smooth.

    Returns
    -------
    OffsetCoefficients
        Terms of the first, second and third power of the thickness, per facet.

    Notes
    -----
    Along an inside corner the layer is round: the least material that is nowhere thinner
    than its thickness. The formulas are derived in this module's docstring; they are exact
    while no face shrinks to nothing, which `front_m3` allows for.

    Examples
    --------
    A tray 400 x 300 x 50, show side up, sharp; 20 mm all over:

    >>> import trimesh
    >>> box = trimesh.creation.box((0.4, 0.3, 0.05))
    >>> box.update_faces(box.face_normals[:, 2] > -0.5)
    >>> skin = Mesh.from_trimesh(box, unit="m")
    >>> volume_m3 = offset_coefficients(skin).facet_volumes_m3(0.02).sum()
    >>> exact_m3 = 0.4 * 0.3 * 0.05 - 0.36 * 0.26 * 0.03
    >>> round(float(volume_m3 / exact_m3), 9)
    1.0
    """
    facets = facets_of(mesh)
    edges = edge_table(mesh)
    turn_rad = np.radians(turns_deg(mesh, facets, edges))
    bent = np.abs(turn_rad) > np.radians(rules.flat_deg)
    sharp = np.abs(turn_rad) > np.radians(rules.smooth_deg)
    count = len(mesh.triangles)
    region = component_labels(count, edges.left, edges.right, linked=~bent).astype(np.int64)
    patch = component_labels(count, edges.left, edges.right, linked=~sharp).astype(np.int64)
    arris, inside = _edge_terms(mesh, edges, turn_rad, bent)
    corner, mitred = _corner_terms(mesh, edges, turn_rad, sharp, patch=patch, rules=rules)
    faces = int(region.max()) + 1 if len(region) else 0
    ends = mesh.points_m[edges.open_end] - mesh.points_m[edges.open_start]
    borders = Borders(
        left=region[edges.left[bent]],
        right=region[edges.right[bent]],
        length_m=edge_lengths_m(mesh, edges)[bent],
        turn_rad=turn_rad[bent],
        open_face=region[edges.open_facet],
        open_m=np.linalg.norm(ends, axis=1),
        area_m2=summed(region, facets.area_m2, faces),
        square_m=summed(region, arris, faces),
        cube_count=summed(region, mitred, faces),
    )
    return OffsetCoefficients(facets.area_m2, arris, inside, corner, region, borders)


def front_m3(
    coefficients: OffsetCoefficients, thickness_m: float, *, rules: OffsetRules = OffsetRules()
) -> LayerFront:
    """Give the layer volume down to a depth, rounded arrises told from sharp ones.

    Parameters
    ----------
    coefficients : OffsetCoefficients
        Of the skin.
    thickness_m : float
        Thickness from the surface. [m]
    rules : OffsetRules, optional
        What counts as smooth, and how well a correction is trusted.

    Returns
    -------
    LayerFront
        Volume under each facet, and how far their sum may be off.

    Examples
    --------
    A ridge 20 mm wide cannot hold 15 mm from both sides:

    >>> import trimesh
    >>> rib = trimesh.creation.box((1.0, 0.02, 0.08))
    >>> rib.update_faces(rib.face_normals[:, 2] > -0.5)
    >>> terms = offset_coefficients(Mesh.from_trimesh(rib, unit="m"))
    >>> front_m3(terms, 0.008).error_m3, front_m3(terms, 0.015).error_m3 > 0.0
    (0.0, True)
    """
    borders, region = coefficients.borders, coefficients.region
    eased = eased_arrises(borders, thickness_m, rules=rules)
    facet_m3 = coefficients.facet_volumes_m3(thickness_m)
    run = eased.run[region]
    step = run >= 0
    if step.any():
        area_m2 = coefficients.area_m2[step]
        whole_m2 = summed(run[step], area_m2, len(eased.excess_m3))
        facet_m3[step] -= eased.excess_m3[run[step]] * area_m2 / whole_m2[run[step]]
    return LayerFront(facet_m3, lost_m3(borders, eased, thickness_m, rules=rules))


def _edge_terms(
    mesh: Mesh, edges: EdgeTable, turn_rad: FloatArray, bent: NDArray[np.bool_]
) -> tuple[FloatArray, FloatArray]:
    """Half of every edge's share to each of its two facets: arrises apart from inside corners."""
    count = len(mesh.triangles)
    length_m = edge_lengths_m(mesh, edges)
    law = np.where(turn_rad > 0.0, -np.tan(np.clip(turn_rad, 0.0, 3.0) / 2.0), -turn_rad / 2.0)
    half = np.where(bent, law * length_m / 2.0, 0.0)
    convex = turn_rad > 0.0
    terms = []
    for chosen in (convex, ~convex):
        share = np.where(chosen, half, 0.0)
        terms.append(summed(edges.left, share, count) + summed(edges.right, share, count))
    return terms[0], terms[1]


def _corner_terms(
    mesh: Mesh,
    edges: EdgeTable,
    turn_rad: FloatArray,
    sharp: NDArray[np.bool_],
    *,
    patch: IntArray,
    rules: OffsetRules,
) -> tuple[FloatArray, FloatArray]:
    """Cubes added where edges meet, booked on one facet of each smooth patch at the corner.

    Where three or more sharp edges meet, the corner is mitred; the second result holds these
    alone. Along one sharp edge it is half the angle defect, elsewhere a third: parts of a ball.
    """
    corners = corners_of(mesh, patch)
    tangent = np.tan(np.clip(turn_rad, -2.9, 2.9) / 2.0)
    degree, total, squares = corners.edge_sums(edges, tangent, sharp, patch)
    product = np.where(degree == 2, (total**2 - squares) / 2.0, 0.0)
    spread = np.where(degree == 2, squares - 2.0 * product, 0.0)
    limit = rules.cotangent_limit_ratio
    cotangent = np.clip(1.0 / _off_zero(np.tan(corners.angle_rad)), -limit, limit)
    mitred = product / _off_zero(np.tan(corners.angle_rad / 2.0)) + spread * cotangent / 2.0
    bends = bends_at(len(mesh.points_m), edges, turn_rad, rules)
    pointed = ~bends.even[corners.point] & (bends.sharp_count[corners.point] > 2)
    along = ~bends.even[corners.point] & ~pointed
    ball = corners.defect_rad * np.where(along, 1.0 / 2.0, 1.0 / 3.0)
    cubes = np.where(pointed, mitred * bends.easing_ratio[corners.point] / 3.0, ball)
    cubes = np.where(bends.inner[corners.point], cubes, 0.0)
    count = len(mesh.triangles)
    return (
        summed(corners.facet, cubes, count),
        summed(corners.facet, np.where(pointed, cubes, 0.0), count),
    )


def _off_zero(value: FloatArray) -> FloatArray:
    """Keep a divisor off zero; what it divides is capped or zero there."""
    tiny = np.finfo(np.float64).tiny
    return np.where(np.abs(value) < tiny, tiny, value)
