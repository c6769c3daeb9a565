"""Sentences of ours for the faults that pydantic finds in a table."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterator, Sequence
from typing import Any, get_args

from pydantic import BaseModel
from pydantic_core import ErrorDetails

_LONGEST_QUOTE = 60


def what_is_wrong(fault: ErrorDetails, known: Sequence[str] = ()) -> str:
    """Say in one sentence what is wrong with an entry.

    Parameters
    ----------
    fault : ErrorDetails
        One fault as pydantic lists it.
    known : sequence of str, default ()
        Keys that the table of the entry knows.

    Returns
    -------
    str
        The sentence, to be put behind file, line and key.

    Examples
    --------
    >>> fault = {"type": "extra_forbidden", "loc": ("nmae",), "msg": "", "input": "hall"}
    >>> what_is_wrong(fault, ("date", "name"))
    'unknown key; did you mean "name"?'
    """
    if fault["type"] == "extra_forbidden":
        return _unknown(str(fault["loc"][-1]), known)
    sentence = _SENTENCES.get(fault["type"], _as_told)
    return sentence(fault["input"], fault.get("ctx", {}), fault["msg"])


def known_keys(model: type[BaseModel], path: Sequence[str | int]) -> tuple[str, ...]:
    """Give the keys that a model knows in the table that holds an entry.

    Parameters
    ----------
    model : type of BaseModel
        The model of the whole file.
    path : sequence of str or int
        The entry.

    Returns
    -------
    tuple of str
        The keys in the order in which the model lists them.

    Examples
    --------
    >>> from pydantic import create_model
    >>> job = create_model("Job", name=(str, ...))
    >>> known_keys(create_model("File", job=(job, ...)), ("job", "nmae"))
    ('name',)
    """
    return _keys_at(model, path[:-1])


def _keys_at(model: type[BaseModel], path: Sequence[str | int]) -> tuple[str, ...]:
    """Give the keys of a table; none where it takes any, as names of the shop's own."""
    here = {model: None}
    for part in path:
        named = [
            field
            for table in here
            for key, field in table.model_fields.items()
            if part in (key, field.alias)
        ]
        if named:
            here = {inner: None for field in named for inner in _models_in(field.annotation)}
    return tuple(field.alias or key for table in here for key, field in table.model_fields.items())


def misplaced(model: type[BaseModel], path: Sequence[str | int]) -> str:
    """Say where an entry belongs that slipped into a table within its own.

    Parameters
    ----------
    model : type of BaseModel
        The model of the whole file.
    path : sequence of str or int
        The entry.

    Returns
    -------
    str
        The sentence; empty where its table knows the key, or no table above does.

    Examples
    --------
    >>> from pydantic import create_model
    >>> piece = create_model("Piece", count=(int, ...), wall=(dict[str, str], {}))
    >>> job = create_model("Job", piece=(tuple[piece, ...], ...))
    >>> misplaced(job, ("piece", 0, "wall", "count"))
    'count belongs to [[piece]]; put it above [piece.wall]'
    >>> misplaced(job, ("piece", 0, "count"))
    ''
    """
    *own, key = path or ("",)
    if not own or key in _keys_at(model, own):
        return ""
    for end in range(len(own) - 1, 0, -1):
        if not isinstance(path[end], int) and key in _keys_at(model, path[:end]):
            return f"{key} belongs to {_header(path[:end])}; put it above {_header(own)}"
    return ""


def _header(path: Sequence[str | int]) -> str:
    """Write the header of a table, in two brackets where it is one of several."""
    name = ".".join(str(part) for part in path if not isinstance(part, int))
    return f"[[{name}]]" if isinstance(path[-1], int) else f"[{name}]"


def nearest(name: str, known: Sequence[str]) -> str:
    """Offer the known name nearest to one not known, else list what is known.

    Parameters
    ----------
    name : str
        The name not known.
    known : sequence of str
        Names that are.

    Returns
    -------
    str
        The end of a sentence; empty where nothing is known.

    Examples
    --------
    >>> nearest("sandd", ("sand", "water"))
    'did you mean "sand"?'
    >>> nearest("gravel", ("sand", "water"))
    'known: sand, water'
    """
    close = difflib.get_close_matches(name, known, n=1)
    if close:
        return f'did you mean "{close[0]}"?'
    return f"known: {', '.join(known)}" if known else ""


