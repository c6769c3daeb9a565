"""Tolerances for welding, mending and examining meshes."""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class MeshRules:
    """What counts as the same point, as nothing, as smooth and as small.

    Parameters
    ----------
    weld_m : float, default 1e-6
        Points on open edges closer than this are one point: a thousandth of a millimetre is
        above what exporters lose in their last digit and below anything that can be cast. [m]
    widest_weld_m : float, default 1e-5
        Where edges stay open, points up to this far apart are tried too: a hundredth of a
        millimetre is the usual chord error of an exporter, and it is tried on open edges
        only. [m]
    coarsest_m : float, default 5e-5
        Where coordinates are stored in coarser steps than this, they are mended as if in
        these: one stray corner a kilometre away must not blur the piece. [m]
    sliver_m : float, default 1e-9
        A facet no higher than this has no area: a millionth of a millimetre is the rounding
        of a piece some hundred metres from the origin. [m]
    smooth_deg : float, default 20.0
        Facets that turn less than this belong to one smooth patch: a quarter round in five
        or more segments counts as a curve. [°]
    small_hole_share : float, default 0.12
        A hole whose rim is shorter than this share of the overall diagonal is a fault of the
        export rather than an open side: a few missing facets, no missing face. [-]
    overlap_m : float, default 1e-5
        Bodies that run into each other by less than this only touch: a hundredth of a
        millimetre. [m]
    coarse_share : float, default 0.001
        Rounding of the stored coordinates is named from this share of the smallest extent
        on: a tenth of a percent of a thickness is a tenth of a percent of its volume. [-]
    farthest_m : float, default 1e8
        Coordinates beyond this are damage: the earth is 4e7 m round. [m]
    smallest_m : float, default 0.1
        A mesh smaller than this overall is no piece but one told in the wrong unit; the lengths
        above shrink with it, so that its detail is not joined into nonsense. [m]
    """

    weld_m: float = 1e-6
    widest_weld_m: float = 1e-5
    coarsest_m: float = 5e-5
    sliver_m: float = 1e-9
    smooth_deg: float = 20.0
    small_hole_share: float = 0.12
    overlap_m: float = 1e-5
    coarse_share: float = 0.001
    farthest_m: float = 1e8
    smallest_m: float = 0.1


def rules_for_size(overall_m: float, rules: MeshRules = MeshRules()) -> MeshRules:
    """Shrink the lengths of the rules where a mesh is too small for them.

    Parameters
    ----------
    overall_m : float
        Largest extent of the mesh. [m]
    rules : MeshRules, optional
        The rules as they stand.

    Returns
    -------
    MeshRules
        The same, or with each length in proportion to the size.

    Examples
    --------
    >>> rules_for_size(2.4).weld_m, rules_for_size(0.025).weld_m
    (1e-06, 2.5e-07)
    """
    share = overall_m / rules.smallest_m
    if share >= 1.0:
        return rules
    return replace(
        rules,
        weld_m=share * rules.weld_m,
        widest_weld_m=share * rules.widest_weld_m,
        coarsest_m=share * rules.coarsest_m,
        sliver_m=share * rules.sliver_m,
        overlap_m=share * rules.overlap_m,
    )
