"""Arguments of a type that a public function does not take, refused before it is called."""

from __future__ import annotations

import functools
import inspect
import numbers
import os
import re
import types
import typing
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import ParamSpec, TypeVar

from takeoff.errors import ArgumentError, QuantityError, TakeoffError

_LONGEST_SHOWN = 40
_MOST_BITS = 128
_QUANTITY = re.compile(r'"[0-9.]+ [^0-9]')

P = ParamSpec("P")
R = TypeVar("R")

EXAMPLES: Mapping[str, str] = {
    "absorption": '"1 %"',
    "air": '"25 C"',
    "at": '{"all": "24 C"}',
    "backer": '"16 mm"',
    "backer_m": "an array of metres, one for each triangle",
    "bags": "2",
    "bucket": '"20 kg"',
    "coat": '"4 mm"',
    "edge_depth": '"40 mm"',
    "edges": '{"E3": "40 mm"}',
    "exact": "True",
    "face_coat": '"4 mm"',
    "face_coat_m": "an array of metres, one for each triangle",
    "gain": '"2 C"',
    "glass": '"125 g in 15 s"',
    "hold_back": '"10 %"',
    "humidity": '"50 %"',
    "ice": '"1 kg"',
    "kind": '"piece"',
    "layers": '["walls"]',
    "mass": '"25 kg"',
    "mesh": 'takeoff.Mesh.from_trimesh(mesh, unit="mm")',
    "mix": '"backer-poured"',
    "moisture": '"4 %"',
    "name_or_path": '"backer-poured"',
    "openings": '{"O1": "bare"}',
    "path": '"hall/job.toml" or "panel.dxf"',
    "paths": '["panel.dxf", "counter.stl"]',
    "prove": "True",
    "return_limit": '"110 mm"',
    "rules": "LayerRules()",
    "scale": '"10 g"',
    "sha256": '"a4f167ad6b40"',
    "shop": '"shop.toml"',
    "show": '"up" or "0,0,1"',
    "slurry": '"4.75 kg in 30 s"',
    "surfaces": '{"R2": "back"}',
    "temperature": '"21 C"',
    "unit": '"mm"',
    "use": '"cladding"',
    "volume": '"18 L"',
    "wanted": '"21 C"',
    "wind": '"5 m/s"',
}
"""How every argument of the public functions is given."""


def refusing_wrong_types(function: Callable[P, R]) -> Callable[P, R]:
    """Give a function that refuses arguments of another type than it says it takes.

    Parameters
    ----------
    function : callable
        The function, with a type for each of its arguments.

    Returns
    -------
    callable
        The same, with the refusals before it.

    Examples
    --------
    >>> def doubled(unit: str) -> str:
    ...     return 2 * unit
    >>> refusing_wrong_types(doubled)(unit=4.0)
    Traceback (most recent call last):
    takeoff.errors.ArgumentError: unit is the bare number 4.0; give it like "mm"
    """
    signature = inspect.signature(function)

    @functools.wraps(function)
    def call(*args: P.args, **named: P.kwargs) -> R:
        try:
            given = signature.bind(*args, **named).arguments
        except TypeError:
            return function(*args, **named)  # which says itself what is missing or unknown
        hints = _hints(function)
        for name, value in given.items():
            for place, found, number in _faults(name, value, hints.get(name)):
                raise _refusal(name, place, found, number=number)
        return function(*args, **named)

    return call


@functools.cache
def _hints(function: Callable[..., object]) -> Mapping[str, object]:
    return typing.get_type_hints(function)


def _refusal(name: str, place: str, found: str, *, number: bool) -> TakeoffError:
    """Say what was found, and what would do."""
    like = EXAMPLES.get(name, "its type says")
    if number and _QUANTITY.search(like):
        return QuantityError(f"{place} is {found}, which has no unit; write it like {like}")
    return ArgumentError(f"{place} is {found}; give it like {like}")


def _faults(place: str, value: object, hint: object) -> Iterator[tuple[str, str, bool]]:
    """Find what is of another type than a hint says: its place, what it is, if it is a number."""
    choices = typing.get_args(hint) if _is_union(hint) else (hint,)
    kinds = [typing.get_origin(choice) or choice for choice in choices]
    fits = [choice for choice, kind in zip(choices, kinds, strict=True) if _is_a(value, kind)]
    if not fits:
        yield place, _shown(value), _is_number(value)
        return
    [choice, *others] = fits
    if others:
        return
    if isinstance(value, Mapping):
        key_hint, value_hint = typing.get_args(choice) or (object, object)
        for key, inner in value.items():
            yield from _faults(f"a key of {place}", key, key_hint)
            yield from _faults(f"{place}[{key!r}]", inner, value_hint)
    elif isinstance(value, list | tuple):
        [inner_hint] = typing.get_args(choice)[:1] or [object]
        for number, inner in enumerate(value):
            yield from _faults(f"{place}[{number}]", inner, inner_hint)


def _is_union(hint: object) -> bool:
    return typing.get_origin(hint) in {typing.Union, types.UnionType}


def _is_a(value: object, kind: object) -> bool:
    """Tell whether a value is of a kind; what is no plain class is not judged."""
    if not isinstance(kind, type) or getattr(kind, "_is_protocol", False):
        return True
    judge = _KINDS.get(kind)
    return isinstance(value, kind) if judge is None else judge(value)


def _is_number(value: object) -> bool:
    return isinstance(value, numbers.Real) and not isinstance(value, bool)


def _is_several(value: object) -> bool:
    return isinstance(value, Iterable) and not isinstance(value, str | bytes | Mapping)


_KINDS: Mapping[object, Callable[[object], bool]] = {
    Path: lambda given: isinstance(given, os.PathLike),
    Sequence: _is_several,
    bool: lambda given: isinstance(given, bool) or str(getattr(given, "dtype", "")) == "bool",
    int: lambda given: isinstance(given, numbers.Integral) and not isinstance(given, bool),
    float: _is_number,
}
"""What is taken as one of a kind, where that is not the class alone."""


def _shown(value: object) -> str:
    """Say what was found: its kind, and the value where it is short."""
    if value is None or isinstance(value, bool):
        return repr(value)
    noun = "bare number" if _is_number(value) else "text" if isinstance(value, str) else ""
    if not noun:
        return f"of type {type(value).__name__}"
    if isinstance(value, int) and value.bit_length() > _MOST_BITS:
        return f"a {noun}"
    text = repr(value)
    return f"the {noun} {text}" if len(text) <= _LONGEST_SHOWN else f"a {noun}"
