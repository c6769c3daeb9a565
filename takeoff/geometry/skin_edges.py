"""A skin with its facets and edges, measured once for all layers laid on it."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.components import component_labels
from takeoff.geometry.dihedrals import lengths_m, turns_deg
from takeoff.geometry.edges import EdgeTable, edge_table
from takeoff.geometry.facets import Facets, bounds_m, facets_of
from takeoff.geometry.mesh import Mesh

Numbers = NDArray[np.int32]


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
    """

    mesh: Mesh
    facets: Facets
    edges: EdgeTable
    turn_rad: NDArray[np.float64]
    _by_turn_deg: dict[float, Numbers] = field(default_factory=dict, init=False, repr=False)

    def patches(self, most_deg: float) -> Numbers:
        """Tell which facets hang together across edges of small turns.

        Parameters
        ----------
        most_deg : float
            Turns up to this, either way, part no patch. [°]

        Returns
        -------
        ndarray of int, shape (k,)
            Patch of each facet, numbered in the order of first facets. It is found once for
            each angle, out of the patches of the next smaller angle that was asked for.
        """
        if most_deg not in self._by_turn_deg:
            within = [angle for angle in self._by_turn_deg if angle < most_deg]
            joins = np.abs(self.turn_rad) <= np.radians(most_deg)
            if within:
                part = self._by_turn_deg[max(within)]
                joins &= np.abs(self.turn_rad) > np.radians(max(within))
                self._by_turn_deg[most_deg] = self._joined(part, joins).take(part)
            else:
                count, edges = len(self.mesh.triangles), self.edges
                whole = component_labels(count, edges.left, edges.right, linked=joins)
                self._by_turn_deg[most_deg] = whole
        return self._by_turn_deg[most_deg]

    def _joined(self, part: Numbers, joins: NDArray[np.bool_]) -> Numbers:
        """Give one number to the parts of the skin that some edges join."""
        left, right = (part.take(side[joins]) for side in (self.edges.left, self.edges.right))
        return component_labels(int(part.max(initial=-1)) + 1, left, right)

    def lengths_m(self, chosen: NDArray[np.integer]) -> NDArray[np.float64]:
        """Measure some edges.

        Parameters
        ----------
        chosen : ndarray of int, shape (b,)
            Numbers of the edges.

        Returns
        -------
        ndarray of float, shape (b,)
            Their lengths. [m]
        """
        return lengths_m(self.mesh, self.edges.start[chosen], self.edges.end[chosen])

    def part(self, chosen: NDArray[np.bool_]) -> SkinEdges:
        """Give some facets as a skin of their own, bounded by open edges.

        Parameters
        ----------
        chosen : ndarray of bool, shape (k,)
            The facets.

        Returns
        -------
        SkinEdges
            The skin, with nothing measured anew where no edge has more than two facets.
        """
        if chosen.all():
            return self
        mesh = Mesh(self.mesh.points_m, self.mesh.triangles[chosen])
        if self.edges.fans:
            return skin_edges(mesh)
        facets = Facets(self.facets.area_m2[chosen], self.facets.normals[chosen])
        inner = chosen[self.edges.left] & chosen[self.edges.right]
        return SkinEdges(mesh, facets, _edges_of(self.edges, chosen, inner), self.turn_rad[inner])

    def low_m(self) -> NDArray[np.float64]:
        """Give the low corner of the skin.

        Returns
        -------
        ndarray of float, shape (3,)
            Least coordinates of the points of its facets. [m]
        """
        used = np.zeros(len(self.mesh.points_m), dtype=np.bool_)
        used[self.mesh.triangles] = True
        points_m = self.mesh.points_m if used.all() else self.mesh.points_m[used]
        return bounds_m(Mesh(points_m, self.mesh.triangles))[0]

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
    turn = turns_deg(mesh, facets, edges)
    return SkinEdges(mesh, facets, edges, np.radians(turn, out=turn))


def _edges_of(edges: EdgeTable, chosen: NDArray[np.bool_], inner: NDArray[np.bool_]) -> EdgeTable:
    """Give the edges of some facets: those between them, and those they do not share."""
    number = (np.cumsum(chosen) - 1).astype(np.int32)
    on_left = np.flatnonzero(chosen[edges.left] & ~inner)
    on_right = np.flatnonzero(chosen[edges.right] & ~inner)
    still = chosen[edges.open_facet]
    same_way = edges.same_way[on_right]
    first, last = edges.start[on_right], edges.end[on_right]
    loose = (
        np.concatenate([edges.left[on_left], edges.right[on_right], edges.open_facet[still]]),
        np.concatenate(
            [edges.start[on_left], np.where(same_way, first, last), edges.open_start[still]]
        ),
        np.concatenate(
            [edges.end[on_left], np.where(same_way, last, first), edges.open_end[still]]
        ),
    )
    return EdgeTable(
        left=number[edges.left[inner]],
        right=number[edges.right[inner]],
        start=edges.start[inner],
        end=edges.end[inner],
        same_way=edges.same_way[inner],
        open_facet=number[loose[0]],
        open_start=loose[1],
        open_end=loose[2],
        fans=0,
    )
