"""TOML files read into strict models, with every fault at its file and line.

A model is a private pydantic class of the module that reads the file, derived from `Table`,
with one ``build()`` to the domain type. Quantities are the types of ``toml_quantities``.
"""

from __future__ import annotations

import difflib
import json
import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError
from pydantic_core import ErrorDetails

from takeoff.errors import ShopFileError
from takeoff.files.toml_faults import known_keys, misplaced, what_is_wrong
from takeoff.files.toml_lines import KeyPath, key_lines
from takeoff.files.toml_marks import marks_left, still_to_tell

_LARGEST_BYTES = 4_000_000
_FOLDER = "is a folder; name the TOML file in it"
_DRAWINGS = (".dxf", ".stl")
_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")
_KEY_TUPLE = re.compile(r"\('([^()]*?)',?\)")
_UNQUOTED_QUANTITY = re.compile(r"=\s*[-+]?[\d.,/ ]*\d\s*[a-zA-Z%'\"]")

M = TypeVar("M", bound=BaseModel)


class Table(BaseModel):
    """One table of a file: no key but its own, no value of another kind.

    Examples
    --------
    >>> class Scale(Table):
    ...     name: str
    >>> Scale(name="bench").name
    'bench'
    """

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class Fault(NamedTuple):
    """One thing wrong, at one entry of a file.

    Parameters
    ----------
    path : tuple
        Keys, and element numbers counted from 0, down to the entry.
    text : str
        What is wrong, and what would do.
    """

    path: KeyPath
    text: str


