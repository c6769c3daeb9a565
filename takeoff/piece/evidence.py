"""What speaks for and against a side being the show face, in points and in words of the trade."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from takeoff.piece.reading_rules import ReadingRules
from takeoff.piece.surfaces import ModelKind
from takeoff.piece.viewing import Side


@dataclass(frozen=True, slots=True)
class Sign:
    """One thing that speaks for a reading, or against it.

    Parameters
    ----------
    points_count : float
        How much, above 0 for it. [-]
    words : str
        What it is.
    """

    points_count: float
    words: str


@dataclass(frozen=True, slots=True)
class _Look:
    """The two sides of a piece as a reading takes them: what is shown, and what is behind."""

    shown: Side
    behind: Side
    rules: ReadingRules

    @property
    def hollow_behind(self) -> bool:
        """Whether the far side is hollow and the near one is not."""
        return (
            self.behind.hollow_share >= self.rules.hollow_share
            and self.shown.hollow_share < self.rules.even_share
        )

    @property
    def shaped_inside(self) -> bool:
        """Whether the hollow of the far side is shaped."""
        return self.behind.shaped_inside_share > self.rules.shaped_inside_share

    @property
    def eased_here(self) -> bool:
        """Whether arrises are eased on this side alone."""
        shown, behind = self.shown.eased_share, self.behind.eased_share
        return shown >= self.rules.eased_share and behind <= self.rules.not_eased_share

    @property
    def plain_behind(self) -> bool:
        """Whether the far side is not shaped."""
        return self.behind.shaped_share < self.rules.plain_share


def _between_legs(look: _Look) -> bool:
    behind, rules = look.behind, look.rules
    return (
        look.hollow_behind
        and not look.shaped_inside
        and behind.enclosed_share < 1.0 - rules.enclosed_share
        and behind.hollow_share >= rules.leg_share
        and behind.hollow_depth_m >= rules.leg_depth_m
    )


def _shell(look: _Look) -> bool:
    behind, rules = look.behind, look.rules
    return (
        look.hollow_behind
        and not look.shaped_inside
        and behind.enclosed_share >= rules.enclosed_share
        and behind.hollow_share >= rules.tray_share
        and behind.hollow_depth_m <= rules.tray_depth_m
    )


def _merely_hollow(look: _Look) -> bool:
    return look.hollow_behind and not _between_legs(look) and not _shell(look)


def _recess(look: _Look) -> bool:
    return look.shown.hollow_share >= look.rules.hollow_share


def _shaped_recess(look: _Look) -> bool:
    return _recess(look) and look.shown.shaped_inside_share > look.rules.shaped_inside_share


def _eased(look: _Look) -> bool:
    return look.eased_here and not look.shaped_inside and not _recess(look)


def _eased_both(look: _Look) -> bool:
    return look.eased_here and look.shaped_inside


def _eased_behind(look: _Look) -> bool:
    return _Look(look.behind, look.shown, look.rules).eased_here


def _relief(look: _Look) -> bool:
    shown, rules = look.shown, look.rules
    wide = shown.shaped_share >= rules.shaped_share and shown.relief_m <= rules.relief_m
    wide |= shown.shaped_share >= rules.bulge_share
    pitted = shown.hollow_share * shown.enclosed_share >= rules.even_share
    return wide and look.plain_behind and not pitted


def _shaped_only_here(look: _Look) -> bool:
    shown, behind, rules = look.shown, look.behind, look.rules
    some = shown.shaped_share >= rules.plain_share
    flat = behind.shaped_share < rules.plain_share / 10.0
    return (
        some
        and flat
        and not any(holds(look) for holds in (_relief, _splayed, _shaped_recess, _eased))
    )


def _basin(look: _Look) -> bool:
    shown, behind, rules = look.shown, look.behind, look.rules
    return (
        rules.even_share <= shown.hollow_share <= rules.basin_share
        and shown.enclosed_share >= rules.enclosed_share
        and shown.hollow_depth_m >= rules.basin_depth_m
        and behind.hollow_share < rules.even_share
        and behind.proud_share >= shown.hollow_share
        and shown.proud_share < rules.even_share
    )


def _splayed(look: _Look) -> bool:
    return (
        look.shown.splay_share >= look.rules.splay_share
        and look.shown.shaped_share < look.rules.shaped_share
        and look.plain_behind
    )


_PIECE_SIGNS: Sequence[tuple[Callable[[_Look], bool], Sign]] = (
    (_between_legs, Sign(3.0, "the far side is hollow between legs")),
    (_shell, Sign(2.5, "the far side is hollow, as behind returns")),
    (_merely_hollow, Sign(1.0, "the far side is hollow")),
    (_recess, Sign(-0.5, "this side is mostly a recess")),
    (_shaped_recess, Sign(2.5, "the recess of this side is shaped inside")),
    (_eased, Sign(2.5, "the arrises of this side alone are eased")),
    (_eased_both, Sign(1.0, "the arrises of this side are eased, and so is the hollow behind")),
    (_eased_behind, Sign(-1.0, "the arrises of the far side alone are eased")),
    (_relief, Sign(2.5, "this side is shaped, the far side is flat")),
    (_shaped_only_here, Sign(1.0, "something on this side is shaped, nothing on the far side")),
    (_basin, Sign(2.5, "this side has a basin, whose underside stands out on the far side")),
    (_splayed, Sign(2.2, "the walls of the openings splay towards this side")),
)
"""What speaks for or against a side of a closed piece."""

_FORM_SIGNS: Sequence[tuple[Callable[[_Look], bool], Sign]] = (
    (lambda look: look.hollow_behind, Sign(2.5, "the cavity takes most of it")),
    (lambda look: not look.hollow_behind, Sign(-1.0, "the cavity takes little of it")),
    (lambda look: look.shaped_inside, Sign(1.0, "the inside of the cavity is shaped")),
    (_eased, Sign(-2.0, "the outside is eased, the inside is not")),
    (
        lambda look: look.shown.proud_share >= look.rules.even_share,
        Sign(-3.0, "the outside follows the cavity, as a thin shell does"),
    ),
)
"""What speaks for or against a closed block being a form; the hollow is on its far side."""


def signs_of(
    kind: ModelKind, shown: Side, behind: Side, *, rules: ReadingRules = ReadingRules()
) -> tuple[Sign, ...]:
    """Collect what speaks for and against a side.

    Parameters
    ----------
    kind : ModelKind
        As what the drawing is read: a piece, or a form.
    shown : Side
        The side out of which the show direction points.
    behind : Side
        The other side.
    rules : ReadingRules, optional
        The limits.

    Returns
    -------
    tuple of Sign
        Those that hold, the strongest first.

    Examples
    --------
    A plate with eased arrises on one side:

    >>> plain = Side(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    >>> eased = Side(0.0, 0.0, 0.0, 0.0, 0.01, 0.01, 0.0, 0.02, 0.0)
    >>> [sign.words for sign in signs_of(ModelKind.PIECE, eased, plain)]
    ['the arrises of this side alone are eased']
    """
    look = _Look(shown, behind, rules)
    table = _FORM_SIGNS if kind is ModelKind.FORM else _PIECE_SIGNS
    held = [sign for holds, sign in table if holds(look)]
    return tuple(sorted(held, key=lambda sign: -abs(sign.points_count)))
