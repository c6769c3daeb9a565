"""What counts as flat, as developed and as cut in the flat pattern of a piece."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PatternRules:
    """Tolerances of flat patterns.

    Parameters
    ----------
    plane_m : float, default 1e-5
        A surface is flat where no point of it lies further off its plane: a hundredth of a
        millimetre is above the rounding of any drawing and below any saw cut. [m]
    plane_share : float, default 2e-7
        It also loses no more than this share of its area when seen square on, so that narrow
        strips that merely bend little are none. [-]
    fit_share : float, default 5e-5
        Two flats of a surface that is laid flat still meet where their common edge lies within
        this share of the size of the surface of itself: a twentieth of a millimetre in a metre is
        above all rounding, and a twentieth of the tolerance of the area. [-]
    area_share : float, default 1e-3
        What is laid flat keeps its area to within this share, or it does not develop: a tenth of
        a percent is the accuracy of all else. [-]
    flat_area_share : float, default 1e-6
        The outlines of a surface that is flat have its area to within this share. [-]
    apex_rad : float, default 0.01
        A cut is a clean one where the points on it, but one, lack no more than this of a full
        turn in all: a tube has no such point, a cone its apex, a bowl nothing else. [rad]
    slit_length_share : float, default 0.1
        Cuts that are not clean, as at the mitres of eased arrises, are taken where they are no
        longer than this share of the joints that hold. [-]
    slit_area_share : float, default 0.01
        And where they gape by no more than this share of the area. [-]
    facing_share : float, default 0.3
        A surface that does not develop is seen along its mean normal where that is at least this
        share of its area, else along the show direction. [-]
    edge_on_share : float, default 1e-4
        Cosine to that direction below which a facet is seen edge on. [-]
    speck_share : float, default 1e-5
        Areas below this share of the surface are left out of such an outline. [-]
    rounding_m, line_m : float, default 2e-7 and 1e-8
        Points of an outline this near the line between others are left out: what single
        precision leaves of a coordinate of 2 m; the latter where the former would move the
        area. [m]
    line_area_share : float, default 1e-7
        By more than this share. [-]
    seam_m : float, default 1e-6
        A corner of a facet that lies this near the edge of another is on it. [m]
    turned_share : float, default 0.98
        A sheet is turned square where the rectangle round it then has less than this share of
        its area. [-]
    hull_count : int, default 500
        Directions of its hull that are tried at most. [-]
    border_count : int, default 200
        Most upright lines along which the facets of a wall are cut where its class changes. [-]
    border_cell_count : int, default 1000000
        Facets times such lines up to which each facet is held against its shares. [-]
    border_share : float, default 1e-7
        Areas of classes that differ by less than this share of a flat are the same. [-]
    border_off_share : float, default 0.01
        A cut moves no more than this share of a wall to another class than was found, or none
        is made. [-]
    cut_count : int, default 200
        Most flats that are cut, the largest ones: of more, each is too small to matter. [-]
    steep_share : float, default 0.05
        Sine of the least tilt of a flat on which level and upright can be told apart. [-]
    """

    plane_m: float = 1e-5
    plane_share: float = 2e-7
    fit_share: float = 5e-5
    area_share: float = 1e-3
    flat_area_share: float = 1e-6
    apex_rad: float = 0.01
    slit_length_share: float = 0.1
    slit_area_share: float = 0.01
    facing_share: float = 0.3
    edge_on_share: float = 1e-4
    speck_share: float = 1e-5
    rounding_m: float = 2e-7
    line_m: float = 1e-8
    line_area_share: float = 1e-7
    seam_m: float = 1e-6
    turned_share: float = 0.98
    hull_count: int = 500
    border_count: int = 200
    border_cell_count: int = 1_000_000
    border_share: float = 1e-7
    border_off_share: float = 0.01
    cut_count: int = 200
    steep_share: float = 0.05
