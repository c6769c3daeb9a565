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
from takeoff.geometry.corner_terms import CornerTerms, corner_terms
from takeoff.geometry.easing import Borders, eased_arrises, lost_m3
from takeoff.geometry.edge_draws import EdgeDraws, edge_draws
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.skin_edges import SkinEdges, skin_edges
from takeoff.geometry.sums import summed

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class OffsetCoefficients:
    """The polynomial that gives the layer volume of every facet at any thickness.

    The volume of facet i under a thickness t is ``area t + arris t² + inside t² + corner t³``,
    where t is the thickness asked for times the ratio of the facet.

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
    ratio : ndarray of float, shape (k,)
        Thickness on each facet by the thickness asked for. [-]
    draws : EdgeDraws
        How far the layers draw back from the edges.
    """

    area_m2: FloatArray
    arris_m: FloatArray
    inside_m: FloatArray
    corner_count: FloatArray
    region: NDArray[np.integer]
    borders: Borders
    ratio: FloatArray
    draws: EdgeDraws

    @property
    def even(self) -> bool:
        """True where the thickness is the same on all facets."""
        return bool(np.all(self.ratio == 1.0))

    def inner_areas_m2(self, thickness_m: float) -> FloatArray:
        """Give the area of the inner face of the layer behind each facet.

        Parameters
        ----------
        thickness_m : float
            Thickness of the layer. [m]

        Returns
        -------
        ndarray of float, shape (k,)
            Areas; their sum is right also where single ones have shrunk below 0. [m²]
        """
        depth_m = thickness_m * self.ratio
        square_m = self.arris_m + self.inside_m
        return self.area_m2 + depth_m * (2.0 * square_m + 3.0 * depth_m * self.corner_count)

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
        depth_m = thickness_m * self.ratio
        return depth_m * (self.area_m2 + depth_m * (square + depth_m * self.corner_count))


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


def offset_coefficients(
    skin: Mesh | SkinEdges, *, ratio: FloatArray | None = None, rules: OffsetRules = OffsetRules()
) -> OffsetCoefficients:
    """Sum facets, edges and corners of a skin once, for layers of any thickness.

    Parameters
    ----------
    skin : Mesh or SkinEdges
        The skin the layer is laid on, wound consistently; the layer grows against the normals
        and ends square at open edges.
    ratio : ndarray of float, shape (k,), optional
        Thickness on each facet as a ratio of the thickness that will be asked for; 1 on all
        facets where it is left out. [-]
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
    while no face shrinks to nothing, which `front_m3` allows for. Where layers of two
    thicknesses meet at an arris they share the mitre between their inner faces; at an inside
    corner each has half of the round, and on a flat the thicker one ends in a step.

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
    told = skin_edges(skin) if isinstance(skin, Mesh) else skin
    count = len(told.mesh.triangles)
    edges, turn_rad = told.edges, told.turn_rad
    bent = np.abs(turn_rad) > np.radians(rules.flat_deg)
    if ratio is None:
        ratio, region = np.broadcast_to(1.0, count), told.patches(rules.flat_deg)
    else:
        bent |= ratio[edges.left] != ratio[edges.right]
        region = component_labels(count, edges.left, edges.right, linked=~bent)
    draws = edge_draws(told, np.flatnonzero(bent), ratio, rules=rules)
    arris, inside = _edge_terms(told, draws)
    corner = corner_terms(told, draws, rules=rules)
    borders = _borders(told, draws.edge, region, arris, corner)
    return OffsetCoefficients(
        told.facets.area_m2, arris, inside, corner.all_count, region, borders, ratio, draws
    )


def _borders(
    skin: SkinEdges,
    bent: IntArray,
    region: NDArray[np.integer],
    arris: FloatArray,
    corner: CornerTerms,
) -> Borders:
    """Gather the flat faces and the edges between them."""
    edges, points_m = skin.edges, skin.mesh.points_m
    faces = int(region.max()) + 1 if len(region) else 0
    ends = points_m[edges.open_end] - points_m[edges.open_start]
    return Borders(
        left=region[edges.left[bent]],
        right=region[edges.right[bent]],
        length_m=skin.lengths_m(bent),
        turn_rad=skin.turn_rad[bent],
        open_face=region[edges.open_facet],
        open_m=np.linalg.norm(ends, axis=1),
        area_m2=summed(region, skin.facets.area_m2, faces),
        square_m=summed(region, arris, faces),
        cube_count=summed(region, corner.mitred_count, faces),
        foot_count=corner.foot_count,
    )


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
    facet_m3 = coefficients.facet_volumes_m3(thickness_m)
    if not coefficients.even:
        return LayerFront(facet_m3, _narrow_m3(coefficients, thickness_m, rules))
    if borders.left_m2(thickness_m).min(initial=0.0) >= 0.0:
        # No face has shrunk away: nothing to put right.
        return LayerFront(facet_m3, borders.foot_count * thickness_m**3)
    eased = eased_arrises(borders, thickness_m, rules=rules)
    run = eased.run[region]
    step = run >= 0
    if step.any():
        area_m2 = coefficients.area_m2[step]
        whole_m2 = summed(run[step], area_m2, len(eased.excess_m3))
        facet_m3[step] -= eased.excess_m3[run[step]] * area_m2 / whole_m2[run[step]]
    return LayerFront(facet_m3, lost_m3(borders, eased, thickness_m, rules=rules))


def _narrow_m3(coefficients: OffsetCoefficients, thickness_m: float, rules: OffsetRules) -> float:
    """How much layer lies behind faces that shrink to nothing under layers of several depths."""
    region, borders = coefficients.region, coefficients.borders
    face_ratio = np.zeros(len(borders.area_m2))
    face_ratio[region] = coefficients.ratio
    depth_m = face_ratio * thickness_m
    kept_m2 = borders.left_m2(depth_m)
    gone = kept_m2 < -rules.gone_share * borders.area_m2
    foot_m3 = borders.foot_count * thickness_m**3
    return foot_m3 + float(((borders.area_m2 - kept_m2) * depth_m)[gone].sum())


def _edge_terms(skin: SkinEdges, draws: EdgeDraws) -> tuple[FloatArray, FloatArray]:
    """Half of every edge's share to each of its two facets: arrises apart from inside corners."""
    count, edges = len(skin.mesh.triangles), skin.edges
    convex = skin.turn_rad[draws.edge] > 0.0
    terms = []
    for chosen in (convex, ~convex):
        at = draws.edge[chosen]
        half_m = skin.lengths_m(at) / 2.0
        left = summed(edges.left[at], draws.left_ratio[chosen] * half_m, count)
        terms.append(-left - summed(edges.right[at], draws.right_ratio[chosen] * half_m, count))
    return terms[0], terms[1]
