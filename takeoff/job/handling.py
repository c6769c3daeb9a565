"""What one piece weighs, wet, cured and as it is handled, and where its centre of gravity is."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from takeoff.errors import LayerVolumeError
from takeoff.job.lifting import heavy_piece_note, lifting_words, passed_23kg
from takeoff.notes import Note, NoteCode
from takeoff.report.figures import System, written_mass

Point = tuple[float, float, float]


class PartKind(StrEnum):
    """What a part of a piece is made of.

    Attributes
    ----------
    MIX
        Fresh mix: a layer, an addition, or, with a mass below 0, what a core displaces.
    CORE
        A light core left in the piece.
    ITEM
        An insert, bracket or frame built in.
    """

    MIX = "mix"
    CORE = "core"
    ITEM = "item"


@dataclass(frozen=True, slots=True)
class PartMass:
    """One part of one piece, weighed.

    Parameters
    ----------
    kind : PartKind
        What it is made of.
    mass_kg : float
        Its mass as aimed, wet; below 0 for mix that a core displaces. [kg]
    centroid_m : tuple of float or None, default None
        Where it is, in the coordinates of the drawing; None where nobody told. [m]
    high_kg : float or None, default None
        Its mass at the most thickness; None where no range is given. [kg]

    Raises
    ------
    LayerVolumeError
        If a mass is no number, or below 0 for a core or an item.

    Examples
    --------
    >>> PartMass(PartKind.ITEM, 0.4).most_kg
    0.4
    """

    kind: PartKind
    mass_kg: float
    centroid_m: Point | None = None
    high_kg: float | None = None

    def __post_init__(self) -> None:
        least_kg = -math.inf if self.kind is PartKind.MIX else 0.0
        for mass_kg in (self.mass_kg, self.most_kg):
            if not math.isfinite(mass_kg) or mass_kg < least_kg:
                raise LayerVolumeError(
                    f"a mass of {mass_kg:g} kg cannot be that of {self.kind} in a piece"
                )

    @property
    def most_kg(self) -> float:
        """Its mass at the most thickness, in [kg]."""
        return self.mass_kg if self.high_kg is None else self.high_kg


@dataclass(frozen=True, slots=True)
class PieceWeights:
    """What one piece weighs.

    Parameters
    ----------
    wet_kg : float
        Fresh mix in it as aimed, without cores and items. [kg]
    cured_kg : float
        The finished piece, cores and items in it. [kg]
    cured_basis : str
        What the cured weight counts, in words.
    handling_kg : float
        What is moved at its heaviest: wet, at the most thickness, with cores, items and the form
        it is turned in. [kg]
    centre_of_gravity_m : tuple of float or None
        Centre of gravity of all parts whose place is known, wet and as aimed, in the coordinates
        of the drawing; None where no place is known. [m]
    note : Note or None
        What to mind when it is lifted; None where one person may lift it.
    items_kg : float
        Mass of the items built in. [kg]
    core_kg : float
        Mass of the cores left in. [kg]
    doubts : tuple of Note, default ()
        What the weights and the centre of gravity leave out.
    """

    wet_kg: float
    cured_kg: float
    cured_basis: str
    handling_kg: float
    centre_of_gravity_m: Point | None
    note: Note | None
    items_kg: float
    core_kg: float
    doubts: tuple[Note, ...] = ()


def piece_weights(
    parts: Sequence[PartMass],
    *,
    name: str = "",
    turned: bool = False,
    form_kg: float | None = None,
    removed_kg: float = 0.0,
    system: System = System.METRIC,
) -> PieceWeights:
    """Weigh one piece from its parts.

    Parameters
    ----------
    parts : sequence of PartMass
        Layers, additions, cores, what these displace, and items.
    name : str, default ""
        The piece, for the notes.
    turned : bool, default False
        Whether it is turned over in its form, which then moves with it.
    form_kg : float or None, default None
        Mass of the form; None where nobody told. [kg]
    removed_kg : float, default 0.0
        What finishing takes off; it is among the parts. [kg]
    system : System, optional
        Which units the notes are written in.

    Returns
    -------
    PieceWeights
        The weights. No number of people, lifting point or strength is computed.

    Raises
    ------
    LayerVolumeError
        If cores displace, or finishing removes, more mix than there is, or the form weighs
        less than nothing.

    Notes
    -----
    Cured counts all mix water as kept. A piece that dries loses some of it, so the cured weight
    is on the heavy side.

    Examples
    --------
    >>> weights = piece_weights(
    ...     [PartMass(PartKind.MIX, 20.0, (0.0, 0.0, 0.0), high_kg=22.0),
    ...      PartMass(PartKind.ITEM, 2.0, (1.1, 0.0, 0.0))], removed_kg=0.5)
    >>> weights.wet_kg, weights.cured_kg, weights.handling_kg
    (20.0, 21.5, 24.0)
    >>> [round(along_m, 6) for along_m in weights.centre_of_gravity_m]
    [0.1, 0.0, 0.0]
    >>> weights.cured_basis  # doctest: +NORMALIZE_WHITESPACE
    'all mix water kept, as after sealed curing; without 500 g that finishing takes off;
    with 2 kg of items; a drier piece is lighter'
    """
    wet_kg, core_kg, items_kg = (_mass_kg(parts, kind) for kind in PartKind)
    _refuse_nothing_left(wet_kg, removed_kg, form_kg)
    handling_kg = float(sum(part.most_kg for part in parts))
    if turned and form_kg is not None:
        handling_kg += form_kg
    doubts = [_form_note(handling_kg, name, system)] if turned and form_kg is None else []
    return PieceWeights(
        wet_kg=wet_kg,
        cured_kg=wet_kg + core_kg + items_kg - removed_kg,
        cured_basis=_basis(removed_kg, core_kg, items_kg, system),
        handling_kg=handling_kg,
        centre_of_gravity_m=_centre_of_gravity_m(parts),
        note=heavy_piece_note(name, handling_kg, system=system),
        items_kg=items_kg,
        core_kg=core_kg,
        doubts=(*doubts, *_place_notes(parts, name, system)),
    )


def _mass_kg(parts: Iterable[PartMass], kind: PartKind) -> float:
    """Add up the parts of one kind, as aimed."""
    return float(sum(part.mass_kg for part in parts if part.kind is kind))


def _refuse_nothing_left(wet_kg: float, removed_kg: float, form_kg: float | None) -> None:
    if wet_kg < 0.0:
        raise LayerVolumeError(
            f"cores displace {-wet_kg:.4g} kg more mix than the piece holds; check their volume"
        )
    if not 0.0 <= removed_kg <= wet_kg:
        raise LayerVolumeError(
            f"finishing cannot take {removed_kg:.4g} kg off a piece with {wet_kg:.4g} kg of mix"
        )
    if form_kg is not None and not 0.0 <= form_kg < math.inf:
        raise LayerVolumeError(f"a form of {form_kg:g} kg is none")


def _basis(removed_kg: float, core_kg: float, items_kg: float, system: System) -> str:
    """Say what the cured weight counts."""
    told = (
        (removed_kg, "without {} that finishing takes off"),
        (core_kg, "with {} of cores"),
        (items_kg, "with {} of items"),
    )
    counted = [words.format(written_mass(mass_kg, system)) for mass_kg, words in told if mass_kg]
    return "; ".join(
        (
            "all mix water kept, as after sealed curing",
            *counted,
            "a drier piece is lighter",
        )
    )


def _centre_of_gravity_m(parts: Sequence[PartMass]) -> Point | None:
    placed = [(part.mass_kg, part.centroid_m) for part in parts if part.centroid_m is not None]
    whole_kg = sum(mass_kg for mass_kg, _ in placed)
    if whole_kg <= 0.0:
        return None
    x_m, y_m, z_m = (
        float(sum(mass_kg * centroid_m[axis] for mass_kg, centroid_m in placed) / whole_kg)
        for axis in range(3)
    )
    return x_m, y_m, z_m


def _form_note(handling_kg: float, name: str, system: System) -> Note:
    """Say that the form is missing from the handling weight."""
    weighed = written_mass(handling_kg, system)
    light = "" if passed_23kg(handling_kg) else f"; with it, it may well be {lifting_words()}"
    return Note(
        NoteCode.FORM_NOT_WEIGHED,
        f"is turned over in its form, whose mass nobody told: the handling weight of {weighed} "
        f"does not include it{light}; tell its form_mass",
        where=name,
    )


def _place_notes(parts: Sequence[PartMass], name: str, system: System) -> list[Note]:
    """Say what the centre of gravity leaves out."""
    left_out = [part for part in parts if part.centroid_m is None and part.mass_kg]
    if not left_out:
        return []
    listed = ", ".join(
        f"{written_mass(mass_kg, system)} {words}"
        for mass_kg, words in (
            (sum(one.mass_kg for one in left_out if _adds_mix(one)), "of mix"),
            (-sum(one.mass_kg for one in left_out if _displaces(one)), "of mix displaced"),
            (_mass_kg(left_out, PartKind.CORE), "of cores"),
            (_mass_kg(left_out, PartKind.ITEM), "of items"),
        )
        if mass_kg
    )
    return [
        Note(
            NoteCode.PLACE_UNTOLD,
            f"the centre of gravity leaves out {listed}: nobody told where they are",
            where=name,
        )
    ]


def _adds_mix(part: PartMass) -> bool:
    return part.kind is PartKind.MIX and part.mass_kg > 0.0


def _displaces(part: PartMass) -> bool:
    return part.kind is PartKind.MIX and part.mass_kg < 0.0
