"""Words that run from right to left, kept apart from the figures beside them on screens."""

from __future__ import annotations

import re
import unicodedata

_RIGHT_TO_LEFT = frozenset({"R", "AL", "AN"})  # bidirectional classes of Unicode
_OPEN, _CLOSE = "\u2068", "\u2069"  # first strong isolate, pop directional isolate (annex 9)
_BETWEEN = re.compile(r"([,;:|()]+)")


def kept_apart(text: str) -> str:
    r"""Isolate each run of words that is read from right to left.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    str
        The text, with signs round such runs that nobody sees; as it is where nothing but such
        words stands in it, or none.

    Notes
    -----
    Without them a figure behind such a name is shown before it, and changes places with the next.

    References
    ----------
    Unicode Standard Annex 9, Unicode Bidirectional Algorithm.

    Examples
    --------
    >>> kept_apart("1 x \u05e7\u05d9\u05e8, 2 x slab")
    '1 x \u2068קיר\u2069, 2 x slab'
    >>> kept_apart("slab 2")
    'slab 2'
    """
    if text.isascii() or not any(map(_turns, text)) or not any(map(_stays, text)):
        return text
    return "".join(_isolated(part) for part in _BETWEEN.split(text))


def _isolated(part: str) -> str:
    """Isolate the runs of one part: from such a word to the last before other letters."""
    shown, held, begun = "", "", False
    for sign in part:
        if _turns(sign):
            shown += held + sign if begun else held + _OPEN + sign
            held, begun = "", True
        elif begun and (_stays(sign) or sign.isdecimal()):
            shown += _CLOSE + held + sign
            held, begun = "", False
        elif begun:
            held += sign
        else:
            shown += sign
    return shown + (_CLOSE if begun else "") + held


def _turns(sign: str) -> bool:
    return unicodedata.bidirectional(sign) in _RIGHT_TO_LEFT


def _stays(sign: str) -> bool:
    """Tell whether a sign is read from left to right, or is a figure."""
    return unicodedata.bidirectional(sign) in {"L", "EN"}
