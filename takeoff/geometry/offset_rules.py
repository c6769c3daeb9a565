"""When the edge sum may be trusted for a layer, and what it takes for flat or smooth."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OffsetRules:
    """Limits of the signed-dihedral sum.

    Parameters
    ----------
    flat_deg : float, default 0.05
        Two facets that turn less than this are one flat face: the triangulation of a
        plane in float32 turns by about a tenth of it. [°]
    smooth_deg : float, default 20.0
        A turn below this is a step of a curve, above it a sharp edge: a quarter round in
        five or more segments counts as a curve. [°]
    cotangent_limit_ratio : float, default 3.0
        At a corner nearly straight, the share that depends on the difference of the two turns
        is capped at this cotangent; it cancels with the neighbouring corner. [-]
    tip_deg : float, default 10.0
        A point whose angles fall short of a full turn by more than this is a tip, as of a cone,
        however smooth its edges: the layer there is mitred, not part of a ball. Below it, the
        two differ by less than two percent. [°]
    mitre_limit_ratio : float, default 4.0
        Where layers of two thicknesses meet, the mitre between them draws back no further than
        this many thicknesses: beyond, they meet nearly flat. [-]
    foot_share : float, default 0.1
        How far the correction is doubted where edges run aslant into a border: behind a sharp
        inside corner the layers round the end of the edge are less than it tells. [-]
    most_turn_deg : float, default 179.0
        A knife edge is taken to turn no more than this, which draws the layers back by 115 times
        their thickness: no side of a blade is as wide as that, and they are counted. [°]
    gone_share : float, default 1e-6
        A face that has shrunk below zero by more than this share of its area is gone; one
        that just comes to a line, as at half the thickness of a slab, is not. [-]
    arris_turn_deg : float, default 125.0
        An eased arris turns no further than this; a bead or a nose that turns on is no arris,
        and the layers from its two sides meet inside. [°]
    chamfer_deg : float, default 60.0
        Faces that turn by less than this at an arris may belong to one chamfered or coarsely
        rounded arris, which the sum over edges follows: a chamfer turns twice by 45. [°]
    eased_share : float, default 0.05
        How far the correction at eased arrises is doubted: where they meet at a corner, the
        corner of a ball is counted with its arrises. [-]
    step_share : float, default 0.6
        How far the correction at steps is doubted: in a groove narrower than the layers the
        rounds of its two inside corners meet. [-]
    rim_share : float, default 0.25
        A run of faces with more open edge than this along it is the rim of a shallow wall, not an
        eased arris; the ends of a fillet are less. [-]
    note_share : float, default 0.001
        An error estimate above this share of the volume is too much, and the layers are
        counted: a tenth of a percent is below what a scale and a trowel can hold. [-]
    coat_share : float, default 0.005
        A layer against the skin is taken from the sum over edges up to this estimate of its
        error, which is twice to five times the error itself: beside that, a thin layer behind
        a fine relief is counted no better. [-]
    clash_share : float, default 0.002
        Where layers that share no edge meet behind more than this share of the skin, they are
        counted. [-]
    meet_share : float, default 0.005
        A difference between sum and close count above this share is told: layers meet. [-]
    """

    flat_deg: float = 0.05
    smooth_deg: float = 20.0
    cotangent_limit_ratio: float = 3.0
    tip_deg: float = 10.0
    mitre_limit_ratio: float = 4.0
    foot_share: float = 0.1
    most_turn_deg: float = 179.0
    gone_share: float = 1e-6
    arris_turn_deg: float = 125.0
    chamfer_deg: float = 60.0
    eased_share: float = 0.05
    step_share: float = 0.6
    rim_share: float = 0.25
    note_share: float = 0.001
    coat_share: float = 0.005
    clash_share: float = 0.002
    meet_share: float = 0.005
