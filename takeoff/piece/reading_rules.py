"""By what the kind of a model and its show direction are found where nobody told them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ReadingRules:
    """Limits for reading a mesh: what it shows, and which side is the show face.

    All of them are judgements of a caster looking at a drawing (common practice, no source),
    set so that a drawing that can be read two ways is asked about.

    Parameters
    ----------
    accept_count : float, default 2.0
        A reading is accepted if it leads every other by this many points: one decisive sign
        (2.2 and more) that nothing speaks against.
    same_share : float, default 0.005
        Readings whose show face, return and upright differ by less than this share of their sum
        give the same order of material; either is taken. [-]
    plate_ratio : float, default 0.5
        Readings from both sides of an axis are only alike if no other axis shows more than
        this part of its face: a plate, not a block. [-]
    axis_ratio : float, default 0.6
    axis_count : float, default 4.0
        An axis that shows this part of the largest face loses so many points, one that shows all
        of it none, between them in proportion: the show face is the largest. [-]
    least_axis_ratio : float, default 0.35
        An axis that shows less than this is listed, but nothing speaks for it. [-]
    curved_axis_ratio : float, default 0.65
        An axis without a flat face counts as if it showed this much of its face. [-]
    rounding_share : float, default 1e-6
        A direction this near an axis of the drawing is that axis. [-]
    listed_count : int, default 8
        Readings are listed up to this many; more help nobody. Any direction may be told.
    sample_count : int, default 60000
    cell_count : int, default 3000
        Points on the surface, and cells of the plan they are seen in: twenty points to a cell.
    sizing_step_count : int, default 6
        Every so many of them are enough to compare the sizes of silhouettes, in as many fewer
        cells.
    parallel_deg : float, default 2.0
        Faces within this of each other count towards one axis: draft and rounding. [°]
    apart_deg : float, default 25.0
        Axes closer than this are one question; the better of them stands. [°]
    least_face_share : float, default 0.02
    main_face_share : float, default 0.08
        From these shares of the area on, flat faces give an axis, and count as the main faces
        of a piece. [-]
    face_count : int, default 64
        So many of the largest flat faces are looked at.
    square_share : float, default 0.25
        An axis loses up to this share where faces are neither along nor square to it. [-]
    square_deg : float, default 1.5
        Faces within this are along or square to an axis. [°]
    hollow_ratio : float, default 0.12
    least_hollow_m, most_hollow_m : float, default 0.008 and 0.020
        What lies deeper than this part of the height between higher parts is hollow, but no less
        than the first and no more than the second is asked for. [-], [m]
    hollow_share : float, default 0.35
        A side is hollow if this share of it is. [-]
    even_share : float, default 0.03
        A side is not hollow, or does not stand out, below this share. [-]
    enclosed_share : float, default 0.7
        A hollow is enclosed all round if this share of it is. [-]
    tray_share : float, default 0.75
        A hollow is that of a shell with returns if this share of the side is. [-]
    tray_depth_m : float, default 0.110
        Deeper than a return it may as well be a basin or a trough. [m]
    leg_share : float, default 0.8
    leg_depth_m : float, default 0.300
        A hollow open at two ends, this wide and deep, lies between legs: no upstand or
        splashback cast with its slab is so deep. [-], [m]
    basin_share : float, default 0.5
    basin_depth_m : float, default 0.100
        A hollow in less than this of a side, deeper than a raised field, whose underside
        stands out on the other side, is a basin. [-], [m]
    least_tilt_deg, most_tilt_deg : float, default 3.0 and 72.0
        Faces tilted between these are shaped: neither flat nor a wall with draft. [°]
    shaped_share : float, default 0.25
    bulge_share : float, default 0.6
        A side is shaped if this share of its plan is in relief, or this share is curved. [-]
    relief_m : float, default 0.050
        Relief is no deeper than this; deeper are the ribs of a back. [m]
    plain_share : float, default 0.02
        The other side is plain below this share. [-]
    eased_share : float, default 0.0008
        Eased arrises count from this share of the area on. [-]
    eased_width_m : float, default 0.100
        Wider than this it is no arris any more: a quarter round of 60 mm. [m]
    not_eased_share : float, default 0.0002
        On a side where they take less than this none is eased: rounding. [-]
    eased_reach_ratio : float, default 0.6
        An arris is eased over less than this part of the thickness; beyond, it is a mitre or
        a wall that leans. [-]
    splay_share : float, default 0.005
    splay_reach_ratio : float, default 0.9
        Walls of openings visible from one side, from front to back, count from this share of
        the area on. [-]
    shaped_inside_share : float, default 0.002
        The inside of a hollow is shaped from this share of the area on. [-]
    open_edge_share : float, default 0.05
        A mesh whose open edges are shorter than this times the root of its area is a closed
        one with a hole. [-]
    open_face_share : float, default 0.15
        The open side of an open surface is at least this part of its area. [-]
    rim_behind_share : float, default 0.25
        The rim lies behind the face if the middle of it is this part of the extent behind the
        middle of the surface. [-]
    wall_share : float, default 0.02
    wall_deg : float, default 12.0
    wide_radius_m : float, default 0.100
        Walls of an open surface stand this upright, and make it one with returns from this share
        of the area on. The sides of a curve wider than this radius are no walls. [-], [°], [m]
    even_deg : float, default 15.0
        The face of an open surface lies this near its mean direction, else there are two. [°]
    """

    accept_count: float = 2.0
    same_share: float = 0.005
    plate_ratio: float = 0.5
    axis_ratio: float = 0.6
    axis_count: float = 4.0
    least_axis_ratio: float = 0.35
    curved_axis_ratio: float = 0.65
    rounding_share: float = 1e-6
    listed_count: int = 8
    sample_count: int = 60000
    cell_count: int = 3000
    sizing_step_count: int = 6
    parallel_deg: float = 2.0
    apart_deg: float = 25.0
    least_face_share: float = 0.02
    main_face_share: float = 0.08
    face_count: int = 64
    square_share: float = 0.25
    square_deg: float = 1.5
    hollow_ratio: float = 0.12
    least_hollow_m: float = 0.008
    most_hollow_m: float = 0.020
    hollow_share: float = 0.35
    even_share: float = 0.03
    enclosed_share: float = 0.7
    tray_share: float = 0.75
    tray_depth_m: float = 0.110
    leg_share: float = 0.8
    leg_depth_m: float = 0.300
    basin_share: float = 0.5
    basin_depth_m: float = 0.100
    least_tilt_deg: float = 3.0
    most_tilt_deg: float = 72.0
    shaped_share: float = 0.25
    bulge_share: float = 0.6
    relief_m: float = 0.050
    plain_share: float = 0.02
    eased_share: float = 0.0008
    eased_width_m: float = 0.100
    not_eased_share: float = 0.0002
    eased_reach_ratio: float = 0.6
    splay_share: float = 0.005
    splay_reach_ratio: float = 0.9
    shaped_inside_share: float = 0.002
    open_edge_share: float = 0.05
    open_face_share: float = 0.15
    rim_behind_share: float = 0.25
    wall_share: float = 0.02
    wall_deg: float = 12.0
    wide_radius_m: float = 0.100
    even_deg: float = 15.0