@dataclass(frozen=True, slots=True, eq=False)
class TomlFile:
    """A TOML file as it was parsed, before its entries are judged.

    Parameters
    ----------
    name : str
        The file as the messages name it.
    tables : mapping of str to object
        What ``tomllib`` made of it.
    lines : mapping of tuple to int
        Line of every entry.
    """

    name: str
    tables: Mapping[str, Any]
    lines: Mapping[KeyPath, int]

    def place(self, *path: str | int) -> str:
        r"""Give file, line and key of an entry, or of the nearest table above one not there.

        Parameters
        ----------
        *path : str or int
            Keys, and element numbers counted from 0, down to the entry.

        Returns
        -------
        str
            The place, to be put before what is said of it.

        Examples
        --------
        >>> parse_toml('[job]\nname = "hall"', name="job.toml").place("job", "name")
        'job.toml:2: job.name'
        >>> parse_toml('[job]\nname = "hall"', name="job.toml").place("job", "date")
        'job.toml:1: job.date'
        """
        key = _spelt(path)
        return f"{self.name}:{self._line(path)}" + (f": {key}" if key else "")

    def refusal(self, faults: Iterable[Fault]) -> ShopFileError:
        r"""Make one error of all faults, one on each line, in the order of the file.

        Parameters
        ----------
        faults : iterable of Fault
            What is wrong; at least one.

        Returns
        -------
        ShopFileError
            The error to raise.

        Examples
        --------
        >>> file = parse_toml('[job]\nname = "hall"', name="job.toml")
        >>> print(file.refusal([Fault(("job", "name"), "is taken")]))
        job.toml:2: job.name: is taken
        """
        rows = sorted({(self._line(path), f"{self.place(*path)}: {text}") for path, text in faults})
        text = "\n".join(row for _, row in rows)
        places = [f"{self.name}:{line}" for line, _ in rows]
        apart = tuple(
            (place, row.removeprefix(f"{place}: "))
            for place, (_, row) in zip(places, rows, strict=True)
        )
        return ShopFileError(text.removeprefix(f"{places[0]}: "), where=places[0], faults=apart)

    def _line(self, path: KeyPath) -> int:
        """Give the line of an entry, or of the nearest table above one that is not there."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)


def read_tables(path: str | Path, model: type[M]) -> M:
    """Read a TOML file into a model.

    Parameters
    ----------
    path : str or Path
        The file.
    model : type of BaseModel
        What it must hold.

    Returns
    -------
    BaseModel
        The validated model.

    Raises
    ------
    ShopFileError
        If the file cannot be read, is not TOML, or has wrong, missing or unknown entries, all
        of which are listed.

    Examples
    --------
    >>> class Scale(Table):
    ...     name: str
    >>> read_tables("no-such.toml", Scale)
    Traceback (most recent call last):
    takeoff.errors.ShopFileError: no-such.toml: there is no such file
    """
    return check_tables(load_toml(path), model)


def load_toml(path: str | Path) -> TomlFile:
    """Read and parse a TOML file.

    Parameters
    ----------
    path : str or Path
        The file: UTF-8, with or without a byte order mark.

    Returns
    -------
    TomlFile
        Its tables and the line of every entry.

    Raises
    ------
    ShopFileError
        If the file cannot be read, is a drawing, or is not TOML.

    Examples
    --------
    >>> load_toml(".")
    Traceback (most recent call last):
    takeoff.errors.ShopFileError: .: is a folder; name the TOML file in it
    """
    name = str(path)
    content = _content(Path(path), name)
    if Path(path).suffix.lower() in _DRAWINGS:
        text = f"is a drawing, no TOML file; takeoff start {name} makes a job of it"
        raise ShopFileError(text, where=name)
    return parse_toml(_decoded(content, name), name=name)


def parse_toml(text: str, *, name: str) -> TomlFile:
    r"""Parse a TOML text.

    Parameters
    ----------
    text : str
        The text.
    name : str
        The file as messages shall name it.

    Returns
    -------
    TomlFile
        Its tables and the line of every entry.

    Raises
    ------
    ShopFileError
        If it is not TOML.

    Examples
    --------
    >>> parse_toml("[bench]\nheight = 4 mm", name="shop.toml")
    Traceback (most recent call last):
    takeoff.errors.ShopFileError: shop.toml:2: not valid TOML at column 12: ...
    """
    try:
        return TomlFile(name, tomllib.loads(text), key_lines(text))
    except RecursionError:
        raise ShopFileError("nested too deeply to be read", where=name) from None
    except ValueError as error:
        raise _syntax_fault(str(error), text, name) from None


def check_tables(file: TomlFile, model: type[M], *, also: Iterable[Fault] = ()) -> M:
    """Hold the tables of a file against a model.

    Parameters
    ----------
    file : TomlFile
        The parsed file.
    model : type of BaseModel
        What it must hold.
    also : iterable of Fault, default ()
        Faults found otherwise, told along with those that the model finds.

    Returns
    -------
    BaseModel
        The validated model.

    Raises
    ------
    ShopFileError
        If entries are wrong, missing or unknown; all of them are listed.

    Examples
    --------
    >>> class Scale(Table):
    ...     name: str
    >>> check_tables(parse_toml('nmae = "bench"', name="shop.toml"), Scale)
    Traceback (most recent call last):
    takeoff.errors.ShopFileError: shop.toml:1: name: is missing
    shop.toml:1: nmae: unknown key; did you mean "name"?
    """
    # Through JSON, where strict still lets text name a choice and a list fill a tuple.
    document = json.dumps(file.tables, default=str)
    marks = {path: still_to_tell() for path in marks_left(file.tables)}
    try:
        read = model.model_validate_json(document)
    except ValidationError as error:
        faults = [
            fault
            for fault in error.errors(include_url=False)
            # A list whose elements are all at fault is counted as empty besides.
            if not (fault["type"] == "too_short" and fault["input"])
        ]
        located = [_located(file.tables, model, fault) for fault in faults]
        marks |= {path: still_to_tell(text) for path, text in located if path in marks}
        others = [fault for fault in located if fault.path not in marks]
        raise file.refusal([*others, *map(Fault._make, marks.items()), *also]) from None
    if marks:
        raise file.refusal([*map(Fault._make, marks.items()), *also])
    return read


def _located(tables: Mapping[str, Any], model: type[BaseModel], fault: ErrorDetails) -> Fault:
    """Say what is wrong at the entry of the file that a fault of the model is about.

    The model also counts steps that are not in the file (a kind chosen, a bare value taken
    for a table); they are left out.
    """
    path: KeyPath = ()
    here: Any = tables
    for part in fault["loc"]:
        entries = dict(enumerate(here)) if isinstance(here, list) else here
        if isinstance(entries, dict) and part in entries:
            path, here = (*path, part), entries[part]
    if fault["type"] == "missing":
        path = (*path, fault["loc"][-1])
    known = known_keys(model, fault["loc"])
    return Fault(path, misplaced(model, path) or what_is_wrong(fault, known))


def _spelt(path: KeyPath) -> str:
    """Write a path as keys with dots, elements counted from 1 in brackets."""
    steps = (f"[{part + 1}]" if isinstance(part, int) else f".{part}" for part in path)
    return "".join(steps).removeprefix(".")


def _content(path: Path, name: str) -> bytes:
    """Read the bytes, or say why not."""
    try:
        with path.open("rb") as handle:
            content = handle.read(_LARGEST_BYTES + 1)
    except IsADirectoryError:
        raise ShopFileError(_FOLDER, where=name) from None
    except FileNotFoundError:
        raise ShopFileError(f"there is no such file{_alike(path)}", where=name) from None
    except OSError as error:
        # Some systems forbid to open a folder instead of saying that it is one.
        folder = isinstance(error, PermissionError) and path.is_dir()
        reason = _FOLDER if folder else f"cannot be read: {error.strerror}"
        raise ShopFileError(reason, where=name) from None
    except ValueError as error:
        raise ShopFileError(f"is not the name of a file: {error}", where=name) from None
    if len(content) > _LARGEST_BYTES:
        raise ShopFileError("is larger than 4 MB; this is no file written by hand", where=name)
    return content


def _alike(path: Path) -> str:
    """Name a file in the same folder that may have been meant."""
    try:
        names = sorted(entry.name for entry in path.parent.iterdir())
    except OSError:
        return ""
    nearest = difflib.get_close_matches(path.name, names, n=1)
    return f'; did you mean "{nearest[0]}"?' if nearest else ""


def _decoded(content: bytes, name: str) -> str:
    """Give the text of UTF-8 bytes, without a byte order mark."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise ShopFileError("is UTF-16 text; save it as UTF-8", where=name)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        byte = content[error.start]
        raise ShopFileError(
            f"byte 0x{byte:02x} is not UTF-8; save the file as UTF-8", where=f"{name}:{line}"
        ) from None


def _syntax_fault(message: str, text: str, name: str) -> ShopFileError:
    """Say where the text stops being TOML, with the usual cause where it shows."""
    said = _PLACE.sub("", message).split(";")[0]
    said = _KEY_TUPLE.sub(lambda key: key[1].replace("', '", "."), said)
    said = said[:1].lower() + said[1:]
    place = _PLACE.search(message)
    if place is None:
        return ShopFileError(f"not valid TOML: {said}", where=name)
    rows = text.split("\n")
    line = int(place[1] or len(text.rstrip().split("\n")))
    column = f"at column {place[2]}" if place[2] else "at its end"
    hint = ""
    if said == "invalid value" or _UNQUOTED_QUANTITY.search(rows[line - 1]):
        hint = '; words, and quantities with their unit, stand in quotes, like "4 mm"'
    return ShopFileError(f"not valid TOML {column}: {said}{hint}", where=f"{name}:{line}")
