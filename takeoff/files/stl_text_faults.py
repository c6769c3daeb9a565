"""The first thing wrong in the text of an STL, with its line."""

from __future__ import annotations

import re

from takeoff.errors import UnreadableError

FACET_WORDS: tuple[bytes | None, ...] = (
    *(b"facet", b"normal", None, None, None, b"outer", b"loop"),
    *(b"vertex", None, None, None) * 3,
    *(b"endloop", b"endfacet"),
)
CORNER_PLACES = (8, 9, 10, 12, 13, 14, 16, 17, 18)
_NUMBER = re.compile(rb"[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?|[-+]?(nan|inf|infinity)")


def first_fault(text: bytes, *, first_line: int, first_facet: int, where: str) -> UnreadableError:
    r"""Find the first word that is not as a facet must have it.

    Parameters
    ----------
    text : bytes
        Some facets in lower case, of which one is wrong.
    first_line : int
        Line of the file that the text begins on.
    first_facet : int
        Number of its first facet, from 1.
    where : str
        Name of the file.

    Returns
    -------
    UnreadableError
        What was found, and what was expected.

    Examples
    --------
    >>> text = b"facet normal 0 0 1\nouter loop\nvertex 1,5 2 3"
    >>> print(first_fault(text, first_line=2, first_facet=1, where="a.stl").where)
    a.stl:4
    """
    place, facet, line = 0, first_facet, first_line
    for line, words in enumerate(re.split(rb"\r\n|\r|\n", text), first_line):
        for word in words.split():
            wrong = _wrong_word(word, place, facet)
            if wrong:
                return UnreadableError(wrong, where=f"{where}:{line}")
            place = (place + 1) % len(FACET_WORDS)
            facet += place == 0
    return UnreadableError(
        f"facet {facet} is cut short: the file ends, or a solid does, within it; export it again",
        where=f"{where}:{line}",
    )


def _wrong_word(word: bytes, place: int, facet: int) -> str:
    """Say what is wrong with a word at a place of a facet; nothing where it is right."""
    expected = FACET_WORDS[place]
    shown = word[:30].decode("utf-8", "replace")
    if expected is None and place not in CORNER_PLACES:
        short = f"the normal of facet {facet} has fewer than three numbers; export it again"
        return short if word in FACET_WORDS else ""
    if expected is None:
        return _wrong_number(word, shown, facet)
    if word == expected:
        return ""
    wrong_count = {b"vertex": "more", b"endloop": "fewer"}.get(word)
    if wrong_count is not None:
        return f"facet {facet} has {wrong_count} than three vertices; export triangles only"
    return f'"{expected.decode()}" must stand here in facet {facet}, but it is "{shown}"'


def _wrong_number(word: bytes, shown: str, facet: int) -> str:
    """Say what is wrong with a coordinate; nothing where it can be read."""
    if _NUMBER.fullmatch(word):
        return ""
    if b"," not in word:
        return f'"{shown}" in facet {facet} is no number'
    return (
        f'"{shown}" in facet {facet} has a comma; write decimals with a point and no '
        "separators between thousands"
    )
