"""How finely the band of points between two depths is sampled, and how far it is trusted."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class BandRules:
    """Spacings and tolerances of the band.

    Parameters
    ----------
    samples_per_thickness_count : float, default 8.0
        Samples of the skin lie this many to a thickness apart: features finer than an eighth
        of the layer are smoothed over. [-]
    least_sample_count : int, default 20000
        Fewest samples, so that small pieces are followed as closely. [-]
    most_sample_count : int, default 150000
        Most samples where the skin is nearly flat: about 0.1 s and 20 MB. [-]
    turn_per_spacing_rad : float, default 0.4
        Where it bends, there are more of them: from one to the next it turns no more than this
        on average. At half of it again, flutes of 12 mm come out a percent too large. [rad]
    most_bent_sample_count : int, default 1500000
        Most samples where it bends: enough for a fluted panel of 18 m². [-]
    cells_per_thickness_count : float, default 6.0
        Finest cells are a sixth of the thickness wide, or smaller. [-]
    least_cell_count : int, default 20000
        Fewest finest cells that would fill the layer. [-]
    most_cell_count : int, default 50000
        Most finest cells that would fill the layer: about 0.2 s. Three times as many settle
        no closed form more closely. [-]
    level_count : int, default 3
        The first cells are two to the power of this times as wide as the finest. [-]
    plane_ratio : float, default 1.3
        A sample stands for its plane up to this many spacings aside, beyond it for a point:
        the widest gap between samples is less. [-]
    large_ratio : float, default 1.5
        Facets higher than this many spacings are met exactly, not by their samples. [-]
    exact_ratio : float, default 0.4
        On these, the exact distance is taken from this many spacings aside on. [-]
    neighbour_count : int, default 4
        How many near samples are asked beside a facet, and where small ones end at a sharp
        edge. [-]
    thin_turn_deg : float, default 110.0
        A skin is thin where samples beside one another, within `limit_ratio` spacings, face
        apart by more than this: at a right angle no point is taken for one of the other side. [°]
    thin_neighbour_count : int, default 8
        How many near samples are looked at and asked there, so that some are of either side. [-]
    tip_angle_deg : float, default 130.0
        The facets round the tip of a spike have no more than this between them: a cone no
        wider than 42 degrees. [°]
    tip_facet_count : int, default 2000
        Samples are put below tips on this many facets at most. [-]
    tip_step_ratio : float, default 0.5
        These are this many spacings apart, away from the tip. [-]
    limit_ratio : float, default 2.5
        Small facets are met exactly at samples nearer than this many spacings to a sharp or an
        open edge: the foot of a point is within 1.3 of its nearest sample. [-]
    same_share : float, default 1e-6
        Facets whose distances differ by less than this share are equally near. [-]
    border_step_ratio : float, default 0.5
        Samples of borders are this many spacings apart. [-]
    beside_ratio : float, default 0.75
        A border is as near as the skin where their distances differ by less than this many
        spacings. [-]
    end_lean_deg : float, default 45.0
        A skin that ends across the way it faces, leaning less than this, is dammed off there:
        halfway to a rim, where it ends along that way. [°]
    facing_share : float, default 0.05
        A skin whose facets sum to less than this share of their area faces no way. [-]
    slack_ratio : float, default 0.3
        Distances are known to this many spacings when cells are taken or left whole. [-]
    room_ratio : float, default 0.25
        Near the centre of a curve, a point sees the whole of it at one distance, and the
        correction for the curve is capped: at this share of its radius. [-]
    repeat_count : int, default 2
        The band is counted at least this often, each time on another lattice. [-]
    most_repeat_count : int, default 4
        And at most this often, as long as the counts differ. [-]
    differ_share : float, default 0.0015
        The counts differ where twice their standard error is above this share. [-]
    method_share : float, default 0.003
        What all counts may be off by together: the worst closed form was met within this. [-]
    probe_count : int, default 2500
        Places at which it is tried whether layers meet that share no edge. [-]
    near_share : float, default 0.02
        They meet where another face is nearer by this share of their depth: the chords of
        curves and the spacing of samples make up less. [-]
    part_count : int, default 8
        Layers of more than this many thicknesses are counted in so many steps of thickness. [-]
    border_count : int, default 200000
        Most samples of borders. [-]
    """

    samples_per_thickness_count: float = 8.0
    least_sample_count: int = 20_000
    most_sample_count: int = 150_000
    turn_per_spacing_rad: float = 0.4
    most_bent_sample_count: int = 1_500_000
    cells_per_thickness_count: float = 6.0
    least_cell_count: int = 20_000
    most_cell_count: int = 50_000
    level_count: int = 3
    plane_ratio: float = 1.3
    large_ratio: float = 1.5
    exact_ratio: float = 0.4
    neighbour_count: int = 4
    thin_turn_deg: float = 110.0
    thin_neighbour_count: int = 8
    tip_angle_deg: float = 130.0
    tip_facet_count: int = 2000
    tip_step_ratio: float = 0.5
    limit_ratio: float = 2.5
    same_share: float = 1e-6
    border_step_ratio: float = 0.5
    beside_ratio: float = 0.75
    end_lean_deg: float = 45.0
    facing_share: float = 0.05
    slack_ratio: float = 0.3
    room_ratio: float = 0.25
    repeat_count: int = 2
    most_repeat_count: int = 4
    differ_share: float = 0.0015
    method_share: float = 0.003
    probe_count: int = 2500
    near_share: float = 0.02
    part_count: int = 8
    border_count: int = 200_000

    def rough(self) -> BandRules:
        """Give rules for samples as sparse as will do to find out whether layers meet.

        Returns
        -------
        BandRules
            The rules.

        Examples
        --------
        >>> BandRules().rough().least_sample_count
        5000
        """
        return replace(
            self,
            samples_per_thickness_count=self.samples_per_thickness_count / 2.0,
            least_sample_count=self.least_sample_count // 4,
            most_sample_count=self.most_sample_count // 5,
            most_bent_sample_count=self.most_bent_sample_count // 5,
        )

    def cell_side_m(self, volume_m3: float, deepest_m: float) -> float:
        """Give the side of the finest cells.

        Parameters
        ----------
        volume_m3 : float
            Area times thickness of the layer. [m³]
        deepest_m : float
            Its inner depth. [m]

        Returns
        -------
        float
            The side. [m]

        Examples
        --------
        >>> BandRules().cell_side_m(0.002, 0.024)
        0.004
        """
        widest_m = math.cbrt(volume_m3 / self.least_cell_count)
        narrowest_m = math.cbrt(volume_m3 / self.most_cell_count)
        return max(min(deepest_m / self.cells_per_thickness_count, widest_m), narrowest_m)
