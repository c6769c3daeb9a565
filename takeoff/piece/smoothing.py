"""Scans smoothed: noise taken off their facets, arrises kept."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import SurfaceError
from takeoff.geometry.edges import EdgeTable
from takeoff.geometry.facets import Facets, facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.sums import summed
from takeoff.notes import Note, NoteCode
from takeoff.piece.flats import Flats
from takeoff.piece.noise_rules import NoiseRules

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class SmoothedScan:
    """A scan without most of its noise.

    Parameters
    ----------
    mesh : Mesh
        The same triangles on moved points.
    error_share : float
        How far areas may be off. [-]
    note : Note
        What was done, and that error.
    """

    mesh: Mesh
    error_share: float
    note: Note


def smooth_scan(flats: Flats, *, rules: NoiseRules = NoiseRules()) -> SmoothedScan:
    """Take the noise off a scan.

    Parameters
    ----------
    flats : Flats
        Flats of the scan.
    rules : NoiseRules, optional
        How far, and how much noise is too much.

    Returns
    -------
    SmoothedScan
        The smoothed mesh, the error that is left, and a note.

    Raises
    ------
    SurfaceError
        If the noise takes up so much of the area that little can be said of the surface.

    Notes
    -----
    The vector area of every facet is averaged with its neighbours', over all edges but those
    that turn like an arris; facets and slivers folded by noise so cancel out. The points are
    then moved along the averaged normals until the facets lie square to them.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.piece.flats import flats_of
    >>> ball = Mesh.from_trimesh(trimesh.creation.icosphere(5, 0.5), unit="m")
    >>> shake = 1.0 + 0.003 * np.random.default_rng(1).normal(size=(len(ball.points_m), 1))
    >>> scan = flats_of(Mesh(ball.points_m * shake, ball.triangles))
    >>> areas_m2 = [facets_of(mesh).area_m2.sum() for mesh in (scan.mesh, smooth_scan(scan).mesh)]
    >>> [round(float(area / (np.pi * 0.5**2 * 4.0)), 2) for area in areas_m2]
    [1.01, 1.0]
    """
    normals = _averaged_normals(flats.facets, flats.edges, rules)
    mesh = _moved(flats.mesh, flats.facets.area_m2, normals, rules)
    smooth_m2 = float(facets_of(mesh).area_m2.sum())
    excess_share = float(flats.facets.area_m2.sum()) / smooth_m2 - 1.0
    error_share = max(rules.least_error_share, excess_share)
    if error_share > rules.most_error_share:
        raise SurfaceError(
            f"the mesh is a scan whose noise adds {excess_share:.0%} to its area, too much to "
            "tell its surfaces apart; smooth it in the scanner's program, or have it drawn"
        )
    text = (
        "the mesh is a scan: its noise was smoothed before the surfaces were told apart; areas "
        f"and volumes may be off by about {error_share:.0%}, and details as small as the facets "
        "are lost"
    )
    return SmoothedScan(mesh, error_share, Note(NoteCode.SCAN, text))


def _averaged_normals(facets: Facets, edges: EdgeTable, rules: NoiseRules) -> FloatArray:
    """Average the normals over neighbours, round by round, but not over arrises."""
    least = np.cos(np.radians(rules.most_turn_deg))
    normals, count = facets.normals, len(facets.area_m2)
    for _ in range(rules.averaging_count):
        turn = np.einsum("ij,ij->i", normals[edges.left], normals[edges.right])
        left, right = edges.left[turn > least], edges.right[turn > least]
        vector_m2 = normals * facets.area_m2[:, None]
        for axis in range(3):
            column = vector_m2[:, axis].copy()
            vector_m2[:, axis] += summed(left, column[right], count)
            vector_m2[:, axis] += summed(right, column[left], count)
        length_m2 = np.sqrt(np.einsum("ij,ij->i", vector_m2, vector_m2))
        normals = vector_m2 / np.where(length_m2 > 0.0, length_m2, 1.0)[:, None]
    return normals


def _moved(mesh: Mesh, area_m2: FloatArray, normals: FloatArray, rules: NoiseRules) -> Mesh:
    """Move the points along the normals of the facets round them, towards their planes."""
    points_m, count = mesh.points_m.copy(), len(mesh.points_m)
    corners = [np.ascontiguousarray(mesh.triangles[:, corner]) for corner in range(3)]
    weight_m2 = sum(summed(corner, area_m2, count) for corner in corners)
    divisor_m2 = np.where(weight_m2 > 0.0, weight_m2, 1.0)
    for _ in range(rules.moving_count):
        centre_m = (points_m[corners[0]] + points_m[corners[1]] + points_m[corners[2]]) / 3.0
        step_m3 = np.zeros((count, 3))
        for corner in corners:
            off_m = np.einsum("ij,ij->i", normals, centre_m - points_m[corner]) * area_m2
            for axis in range(3):
                step_m3[:, axis] += summed(corner, off_m * normals[:, axis], count)
        points_m += step_m3 / divisor_m2[:, None]
    return Mesh(points_m, mesh.triangles)
