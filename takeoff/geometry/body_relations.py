"""Which bodies of a mesh run into each other, and which lie inside another."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.bodies import Bodies
from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.facets import Facets
from takeoff.geometry.meeting import meeting_boxes
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.mesh_rules import MeshRules
from takeoff.geometry.parts import Parts
from takeoff.geometry.probing import SharedLength, doubled_length_m, shared_length
from takeoff.geometry.standing_apart import not_apart

IntArray = NDArray[np.int64]
_RAY_WORK = 20_000  # what the rays of a pair cost, in facets looked at
_MOST_WORK = 20_000_000  # facets looked at in all: some seconds


@dataclass(frozen=True, slots=True, eq=False)
class BodyRelations:
    """Pairs of closed bodies that are not clear of each other.

    Parameters
    ----------
    crossing : ndarray of int, shape (p, 2)
        Pairs that run into each other; a body twice where it runs into itself.
    inside : ndarray of int, shape (q, 2)
        Pairs of which the first lies wholly inside the second.
    unexamined : int, default 0
        Pairs not looked at, because there are too many of them.
    """

    crossing: IntArray
    inside: IntArray
    unexamined: int = 0


def body_relations(
    mesh: Mesh,
    facets: Facets,
    edges: EdgeTable,
    parts: Parts,
    bodies: Bodies,
    *,
    rules: MeshRules = MeshRules(),
) -> BodyRelations:
    """Tell for every two closed bodies whether they are clear of each other.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    facets : Facets
        Of the same mesh.
    edges : EdgeTable
        Of the same mesh.
    parts : Parts
        Of the same mesh.
    bodies : Bodies
        Of the same mesh.
    rules : MeshRules, optional
        How far bodies may run into each other and still only touch.

    Returns
    -------
    BodyRelations
        The pairs; empty where every body stands clear.

    Notes
    -----
    Bodies whose bounds overlap are probed with rays along the three axes; two that share
    less than the width of the grid of rays (a fiftieth of the overlap of their bounds) may
    pass as clear. A body some of whose edges are shared by four facets or more may be two
    that have a face in common; it is probed for material that it encloses twice.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mending import mend
    >>> boxes = [trimesh.creation.box((size, size, size)) for size in (3.0, 1.0)]
    >>> both = mend(Mesh.from_trimesh(trimesh.util.concatenate(boxes), unit="m"))
    >>> found = body_relations(both.mesh, both.facets, both.edges, both.parts, both.bodies)
    >>> found.inside.tolist()
    [[1, 0]]
    """
    closed = np.flatnonzero(bodies.closed)
    low_m, high_m = bodies.low_m[closed], bodies.high_m[closed]
    pairs = closed[meeting_boxes(low_m, high_m, overlap_m=rules.overlap_m, axes=3)]
    pairs = not_apart(mesh, facets, parts, pairs, overlap_m=rules.overlap_m)
    fanned = parts.body[edges.left[len(edges.left) - edges.fan_links :]]
    alone = sorted(set(fanned[bodies.closed[fanned]].tolist()))
    if not len(pairs) and not alone:
        return BodyRelations(pairs, pairs)
    probe = _Probe(mesh, parts, bodies, rules)
    affordable = probe.affordable(pairs)
    crossing = [(body, body) for body in alone if probe.doubled(body)]
    inside = []
    for one, other in pairs[:affordable].tolist():
        shared = probe.shared(one, other, side=48 if len(pairs) <= 50 else 16)
        if shared.longest_m <= rules.overlap_m:
            continue
        within = (1.0 - rules.coarse_share) * np.array([shared.first_m, shared.second_m])
        if shared.both_m >= within.min():
            inside.append((one, other) if within[0] < within[1] else (other, one))
        else:
            crossing.append((one, other))
    return BodyRelations(_rows(crossing), _rows(inside), len(pairs) - affordable)


class _Probe:
    """Rays through the bodies of one mesh."""

    def __init__(self, mesh: Mesh, parts: Parts, bodies: Bodies, rules: MeshRules) -> None:
        self._mesh = mesh
        self._bodies = bodies
        self._rules = rules
        self._order = np.argsort(parts.body, kind="stable")
        self._first = np.searchsorted(parts.body[self._order], np.arange(parts.body_count + 1))

    def affordable(self, pairs: IntArray) -> int:
        """Count the pairs that can be looked at in some seconds."""
        work = np.cumsum(np.diff(self._first)[pairs].sum(axis=1) + _RAY_WORK)
        return int((work <= _MOST_WORK).sum())

    def _facets(self, body: int) -> IntArray:
        facets: IntArray = self._order[self._first[body] : self._first[body + 1]]
        return facets

    def shared(self, one: int, other: int, *, side: int) -> SharedLength:
        """Measure what two bodies share where their bounds overlap."""
        return shared_length(
            self._mesh,
            self._facets(one),
            self._facets(other),
            low_m=np.maximum(self._bodies.low_m[one], self._bodies.low_m[other]),
            high_m=np.minimum(self._bodies.high_m[one], self._bodies.high_m[other]),
            side=side,
        )

    def doubled(self, body: int) -> bool:
        """Tell whether a body runs into itself."""
        low_m, high_m = self._bodies.low_m[body], self._bodies.high_m[body]
        twice_m = doubled_length_m(self._mesh, self._facets(body), low_m=low_m, high_m=high_m)
        return twice_m > self._rules.overlap_m


def _rows(pairs: list[tuple[int, int]]) -> IntArray:
    """Pairs as an array, none as one without rows."""
    return np.array(pairs, dtype=np.int64).reshape(-1, 2)
