"""Names of files made of names of pieces: harmless in every folder of every machine."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection

_KEPT = frozenset("LMN")  # letters, their marks, numbers: first letters of Unicode categories
_MOST_BYTES = 120  # file systems take 255 of them; a suffix and a temporary name come on top
_NAMELESS = "piece"
# Devices that Windows finds in every folder, whatever their suffix ("Naming Files, Paths, and
# Namespaces", Microsoft Learn; from memory).
_DEVICE = re.compile(r"(CON|PRN|AUX|NUL|COM\d|LPT\d)", re.IGNORECASE)


def free_name(name: str, suffix: str, taken: Collection[str]) -> str:
    """Make a file name of the name of a piece, another than those taken.

    Parameters
    ----------
    name : str
        Any name.
    suffix : str
        Of the file, such as ``".png"``.
    taken : collection of str
        Names of files that others have; capitals and small letters count as one.

    Returns
    -------
    str
        Letters and numbers of any script with hyphens between them; a picture is spelt by its
        name. A number behind it where it would be one of those taken.

    Examples
    --------
    >>> free_name("../Wall: panel 墙", ".png", ["wall-panel-墙.png"])
    'Wall-panel-墙-2.png'
    >>> [free_name(name, ".png", []) for name in ("CON", "\U0001f9f1", "=")]
    ['CON-piece.png', 'brick.png', 'piece.png']
    """
    plain = _plain(name)
    others = {one.casefold() for one in taken}
    number, file = 1, f"{plain}{suffix}"
    while file.casefold() in others:
        number += 1
        file = f"{plain}-{number}{suffix}"
    return file


def _plain(name: str) -> str:
    """Keep what every file system takes."""
    spelt = "".join(map(_spelt, unicodedata.normalize("NFC", name)))
    words = [word for word in re.split("-+", spelt) if word]
    plain = _cut("-".join(words)) or _NAMELESS
    return f"{plain}-{_NAMELESS}" if _DEVICE.fullmatch(plain) else plain


def _spelt(sign: str) -> str:
    kind = unicodedata.category(sign)
    if kind[0] in _KEPT or sign == "_":
        return sign
    if kind == "So":
        return f"-{unicodedata.name(sign, '').lower().replace(' ', '-')}-"
    return "-"


def _cut(text: str) -> str:
    """Cut a name to what a file system takes, between two signs."""
    return text.encode()[:_MOST_BYTES].decode(errors="ignore").strip("-")
