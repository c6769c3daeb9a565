"""Which bodies of a mesh run into each other, and which lie inside another."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.bodies import Bodies
from takeoff.geometry.facets import Facets
from takeoff.geometry.meeting import meeting_boxes
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.mesh_rules import MeshRules
from takeoff.geometry.parts import Parts
from takeoff.geometry.probing import shared_length
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
        Pairs that run into each other.
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
    pass as clear.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mending import mend
    >>> boxes = [trimesh.creation.box((size, size, size)) for size in (3.0, 1.0)]
    >>> both = mend(Mesh.from_trimesh(trimesh.util.concatenate(boxes), unit="m"))
    >>> body_relations(both.mesh, both.facets, both.parts, both.bodies).inside.tolist()
    [[1, 0]]
    """
    closed = np.flatnonzero(bodies.closed)
    low_m, high_m = bodies.low_m[closed], bodies.high_m[closed]
    pairs = closed[meeting_boxes(low_m, high_m, overlap_m=rules.overlap_m, axes=3)]
    pairs = not_apart(mesh, facets, parts, pairs, overlap_m=rules.overlap_m)
    if not len(pairs):
        return BodyRelations(pairs, pairs)
    order = np.argsort(parts.body, kind="stable")
    first = np.searchsorted(parts.body[order], np.arange(parts.body_count + 1))
    work = np.cumsum(np.diff(first)[pairs].sum(axis=1) + _RAY_WORK)
    affordable = int((work <= _MOST_WORK).sum())
    crossing, inside = [], []
    for one, other in pairs[:affordable].tolist():
        sides = [order[first[body] : first[body + 1]] for body in (one, other)]
        shared = shared_length(
            mesh,
            sides[0],
            sides[1],
            low_m=np.maximum(bodies.low_m[one], bodies.low_m[other]),
            high_m=np.minimum(bodies.high_m[one], bodies.high_m[other]),
            side=48 if len(pairs) <= 50 else 16,
        )
        if shared.longest_m <= rules.overlap_m:
            continue
        within = (1.0 - rules.coarse_share) * np.array([shared.first_m, shared.second_m])
        if shared.both_m >= within.min():
            inside.append((one, other) if within[0] < within[1] else (other, one))
        else:
            crossing.append((one, other))
    return BodyRelations(_rows(crossing), _rows(inside), len(pairs) - affordable)


def _rows(pairs: list[tuple[int, int]]) -> IntArray:
    """Pairs as an array, none as one without rows."""
    return np.array(pairs, dtype=np.int64).reshape(-1, 2)
