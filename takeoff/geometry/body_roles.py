"""What each body of a mesh is: a solid, a cavity in one, or turned inside out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.bodies import Bodies
from takeoff.geometry.body_relations import BodyRelations


@dataclass(frozen=True, slots=True, eq=False)
class BodyRoles:
    """The part that each body plays.

    Parameters
    ----------
    inside_out : ndarray of bool, shape (b,)
        Closed bodies whose facets must be turned.
    cavity : ndarray of bool, shape (b,)
        Voids in another body.
    owner : ndarray of int, shape (b,)
        The solid that each body belongs to: itself, or the one a cavity is in.
    overlapping : tuple of tuple of two int
        Pairs of bodies whose material is counted twice.
    unexamined : int
        Pairs of bodies that were not looked at.
    """

    inside_out: NDArray[np.bool_]
    cavity: NDArray[np.bool_]
    owner: NDArray[np.int64]
    overlapping: tuple[tuple[int, int], ...]
    unexamined: int


def body_roles(bodies: Bodies, relations: BodyRelations) -> BodyRoles:
    """Tell solids from cavities by how bodies lie inside each other.

    Parameters
    ----------
    bodies : Bodies
        The bodies.
    relations : BodyRelations
        How they lie.

    Returns
    -------
    BodyRoles
        A body wound inward inside a solid is its cavity. One wound inward on its own is
        inside out, and so is all that lies in it. One wound outward inside a solid would
        count material twice: it is listed as overlapping.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mending import mend
    >>> from takeoff.geometry.mesh import Mesh
    >>> outer, inner = (trimesh.creation.box((size, size, size)) for size in (3.0, 1.0))
    >>> _ = inner.invert()
    >>> hollow = mend(Mesh.from_trimesh(trimesh.util.concatenate([outer, inner]), unit="m"))
    >>> hollow.roles.cavity.tolist(), hollow.roles.owner.tolist()
    ([False, True], [0, 0])
    """
    count = len(bodies.closed)
    containers: list[list[int]] = [[] for _ in range(count)]
    for inner, outer in relations.inside.tolist():
        containers[inner].append(outer)
    inward = bodies.closed & (bodies.volume_m3 < 0.0)
    inside_out = inward.copy()
    cavity = np.zeros(count, dtype=np.bool_)
    owner = np.arange(count)
    overlapping = [(one, other) for one, other in relations.crossing.tolist()]
    for body in sorted(range(count), key=lambda number: len(containers[number])):
        around = containers[body]
        if not around:
            continue
        root = next(outer for outer in around if not containers[outer])
        nearest = min(around, key=lambda outer: abs(float(bodies.volume_m3[outer])))
        hollow = bool(inward[body] ^ inward[root])  # as wound once the root is outward
        in_material = sum(-1 if cavity[outer] else 1 for outer in around) >= 1
        cavity[body] = hollow and in_material
        inside_out[body] = inward[body] if not cavity[body] else not inward[body]
        if cavity[body]:
            owner[body] = owner[nearest]
        elif in_material:
            overlapping.append((nearest, body))
    return BodyRoles(inside_out, cavity, owner, tuple(overlapping), relations.unexamined)
