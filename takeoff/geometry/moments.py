"""First moment of layers of even thickness, facet by facet and edge by edge."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.blocks import blocks
from takeoff.geometry.crosses import cross_normals
from takeoff.geometry.edge_draws import EdgeDraws
from takeoff.geometry.offsets import LayerFront, OffsetCoefficients
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.sums import row_products

FloatArray = NDArray[np.float64]


def front_moments_m4(
    skin: SkinEdges,
    coefficients: OffsetCoefficients,
    fronts: Sequence[LayerFront],
    thicknesses_m: Sequence[float],
    shares: FloatArray,
) -> list[FloatArray]:
    """Give the first moments of layers from the surface down to several depths.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    coefficients : OffsetCoefficients
        Of the skin.
    fronts : sequence of LayerFront
        The volume of each layer under each facet.
    thicknesses_m : sequence of float
        Thickness of each layer. [m]
    shares : ndarray of float, shape (k, c)
        Share of each facet in each class. [-]

    Returns
    -------
    list of ndarray of float, shape (c, 3)
        The moments by class; by its volume, each is the centroid. [m⁴]

    Notes
    -----
    At depth s each face has drawn back by s times its ratio along every edge, so that what
    is missing there has its centre half as far from the edge. What corners add is counted at
    the middle of their facet. Beside the volumes, all of it goes with the second and the third
    power of the thickness, so that facets and edges are gone through once for all layers.

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
    >>> moment_m4, = front_moments_m4(tray, terms, [layer], [0.2], np.ones((10, 1)))
    >>> height_m = moment_m4[0, 2] / layer.volume_m3
    >>> bool(abs(height_m - (2.56 * 0.8 * 0.1) / (4.0 - 2.56 * 0.8)) < 0.005)
    True
    """
    classes, ratio = shares.shape[1], coefficients.ratio
    flat_m4 = np.zeros((len(fronts), classes, 3))
    square_m2, cube_m = np.zeros((classes, 3)), np.zeros((classes, 3))
    columns_m = np.ascontiguousarray(skin.mesh.points_m.T)
    for piece in blocks(len(shares)):
        corners_m = columns_m.take(skin.mesh.triangles[piece].T, axis=1)
        middle_m = (corners_m[:, 0] + corners_m[:, 1] + corners_m[:, 2]) / 3.0
        normals, share = _columns(skin.facets.normals[piece]), _columns(shares[piece])
        for number, front in enumerate(fronts):
            flat_m4[number] += row_products(share * front.facet_m3[piece], middle_m)
        bent_m = (coefficients.arris_m[piece] + coefficients.inside_m[piece]) * ratio[piece] ** 2
        sunk_m2 = coefficients.area_m2[piece] * ratio[piece] ** 2 / 2.0
        square_m2 -= row_products(share * bent_m, middle_m) + row_products(share * sunk_m2, normals)
        cube_m -= row_products(share * (bent_m * ratio[piece] * (2.0 / 3.0)), normals)
    for piece in blocks(len(coefficients.draws.edge)):
        at_edge_m2, across_m = _drawn(skin, coefficients.draws.of(piece), ratio, shares)
        square_m2 -= at_edge_m2
        cube_m -= across_m
    return [
        layer_m4 + thickness_m**2 * square_m2 + thickness_m**3 * cube_m
        for layer_m4, thickness_m in zip(flat_m4, thicknesses_m, strict=True)
    ]


def _drawn(
    skin: SkinEdges, draws: EdgeDraws, ratio: FloatArray, shares: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """First moments by class of what is missing along some edges: at the edge, and across it."""
    normals, edges = skin.facets.normals, skin.edges
    start_m = _columns(skin.mesh.points_m.take(edges.start[draws.edge], axis=0))
    end_m = _columns(skin.mesh.points_m.take(edges.end[draws.edge], axis=0))
    along_m, middle_m = end_m - start_m, (start_m + end_m) / 2.0
    length_m = np.sqrt(np.einsum("ij,ij->j", along_m, along_m))
    square_m2, cube_m = (np.zeros((shares.shape[1], 3)) for _ in range(2))
    sides = ((edges.left, draws.left_ratio, 1.0), (edges.right, draws.right_ratio, -1.0))
    for side, drawn, sign in sides:
        facet = side[draws.edge]
        share, deep = _columns(shares[facet]), ratio[facet]
        square_m2 += row_products(share * (drawn * length_m * deep**2 / 2.0), middle_m)
        across_m = cross_normals(normals.take(facet, axis=0), along_m.T)  # as long as the edge
        cube_m += row_products(share * (sign * drawn**2 * deep**3 / 6.0), _columns(across_m))
    return square_m2, cube_m


def _columns(rows: FloatArray) -> FloatArray:
    """Lay out the columns of some rows one after the other, for long sums over them."""
    return np.ascontiguousarray(rows.T)
