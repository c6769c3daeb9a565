"""The type of an entry that is money, read to the cent and never through a binary float."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Annotated

from pydantic import BeforeValidator

from takeoff.files.toml_faults import shown

_PRICE = re.compile(r"[0-9]*(?:[.,](?P<cents>[0-9]*))?")
_THOUSANDS = re.compile(r"[0-9]{1,3},[0-9]{3}")
_LIKE = "is not a price; write it like 18.40"
_LONGEST_PRICE = 12


def money(value: object) -> Decimal:
    """Read an amount of money as it is written.

    Parameters
    ----------
    value : object
        Text such as ``18.40`` or ``18,40``, or a bare number; no sign and no currency.

    Returns
    -------
    Decimal
        The amount, at least 0.

    Raises
    ------
    ValueError
        If it is no amount of money, can be read two ways, is written finer than the cent, or is
        longer than any price.

    Notes
    -----
    What is printed is what is multiplied, so a price finer than the cent is refused, not rounded.
    Decimals are counted as they stand: ``"1.200"`` may be a thousand two hundred.

    Examples
    --------
    >>> money("18,40"), money(7.9)
    (Decimal('18.40'), Decimal('7.9'))
    >>> money("1,200")
    Traceback (most recent call last):
    ValueError: '1,200' can be read two ways; write 1200.00 or 1.20
    """
    text = "" if isinstance(value, bool) else str(value).strip()
    written = _PRICE.fullmatch(text)
    if written is None or not any(sign.isdigit() for sign in text):
        raise ValueError(f"{value!r} {_LIKE}")
    if _THOUSANDS.fullmatch(text):
        raise ValueError(f"{value!r} can be read two ways; write 1200.00 or 1.20")
    if len(written["cents"] or "") > 2:
        raise ValueError(
            f"{value!r} has more than two decimals; give the price of a larger pack or measure"
        )
    if len(text) > _LONGEST_PRICE:
        raise ValueError(f"{shown(value)} is longer than any price; write it like 18.40")
    return Decimal(text.replace(",", "."))


Money = Annotated[Decimal, BeforeValidator(money, json_schema_input_type=str | float)]