def shown(value: object) -> str:
    """Write a value as it stands in a TOML file, cut where it is long.

    Parameters
    ----------
    value : object
        What ``tomllib`` made of it.

    Returns
    -------
    str
        The value for a message.

    Examples
    --------
    >>> shown("4 mm"), shown(True), shown(4)
    ('"4 mm"', 'true', '4')
    """
    if isinstance(value, bool):
        text = str(value).lower()
    elif isinstance(value, str):
        text = f'"{value}"'
    else:
        words: dict[type, str] = {dict: "a table", list: "a list"}
        text = words.get(type(value), str(value))
    return text if len(text) <= _LONGEST_QUOTE else f"{text[:_LONGEST_QUOTE]} ..."


def _models_in(annotation: object) -> Iterator[type[BaseModel]]:
    """Find the models that an annotation names, however wrapped."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from _models_in(inner)


def _unknown(key: str, known: Sequence[str]) -> str:
    """Say that a key is not known, and which may have been meant."""
    offer = nearest(key, known)
    return f"unknown key; {offer}" if offer else "unknown key"


def _must_be(what: str) -> Callable[[object, dict[str, Any], str], str]:
    """Make the sentence for a value of the wrong kind."""
    return lambda value, _, __: f"must be {what}, found {shown(value)}"


def _beyond(words: str, limit: str) -> Callable[[object, dict[str, Any], str], str]:
    """Make the sentence for a number beyond a limit."""

    def sentence(value: object, told: dict[str, Any], _: str) -> str:
        share = told[limit] and isinstance(value, str) and value.rstrip().endswith("%")
        bound = f"{told[limit] * 100:g} %" if share else f"{told[limit]:g}"
        return f"must be {words} {bound}, found {shown(value)}"

    return sentence


def _too_long(value: object, told: dict[str, Any], _: str) -> str:
    """Make the sentence for text longer than there is room for."""
    return f"must have at most {told['max_length']} letters, found {shown(value)}"


def _not_a_choice(value: object, told: dict[str, Any], _: str) -> str:
    """Say what may stand in place of a word not known."""
    choices = str(told["expected"]).replace("'", "").replace(" or ", ", ").split(", ")
    offer = nearest(str(value), choices)
    also = "" if offer.startswith("known") else f" {offer}"
    return f"{shown(value)} is not one of {', '.join(choices)};{also}".rstrip(";")


def _own(_: object, told: dict[str, Any], __: str) -> str:
    """Repeat what a check of ours said."""
    return str(told["error"])


def _as_told(value: object, _: dict[str, Any], message: str) -> str:
    """Fall back on pydantic's own words."""
    return f"{message[:1].lower()}{message[1:]}, found {shown(value)}"


_SENTENCES: dict[str, Callable[[object, dict[str, Any], str], str]] = {
    "missing": lambda *_: "is missing",
    "value_error": _own,
    "literal_error": _not_a_choice,
    "enum": _not_a_choice,
    "string_type": _must_be("text in quotes"),
    "int_type": _must_be("a whole number"),
    "int_from_float": _must_be("a whole number"),
    "float_type": _must_be("a number"),
    "finite_number": _must_be("a finite number"),
    "decimal_type": _must_be("a number"),
    "decimal_parsing": _must_be("a number"),
    "bool_type": _must_be("true or false"),
    "list_type": _must_be("a list in brackets"),
    "tuple_type": _must_be("a list in brackets"),
    "dict_type": _must_be("a table"),
    "model_type": _must_be("a table"),
    "date_type": _must_be("a date like 2026-11-25"),
    "date_parsing": _must_be("a date like 2026-11-25"),
    "date_from_datetime_parsing": _must_be("a date like 2026-11-25"),
    "string_too_short": lambda *_: "must not be empty",
    "too_short": lambda *_: "must hold at least one entry",
    "string_too_long": _too_long,
    "too_long": _too_long,
    "greater_than": _beyond("above", "gt"),
    "greater_than_equal": _beyond("at least", "ge"),
    "less_than": _beyond("below", "lt"),
    "less_than_equal": _beyond("at most", "le"),
}
