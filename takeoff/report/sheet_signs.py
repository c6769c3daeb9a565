"""Text in any script as signs that the fonts of the sheets can print, in the order they stand."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable, Mapping
from enum import StrEnum
from functools import cache
from itertools import count

Covers = Callable[[str], bool]

_UNKNOWN = "?"
_PICTURES = frozenset({"So", "Sk"})  # categories of the Unicode character database
_MARKS = frozenset({"Mn", "Mc", "Me"})
_KEPT_APART = "\u200e"  # keeps figures beside a name where they stand, whichever way it is read
_LAM = "\u0644"
_TATWEEL = "\u0640"  # the stroke that lengthens a word joins on both sides
_FORMS = range(0xFE70, 0xFEFD)  # the signs of Arabic as they stand in a word


class _Form(StrEnum):
    """How a letter stands in its word, as the Unicode character database has it."""

    ISOLATED = "<isolated>"
    INITIAL = "<initial>"
    MEDIAL = "<medial>"
    FINAL = "<final>"


_FORM_NAMES = frozenset(form.value for form in _Form)


def printable(text: str, covers: Covers) -> str:
    r"""Give a text in signs that can be printed, as it is read.

    Parameters
    ----------
    text : str
        Any text.
    covers : callable
        Tells whether the fonts have a sign.

    Returns
    -------
    str
        The text on one line. A sign that no font has becomes its plain parts, a picture its name
        in brackets, a letter those of Latin that stand for it, and whatever is left a question
        mark.

    Examples
    --------
    >>> printable("Zürich\n№ 5 \U0001F3D7 벽", lambda sign: sign.isascii() or sign == "ü")
    'Zürich No 5 [building construction] Byeog'
    """
    spaced = "".join(" " if _is_space(sign) else sign for sign in text)
    composed = unicodedata.normalize("NFC", spaced)
    return " ".join("".join(_shown(sign, covers) for sign in composed).split())


def in_line(text: str, covers: Covers) -> str:
    """Order the signs of one line as they stand on paper, from left to right.

    Parameters
    ----------
    text : str
        A printable text on one line.
    covers : callable
        Tells whether the fonts have a sign.

    Returns
    -------
    str
        Arabic joined; what runs from right to left turned round.

    Examples
    --------
    >>> in_line("slab", str.isascii)
    'slab'
    """
    if not _turns(text):
        return text.replace(_KEPT_APART, "")
    from fpdf.bidi import BidiParagraph
    from fpdf.enums import TextDirection

    joined = _joined(text, covers)
    ordered = str(BidiParagraph(joined, TextDirection.LTR).get_reordered_string())
    return ordered.replace(_KEPT_APART, "")


def told_apart(names: Iterable[str], covers: Covers) -> dict[str, str]:
    """Give every name as it is printed, so that two of them never look alike.

    Parameters
    ----------
    names : iterable of str
        The names.
    covers : callable
        Tells whether the fonts have a sign.

    Returns
    -------
    dict of str to str
        Each name as it is printed; a number behind those that would print the same.

    Examples
    --------
    >>> told_apart(["벽", "벅", "벅\u200b"], str.isascii)
    {'벽': 'Byeog', '벅': 'Beog (1)', '벅\u200b': 'Beog (2)'}
    """
    printed = {name: printable(name, covers) or _UNKNOWN for name in dict.fromkeys(names)}
    alike: dict[str, list[str]] = {}
    for name, text in printed.items():
        alike.setdefault(text, []).append(name)
    used = set(alike)
    for text, those in alike.items():
        if len(those) > 1:
            numbered = (f"{text} ({number})" for number in count(1))
            free = (one for one in numbered if one not in used)
            printed |= dict(zip(those, free, strict=False))
            used |= {printed[name] for name in those}
    return {
        name: f"{_KEPT_APART}{text}{_KEPT_APART}" if _turns(text) else text
        for name, text in printed.items()
    }


def _turns(text: str) -> bool:
    """Tell whether any of a text runs from right to left."""
    return any(unicodedata.bidirectional(sign) in {"R", "AL", "AN"} for sign in text)


def _is_space(sign: str) -> bool:
    return sign.isspace() or unicodedata.category(sign) == "Cc"


def _shown(sign: str, covers: Covers) -> str:
    """Give what is printed for one sign."""
    kind = unicodedata.category(sign)
    if sign == _KEPT_APART:
        return sign
    if kind == "Cf" or "VARIATION SELECTOR" in unicodedata.name(sign, ""):
        return ""
    if covers(sign):
        return sign
    parts = unicodedata.normalize("NFKD", sign)
    if parts != sign:
        shown = "".join(part for part in parts if covers(part))
        if shown:
            return shown
    words = unicodedata.name(sign, "").lower()
    if words and kind in _PICTURES:
        return f"[{words}]"
    return _in_latin(sign) or ("" if kind in _MARKS else _UNKNOWN)


def _in_latin(sign: str) -> str:
    """Give the Latin letters that stand for a sign; empty where there are none."""
    try:
        from anyascii import anyascii
    except ImportError:
        return ""
    return anyascii(sign)


@cache
def _forms() -> Mapping[str, Mapping[_Form, str]]:
    """Give the signs that each letter, or pair of letters, of Arabic has in a word."""
    forms: dict[str, dict[_Form, str]] = {}
    for sign in map(chr, _FORMS):
        kind, *letters = (unicodedata.decomposition(sign) or "-").split()
        plain = "".join(chr(int(letter, 16)) for letter in letters)
        if kind in _FORM_NAMES and not plain.startswith(" "):
            forms.setdefault(plain, {})[_Form(kind)] = sign
    return forms


def _joined(text: str, covers: Covers) -> str:
    """Give each letter of Arabic the sign that it has in its word."""
    letters = _letters(text)
    signs = []
    for number, letter in enumerate(letters):
        before = _beside(letters[:number][::-1])
        after = _beside(letters[number + 1 :])
        joins = (
            _joins_on(before) and _joins_back(letter),
            _joins_on(letter) and _joins_back(after),
        )
        sign = _forms().get(letter, {}).get(_JOINED[joins], letter)
        signs.append(sign if covers(sign) else letter)
    return "".join(signs)


_JOINED = {
    (False, False): _Form.ISOLATED,
    (False, True): _Form.INITIAL,
    (True, True): _Form.MEDIAL,
    (True, False): _Form.FINAL,
}


def _letters(text: str) -> list[str]:
    """Split a text into letters, those two that are written as one kept together."""
    letters: list[str] = []
    for sign in text:
        if letters and letters[-1] == _LAM and _LAM + sign in _forms():
            letters[-1] += sign
        else:
            letters.append(sign)
    return letters


def _beside(letters: Iterable[str]) -> str:
    """Give the next letter, marks above and below it passed over."""
    return next((one for one in letters if unicodedata.category(one[0]) != "Mn"), "")


def _joins_on(letter: str) -> bool:
    """Tell whether a letter reaches the one after it."""
    return letter == _TATWEEL or _Form.INITIAL in _forms().get(letter, {})


def _joins_back(letter: str) -> bool:
    """Tell whether a letter reaches the one before it."""
    return letter == _TATWEEL or _Form.FINAL in _forms().get(letter, {})
