"""First moment of a layer of even thickness, facet by facet and edge by edge."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.offsets import LayerFront, OffsetCoefficients
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.sums import summed

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
    mesh, normals = skin.mesh, skin.facets.normals
    depth_m = coefficients.ratio * thickness_m
    middle_m = mesh.points_m[mesh.triangles[:, 0]] / 3.0
    for corner in (1, 2):
        middle_m += mesh.points_m[mesh.triangles[:, corner]] / 3.0
    prism_m3 = coefficients.area_m2 * depth_m
    square_m = coefficients.arris_m + coefficients.inside_m
    rest_m3 = front.facet_m3 - prism_m3 - square_m * depth_m**2
    moment_m4 = (prism_m3 + rest_m3)[:, None] * middle_m
    moment_m4 -= (prism_m3 * depth_m / 2.0)[:, None] * normals
    draws, edges = coefficients.draws, skin.edges
    start_m, end_m = mesh.points_m[edges.start[draws.edge]], mesh.points_m[edges.end[draws.edge]]
    sides = ((edges.left, draws.left_ratio, 1.0), (edges.right, draws.right_ratio, -1.0))
    for side, drawn, sign in sides:
        facet = side[draws.edge]
        deep_m = depth_m[facet]
        across_m = sign * np.cross(normals[facet], end_m - start_m)  # as long as the edge
        lost_m2 = drawn * skin.length_m[draws.edge] * deep_m**2 / 2.0
        lost_m4 = lost_m2[:, None] * (start_m + end_m) / 2.0
        lost_m4 -= (lost_m2 * deep_m * 2.0 / 3.0)[:, None] * normals[facet]
        lost_m4 += (drawn**2 * deep_m**3 / 6.0)[:, None] * across_m
        for axis in range(3):
            moment_m4[:, axis] -= summed(facet, lost_m4[:, axis], len(depth_m))
    by_class_m4: FloatArray = shares.T @ moment_m4
    return by_class_m4
