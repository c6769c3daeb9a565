"""Doubts that travel with a result, for a person to see."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class NoteCode(StrEnum):
    """What a note is about; closed, so that scripts can rely on it."""

    UNIT_DECLARED = "unit-declared"
    SIZE_ABSURD = "size-absurd"
    UNIT_DISAGREES = "unit-disagrees"
    MENDED = "mended"
    SKIPPED = "skipped"
    INSIDE_OUT = "inside-out"
    NOT_CLOSED = "not-closed"
    WINDING = "winding"
    OVERLAP = "overlap"
    CAVITY = "cavity"
    COARSE_COORDINATES = "coarse-coordinates"
    TRAILING_BYTES = "trailing-bytes"
    GAP_BRIDGED = "gap-bridged"
    LAYER_CHOICE = "layer-choice"
    NAME_CHANGED = "name-changed"
    NEAR_RETURN_LIMIT = "near-return-limit"
    NEAR_CURVE_LIMIT = "near-curve-limit"
    HIDDEN_BODY = "hidden-body"
    UNDECIDED = "undecided"
    UNDERCUT = "undercut"
    SCAN = "scan"
    DIRECTION_FOUND = "direction-found"
    DIRECTION_EITHER = "direction-either"
    KIND_FOUND = "kind-found"
    NO_PICTURE = "no-picture"
    OPENING_BARE = "opening-bare"
    CURVE_CHORDS = "curve-chords"
    PLAN_ONLY = "plan-only"
    EDGE_DEPTH = "edge-depth"
    CENTRE_LINE = "centre-line"
    HATCH_MEASURED = "hatch-measured"
    THICK_FOR_SHAPE = "thick-for-shape"
    NO_EXACT_CHECK = "no-exact-check"
    LAYER_FLAT = "layer-flat"
    DEFAULT_USED = "default-used"
    FROM_MEMORY = "from-memory"
    ROUNDED = "rounded"
    MATERIAL_ONLY = "material-only"
    MIX_LIMIT = "mix-limit"
    MIX_TEMPERATURE = "mix-temperature"
    DRYING = "drying"
    SPRAY_OFF = "spray-off"
    POURED_WALL = "poured-wall"
    MIX_UNKNOWN = "mix-unknown"
    FINGER_TEST = "finger-test"
    CLOCK_ESTIMATED = "clock-estimated"
    NO_PLAN = "no-plan"
    HEAVY = "heavy"
    FORM_NOT_WEIGHED = "form-not-weighed"
    PLACE_UNTOLD = "place-untold"
    TOO_LARGE = "too-large"
    TOO_HEAVY = "too-heavy"
    HOLD_DOWN = "hold-down"
    HEAD = "head"
    FILE_LEFT_OUT = "file-left-out"
    ODD_BATCHES = "odd-batches"
    BOARD_MISSING = "board-missing"
    COVERED_LATE = "covered-late"
    STOCK_PASSED_OVER = "stock-passed-over"


@dataclass(frozen=True, slots=True)
class Note:
    """One doubt: a stable code, a sentence, and the place it is about.

    Parameters
    ----------
    code : NoteCode
        What the note is about.
    text : str
        The sentence a person reads.
    where : str, default ""
        File, piece, surface or ingredient that the note is about.

    Examples
    --------
    >>> Note(NoteCode.MENDED, "2 zero-area facets dropped", where="counter.stl").code.value
    'mended'
    """

    code: NoteCode
    text: str
    where: str = ""


INFORMATION = frozenset(
    {NoteCode.LAYER_FLAT, NoteCode.MATERIAL_ONLY, NoteCode.NO_PICTURE, NoteCode.UNIT_DECLARED}
)
"""Notes that doubt nothing."""

BESIDES_PRICE = INFORMATION | {
    NoteCode.HEAVY,
    NoteCode.HEAD,
    NoteCode.HOLD_DOWN,
    NoteCode.FORM_NOT_WEIGHED,
    NoteCode.PLACE_UNTOLD,
    NoteCode.DIRECTION_EITHER,
    NoteCode.FINGER_TEST,
    NoteCode.DRYING,
    NoteCode.NAME_CHANGED,
    NoteCode.FILE_LEFT_OUT,
}
"""Notes whose doubt cannot change a price: how a piece is handled, braced, checked or named."""
