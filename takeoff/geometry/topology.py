"""Holes that go right through the bodies of a mesh, by Euler's formula."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.parts import Parts
from takeoff.geometry.rims import Rims
from takeoff.geometry.umbrellas import umbrellas_of


def openings_of(mesh: Mesh, edges: EdgeTable, parts: Parts, rims: Rims) -> int:
    """Count the holes that go through the bodies of a mesh.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    edges : EdgeTable
        Of the same mesh.
    parts : Parts
        Of the same mesh.
    rims : Rims
        Of the same mesh.

    Returns
    -------
    int
        Handles of all bodies; for an open surface also its rims but one. Small holes are
        no openings.

    Notes
    -----
    A body of g handles and r rims has points - edges + facets = 2 - 2 g - r.

    References
    ----------
    Euler's polyhedron formula in its general form (from memory).

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mending import mend
    >>> from takeoff.geometry.solids import examine_mesh
    >>> pipe = trimesh.creation.annulus(r_min=0.5, r_max=1.0, height=0.1)
    >>> examine_mesh(mend(Mesh.from_trimesh(pipe, unit="m"))).through_holes
    1
    """
    count = parts.body_count
    euler = _points_of_bodies(mesh, edges, parts, rims) + _facets_less_edges(edges, parts)
    rim_body = np.zeros(len(rims.length_m), dtype=np.int64)
    rim_body[rims.number] = parts.body[edges.open_facet]
    every = np.bincount(rim_body, minlength=count)
    large = np.bincount(rim_body[~rims.small], minlength=count)
    handles = np.maximum((2 - euler - every) // 2, 0)
    return int((handles + np.maximum(large - 1, 0)).sum())


def _facets_less_edges(edges: EdgeTable, parts: Parts) -> NDArray[np.int64]:
    """Facets of each body, less its edges."""
    if parts.body_count == 1:
        return np.array([len(parts.body) - len(edges.left) - len(edges.open_facet)])
    of_edges = np.concatenate([parts.body[edges.left], parts.body[edges.open_facet]])
    count = parts.body_count
    return np.bincount(parts.body, minlength=count) - np.bincount(of_edges, minlength=count)


def _points_of_bodies(mesh: Mesh, edges: EdgeTable, parts: Parts, rims: Rims) -> NDArray[np.int64]:
    """Points of each body; one where parts of the surface merely touch counts once a part."""
    umbrella = rims.umbrella
    if umbrella is None:
        simple = parts.body_count == 1 and not edges.fans
        if simple and not (len(mesh.points_m) + len(parts.body) - len(edges.left)) % 2:
            return np.array([len(mesh.points_m)])
        umbrella = umbrellas_of(mesh, edges)
    body = np.zeros(int(umbrella.max()) + 1, dtype=np.int64)
    body[umbrella] = np.repeat(parts.body, 3)
    return np.bincount(body, minlength=parts.body_count)
