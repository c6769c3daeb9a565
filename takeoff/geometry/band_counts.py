"""Layers counted on one lattice after another, until the counts have settled."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.band import Band, band_between
from takeoff.geometry.band_parts import band_parts
from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.nearest import NearestSkin
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.solid_skins import SolidSkin
from takeoff.geometry.sums import dot

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class BandCount:
    """The count of points behind a skin.

    Parameters
    ----------
    skin : SkinEdges
        The skin.
    shares : ndarray of float, shape (k, c)
        Share of each facet in each class. [-]
    solid : SolidSkin or None
        The closed surface that the layers stay within.
    rules : BandRules
        How finely, and how often.
    """

    skin: SkinEdges
    shares: FloatArray
    solid: SolidSkin | None
    rules: BandRules

    def inside(self, depth_m: FloatArray) -> NearestSkin | None:
        """Sample the closed surface that layers of a depth stay within."""
        return None if self.solid is None else self.solid.closely(float(depth_m.max()))

    def between(
        self, from_m: FloatArray, to_m: FloatArray, inside: NearestSkin | None
    ) -> list[Band]:
        """Count between two depths as often as it takes for the counts to settle."""
        area_m2, rules = self.skin.facets.area_m2, self.rules
        parts = band_parts(self.skin, from_m, to_m, ends_square=inside is None, rules=rules)
        side_m = rules.cell_side_m(dot(area_m2, to_m - from_m), float(to_m.max()))
        low_m = self.skin.low_m()
        bands: list[Band] = []
        while len(bands) < rules.repeat_count or (
            len(bands) < rules.most_repeat_count and spread_share(bands) > rules.differ_share
        ):
            bands.append(
                band_between(
                    parts,
                    self.shares,
                    side_m=side_m,
                    lattice=len(bands),
                    inside=inside,
                    low_m=low_m,
                    rules=rules,
                )
            )
        return bands


def spread_share(bands: Sequence[Band]) -> float:
    """Give twice the standard error of some counts, as a share of their mean.

    Parameters
    ----------
    bands : sequence of Band
        The counts.

    Returns
    -------
    float
        The share; 0 for one count alone. [-]

    Examples
    --------
    >>> one, other = (Band(np.array([m3]), np.zeros((1, 3)), np.zeros(1), 0.1, 0)
    ...               for m3 in (0.99, 1.01))
    >>> round(spread_share([one, other]), 9)
    0.02
    """
    if len(bands) < 2:
        return 0.0
    totals_m3 = np.array([band.volume_m3.sum() for band in bands])
    mean_m3 = max(float(totals_m3.mean()), np.finfo(np.float64).tiny)
    return float(2.0 * totals_m3.std(ddof=1) / np.sqrt(len(bands)) / mean_m3)
