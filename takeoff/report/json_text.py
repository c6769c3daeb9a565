"""Documents as JSON: no NaN, twelve significant digits, the same bytes every time."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence


def json_text(document: Mapping[str, object]) -> str:
    """Write a document as JSON.

    Parameters
    ----------
    document : mapping
        The document.

    Returns
    -------
    str
        JSON text, keys in the document's own order, floats to 12 significant digits.

    Raises
    ------
    ValueError
        If a figure is not a finite number.

    Examples
    --------
    >>> print(json_text({"area_m2": 0.1 + 0.2}))
    {
      "area_m2": 0.3
    }
    """
    return json.dumps(_trimmed(document), indent=2, ensure_ascii=False, allow_nan=False)


def json_bytes(document: Mapping[str, object]) -> bytes:
    r"""Write a document as the bytes of a JSON file.

    Parameters
    ----------
    document : mapping
        The document.

    Returns
    -------
    bytes
        UTF-8, with a line feed at the end.

    Raises
    ------
    ValueError
        If a figure is not a finite number.

    Examples
    --------
    >>> json_bytes({})
    b'{}\n'
    """
    return (json_text(document) + "\n").encode("utf-8", errors="replace")


def _trimmed(value: object) -> object:
    """Give floats 12 significant digits, all the way down."""
    if isinstance(value, float):
        return float(f"{value:.12g}") + 0.0 if math.isfinite(value) else value
    if isinstance(value, Mapping):
        return {str(key): _trimmed(part) for key, part in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [_trimmed(part) for part in value]
    return value
