"""Whether a way to cast a wall can be followed on it, and what a caster minds in it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from takeoff.piece.explaining import in_mm
from takeoff.piece.layers import LayerVolume, WallLayer
from takeoff.piece.surfaces import Surface, SurfaceClass
from takeoff.piece.ways import Way, WayRules, stands


@dataclass(frozen=True, slots=True, eq=False)
class WallAtHand:
    """A wall and what lies round it, as a caster looks at it.

    Parameters
    ----------
    surface : Surface
        The wall.
    taken : WallLayer
        What its layers take.
    beside_m : float
        All layers of the show face together. [m]
    return_limit_m : float
        Deepest wall still called a return. [m]
    laid_m3 : float
        All layers of the piece. [m³]
    solid_m3 : float or None, default None
        Volume of the piece as drawn; None where it is not drawn as a solid. [m³]
    lowest : Surface or None, default None
        The wall of the piece that is least deep; None where that is not known.
    """

    surface: Surface
    taken: WallLayer
    beside_m: float
    return_limit_m: float
    laid_m3: float
    solid_m3: float | None = None
    lowest: Surface | None = None

    @property
    def lean_deg(self) -> float:
        """How far it leans in, at its worst; 0 where it does not, in [°]."""
        return max(0.0, -(self.surface.draft_deg or 0.0))

    def covered(self, rules: WayRules = WayRules()) -> bool:
        """Tell whether the layers of the show face reach its foot.

        Parameters
        ----------
        rules : WayRules, optional
            What counts as no deeper.

        Returns
        -------
        bool
            True where even a poured backer stands on it.
        """
        return stands(self.surface.depth_m, self.beside_m, "poured", rules=rules)

    def has_room(self, rules: WayRules = WayRules()) -> bool:
        """Tell whether an inner form fits behind it.

        Parameters
        ----------
        rules : WayRules, optional
            What counts as none.

        Returns
        -------
        bool
            False where the layers meet, so that nothing lies between their backs, or where those
            of the show face cover the wall.
        """
        least_m2 = rules.room_share * self.surface.area_m2
        return self.fills(rules) and self.taken.inner_form_m2 > least_m2

    def fills(self, rules: WayRules = WayRules()) -> bool:
        """Tell whether filling to its foot takes more than its layers.

        Parameters
        ----------
        rules : WayRules, optional
            What counts as none.

        Returns
        -------
        bool
            False where the layers leave nothing to fill.
        """
        least_m3 = rules.room_share * self.laid_m3
        return not self.covered(rules) and self.taken.filled_m3 > least_m3


@dataclass(frozen=True, slots=True)
class Fit:
    """Whether a way can be followed on a wall.

    Parameters
    ----------
    feasible : bool
        Whether it can.
    why : str
        Why not; or, where it can, what a caster minds in it, if anything.
    """

    feasible: bool
    why: str = ""


def beside_m(rows: Iterable[LayerVolume]) -> float:
    """Give the thickness of all layers of the show face.

    Parameters
    ----------
    rows : iterable of LayerVolume
        The layers of a piece, class by class.

    Returns
    -------
    float
        Their thicknesses added up. [m]

    Examples
    --------
    >>> from takeoff.piece.layers import Layer
    >>> face = LayerVolume(Layer.FACE_COAT, SurfaceClass.SHOW_FACE, 0.004, 1.0, 0.004)
    >>> back = LayerVolume(Layer.BACKER, SurfaceClass.SHOW_FACE, 0.016, 1.0, 0.016)
    >>> beside_m([face, back])
    0.02
    """
    return sum(row.thickness_m for row in rows if row.surface_class is SurfaceClass.SHOW_FACE)


def fit_of(way: Way, wall: WallAtHand, *, rules: WayRules = WayRules()) -> Fit:
    """Tell whether a way can be followed on a wall.

    Parameters
    ----------
    way : Way
        The way.
    wall : WallAtHand
        The wall.
    rules : WayRules, optional
        What is room enough.

    Returns
    -------
    Fit
        Whether it can, and why not or what to mind.

    Notes
    -----
    Dam and second form need room between the backs of the layers; filling needs nothing but a
    wall deeper than the layers of the show face. A stiff mix can be packed onto every wall. So
    can a mix be sprayed, onto walls that lean in too: the gun has been there with the face coat,
    and no wall that is cast leans in by so much that the coat pulls off the form with more than
    half the force with which it slides down a plumb wall (the sine of 30 degrees).

    Examples
    --------
    >>> import numpy as np
    >>> from takeoff.piece.explaining import Explanation
    >>> kind = SurfaceClass.RETURN
    >>> wall = Surface("R1", kind, kind, 0.012, 0.040, 0.040, 0.0, 0.0, None, np.array([1.0, 0, 0]),
    ...                np.array([0]), {}, Explanation("", 0.040, 0.040))
    >>> at_hand = WallAtHand(wall, WallLayer("R1", 0.0002, 0.006, 0.002), 0.020, 0.110, 0.003)
    >>> fit_of(Way.DAMMED, at_hand)
    Fit(feasible=True, why='')
    >>> meeting = WallAtHand(wall, WallLayer("R1", 0.0002, 0.0, 0.0), 0.020, 0.110, 0.003)
    >>> fit_of(Way.DAMMED, meeting).why
    'the layers meet: there is no room for an inner form'
    """
    against = _AGAINST[way](wall, rules) if way in _AGAINST else ""
    if against:
        return Fit(feasible=False, why=against)
    return Fit(feasible=True, why=_MINDED[way](wall, rules) if way in _MINDED else "")


def _no_room(wall: WallAtHand, rules: WayRules) -> str:
    if wall.covered(rules):
        return f"{_covering(wall)}: there is nothing to hold back"
    return "" if wall.has_room(rules) else "the layers meet: there is no room for an inner form"


def _nothing_to_fill(wall: WallAtHand, rules: WayRules) -> str:
    return f"{_covering(wall)}: there is nothing to fill" if wall.covered(rules) else ""


def _covering(wall: WallAtHand) -> str:
    return f"the layers of the show face, {in_mm(wall.beside_m)}, reach its foot"


def _of_a_dam(wall: WallAtHand, rules: WayRules) -> str:
    if wall.surface.depth_m <= wall.return_limit_m + rules.depth_tie_m:
        return ""
    limit = in_mm(wall.return_limit_m)
    return f"deeper than {limit}: a loose strip does not hold it, the dam is built as a form"


def _of_a_core(wall: WallAtHand, rules: WayRules) -> str:
    if not _leans(wall, rules):
        return ""
    return (
        f"leans in by {wall.lean_deg:.0f}°: the second form is caught behind it and must come apart"
    )


def _of_filling(wall: WallAtHand, rules: WayRules) -> str:
    if not wall.fills(rules):
        return "the layers meet: poured to its foot it takes no more than they do"
    return "; ".join(part for part in (_running_over(wall, rules), _overfull(wall, rules)) if part)


def _running_over(wall: WallAtHand, rules: WayRules) -> str:
    """Say over which wall the filling runs."""
    lowest = wall.lowest
    if lowest is None or lowest.depth_m >= wall.surface.depth_m - rules.depth_tie_m:
        return ""
    return f"runs over {lowest.id}, {in_mm(lowest.depth_m)} deep, unless the form is raised there"


def _overfull(wall: WallAtHand, rules: WayRules) -> str:
    """Say that the filling is not in the drawing."""
    whole_m3 = wall.laid_m3 + wall.taken.filled_m3
    if wall.solid_m3 is None or whole_m3 <= wall.solid_m3 * (1.0 + rules.hollow_share):
        return ""
    return (
        f"fills what is drawn hollow: {whole_m3 * 1e3:.2f} L, where {wall.solid_m3 * 1e3:.2f} L "
        "are drawn"
    )


def _of_spraying(wall: WallAtHand, rules: WayRules) -> str:
    if not _leans(wall, rules):
        return ""
    return (
        f"leans in by {wall.lean_deg:.0f}°: the coat hangs there; thin passes, each rolled before "
        "the next"
    )


def _leans(wall: WallAtHand, rules: WayRules) -> bool:
    """Tell whether it leans in by enough of its area to mind."""
    least_m2 = rules.room_share * wall.surface.area_m2
    return wall.surface.undercut_area_m2 > least_m2 and wall.lean_deg > 0.0


_Words = Callable[[WallAtHand, WayRules], str]
_AGAINST: Mapping[Way, _Words] = {
    Way.DAMMED: _no_room,
    Way.CORED: _no_room,
    Way.FILLED: _nothing_to_fill,
}
_MINDED: Mapping[Way, _Words] = {
    Way.DAMMED: _of_a_dam,
    Way.CORED: _of_a_core,
    Way.FILLED: _of_filling,
    Way.SPRAYED: _of_spraying,
}
