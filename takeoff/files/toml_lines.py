"""The line on which every table, key and array element of a TOML text stands."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping

KeyPath = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_KEY_PART = re.compile(r"""[ \t]*("(?:[^"\\\n]|\\.)*"|'[^'\n]*'|[A-Za-z0-9_-]+)[ \t]*""")
_TEXT = re.compile(
    r'"""(?:[^"\\]|\\.|"(?!""))*"{3,5}'
    r"|'''(?:[^']|'(?!''))*'{3,5}"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)
_BARE = re.compile(r"[^,\]}#\n]+")


def key_lines(text: str) -> Mapping[KeyPath, int]:
    r"""Give the line of every entry of a TOML text that is known to be valid.

    Tables, dotted and quoted keys, inline tables and elements of arrays are all entries; an
    array of tables counts its elements from 0. A table that is only implied by a longer
    name stands where it is first implied.

    Parameters
    ----------
    text : str
        The text, already accepted by ``tomllib``.

    Returns
    -------
    mapping of tuple to int
        Line number, counted from 1, by path of keys and element numbers.

    Examples
    --------
    >>> lines = key_lines('[job]\nname = "hall"\n[[piece]]\n[piece.edge]\nE3 = 0\n')
    >>> lines["job", "name"], lines["piece", 0, "edge", "E3"]
    (2, 5)
    """
    return _Scan(text.replace("\r\n", "\n")).lines


class _Scan:
    """One walk through the text, from statement to statement."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.table: KeyPath = ()
        self.lines: dict[KeyPath, int] = {}
        self.elements: dict[KeyPath, int] = {}
        self._counted_at = 0
        self._line = 1
        self._skip(_BLANK)
        while self.at < len(text):
            self._statement()
            self._skip(_BLANK)

    def _statement(self) -> None:
        """Take one header, or one key with its value."""
        if not self.text.startswith("[", self.at):
            self._assignment(self.table)
            return
        line = self._line_here()
        brackets = 2 if self.text.startswith("[[", self.at) else 1
        self.at += brackets
        parts = self._key()
        self.at += brackets
        self.table = self._resolved(parts, new_element=brackets == 2, line=line)
        self.lines[self.table] = line

    def _resolved(self, parts: list[str], *, new_element: bool, line: int) -> KeyPath:
        """Put the number of the element that is open behind each array of tables."""
        path: KeyPath = ()
        for place, part in enumerate(parts):
            path += (part,)
            self.lines.setdefault(path, line)
            if new_element and place == len(parts) - 1:
                self.elements[path] = self.elements.get(path, -1) + 1
            if path in self.elements:
                path += (self.elements[path],)
        return path

    def _assignment(self, table: KeyPath) -> None:
        """Take a dotted key, the equals sign and the value."""
        line = self._line_here()
        path = table
        for part in self._key():
            path += (part,)
            self.lines.setdefault(path, line)
        self.at += 1
        self._skip(_SPACE)
        self._value(path)

    def _value(self, path: KeyPath) -> None:
        """Take a value; go into arrays and inline tables."""
        opening = self.text[self.at]
        if opening == "[":
            self._array(path)
        elif opening == "{":
            self._inline_table(path)
        elif opening in "\"'":
            self._skip(_TEXT)
        else:
            self._skip(_BARE)

    def _array(self, path: KeyPath) -> None:
        """Take an array, which may run over lines and hold comments."""
        number = 0
        self._past("[")
        while not self.text.startswith("]", self.at):
            self.lines[(*path, number)] = self._line_here()
            self._value((*path, number))
            number += 1
            self._past(",")
        self.at += 1

    def _inline_table(self, path: KeyPath) -> None:
        """Take a table in braces."""
        self._past("{")
        while not self.text.startswith("}", self.at):
            self._assignment(path)
            self._past(",")
        self.at += 1

    def _past(self, mark: str) -> None:
        """Step over blanks and the mark, where it stands."""
        self._skip(_BLANK)
        if self.text.startswith(mark, self.at):
            self.at += 1
            self._skip(_BLANK)

    def _key(self) -> list[str]:
        """Take a dotted key and give its parts as they are meant."""
        parts = []
        while match := _KEY_PART.match(self.text, self.at):
            self.at = match.end()
            parts.append(_unquoted(match[1]))
            if not self.text.startswith(".", self.at):
                break
            self.at += 1
        return parts

    def _skip(self, pattern: re.Pattern[str]) -> None:
        """Step over what the pattern takes, which may be nothing."""
        if match := pattern.match(self.text, self.at):
            self.at = match.end()

    def _line_here(self) -> int:
        """Count on from the last line asked for."""
        self._line += self.text.count("\n", self._counted_at, self.at)
        self._counted_at = self.at
        return self._line


def _unquoted(part: str) -> str:
    """Give the name that a part of a key stands for."""
    if part[0] not in "\"'":
        return part
    return next(iter(tomllib.loads(f"{part} = 0")))
