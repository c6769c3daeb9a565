"""What counts as facing, as a wall, as a return, as curved and as near a limit."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SurfaceRules:
    """Limits by which the surfaces of a piece are told apart.

    Parameters
    ----------
    return_limit_m : float, default 0.110
        Deepest wall still called a return. A self-levelling mix stands on no wall by itself, so
        up to about 100 mm a loose strip serves as inner dam, and deeper walls take a second
        form; 110 keeps nominal 100 mm and 4 in edges clear of the limit (common practice,
        no source). [m]
    relief_m : float, default 0.030
        Steps, ribs and flutes up to this deep belong to the show face: the face coat
        covers them in one pass (common practice, no source). [m]
    face_angle_deg : float, default 45.0
        A surface tilted no more than this from the show direction faces it; a rounded or
        chamfered arris then splits half and half. [°]
    away_angle_deg : float, default 120.0
        A surface tilted more than this faces away and is back: walls that lean in by up to
        30 degrees are still cast. [°]
    blend_radius_m : float, default 0.060
        A convex curve rounder than this is a curved show face, a tighter one a rounded
        arris, and a tighter concave one a rounded inside corner: above every ordinary arris
        radius (common practice, no source). [m]
    bowl_radius_m : float, default 0.400
        A concave curve flatter than this is a curved show face, a tighter one the side of a
        basin: above every ordinary basin (common practice, no source). [m]
    shell_edge_m : float, default 0.060
        Widest strip taken as the edge of a curved shell where it faces away: no thin shell
        is thicker (common practice, no source). [m]
    square_deg : float, default 35.0
        The edge of a shell meets the show face within this of a right angle on the acute
        side; on the obtuse side `away_angle_deg` is the limit. [°]
    least_side_share, most_side_share : float, default 0.25 and 0.6
        The side it meets the show face with is this much of the edge's outline: one of two
        long sides, neither an end nor all of it. [-]
    loop_gap_share : float, default 0.02
        The border of an opening is closed if its ends are within this share of its length. [-]
    narrow_opening_m : float, default 0.075
        The wall of an opening narrower than this is bare: no hand or gun gets the coat in
        (common practice, no source). [m]
    hidden_share : float, default 0.6
        A facing surface that is hidden on more than this share of its area, seen along the
        show direction, is back: the inside of a shell, not a ledge under an overhang. [-]
    probe_count : int, default 2000
        Probes spread over all facing surfaces to see what hides them: the shares of a
        dozen surfaces come out within a tenth. [-]
    least_probe_count : int, default 4
        Fewest probes on one surface, however many there are. [-]
    few_probe_count, most_probe_count : int, default 64 and 1000
        Most probes on one surface at first, and where it came out near the limit: the latter
        tell the share to a hundredth. [-]
    hidden_doubt_share : float, default 0.35
        Surfaces this near `hidden_share` are probed once more: four probes may be off by a
        third. [-]
    clearance_m : float, default 1e-4
        A surface hides another only from this far above it: a tenth of a millimetre is
        above the rounding of any drawing and below every gap that matters. [m]
    unit_share : float, default 0.001
        A show direction may differ from length 1 by this: as if written with three digits. [-]
    tie_deg : float, default 0.5
        Surfaces modelled at exactly 45 or 120 degrees come out either side of it by
        rounding; this much beyond still counts as before. [°]
    depth_tie_m : float, default 1e-6
        Walls modelled exactly as deep as a limit come out either side of it by rounding; this
        much beyond still counts as at it: a micrometre, what single precision leaves of a
        coordinate of 8 m. [m]
    ramp_deg : float, default 2.0
        A narrow strip within this of 45 degrees is shared between show face and wall: a
        chamfer belongs half to each. [°]
    band_deg : float, default 30.0
        The radius of a curve is measured this far to both sides of 45 degrees: far enough
        to be independent of the facets, short of the flats beside it. [°]
    steep_deg : float, default 86.5
        Where a curved show face runs smoothly into a straight wall, it ends at this tilt: it
        loses a thirtieth of the curve and none of the wall. [°]
    overhang_deg : float, default 3.0
        A curved show face may lean in by this at its end: the facets of a half round do. [°]
    wall_ratio : float, default 1.6
    wall_rise_m : float, default 0.010
        A straight wall follows a curve where its steep end (75 to 90 degrees) is higher than
        this many times what the radius alone would give, and this much more: a barrel may
        be flattened or stretched by half. [-], [m]
    flat_deg : float, default 0.03
        Neighbouring facets that turn less than this are one flat face: ten times the
        rounding of float32 on a facet of ordinary size. [°]
    chain_deg : float, default 0.5
        A flat whose facets differ by more than this on average is none, but a finely divided
        curve: a metre of it would be a millimetre off the plane. [°]
    rounding_share : float, default 1.2e-7
        Coordinates are rounded to this share of the farthest one: what single precision keeps
        of them. A facet hardly higher than that may look anywhere. [-]
    smooth_deg : float, default 31.0
        Facets that turn less than this are steps of one curve: six segments to a half
        turn. [°]
    sharp_deg : float, default 25.0
        An edge that turns more than this is an arris or inside corner whatever the radius
        of the curve it may stand for. [°]
    one_side_share : float, default 0.6
        A flat whose steps cancel to less than this of their sum lies within a curve: those of a
        curve cancel to a third at most, those of a plane beside a fold, or between two folds
        square to each other, to no less than 0.7. [-]
    like_radius_ratio : float, default 1.1
        Radii up to this many times the least are the same radius, drawn unevenly. [-]
    radius_held_share, radius_area_share : float, default 0.25 and 0.02
        A radius counts where that share of its square, or of the whole area, is bent like it:
        the corner of three rounded arrises holds 1.6 times its square, a sliver at the rim of a
        bowl next to nothing. [-]
    radius_flat_count : int, default 5000
        Of more flats than this with radii within a factor of two, an even sample is looked at:
        so many tell the least of them. [-]
    near_limit_share : float, default 0.12
        Walls within this share of the return limit are noted: 100 mm and 4 in edges lie inside
        it, and the shop may see them either way. [-]
    near_curve_share : float, default 0.25
        Curves whose radius lies within this share of `blend_radius_m` or `bowl_radius_m` are
        noted, with the areas that both readings give: at the limit the show area jumps. [-]
    chord_share : float, default 0.001
        Curves drawn in so few steps that their chords take this much off the whole area are
        noted: a tenth of a percent is the accuracy of all else. [-]
    coarse_deg : float, default 44.0
        Faces that turn by less than this, one after the other, may be a curve drawn in fewer than
        six steps to the half turn; an octagon, with 45 degrees, is meant. [°]
    doubt_share : float, default 0.01
        A doubt is noted from this share of the area on: a percent is what a takeoff is
        for. [-]
    undercut_deg : float, default 0.5
        A wall that leans in by more than this is an undercut: less is drawn as plumb. [°]
    strip_count : int, default 256
        Columns into which a large wall is cut, beside those at its corners. A wall ending in a
        curve is off by less than half of one. [-]
    small_strip_count : int, default 24
        The same for a wall below `small_wall_share` of the area. [-]
    small_wall_share : float, default 0.002
        A wall smaller than this share of the area is a small wall. [-]
    corner_deg : float, default 10.0
        Where the outline of a wall turns more than this, a column starts. [°]
    corner_count : int, default 300
        Up to this many corners, every slighter one starts a column too. [-]
    fine_share : float, default 1e-5
        A wall flat below this share of the area goes whole to the column at its centre: it is
        one of many of a finely divided curve. [-]
    azimuth_count : int, default 16
        Directions into which walls are sorted before they are cut into columns: 22.5 degrees
        each keeps the foreshortening under 2 percent. [-]
    strip_m : float, default 1e-7
        Columns narrower than this are not cut: the rounding of a drawing. [m]
    groove_side_share : float, default 0.33
        The ceiling of a groove borders the wall above it along more than this share of its
        outline: a long side is half of it, the short end of a hole a quarter at most. [-]
    groove_count : int, default 8
        Most grooves one below the other in a wall. [-]
    fill_round_count : int, default 40
        How many joints an undecided wall may lie from the next decided one. [-]
    decided_share : float, default 0.25
        From this share of a sector on, its decided area stands for the rest. [-]
    undecided_share : float, default 0.05
        Walls without a clear depth are noted from this share of all walls on: the mitres of a
        splayed opening are always some. [-]
    equal_share : float, default 1e-4
        Surfaces whose areas differ by less are numbered by position, so that rounding changes
        no number. [-]
    same_place_share : float, default 1e-3
        Surfaces closer together than this share of the size of the piece are in the same place
        along that axis: far above rounding, far below what tells two surfaces apart. [-]
    sliver_share : float, default 1e-6
        Parts of a facet, and surfaces, below this share of the area are not listed apart. [-]
    """

    return_limit_m: float = 0.110
    relief_m: float = 0.030
    face_angle_deg: float = 45.0
    away_angle_deg: float = 120.0
    blend_radius_m: float = 0.060
    bowl_radius_m: float = 0.400
    shell_edge_m: float = 0.060
    square_deg: float = 35.0
    least_side_share: float = 0.25
    most_side_share: float = 0.6
    loop_gap_share: float = 0.02
    narrow_opening_m: float = 0.075
    hidden_share: float = 0.6
    probe_count: int = 2000
    least_probe_count: int = 4
    few_probe_count: int = 64
    most_probe_count: int = 1000
    hidden_doubt_share: float = 0.35
    clearance_m: float = 1e-4
    unit_share: float = 0.001
    tie_deg: float = 0.5
    depth_tie_m: float = 1e-6
    ramp_deg: float = 2.0
    band_deg: float = 30.0
    steep_deg: float = 86.5
    overhang_deg: float = 3.0
    wall_ratio: float = 1.6
    wall_rise_m: float = 0.010
    flat_deg: float = 0.03
    chain_deg: float = 0.5
    rounding_share: float = 1.2e-7
    smooth_deg: float = 31.0
    sharp_deg: float = 25.0
    one_side_share: float = 0.6
    like_radius_ratio: float = 1.1
    radius_held_share: float = 0.25
    radius_area_share: float = 0.02
    radius_flat_count: int = 5_000
    near_limit_share: float = 0.12
    near_curve_share: float = 0.25
    chord_share: float = 0.001
    coarse_deg: float = 44.0
    doubt_share: float = 0.01
    undercut_deg: float = 0.5
    strip_count: int = 256
    small_strip_count: int = 24
    small_wall_share: float = 0.002
    corner_deg: float = 10.0
    corner_count: int = 300
    fine_share: float = 1e-5
    azimuth_count: int = 16
    strip_m: float = 1e-7
    groove_side_share: float = 0.33
    groove_count: int = 8
    fill_round_count: int = 40
    decided_share: float = 0.25
    undecided_share: float = 0.05
    equal_share: float = 1e-4
    same_place_share: float = 1e-3
    sliver_share: float = 1e-6
