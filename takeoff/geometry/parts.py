"""What of a mesh hangs together: smooth patches, and bodies."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.geometry.edges import EdgeTable


@dataclass(frozen=True, slots=True, eq=False)
class Parts:
    """The patch and the body of every facet.

    Parameters
    ----------
    patch : ndarray of int, shape (k,)
        Number of the smooth patch: facets joined across edges that hardly turn.
    body : ndarray of int, shape (k,)
        Number of the body: facets joined across any edge.
    patch_count, body_count : int
        How many there are.
    """

    patch: NDArray[np.int32]
    body: NDArray[np.int32]
    patch_count: int
    body_count: int


def parts_of(count: int, edges: EdgeTable, smooth: NDArray[np.bool_]) -> Parts:
    """Label the smooth patches and the bodies of a mesh.

    Parameters
    ----------
    count : int
        Number of facets.
    edges : EdgeTable
        Of the mesh.
    smooth : ndarray of bool, shape (e,)
        Edges that do not end a patch.

    Returns
    -------
    Parts
        Numbers from 0, in the order of first facets.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.dihedrals import are_smooth
    >>> from takeoff.geometry.edges import edge_table
    >>> from takeoff.geometry.facets import facets_of
    >>> from takeoff.geometry.mesh import Mesh
    >>> box = Mesh.from_trimesh(trimesh.creation.box((1.0, 1.0, 1.0)), unit="m")
    >>> edges = edge_table(box)
    >>> parts = parts_of(12, edges, are_smooth(facets_of(box), edges, smooth_deg=20.0))
    >>> parts.patch_count, parts.body_count
    (6, 1)
    """
    patch = component_labels(count, edges.left, edges.right, linked=smooth)
    patch_count = int(patch.max(initial=-1)) + 1
    sharp = np.flatnonzero(~smooth)
    of_patch = component_labels(
        patch_count, patch.take(edges.left[sharp]), patch.take(edges.right[sharp])
    )
    body_count = int(of_patch.max(initial=-1)) + 1
    return Parts(patch, of_patch.take(patch), patch_count, body_count)
