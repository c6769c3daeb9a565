"""The judgements that outlines are read and measured by."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OutlineRules:
    """Tolerances and limits for outlines.

    Parameters
    ----------
    same_point_m : float, default 0.000001
        Points nearer than this are one point: a thousandth of a millimetre is above the rounding
        of any export and below anything that can be cast. [m]
    same_point_share : float, default 0.00001
        The same as a share of the overall size, whichever is less. [-]
    join_m : float, default 0.0002
        Largest gap between two open ends that is closed without asking: a fifth of a millimetre
        is above the rounding of drawing programs and below the accuracy of a form. [m]
    join_share : float, default 0.001
        The same as a share of the overall size, whichever is less, so that a drawing in a wrongly
        declared unit is not joined into nonsense. [-]
    chord_m : float, default 0.00005
        Furthest that the arcs or chords put in place of an ellipse or a spline may lie from it. [m]
    chord_share : float, default 0.0005
        The same as a share of the overall size, whichever is less: a drawing in inches or metres
        whose unit is not known yet is then followed as closely as one in millimetres. [-]
    arc_turn_deg : float, default 15
        Largest turn of one arc put in place of an ellipse or a spline, so that small curves are
        followed as closely as large ones. [deg]
    weight_share : float, default 1e-9
        Least weight of a control point as a share of the largest: less is a damaged figure. [-]
    halvings_count : int, default 40
        Most times that a stretch of a curve is halved: beyond it a cusp is left as it stands. [-]
    curve_arcs_count : int, default 20000
        Most arcs put in place of one curve; a shop drawing needs some hundred. [-]
    smooth_turn_deg : float, default 20
        Largest turn between two chords of a tessellated curve: exports use 24 to 72 chords a
        circle (15 to 5 degrees), while drawn polygons with corners turn by 30 or more. [deg]
    straight_turn_deg : float, default 0.05
        Smaller turns are no corner: two lines are one side. [deg]
    slanted_deg : float, default 10
        A side that leans more than this is called slanted: bottom right in place of bottom. [deg]
    smooth_chords_count : int, default 4
        Fewest chords that are taken for a tessellated curve. [-]
    chord_length_ratio : float, default 2.5
        Neighbouring chords of a tessellated curve differ by no more than this in length; a longer
        neighbour is the straight side that the curve runs into. [-]
    open_gap_share : float, default 0.5
        An open line whose ends are nearer to each other than this share of its length is taken
        for an outline that does not close, and refused; a longer gap is a mark, a leader or a
        centre line, which is skipped and named. A side missing from a square leaves 0.33. [-]
    near_gap_share : float, default 0.1
        Open lines are tried as one outline across gaps of up to this share of the shorter line:
        if they close that way the outline is refused as open, for its lines are plainly meant to
        meet. [-]
    sliver_m2 : float, default 0.000001
        Smallest area that counts when two outlines are compared: a square millimetre, or a square
        of ``join_share`` of the overall size, whichever is less. [m²]
    batch_count : int, default 256
        Lines that are compared with all others at a time; it bounds the memory taken. [-]
    marks_count : int, default 400
        Most open lines that are tried for what they enclose: more are a hatch or a picture, and
        are counted only. [-]
    pairs_count : int, default 1 000 000
        Most pairs of outlines in or over one another; a perforated panel has one pair a hole. [-]
    alike_count : int, default 20 000 000
        Most pairs of lines, or of arcs on one circle, that are compared as repeats: more take
        gigabytes of memory, and no drawing has them. [-]
    crossings_count : int, default 20
        Crossings after which the search for more ends, since the outline is refused anyway. [-]
    """

    same_point_m: float = 1e-6
    same_point_share: float = 1e-5
    join_m: float = 2e-4
    join_share: float = 1e-3
    chord_m: float = 5e-5
    chord_share: float = 5e-4
    arc_turn_deg: float = 15.0
    weight_share: float = 1e-9
    halvings_count: int = 40
    curve_arcs_count: int = 20_000
    smooth_turn_deg: float = 20.0
    straight_turn_deg: float = 0.05
    slanted_deg: float = 10.0
    smooth_chords_count: int = 4
    chord_length_ratio: float = 2.5
    open_gap_share: float = 0.5
    near_gap_share: float = 0.1
    sliver_m2: float = 1e-6
    batch_count: int = 256
    marks_count: int = 400
    pairs_count: int = 1_000_000
    alike_count: int = 20_000_000
    crossings_count: int = 20
