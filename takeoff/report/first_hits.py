"""Which facet of a mesh an eye sees at every pixel, and how much light falls on it."""

from __future__ import annotations

from dataclasses import dataclass
from importlib.util import find_spec

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.facets import bounds_m, facets_of
from takeoff.geometry.mesh import Mesh

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]

_MARGIN_SHARE = 0.06
_DARKEST_SHARE = 0.55
_NEEDED = ("embreex", "PIL")


@dataclass(frozen=True, slots=True, eq=False)
class FirstHits:
    """What is seen.

    Parameters
    ----------
    facet : ndarray of int, shape (height, width)
        Facet at each pixel, -1 where there is none.
    light_share : ndarray of float, shape (height, width)
        Light on it, 1 where it faces the eye. [-]
    """

    facet: IntArray
    light_share: FloatArray


def pictures_can_be_drawn() -> bool:
    """Tell whether the libraries are installed that draw still pictures.

    Returns
    -------
    bool
        False where the extra ``[report]`` is missing.

    Examples
    --------
    >>> pictures_can_be_drawn() in {True, False}
    True
    """
    return all(find_spec(name) is not None for name in _NEEDED)


def first_hits(mesh: Mesh, eye_direction: FloatArray, *, width: int, height: int) -> FirstHits:
    """Look at a mesh from far away.

    Parameters
    ----------
    mesh : Mesh
        The mesh.
    eye_direction : ndarray of float, shape (3,)
        Unit vector from the mesh to the eye. [-]
    width, height : int
        Pixels.

    Returns
    -------
    FirstHits
        The whole mesh, as large as it fits; up in the drawing is up in the picture.

    Examples
    --------
    >>> import trimesh
    >>> box = Mesh.from_trimesh(trimesh.creation.box((1.0, 1.0, 1.0)), unit="m")
    >>> hits = first_hits(box, np.array([0.0, 0.0, 1.0]), width=40, height=30)
    >>> hits.facet.shape, int(hits.facet[0, 0]), bool(hits.facet[15, 20] >= 0)
    ((30, 40), -1, True)
    """
    from trimesh.ray.ray_pyembree import RayMeshIntersector

    low_m, high_m = bounds_m(mesh)
    middle_m = (low_m + high_m) / 2.0
    right, up = _screen(eye_direction)
    points_m = mesh.points_m - middle_m
    across_m, along_m = points_m @ right, points_m @ up
    pixel_m = (1.0 + 2.0 * _MARGIN_SHARE) * max(
        float(np.ptp(across_m)) / width, float(np.ptp(along_m)) / height
    )
    columns = (np.arange(width) - (width - 1) / 2.0) * pixel_m
    rows = ((height - 1) / 2.0 - np.arange(height)) * pixel_m
    plan_m = columns[None, :, None] * right + rows[:, None, None] * up
    plan_m += (across_m.max() + across_m.min()) / 2.0 * right
    plan_m += (along_m.max() + along_m.min()) / 2.0 * up
    origins_m = plan_m + 2.0 * float(np.ptp(points_m @ eye_direction) + 1.0) * eye_direction
    centred = Mesh(points_m, mesh.triangles).to_trimesh()
    rays = np.broadcast_to(-eye_direction, (width * height, 3))
    hit = RayMeshIntersector(centred).intersects_first(origins_m.reshape(-1, 3), rays)
    facet = np.asarray(hit, dtype=np.int64).reshape(height, width)
    facing = np.abs(facets_of(mesh).normals @ eye_direction)
    light = _DARKEST_SHARE + (1.0 - _DARKEST_SHARE) * facing
    return FirstHits(facet, np.where(facet >= 0, light[np.maximum(facet, 0)], 1.0))


def _screen(eye_direction: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Directions to the right and upwards in the picture."""
    upright = np.array([0.0, 0.0, 1.0])
    if abs(float(eye_direction @ upright)) > 0.9:
        upright = np.array([0.0, 1.0, 0.0])
    right = np.cross(upright, eye_direction)
    right /= np.linalg.norm(right)
    return right, np.cross(eye_direction, right)
