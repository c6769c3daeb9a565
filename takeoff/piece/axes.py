"""Axes along which a piece may have been meant to be seen, by the size of the face they show."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import dot
from takeoff.piece.bending import bends_of
from takeoff.piece.flats import Flats
from takeoff.piece.plan_axes import cosines_ratio
from takeoff.piece.planning import plan_of
from takeoff.piece.reading_rules import ReadingRules
from takeoff.piece.sampling import Samples

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Axis:
    """An axis of a piece.

    Parameters
    ----------
    direction : ndarray of float, shape (3,)
        Unit vector one way along it. [-]
    face_ratio : float
        Size of the face it shows over that of the axis that shows most. [-]
    flat : bool
        True where a main face is square to it.
    """

    direction: FloatArray
    face_ratio: float
    flat: bool


def axes_of(
    flats: Flats, samples: Samples, *, rules: ReadingRules = ReadingRules()
) -> tuple[Axis, ...]:
    """Find the axes of a piece.

    Parameters
    ----------
    flats : Flats
        The piece.
    samples : Samples
        Points of its surface.
    rules : ReadingRules, optional
        What counts as an axis.

    Returns
    -------
    tuple of Axis
        The axis that shows the largest face first; none within `ReadingRules.apart_deg` of a
        better one.

    Notes
    -----
    Candidates are square to the flat faces, and the principal axes of the normals, which find
    the axis of curved pieces. The face an axis shows is its silhouette, or half the area
    projected along it where that is less, as on a frame.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> from takeoff.piece.sampling import samples_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((3.0, 2.0, 0.1)), unit="m"))
    >>> [abs(axis.direction).tolist() for axis in axes_of(box, samples_of(box, 60000))]
    [[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [1.0, 0.0, 0.0]]
    """
    candidates, faces_m2 = _candidates(flats, rules)
    few = samples.every(rules.sizing_step_count)
    shown_m2 = np.array([_shown_m2(flats, few, axis, rules) for axis in candidates])
    main_m2 = rules.main_face_share * float(flats.area_m2.sum())
    chosen: list[int] = []
    for place in np.argsort(-shown_m2.round(9), kind="stable"):
        others = candidates[chosen] @ candidates[place] if chosen else np.zeros(1)
        if np.abs(others).max() < np.cos(np.radians(rules.apart_deg)):
            chosen.append(int(place))
    largest_m2 = float(shown_m2[chosen[0]])
    return tuple(
        Axis(
            candidates[place], float(shown_m2[place]) / largest_m2, bool(faces_m2[place] > main_m2)
        )
        for place in chosen
    )


def _candidates(flats: Flats, rules: ReadingRules) -> tuple[FloatArray, FloatArray]:
    """Directions of flat faces and of the spread of the normals; area of the faces of each."""
    near = np.cos(np.radians(rules.parallel_deg))
    axes = np.empty((0, 3))
    faces_m2 = np.empty(0)
    largest = np.argsort(-flats.area_m2, kind="stable")[: rules.face_count]
    for flat in largest[~_of_curves(flats, rules)[largest]]:
        normal = flats.normals[flat]
        cosine = np.abs(axes @ normal)
        if len(axes) and cosine.max() > near:
            faces_m2[int(cosine.argmax())] += flats.area_m2[flat]
        else:
            axes = np.vstack([axes, normal])
            faces_m2 = np.append(faces_m2, flats.area_m2[flat])
    kept = faces_m2 > rules.least_face_share * float(flats.area_m2.sum())
    axes, faces_m2 = axes[kept], faces_m2[kept]
    spread = (flats.normals * flats.area_m2[:, None]).T @ flats.normals
    for principal in np.linalg.eigh(spread)[1].T[::-1]:
        if not len(axes) or np.abs(axes @ principal).max() < np.cos(np.radians(rules.apart_deg)):
            axes, faces_m2 = np.vstack([axes, principal]), np.append(faces_m2, 0.0)
    return axes, faces_m2


def _of_curves(flats: Flats, rules: ReadingRules) -> BoolArray:
    """Tell the facets of coarsely divided curves: small, and smooth most of the way round."""
    joints = flats.joints
    everywhere = np.ones(len(joints.left), dtype=np.bool_)
    around_m = flats.joints.sums(joints.length_m, everywhere, flats.count)
    smooth_m = flats.joints.sums(joints.length_m, bends_of(flats).smooth, flats.count)
    small = flats.area_m2 < rules.main_face_share * float(flats.area_m2.sum())
    of_curves: BoolArray = small & (smooth_m > around_m / 2.0)
    return of_curves


def _shown_m2(flats: Flats, samples: Samples, axis: FloatArray, rules: ReadingRules) -> float:
    """Size of the face that an axis shows, less where faces stand askew to it."""
    cells = rules.cell_count // rules.sizing_step_count
    plan = plan_of(samples, axis, cell_count=cells)
    cosine = np.abs(cosines_ratio(flats.normals, axis))
    half_m2 = dot(cosine, flats.area_m2) / 2.0
    off = np.sin(np.radians(rules.square_deg))
    askew = (cosine > off) & (cosine < np.sqrt(1.0 - off**2))
    lost = rules.square_share * float(flats.area_m2[askew].sum()) / float(flats.area_m2.sum())
    return min(plan.area_m2, half_m2) * (1.0 - lost)
