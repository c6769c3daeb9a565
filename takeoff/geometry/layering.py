"""Two layers behind a skin, one behind the other: by the sum over edges, or counted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.band import Band
from takeoff.geometry.band_counts import BandCount, spread_share
from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.conflicts import meeting_share
from takeoff.geometry.dam_passing import passing_share
from takeoff.geometry.moments import front_moments_m4
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.offsets import LayerFront, OffsetCoefficients, front_m3, offset_coefficients
from takeoff.geometry.skin_edges import SkinEdges
from takeoff.geometry.solid_skins import SolidSkin
from takeoff.geometry.sums import dot, row_products

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Grown:
    """One layer.

    Parameters
    ----------
    volume_m3 : ndarray of float, shape (c,)
        Volume by column of the shares. [m³]
    moment_m4 : ndarray of float, shape (c, 3)
        First moments, by column. [m⁴]
    """

    volume_m3: FloatArray
    moment_m4: FloatArray

    def within(self, room_m3: float) -> Grown:
        """Give the layer shrunk to the room that there is, where it is more.

        Parameters
        ----------
        room_m3 : float
            The room. [m³]

        Returns
        -------
        Grown
            The layer.
        """
        whole_m3 = float(self.volume_m3.sum())
        if whole_m3 <= room_m3:
            return self
        share = room_m3 / whole_m3
        return Grown(self.volume_m3 * share, self.moment_m4 * share)

    def centroid_m(self, column: int | None = None) -> tuple[float, float, float] | None:
        """Give the centroid of the layer, or of one column of it.

        Parameters
        ----------
        column : int, optional
            The column; all of the layer where it is left out.

        Returns
        -------
        tuple of float or None
            The centroid; None where there is none of it. [m]
        """
        chosen = slice(None) if column is None else slice(column, column + 1)
        whole_m3 = float(self.volume_m3[chosen].sum())
        if whole_m3 <= 0.0:
            return None
        x_m, y_m, z_m = (self.moment_m4[chosen].sum(axis=0) / whole_m3).tolist()
        return x_m, y_m, z_m


@dataclass(frozen=True, slots=True, eq=False)
class FacetLayers:
    """Two layers behind each facet of a skin, by the sum over edges.

    Parameters
    ----------
    volume_m3 : ndarray of float, shape (k,)
        Volume of both layers. [m³]
    inner_m2 : ndarray of float, shape (k,)
        Area of the inner face of the second; sums over a face are right also where single
        ones have shrunk below 0. [m²]
    """

    volume_m3: FloatArray
    inner_m2: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Layering:
    """Two layers behind a skin.

    Parameters
    ----------
    first, second : Grown
        The layer on the skin, and the one behind it.
    inner_m2 : ndarray of float, shape (c,)
        Area of the inner face of the second layer, by column. [m²]
    uncertainty_share : float
        How far the volume of both may be off. [-]
    edge_sum_m3 : float
        Volume of both by the sum over edges alone. [m³]
    counted : bool
        True where the volume was counted, because the sum over edges does not hold.
    arris_m3, inside_m3 : float
        What the layers share at arrises, and need more at inside corners, by that sum. [m³]
    by_facet : FacetLayers or None
        The same by facet; None where the layers were counted.
    """

    first: Grown
    second: Grown
    inner_m2: FloatArray
    uncertainty_share: float
    edge_sum_m3: float
    counted: bool
    arris_m3: float
    inside_m3: float
    by_facet: FacetLayers | None = None

    @property
    def volume_m3(self) -> float:
        """Volume of both layers, in [m³]."""
        return float(self.first.volume_m3.sum() + self.second.volume_m3.sum())


@dataclass(frozen=True, slots=True, eq=False)
class _Front:
    """A layer from the skin to one depth, by the sum over edges."""

    depth_m: FloatArray
    terms: OffsetCoefficients
    thickness_m: float
    layer: LayerFront
    rim_m: FloatArray | None

    @property
    def error_share(self) -> float:
        return self.layer.error_m3 / max(self.layer.volume_m3, np.finfo(np.float64).tiny)

    def at(self, share: float, rules: OffsetRules) -> _Front:
        """Give the front at a share of its depth."""
        thickness_m = share * self.thickness_m
        layer = _summed(self.terms, thickness_m, self.rim_m, rules)
        return _Front(self.depth_m * share, self.terms, thickness_m, layer, self.rim_m)


def _grown(skin: SkinEdges, shares: FloatArray, *fronts: _Front) -> list[Grown]:
    """Give the layers down to some fronts, those of equal terms together."""
    terms = fronts[0].terms
    if any(front.terms is not terms for front in fronts):
        return [_grown(skin, shares, front)[0] for front in fronts]
    moments_m4 = front_moments_m4(
        skin,
        terms,
        [front.layer for front in fronts],
        [front.thickness_m for front in fronts],
        shares,
    )
    return [
        Grown(_by_class(front.layer.facet_m3, shares), moment_m4)
        for front, moment_m4 in zip(fronts, moments_m4, strict=True)
    ]


def _by_class(values: FloatArray, shares: FloatArray) -> FloatArray:
    """Sum a value of every facet by the shares of its classes."""
    by_class: FloatArray = row_products(values[None], shares.T)[0]
    return by_class


def layer_up(
    skin: SkinEdges,
    shares: FloatArray,
    first_m: FloatArray,
    second_m: FloatArray,
    *,
    rim_m: FloatArray | None = None,
    solid: SolidSkin | None = None,
    solid_m3: float = np.inf,
    rules: OffsetRules = OffsetRules(),
    band_rules: BandRules = BandRules(),
) -> Layering:
    """Lay two layers behind a skin.

    Parameters
    ----------
    skin : SkinEdges
        The skin; the layers grow against its normals.
    shares : ndarray of float, shape (k, c)
        Share of each facet in each class. [-]
    first_m, second_m : ndarray of float, shape (k,)
        Thickness of the layers on each facet. [m]
    rim_m : ndarray of float, shape (k,), optional
        What the back of a solid adds to the square end of each facet's layer, by the square
        of its depth. [m]
    solid : SolidSkin, optional
        The closed surface that the layers stay within; without it they end square at the
        open edges of the skin.
    solid_m3 : float, optional
        Its volume. [m³]
    rules : OffsetRules, optional
        When the sum over edges is trusted.
    band_rules : BandRules, optional
        How finely layers are counted where it is not.

    Returns
    -------
    Layering
        Volume and first moment of both.

    Notes
    -----
    The sum over edges is exact where every face is wider than the layers draw back. Where its
    own estimate of the error says otherwise, or the layers of faces meet that share no edge,
    the layers are counted.

    Examples
    --------
    A rib 20 mm wide and 60 mm high, 1 m long, is filled by layers of 24 mm:

    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.geometry.skin_edges import skin_edges
    >>> bar = skin_edges(Mesh.from_trimesh(trimesh.creation.box((1.0, 0.02, 0.06)), unit="m"))
    >>> laid = layer_up(bar, np.ones((12, 1)), np.full(12, 0.004), np.full(12, 0.020))
    >>> round(laid.volume_m3 * 1e3, 2), laid.counted
    (1.2, True)
    """
    first = _front(skin, first_m, None, rim_m, rules)
    whole = _front(skin, first_m + second_m, first, rim_m, rules)
    trusted = (
        max(whole.error_share, first.error_share) <= rules.note_share
        and whole.layer.volume_m3 <= solid_m3 * (1.0 + rules.note_share)
        and meeting_share(skin, whole.depth_m, solid=solid, rules=band_rules, offset_rules=rules)
        <= rules.clash_share
    )
    arris_m3, inside_m3 = _shared_m3(whole)
    edge_sum_m3, depth_m = whole.layer.volume_m3, whole.depth_m
    by_facet = None
    if trusted:
        by_facet = FacetLayers(whole.layer.facet_m3, whole.terms.inner_areas_m2(whole.thickness_m))
        outer, both = _grown(skin, shares, first, whole)
        inner = Grown(both.volume_m3 - outer.volume_m3, both.moment_m4 - outer.moment_m4)
        inner_m2 = _by_class(by_facet.inner_m2, shares)
        doubt_share = whole.error_share
    else:
        coat = _coat(skin, shares, first, whole, rules, ends_square=solid is None)
        del first, whole  # their terms take more memory than the count does
        count = BandCount(skin, shares, solid, band_rules)
        outer, inner, inner_m2, doubt_share = _counted(count, coat, depth_m, solid_m3)
    return Layering(
        outer,
        inner,
        inner_m2,
        doubt_share,
        edge_sum_m3,
        not trusted,
        arris_m3,
        inside_m3,
        by_facet,
    )


def _front(
    skin: SkinEdges,
    depth_m: FloatArray,
    like: _Front | None,
    rim_m: FloatArray | None,
    rules: OffsetRules,
) -> _Front:
    """Sum a layer from the skin to a depth over edges."""
    thickness_m = float(depth_m.max(initial=0.0))
    even = bool(np.all(depth_m == thickness_m))
    if even:
        depth_m = np.broadcast_to(np.float64(thickness_m), depth_m.shape)
    if even and like is not None and like.terms.even:
        terms = like.terms
    else:
        ratio = None if even else depth_m / thickness_m
        terms = offset_coefficients(skin, ratio=ratio, rules=rules)
    return _Front(depth_m, terms, thickness_m, _summed(terms, thickness_m, rim_m, rules), rim_m)


def _summed(
    terms: OffsetCoefficients, thickness_m: float, rim_m: FloatArray | None, rules: OffsetRules
) -> LayerFront:
    front = front_m3(terms, thickness_m, rules=rules)
    if rim_m is None:
        return front
    depth_m = terms.ratio * thickness_m
    return LayerFront(front.facet_m3 + rim_m * depth_m**2, front.error_m3)


@dataclass(frozen=True, slots=True, eq=False)
class _Coat:
    """The layer against the skin that a count starts behind, as part of the second if none is told.

    `grown` is None where its sum over edges does not hold.
    """

    depth_m: FloatArray
    grown: Grown | None
    doubt_m3: float
    told: bool


def _coat(
    skin: SkinEdges,
    shares: FloatArray,
    first: _Front,
    whole: _Front,
    rules: OffsetRules,
    *,
    ends_square: bool,
) -> _Coat:
    """Sum the layer against the skin over edges."""
    told = first.thickness_m > 0.0
    start = first if told else whole.at(0.125, rules)
    passing = passing_share(skin, start.depth_m) if ends_square else 0.0
    if start.error_share > rules.coat_share or passing > rules.clash_share:
        return _Coat(start.depth_m, None, 0.0, told)
    doubt_m3 = start.error_share * start.layer.volume_m3
    return _Coat(start.depth_m, _grown(skin, shares, start)[0], doubt_m3, told)


def _counted(
    count: BandCount, coat: _Coat, depth_m: FloatArray, solid_m3: float
) -> tuple[Grown, Grown, FloatArray, float]:
    """Count the layers; the first from the skin only where its sum over edges does not hold."""
    inside = count.inside(depth_m)
    outer, start_doubt, start_m = coat.grown, coat.doubt_m3, coat.depth_m
    if outer is None:
        nothing_m = np.broadcast_to(0.0, depth_m.shape)
        if coat.told:
            outer, start_doubt, _ = _mean(count.between(nothing_m, start_m, inside))
        else:
            classes = count.shares.shape[1]
            outer, start_m = Grown(np.zeros(classes), np.zeros((classes, 3))), nothing_m
    inner, doubt_m3, inner_m2 = _mean(count.between(start_m, depth_m, inside))
    room_m3 = max(solid_m3 - float(outer.volume_m3.sum()), 0.0)
    inner = inner.within(room_m3)
    if not coat.told:
        inner = Grown(inner.volume_m3 + outer.volume_m3, inner.moment_m4 + outer.moment_m4)
        outer = Grown(np.zeros_like(inner.volume_m3), np.zeros_like(inner.moment_m4))
    whole_m3 = float(outer.volume_m3.sum() + inner.volume_m3.sum())
    doubt_share = (start_doubt + doubt_m3) / whole_m3 + count.rules.method_share
    return outer, inner, inner_m2, doubt_share


def _mean(bands: Sequence[Band]) -> tuple[Grown, float, FloatArray]:
    """Mean of some counts, its doubt, and the area of the inner face."""
    volume_m3 = np.mean([band.volume_m3 for band in bands], axis=0)
    moment_m4 = np.mean([band.moment_m4 for band in bands], axis=0)
    inner_m2 = np.mean([band.rind_m3 / band.rind_m for band in bands], axis=0)
    doubt_m3 = spread_share(bands) * float(volume_m3.sum())
    return Grown(volume_m3, moment_m4), doubt_m3, inner_m2


def _shared_m3(whole: _Front) -> tuple[float, float]:
    """Tell what the layers share at arrises, and need more at inside corners."""
    terms = whole.terms
    square_m2 = whole.depth_m**2
    return -dot(terms.arris_m, square_m2), dot(terms.inside_m, square_m2)
