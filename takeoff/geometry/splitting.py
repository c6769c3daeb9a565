"""The solids of a mended mesh, each as a mended mesh of its own."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.bodies import Bodies
from takeoff.geometry.body_roles import BodyRoles
from takeoff.geometry.edges import edge_table
from takeoff.geometry.facets import Facets
from takeoff.geometry.mending import MendedMesh
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.parts import Parts
from takeoff.geometry.welding import compacted


def split_solids(mended: MendedMesh) -> tuple[MendedMesh, ...]:
    """Split a mesh of several solids that stand clear of each other.

    Parameters
    ----------
    mended : MendedMesh
        From `mend`.

    Returns
    -------
    tuple of MendedMesh
        One for each solid, with the cavities in it, without repairs; the mesh itself where
        it is one solid, or where a body is open or runs into another.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mending import mend
    >>> boxes = [trimesh.creation.box(bounds=[[i, 0, 0], [i + 1, 1, 1]]) for i in (0, 3)]
    >>> split_solids(mend(Mesh.from_trimesh(trimesh.util.concatenate(boxes), unit="m")))[1].mesh
    Mesh(points=8, triangles=12)
    """
    owners = sorted(set(mended.roles.owner.tolist()))
    whole = bool(mended.bodies.closed.all()) and not mended.roles.overlapping
    if len(owners) == 1 or not whole or mended.roles.unexamined:
        return (mended,)
    return tuple(_selected(mended, mended.roles.owner == owner) for owner in owners)


def _selected(mended: MendedMesh, bodies: NDArray[np.bool_]) -> MendedMesh:
    """Take the part of a mended mesh that some of its bodies make up."""
    facets = bodies[mended.parts.body]
    mesh = mended.mesh
    chosen = compacted(Mesh(mesh.points_m, mesh.triangles[facets]))
    return replace(
        mended,
        mesh=chosen,
        repairs=(),
        facets=Facets(mended.facets.area_m2[facets], mended.facets.normals[facets]),
        edges=edge_table(chosen),
        parts=_parts_of(mended.parts, facets),
        bodies=_bodies_of(mended.bodies, bodies),
        roles=_roles_of(mended.roles, bodies),
    )


def _parts_of(parts: Parts, facets: NDArray[np.bool_]) -> Parts:
    """Patches and bodies of the chosen facets, numbered anew."""
    patches, patch = np.unique(parts.patch[facets], return_inverse=True)
    bodies, body = np.unique(parts.body[facets], return_inverse=True)
    return Parts(
        patch.reshape(-1).astype(np.int32),
        body.reshape(-1).astype(np.int32),
        len(patches),
        len(bodies),
    )


def _bodies_of(bodies: Bodies, chosen: NDArray[np.bool_]) -> Bodies:
    """Measures of the chosen bodies."""
    return Bodies(
        bodies.closed[chosen],
        bodies.area_m2[chosen],
        bodies.volume_m3[chosen],
        bodies.low_m[chosen],
        bodies.high_m[chosen],
    )


def _roles_of(roles: BodyRoles, chosen: NDArray[np.bool_]) -> BodyRoles:
    """Roles of the chosen bodies, numbered anew."""
    number = np.cumsum(chosen) - 1
    return BodyRoles(
        roles.inside_out[chosen], roles.cavity[chosen], number[roles.owner[chosen]], (), 0
    )
