"""What stands on the sheet of one batch, taken from a pour day or from lots without a clock."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from takeoff.bid_documents import CastRow
from takeoff.documents import BatchDocument, BidDocument, BidPieceRow, LotRow
from takeoff.pour_documents import PouredBatchRow, PouredDayRow
from takeoff.report.pour_clock import batch_clocks, clock_step_s, limit_clocks
from takeoff.report.pour_limits import FaceStart, face_starts
from takeoff.report.sheet_steps import SheetLine, SheetMixing, ordered_steps
from takeoff.report.wall_words import bid_walls, placed_walls

# What of a piece is made of one mix, and the layer that it is part of.
_PORTIONS = (("face_coat", "face_coat"), ("backer", "backer"), ("wall_backer", "backer"))


@dataclass(frozen=True, slots=True)
class SheetPlace:
    """Where some of a batch goes: one face of one casting.

    Parameters
    ----------
    piece : str
        The piece.
    copy : str
        Which copy of it, or how many there are.
    turn : str
        Which pass of the layer; empty where there is only one.
    classes : tuple of tuple of str and float
        Every class of surface of the piece under this layer in words, and what this batch puts
        there: 0 where it puts nothing. [kg]
    start : FaceStart or None
        When it is started; None without a clock.
    walls : tuple of tuple of str, default ()
        Walls that the batch goes to, and how each is cast, where that was told.
    """

    piece: str
    copy: str
    turn: str
    classes: tuple[tuple[str, float], ...]
    start: FaceStart | None
    walls: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class SheetClock:
    """The clock of one batch as it is printed, from the start of its day.

    Parameters
    ----------
    mix_at, use_by : str
        When it is mixed, and when the last of it must be in the form.
    step_s : float
        The step that its times are printed in. [s]
    mixed_by : int
        Which pair of hands mixes.
    placed_by : tuple of int
        Which place it.
    """

    mix_at: str
    use_by: str
    step_s: float
    mixed_by: int
    placed_by: tuple[int, ...]

    def face_words(self, start: FaceStart) -> tuple[str, str]:
        """Say when a face is started from the batch, and when at the latest.

        Parameters
        ----------
        start : FaceStart
            The face.

        Returns
        -------
        tuple of str
            The two times.

        Examples
        --------
        >>> clock = SheetClock("0:10", "0:45", 300.0, 1, (2,))
        >>> clock.face_words(FaceStart(("panel", 1, 1), 1140.0, 2100.0, covers_too_late=False))
        ('0:20', '0:35')
        """
        return limit_clocks(start.planned_s, start.latest_s, step_s=self.step_s)


@dataclass(frozen=True, slots=True)
class SheetBatch:
    """One batch, or one kind of batch that is made several times.

    Parameters
    ----------
    id : str
        Its number on the plan; empty for a kind.
    count : int
        How many batches of the day there are, or how many of this kind are made.
    mix, colour, layer, placing, mixer : str
        What it is, how it is placed, and what it is mixed in; empty where nothing was told.
    mass_kg : float
        All that is weighed for it. [kg]
    volume_m3 : float
        Its fresh volume. [m³]
    pot_life_s : float or None
        From the end of mixing until the last of it must be in the form; None where nobody told
        it. [s]
    steps : tuple of SheetLine and of SheetMixing
        What goes in, in order, the mixing and the rest in their place.
    places : tuple of SheetPlace
        Where it goes, in order.
    clock : SheetClock or None
        Its clock; None without one.
    """

    id: str
    count: int
    mix: str
    colour: str
    layer: str
    placing: str
    mixer: str
    mass_kg: float
    volume_m3: float
    pot_life_s: float | None
    steps: tuple[SheetLine | SheetMixing, ...]
    places: tuple[SheetPlace, ...]
    clock: SheetClock | None

    @property
    def at_gun_kg(self) -> float:
        """What of it never goes into the mixer, in [kg]."""
        return sum(
            step.mass_kg
            for step in self.steps
            if isinstance(step, SheetLine) and step.running_kg is None
        )


def day_batches(day: PouredDayRow, document: BatchDocument) -> list[SheetBatch]:
    """Take the batches of a day out of a pour.

    Parameters
    ----------
    day : PouredDayRow
        The day.
    document : BatchDocument
        The pour.

    Returns
    -------
    list of SheetBatch
        The batches in the order of the day.

    Examples
    --------
    >>> day_batches({"batches": []}, {})
    []
    """
    return [_poured(batch, day, document) for batch in day["batches"]]


def lot_batches(document: BidDocument) -> list[SheetBatch]:
    """Take the kinds of batches out of a bid that has no clock.

    Parameters
    ----------
    document : BidDocument
        The bid.

    Returns
    -------
    list of SheetBatch
        One for every lot.

    Examples
    --------
    >>> lot_batches({"batch": None})
    []
    """
    lots = document["batch"]["lots"] if document["batch"] else []
    return [_kind(lot, document) for lot in lots]


def words_of(key: str) -> str:
    """Give a key of a document in words.

    Parameters
    ----------
    key : str
        Such as ``"show_face"``.

    Returns
    -------
    str
        The words.

    Examples
    --------
    >>> words_of("show_face")
    'show face'
    """
    return key.replace("_", " ")


def _poured(batch: PouredBatchRow, day: PouredDayRow, document: BatchDocument) -> SheetBatch:
    mix_at, _, use_by = batch_clocks(batch)
    return SheetBatch(
        id=batch["id"],
        count=len(day["batches"]),
        mix=batch["mix"],
        colour=batch["colour"],
        layer=words_of(batch["layer"]),
        placing=batch["placing"],
        mixer=batch["mixer"],
        mass_kg=batch["mass_kg"],
        volume_m3=batch["volume_m3"],
        pot_life_s=batch["use_by_s"] - batch["mix_end_s"],
        steps=ordered_steps(batch),
        places=tuple(_faces(batch, day, document)),
        clock=SheetClock(
            mix_at, use_by, clock_step_s(batch), batch["mixed_by"], tuple(batch["placed_by"])
        ),
    )


def _faces(
    batch: PouredBatchRow, day: PouredDayRow, document: BatchDocument
) -> Iterator[SheetPlace]:
    """Give the faces that a batch goes to, with all classes of each under its layer."""
    portions = _portions(batch, document)
    for start in face_starts(batch, day, document):
        piece, copy, number = start.face
        classes = {
            row["class"]: 0.0
            for row in document["demand"]
            if (row["piece"], row["copy"], row["layer"], row["pass"])
            == (piece, copy, batch["layer"], number)
        }
        for part in batch["parts"]:
            if (part["piece"], part["copy"], part["pass"]) == start.face:
                classes[part["class"]] = classes.get(part["class"], 0.0) + part["mass_kg"]
        turn = f"pass {number}" if _has_passes(batch, document) else ""
        told = [row for row in document["walls"] if row["piece"] == piece]
        walls = placed_walls(told, portions, classes)
        yield SheetPlace(piece, f"copy {copy}", turn, _in_words(classes), start, walls)


def _has_passes(batch: PouredBatchRow, document: BatchDocument) -> bool:
    return any(
        rule["pass"] > 1
        for rule in document["rules"]
        if (rule["mix"], rule["layer"]) == (batch["mix"], batch["layer"])
    )


def _kind(lot: LotRow, document: BidDocument) -> SheetBatch:
    return SheetBatch(
        id="",
        count=lot["batch_count"],
        mix=lot["mix"],
        colour="",
        layer=words_of(lot["layer"]),
        placing="",
        mixer=lot["mixer"],
        mass_kg=lot["mass_kg"],
        volume_m3=lot["volume_m3"],
        pot_life_s=lot["pot_life_s"],
        steps=ordered_steps(lot),
        places=tuple(_castings(document, _portions(lot, document))),
        clock=None,
    )


def _portions(
    lot: LotRow | PouredBatchRow, document: BidDocument | BatchDocument
) -> frozenset[str]:
    """Tell which portions of a piece a batch is made for: those of its layer with its mix."""
    found = set()
    for portion, layer in _PORTIONS:
        told = document["settings"].get(portion)
        if layer == lot["layer"] and isinstance(told, Mapping) and told["mix"] == lot["mix"]:
            found.add(portion)
    return frozenset(found)


def _castings(document: BidDocument, portions: frozenset[str]) -> Iterator[SheetPlace]:
    """Give what one casting of every piece takes of the mix that a lot is made of."""
    every: list[BidPieceRow | CastRow] = [*document["pieces"], *document["cast_besides"]]
    for cast in every:
        classes: dict[str, float] = {}
        for row in cast["portions"]:
            if row["portion"] in portions:
                kept_kg = classes.get(row["surface_class"], 0.0)
                classes[row["surface_class"]] = kept_kg + row["mass_kg"]
        if classes:
            told = [row for row in bid_walls(document) if row["piece"] == cast["name"]]
            walls = placed_walls(told, portions, classes)
            which = f"{cast['count']} to cast"
            yield SheetPlace(cast["name"], which, "", _in_words(classes), None, walls)


def _in_words(classes: dict[str, float]) -> tuple[tuple[str, float], ...]:
    return tuple((words_of(name), mass_kg) for name, mass_kg in classes.items())
