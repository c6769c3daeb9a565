"""First moment of a layer of even thickness, facet by facet and edge by edge."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks
from takeoff.geometry.crosses import cross_normals
from takeoff.geometry.edge_draws import EdgeDraws
from takeoff.geometry.offsets import LayerFront, OffsetCoefficients
from takeoff.geometry.skin_edges import SkinEdges

FloatArray = NDArray[np.float64]


def front_moment_m4(
    skin: SkinEdges,
    coefficients: OffsetCoefficients,
    front: LayerFront,
    thickness_m: float,
    shares: FloatArray,
) -> FloatArray:
    """Give the first moment of a layer from the surface down to a depth.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    coefficients : OffsetCoefficients
        Of the skin.
    front : LayerFront
        The layer's volume under each facet, at this thickness.
    thickness_m : float
        Thickness of the layer. [m]
    shares : ndarray of float, shape (k, c)
        Share of each facet in each class. [-]

    Returns
    -------
    ndarray of float, shape (c, 3)
        The moment of each class; by its volume, it is the centroid. [m⁴]

    Notes
    -----
    At depth s each face has drawn back by s times its ratio along every edge, so that what
    is missing there has its centre half as far from the edge. What corners add is counted at
    the middle of their facet.

    Examples
    --------
    The layer in a tray 1 m deep and 2 m square, 0.2 m thick, is a box less a box:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.offsets import front_m3, offset_coefficients
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> box = trimesh.creation.box((2.0, 2.0, 1.0))
    >>> box.update_faces(box.face_normals[:, 2] > -0.5)
    >>> tray = skin_edges(Mesh.from_trimesh(box, unit="m"))
    >>> terms = offset_coefficients(tray)
    >>> layer = front_m3(terms, 0.2)
    >>> moment_m4 = front_moment_m4(tray, terms, layer, 0.2, np.ones((10, 1)))
    >>> height_m = moment_m4[0, 2] / layer.volume_m3
    >>> bool(abs(height_m - (2.56 * 0.8 * 0.1) / (4.0 - 2.56 * 0.8)) < 0.005)
    True
    """
    depth_m = coefficients.ratio * thickness_m
    moment_m4 = np.zeros((shares.shape[1], 3))
    columns_m = np.ascontiguousarray(skin.mesh.points_m.T)
    for piece in blocks(len(depth_m)):
        corners_m = columns_m.take(skin.mesh.triangles[piece], axis=1)
        middle_m = (corners_m[..., 0] + corners_m[..., 1] + corners_m[..., 2]) / 3.0
        deep_m = depth_m[piece]
        square_m = coefficients.arris_m[piece] + coefficients.inside_m[piece]
        whole_m3 = front.facet_m3[piece] - square_m * deep_m**2
        sunk_m4 = coefficients.area_m2[piece] * deep_m**2 / 2.0
        part_m4 = whole_m3[:, None] * middle_m.T - sunk_m4[:, None] * skin.facets.normals[piece]
        moment_m4 += shares[piece].T @ part_m4
    for piece in blocks(len(coefficients.draws.edge)):
        moment_m4 -= _drawn_m4(skin, coefficients.draws.of(piece), depth_m, shares)
    return moment_m4


def _drawn_m4(
    skin: SkinEdges, draws: EdgeDraws, depth_m: FloatArray, shares: FloatArray
) -> FloatArray:
    """First moment of what is missing along some edges, by class."""
    normals, edges = skin.facets.normals, skin.edges
    start_m = skin.mesh.points_m.take(edges.start[draws.edge], axis=0)
    end_m = skin.mesh.points_m.take(edges.end[draws.edge], axis=0)
    along_m, middle_m = end_m - start_m, (start_m + end_m) / 2.0
    length_m = np.sqrt(np.einsum("ij,ij->i", along_m, along_m))
    sides = ((edges.left, draws.left_ratio, 1.0), (edges.right, draws.right_ratio, -1.0))
    moment_m4 = np.zeros((shares.shape[1], 3))
    for side, drawn, sign in sides:
        facet = side[draws.edge]
        deep_m, out = depth_m[facet], normals.take(facet, axis=0)
        across_m = cross_normals(out, along_m)  # as long as the edge
        lost_m2 = drawn * length_m * deep_m**2 / 2.0
        lost_m4 = lost_m2[:, None] * middle_m
        lost_m4 -= (lost_m2 * deep_m * 2.0 / 3.0)[:, None] * out
        lost_m4 += (sign * drawn**2 * deep_m**3 / 6.0)[:, None] * across_m
        moment_m4 += shares[facet].T @ lost_m4
    return moment_m4
