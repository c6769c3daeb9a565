"""How the cells of a workbook look: one table of styles."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.workbook import Workbook

_Properties = Mapping[str, object]

_FONT: _Properties = {"font_name": "Arial", "font_size": 10, "valign": "top"}
_INPUT: _Properties = {
    "bg_color": "#FFF2CC",
    "border": 1,
    "border_color": "#DDAA33",
    "locked": False,
}
_HEAD: _Properties = {"bold": True, "text_wrap": True, "bottom": 1, "bg_color": "#E8E8E8"}
_TOTAL: _Properties = {"bold": True, "top": 1}

_RIGHT: _Properties = {"align": "right"}
_LEFT: _Properties = {"align": "left", "indent": 1}  # clear of a number in the column before
_MONEY: _Properties = {**_RIGHT, "num_format": "#,##0.00"}
_SHARE: _Properties = {**_RIGHT, "num_format": "0.0## %"}
_FINE: _Properties = {**_RIGHT, "num_format": "#,##0.000"}
_COUNT: _Properties = {**_RIGHT, "num_format": "#,##0"}


class Style(StrEnum):
    """How a cell looks, by what it holds.

    Attributes
    ----------
    TITLE, BANNER, ALARM
        The name of the job, what must be seen first, and what is wrong.
    HEAD, HEAD_RIGHT, SECTION
        Heads of columns, and of a part of a table.
    TEXT, QUIET
        Words, and words that explain.
    COUNT, QUANTITY, FINE, COARSE, MONEY, SHARE, THIN, EXCESS, CHANGE, CLOCK
        Whole numbers, quantities as printed, three and two decimals, money, shares, thicknesses,
        shares to a tenth, changes of money with their sign, times of the day.
    TOTAL_TEXT, TOTAL_COUNT, TOTAL_FINE, TOTAL_COARSE, TOTAL_MONEY, TOTAL_EXCESS
        The same in a row of sums.
    GRAND_TEXT, GRAND_MONEY
        What the job comes to.
    INPUT_MONEY, INPUT_SHARE, INPUT_QUANTITY
        What may be changed.
    """

    TITLE = "title"
    BANNER = "banner"
    ALARM = "alarm"
    HEAD = "head"
    HEAD_RIGHT = "head-right"
    SECTION = "section"
    TEXT = "text"
    QUIET = "quiet"
    COUNT = "count"
    QUANTITY = "quantity"
    FINE = "fine"
    COARSE = "coarse"
    MONEY = "money"
    SHARE = "share"
    THIN = "thin"
    EXCESS = "excess"
    CHANGE = "change"
    CLOCK = "clock"
    TOTAL_TEXT = "total-text"
    TOTAL_COUNT = "total-count"
    TOTAL_FINE = "total-fine"
    TOTAL_COARSE = "total-coarse"
    TOTAL_MONEY = "total-money"
    TOTAL_EXCESS = "total-excess"
    GRAND_TEXT = "grand-text"
    GRAND_MONEY = "grand-money"
    INPUT_MONEY = "input-money"
    INPUT_SHARE = "input-share"
    INPUT_QUANTITY = "input-quantity"


_GRAND: _Properties = {"bold": True, "font_size": 13, "top": 1, "bottom": 6}
_PROPERTIES: Mapping[Style, _Properties] = {
    Style.TITLE: {**_LEFT, "bold": True, "font_size": 16},
    Style.BANNER: {**_LEFT, "bold": True, "font_size": 12},
    Style.ALARM: {**_LEFT, "bold": True, "font_color": "#AA0022", "text_wrap": True},
    Style.HEAD: {**_HEAD, **_LEFT},
    Style.HEAD_RIGHT: {**_HEAD, **_RIGHT},
    Style.SECTION: {**_LEFT, "bold": True},
    Style.TEXT: {**_LEFT, "text_wrap": True},
    Style.QUIET: {**_LEFT, "text_wrap": True, "font_color": "#505050"},
    Style.COUNT: _COUNT,
    Style.QUANTITY: _RIGHT,
    Style.FINE: _FINE,
    Style.COARSE: _MONEY,
    Style.MONEY: _MONEY,
    Style.SHARE: _SHARE,
    Style.THIN: {**_RIGHT, "num_format": "0.0##"},
    Style.EXCESS: {**_RIGHT, "num_format": "0.0 %"},
    Style.CHANGE: {**_RIGHT, "num_format": "+#,##0.00;-#,##0.00;0.00"},
    Style.CLOCK: _RIGHT,
    Style.TOTAL_TEXT: {**_TOTAL, **_LEFT},
    Style.TOTAL_COUNT: {**_TOTAL, **_COUNT},
    Style.TOTAL_FINE: {**_TOTAL, **_FINE},
    Style.TOTAL_COARSE: {**_TOTAL, **_MONEY},
    Style.TOTAL_MONEY: {**_TOTAL, **_MONEY},
    Style.TOTAL_EXCESS: {**_TOTAL, **_RIGHT, "num_format": "0.0 %"},
    Style.GRAND_TEXT: {**_GRAND, **_LEFT},
    Style.GRAND_MONEY: {**_GRAND, **_MONEY},
    Style.INPUT_MONEY: {**_INPUT, **_MONEY},
    Style.INPUT_SHARE: {**_INPUT, **_SHARE},
    Style.INPUT_QUANTITY: {**_INPUT, **_RIGHT},
}


def styles_of(workbook: Workbook) -> dict[tuple[Style, bool], Format]:
    """Make the styles of a workbook.

    Parameters
    ----------
    workbook : Workbook
        The workbook.

    Returns
    -------
    dict of tuple of Style and bool to Format
        Each style, and the same for text that a spreadsheet might take for a formula: such a
        cell stays text when somebody types into it and leaves.

    Examples
    --------
    >>> import io
    >>> from xlsxwriter.workbook import Workbook
    >>> with Workbook(io.BytesIO()) as workbook:
    ...     sheet = workbook.add_worksheet()
    ...     styles = styles_of(workbook)
    >>> styles[Style.TITLE, False].bold, styles[Style.TEXT, True].quote_prefix
    (True, True)
    """
    return {
        (style, inert): workbook.add_format({**_FONT, **_PROPERTIES[style], "quote_prefix": inert})
        for style in Style
        for inert in (False, True)
    }
