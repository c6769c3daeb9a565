"""Why a surface is of its class, in words of the trade."""

from __future__ import annotations

from collections.abc import Mapping

from takeoff.piece.explaining import Explanation
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from takeoff.piece.zones import Reason

WORDS: Mapping[Reason, str] = {
    Reason.FLAT: "faces the show direction",
    Reason.CURVED: "curved face, wider than an eased arris",
    Reason.RELIEF: "step or flute {depth} deep, part of the show face",
    Reason.EDGE: "wall {depth} behind the show face, ends at {foot}",
    Reason.BASIN: "wall {depth} deep between two show faces",
    Reason.STEP: "wall rising {depth} from the show face, ends at {foot}",
    Reason.SHELL_EDGE: "edge {depth} wide of a curved shell, square to its show face",
    Reason.LOOSE: "wall {depth} deep that joins no show face",
    Reason.INNER: "wall that no show face borders",
    Reason.BACK: "faces away from the show direction",
    Reason.HIDDEN: "faces the show direction, but lies hidden behind the show face",
    Reason.FILLED: "wall without a clear depth, taken like the walls beside it",
    Reason.EASED: "lower half of an eased arris",
}
"""What to say for every reason; ``depth`` and ``foot`` are filled in."""

FOOT: Mapping[ModelKind, str] = {
    ModelKind.PIECE: "the back",
    ModelKind.FORM: "the rim of the form",
    ModelKind.OPEN: "an open edge",
    ModelKind.OUTLINE: "an open edge",
}
"""What a wall ends at."""


def explain(
    found_class: SurfaceClass,
    reason: Reason,
    *,
    depth_m: float,
    mean_depth_m: float,
    opening: str | None,
    kind: ModelKind,
    told_class: SurfaceClass | None = None,
) -> Explanation:
    """Say why a surface is of its class.

    Parameters
    ----------
    found_class : SurfaceClass
        The class that was found.
    reason : Reason
        The rule that settled most of it.
    depth_m, mean_depth_m : float
        Largest and mean depth. [m]
    opening : str or None
        The opening it is the wall of.
    kind : ModelKind
        What the drawing shows.
    told_class : SurfaceClass, optional
        What the job takes it as instead.

    Returns
    -------
    Explanation
        The sentence.

    Examples
    --------
    >>> wall = explain(SurfaceClass.RETURN, Reason.EDGE, depth_m=0.045, mean_depth_m=0.045,
    ...                opening="O1", kind=ModelKind.PIECE)
    >>> wall.text()
    'wall of opening O1 45 mm behind the show face, ends at the back: return'
    """
    text = WORDS[reason].replace("{foot}", FOOT[kind])
    if opening is not None:
        text = text.replace("wall", f"wall of opening {opening}", 1)
    text = f"{text}: {in_words(found_class)}"
    if told_class is not None:
        text = f"corrected by the job: {in_words(told_class)}; found: {text}"
    return Explanation(text, depth_m, mean_depth_m)


def in_words(surface_class: SurfaceClass) -> str:
    """Give a class as people write it.

    Parameters
    ----------
    surface_class : SurfaceClass
        The class.

    Returns
    -------
    str
        Its name.

    Examples
    --------
    >>> in_words(SurfaceClass.SHOW_FACE)
    'show face'
    """
    return surface_class.value.replace("_", " ")
