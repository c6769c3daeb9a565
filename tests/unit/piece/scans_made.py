"""Finely divided pieces and surfaces, in millimetres, and the noise a scanner puts on them."""

import numpy as np

from takeoff.geometry.mending import mend
from takeoff.geometry.mesh import Mesh
from tests.unit.piece.pieces_made import MM


def grid(rows, columns):
    """Two triangles for each square of a grid."""
    number = np.arange(rows * columns).reshape(rows, columns)
    a, b = number[:-1, :-1].ravel(), number[1:, :-1].ravel()
    c, d = number[1:, 1:].ravel(), number[:-1, 1:].ravel()
    return np.concatenate([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1)])


def sheet(height_mm, size_mm, step_mm):
    """An open surface over a rectangle, seen from above."""
    x, y = (np.arange(0.0, length + step_mm / 2, step_mm) for length in size_mm)
    x, y = np.meshgrid(x, y, indexing="ij")
    points = np.stack([x, y, height_mm(x, y)], axis=-1).reshape(-1, 3)
    return Mesh(points * MM, grid(*x.shape).astype(np.int32))


def fine_box(size_mm, step_mm):
    """A closed box of even triangles."""
    size = np.asarray(size_mm, dtype=float)
    points, triangles, start = [], [], 0
    for axis in range(3):
        across = [other for other in range(3) if other != axis]
        steps = [max(1, round(size[other] / step_mm)) for other in across]
        u, v = np.meshgrid(*(np.linspace(0.0, 1.0, n + 1) for n in steps), indexing="ij")
        for side in (0.0, 1.0):
            face = np.full((u.size, 3), side)
            face[:, across[0]], face[:, across[1]] = u.ravel(), v.ravel()
            facets = grid(*u.shape)
            outward = (side > 0.5) == (axis != 1)
            triangles.append((facets if outward else facets[:, ::-1]) + start)
            points.append(face * size)
            start += u.size
    merged = Mesh(np.concatenate(points) * MM, np.concatenate(triangles).astype(np.int32))
    return mend(merged).mesh


def shaken(mesh, noise_mm, seed=1):
    """The same mesh with every point off by chance, as a scanner gives it."""
    chance = np.random.default_rng(seed)
    return Mesh(
        mesh.points_m + chance.normal(0.0, noise_mm * MM, mesh.points_m.shape), mesh.triangles
    )
