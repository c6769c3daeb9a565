"""Doubts about curves: near the limit where they become faces, or drawn too coarsely."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.sums import dot, row_products, summed
from takeoff.notes import Note, NoteCode
from takeoff.piece.explaining import in_mm
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.settling import Settled, settle
from takeoff.piece.surfaces import SurfaceClass
from takeoff.piece.wording import in_words
from takeoff.piece.zones import Zone

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]
BoolArray = NDArray[np.bool_]


def curve_doubts(settled: Settled, *, rules: SurfaceRules = SurfaceRules()) -> tuple[Note, ...]:
    """Collect the doubts about the curves of a piece.

    Parameters
    ----------
    settled : Settled
        The surface, divided.
    rules : SurfaceRules, optional
        From where on a doubt is noted.

    Returns
    -------
    tuple of Note
        The doubts.

    Examples
    --------
    A half column drawn in eight steps is smaller than the true one, here by its six inner ones:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> tube = trimesh.creation.cylinder(0.2, 2.0, sections=16)
    >>> tube.update_faces((tube.face_normals[:, 0] > 0.0) & (tube.face_normals[:, 2] == 0.0))
    >>> flats = flats_of(Mesh.from_trimesh(tube, unit="m"))
    >>> for note in curve_doubts(settle(flats, np.array([1.0, 0.0, 0.0]))):
    ...     print(note.text)
    curves are drawn in steps of up to 22.5 degrees: their chords take about 0.5 % off the area
    """
    return (*_near_limit(settled, rules), *_chords(settled, rules), *_coarse(settled, rules))


def _near_limit(settled: Settled, rules: SurfaceRules) -> list[Note]:
    """Note curves whose radius lies close to where a curve becomes a show face."""
    curves = settled.curves
    limit_m = curves.limits_m(rules)
    near = np.abs(curves.radius_m - limit_m) < rules.near_curve_share * limit_m
    near &= curves.area_m2 > rules.doubt_share * float(settled.flats.area_m2.sum())
    notes = []
    for place in np.flatnonzero(near).tolist():
        convex, radius_m = bool(curves.convex[place]), float(curves.radius_m[place])
        wide = radius_m > limit_m[place]
        here, there = "a curved show face", "a rounded arris" if convex else "the side of a basin"
        taken, other = (here, there) if wide else (there, here)
        text = (
            f"a {'convex' if convex else 'concave'} curve of {in_mm(round(radius_m, 3))} radius is "
            f"close to the limit of {in_mm(float(limit_m[place]))}; taken as {taken}: "
            f"{_areas(settled)}; as {other} it would be: "
            f"{_areas(_the_other_way(settled, radius_m, convex=convex, wide=wide, rules=rules))}"
        )
        notes.append(Note(NoteCode.NEAR_CURVE_LIMIT, text))
    return notes


def _the_other_way(
    settled: Settled, radius_m: float, *, convex: bool, wide: bool, rules: SurfaceRules
) -> Settled:
    """Settle the surface with the limit on the other side of a radius."""
    margin = rules.near_curve_share / 2.0
    limit_m = radius_m * (1.0 + margin if wide else 1.0 - margin)
    other = (
        replace(rules, blend_radius_m=limit_m) if convex else replace(rules, bowl_radius_m=limit_m)
    )
    return settle(settled.flats, settled.zones.show_direction, rules=other)


def _areas(settled: Settled) -> str:
    """Write the area of every class that is cast."""
    shares = settled.parts.shares(settled.flats.count)
    (area_m2,) = row_products(settled.flats.area_m2[None], shares.T)
    cast = [one for one in SurfaceClass if one is not SurfaceClass.BACK]
    return ", ".join(
        f"{in_words(one)} {area:.3f} m²" for one, area in zip(cast, area_m2[:3], strict=True)
    )


def _chords(settled: Settled, rules: SurfaceRules) -> list[Note]:
    """Note how much smaller than the curves their facets are."""
    turn_deg = np.abs(settled.flats.joints.turn_deg)
    # Chords of slighter turns take off less than the share, however many there are.
    least_deg = np.degrees(2.0 * np.sqrt(6.0 * rules.chord_share))
    step = settled.bends.smooth & (turn_deg > least_deg)
    if not step.any():
        return []
    within, mean_deg = _within_curves(settled, step, rules)
    half = np.radians(np.where(within, mean_deg, 0.0)) / 2.0
    excess = np.where(within, half / np.where(within, np.sin(half), 1.0) - 1.0, 0.0)
    lost = dot(settled.flats.area_m2, excess) / float(settled.flats.area_m2.sum())
    if lost <= rules.chord_share:
        return []
    most_deg = float(mean_deg[within].max())
    text = (
        f"curves are drawn in steps of up to {most_deg:.1f} degrees: their chords take about "
        f"{lost * 100.0:.1f} % off the area"
    )
    return [Note(NoteCode.CURVE_CHORDS, text)]


def _coarse(settled: Settled, rules: SurfaceRules) -> list[Note]:
    """Note faces in a row that may be a curve drawn too coarsely to be followed."""
    joints = settled.flats.joints
    turn_deg = np.abs(joints.turn_deg)
    step = (turn_deg >= rules.smooth_deg) & (turn_deg < rules.coarse_deg)
    if not step.any():
        return []
    within, mean_deg = _within_curves(settled, step, rules)
    row = step & joints.within(within)
    rowed = np.zeros(len(within), dtype=np.bool_)
    rowed[joints.left[row]] = True
    rowed[joints.right[row]] = True
    area_m2 = float(settled.flats.area_m2[rowed].sum())
    if area_m2 <= rules.doubt_share * float(settled.flats.area_m2.sum()):
        return []
    each_deg = float(np.median(mean_deg[rowed]))
    half = np.radians(each_deg) / 2.0
    text = (
        f"faces of {area_m2:.3f} m² turn by about {each_deg:.0f} degrees from one to the next and "
        "are taken as planes with arrises; if they stand for a curve, draw it in six steps to the "
        f"half turn or more: now it is {(half / np.sin(half) - 1.0) * 100.0:.1f} % too small"
    )
    return [Note(NoteCode.CURVE_CHORDS, text)]


def _within_curves(
    settled: Settled, step: BoolArray, rules: SurfaceRules
) -> tuple[BoolArray, FloatArray]:
    """Tell cast flats with like steps on two sides, and how much they turn on average."""
    count, joints, at = settled.flats.count, settled.flats.joints, np.flatnonzero(step)
    turn_deg, length_m = joints.turn_deg[at], joints.length_m[at]
    flat = np.concatenate([joints.left[at], joints.right[at]])
    sums = [
        summed(flat, np.concatenate([value, value]), count)
        for value in (turn_deg * length_m, np.abs(turn_deg) * length_m, length_m)
    ]
    one_way = np.abs(sums[0]) > (1.0 - rules.doubt_share) * sums[1]
    within = one_way & (np.bincount(flat, minlength=count) >= 2)
    within &= ~settled.zones.are(Zone.AWAY)
    return within, np.where(within, sums[1] / np.where(within, sums[2], 1.0), 0.0)
