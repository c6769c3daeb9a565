"""What the job takes surfaces and openings as, where it knows better than the drawing tells."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from takeoff.errors import SurfaceError
from takeoff.piece.surfaces import SurfaceClass

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Corrections:
    """Corrections by id.

    Parameters
    ----------
    surfaces : mapping of str to SurfaceClass
        Class of single surfaces, by the ids under which they were found.
    bare : mapping of str to bool
        Whether the wall of single openings is bare, by their ids.
    """

    surfaces: Mapping[str, SurfaceClass] = field(default_factory=dict)
    bare: Mapping[str, bool] = field(default_factory=dict)

    def __bool__(self) -> bool:
        """Tell whether there are any."""
        return bool(self.surfaces or self.bare)


BARE: Mapping[str, bool] = {"bare": True, "coated": False}
"""How the wall of an opening is told to be -> whether it is bare."""


def read_corrections(surfaces: Mapping[str, str], openings: Mapping[str, str]) -> Corrections:
    """Read corrections as a job writes them.

    Parameters
    ----------
    surfaces : mapping of str to str
        A class by the id of a surface: ``{"R2": "back"}``.
    openings : mapping of str to str
        ``"bare"`` or ``"coated"`` by the id of an opening.

    Returns
    -------
    Corrections
        The corrections.

    Raises
    ------
    SurfaceError
        If a word is no class, or neither of the two.

    Examples
    --------
    >>> read_corrections({"R2": "show face"}, {"O1": "bare"}).bare
    {'O1': True}
    """
    classes = {one.value: one for one in SurfaceClass}
    return Corrections(
        {name: _one_of(classes, word, name) for name, word in surfaces.items()},
        {name: _one_of(BARE, word, name) for name, word in openings.items()},
    )


def _one_of(known: Mapping[str, T], word: str, name: str) -> T:
    found = known.get(word.strip().lower().replace(" ", "_"))
    if found is None:
        raise SurfaceError(f"{name} cannot be {word!r}; give one of {', '.join(known)}")
    return found


def refuse_unknown(corrections: Corrections, known: Iterable[tuple[str, str]]) -> None:
    """Refuse corrections of surfaces and openings that a piece does not have.

    Parameters
    ----------
    corrections : Corrections
        The corrections.
    known : iterable of tuple of str
        Id and description of every surface and opening.

    Raises
    ------
    SurfaceError
        If an id is not there; all that are there are listed.

    Examples
    --------
    >>> wrong = Corrections({"R7": SurfaceClass.BACK})
    >>> refuse_unknown(wrong, [("F1", "1.2 m², faces the show direction: show face")])
    Traceback (most recent call last):
    takeoff.errors.SurfaceError: there is no R7 to correct; this piece has
      F1  1.2 m², faces the show direction: show face
    """
    rows = dict(known)
    wrong = [name for name in (*corrections.surfaces, *corrections.bare) if name not in rows]
    if wrong:
        listed = "\n".join(f"  {name}  {text}" for name, text in rows.items())
        raise SurfaceError(
            f"there is no {' and no '.join(wrong)} to correct; this piece has\n{listed}"
        )
