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


def parts_of(
    count: int, edges: EdgeTable, turns_deg: NDArray[np.float64], *, smooth_deg: float
) -> Parts:
    """Number the smooth patches and the bodies of a mesh.

    Parameters
    ----------
    count : int
        Number of facets.
    edges : EdgeTable
        Of the mesh.
    turns_deg : ndarray of float, shape (e,)
        Turn at every edge. [°]
    smooth_deg : float
        Turns below this do not end a patch. [°]

    Returns
    -------
    Parts
        Numbers from 0, in the order of first facets.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.dihedrals import turns_deg
    >>> from takeoff.geometry.edges import edge_table
    >>> from takeoff.geometry.facets import facets_of
    >>> from takeoff.geometry.mesh import Mesh
    >>> box = Mesh.from_trimesh(trimesh.creation.box((1.0, 1.0, 1.0)), unit="m")
    >>> edges = edge_table(box)
    >>> parts = parts_of(12, edges, turns_deg(box, facets_of(box), edges), smooth_deg=20.0)
    >>> parts.patch_count, parts.body_count
    (6, 1)
    """
    smooth = np.abs(turns_deg) < smooth_deg
    patch = component_labels(count, edges.left[smooth], edges.right[smooth])
    patch_count = int(patch.max()) + 1 if count else 0
    sharp = ~smooth
    of_patch = component_labels(patch_count, patch[edges.left[sharp]], patch[edges.right[sharp]])
    body_count = int(of_patch.max()) + 1 if count else 0
    return Parts(patch, of_patch[patch], patch_count, body_count)
