"""A skin with its facets and edges, measured once for all layers laid on it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.dihedrals import edge_lengths_m, turns_deg
from takeoff.geometry.edges import EdgeTable, edge_table
from takeoff.geometry.facets import Facets, facets_of
from takeoff.geometry.mesh import Mesh


@dataclass(frozen=True, slots=True, eq=False)
class SkinEdges:
    """A skin, its facets and its edges.

    Parameters
    ----------
    mesh : Mesh
        The skin, wound consistently; layers grow against its normals.
    facets : Facets
        Areas and normals.
    edges : EdgeTable
        Edges between facets, and open edges.
    turn_rad : ndarray of float, shape (e,)
        Turn of every edge, above 0 at an arris. [rad]
    length_m : ndarray of float, shape (e,)
        Length of every edge. [m]
    """

    mesh: Mesh
    facets: Facets
    edges: EdgeTable
    turn_rad: NDArray[np.float64]
    length_m: NDArray[np.float64]

    def points_on(self, chosen: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Tell the points at the ends of some edges.

        Parameters
        ----------
        chosen : ndarray of bool, shape (e,)
            The edges.

        Returns
        -------
        ndarray of bool, shape (n,)
            True for the points of the mesh at their ends.
        """
        on = np.zeros(len(self.mesh.points_m), dtype=np.bool_)
        on[self.edges.start[chosen]] = True
        on[self.edges.end[chosen]] = True
        return on

    def open_points(self) -> NDArray[np.bool_]:
        """Tell the points on open edges.

        Returns
        -------
        ndarray of bool, shape (n,)
            True for those points of the mesh.
        """
        on = np.zeros(len(self.mesh.points_m), dtype=np.bool_)
        on[self.edges.open_start] = True
        on[self.edges.open_end] = True
        return on


def skin_edges(mesh: Mesh) -> SkinEdges:
    """Measure the facets and edges of a skin.

    Parameters
    ----------
    mesh : Mesh
        The skin.

    Returns
    -------
    SkinEdges
        The skin with its facets and edges.

    Examples
    --------
    >>> import trimesh
    >>> box = skin_edges(Mesh.from_trimesh(trimesh.creation.box((1, 1, 1)), unit="m"))
    >>> int((box.turn_rad > 1.0).sum()), int(box.open_points().sum())
    (12, 0)
    """
    facets, edges = facets_of(mesh), edge_table(mesh)
    turn_rad = np.radians(turns_deg(mesh, facets, edges))
    return SkinEdges(mesh, facets, edges, turn_rad, edge_lengths_m(mesh, edges))
