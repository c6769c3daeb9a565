"""The bid as one page: self-contained, for the screen, for paper, for a phone."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from importlib.resources import files
from importlib.util import find_spec
from pathlib import PurePath
from typing import TYPE_CHECKING

from takeoff.documents import BidDocument, BidPieceRow
from takeoff.errors import MissingExtraError
from takeoff.piece.surfaces import Surfaces
from takeoff.report.bid_words import total_line, what_is_bid
from takeoff.report.charts import flat_true_svg
from takeoff.report.figures import System
from takeoff.report.first_hits import pictures_can_be_drawn
from takeoff.report.note_text import BidNote, bid_notes
from takeoff.report.page_cells import Placed, Table
from takeoff.report.page_day import page_pour
from takeoff.report.page_piece import tables_of_piece
from takeoff.report.page_tables import (
    assumption_table,
    batch_tables,
    form_table,
    line_table,
    material_table,
    piece_tables,
)
from takeoff.report.page_tiles import page_tiles
from takeoff.report.page_view import PageView, page_view, views_can_be_made
from takeoff.report.picture import Panel, picture_png

if TYPE_CHECKING:
    from jinja2 import Environment

_POLICY = (
    "default-src 'none'; script-src {scripts}; style-src 'unsafe-inline'; "
    "img-src data: blob:; base-uri 'none'; form-action 'none'"
)

_SYSTEMS = {System.METRIC: "metric", System.US: "US customary"}


@dataclass(frozen=True, slots=True, eq=False)
class PieceShape:
    """What the page draws of a piece.

    Parameters
    ----------
    surfaces : Surfaces
        The classified piece.
    pattern_svg : str, default ""
        Its flat pattern; empty for none.
    """

    surfaces: Surfaces
    pattern_svg: str = ""


@dataclass(frozen=True, slots=True)
class _PagePiece:
    """One piece as the page shows it."""

    place: int
    row: BidPieceRow
    tables: tuple[Table, ...]
    still: str
    behind: str
    view: PageView | None
    pattern: str
    file: str
    classes: frozenset[str]
    notes: tuple[BidNote, ...]


def page_html(document: BidDocument, *, shapes: Sequence[PieceShape | None] = ()) -> str:
    """Write a bid as one page that needs nothing else, and asks for nothing.

    Parameters
    ----------
    document : BidDocument
        The document.
    shapes : sequence of PieceShape or None, optional
        What to draw of each of its pieces, in their order; None for nothing. Empty for none.

    Returns
    -------
    str
        HTML, the same every time, in the units that the job shows.

    Raises
    ------
    MissingExtraError
        If the extra ``[report]`` is not installed.

    Notes
    -----
    Scripts run by their hashes under a content security policy without ``unsafe-eval``. Each
    figure of the document stands in an element whose ``data-at`` is its JSON pointer.

    Examples
    --------
    >>> from takeoff.errors import PriceError
    >>> from takeoff.job.result import refused_bid
    >>> page_html(refused_bid("hall.toml", PriceError("no price for sand"))).splitlines()[0]
    '<!DOCTYPE html>'
    """
    if find_spec("jinja2") is None:
        text = "the page needs the extra [report], as in pip install '.[report]'"
        raise MissingExtraError(text, where="bid.html")
    system = System(str(document["settings"].get("show_units", System.METRIC)))
    drawn = shapes or [None] * len(document["pieces"])
    pieces = [_page_piece(document, number, shape, system) for number, shape in enumerate(drawn)]
    pages = _pages()
    scripts = [_source("bid.js")]
    if any(piece.view is not None for piece in pieces):
        scripts.insert(0, _view_script())
    pour = document["pour_day"]
    return pages.get_template("bid.html").render(
        document=document,
        policy=_POLICY.format(scripts=" ".join(map(_hash, scripts))),
        style=_source("bid.css"),
        scripts=scripts,
        system=_SYSTEMS[system],
        total=total_line(document),
        tiles=page_tiles(document, system),
        piece_tables=piece_tables(document, system),
        pieces=pieces,
        chart=_data_uri("image/svg+xml", flat_true_svg(document, system=system).encode()),
        pour=None if pour is None else page_pour(pour, "/pour_day", system),
        batch_tables=batch_tables(document, system)[: None if pour is None else 1],
        materials=material_table(document, system),
        lines=line_table(document),
        assumed=assumption_table(document),
        forms=form_table(document, system),
        bid_of=what_is_bid(document, listed="below"),
        notes=[note for note in bid_notes(document) if not note.at.startswith("/pieces/")],
    )


def _page_piece(
    document: BidDocument, number: int, shape: PieceShape | None, system: System
) -> _PagePiece:
    """Set up one piece."""
    row = document["pieces"][number]
    placed = Placed(row, f"/pieces/{number}", system)
    still, view = "", None
    if shape is not None and pictures_can_be_drawn():
        still = _data_uri("image/png", picture_png([Panel("", shape.surfaces)]))
    if shape is not None and views_can_be_made():
        view = page_view(shape.surfaces, row["surfaces"], system=system)
    return _PagePiece(
        place=number + 1,
        row=row,
        tables=tuple(tables_of_piece(row, placed, document["currency"])),
        still=still,
        behind="into the form, from its open side" if row["kind"] == "form" else "from behind",
        view=view,
        pattern=_data_uri("image/svg+xml", (shape.pattern_svg if shape else "").encode()),
        file=PurePath(row["file"]).name,
        classes=frozenset(surface["class"] for surface in row["surfaces"]),
        notes=tuple(note for note in bid_notes(document) if note.at.startswith(f"{placed.at}/")),
    )


def _pages() -> Environment:
    """Load the templates of the package; every text put into them is escaped."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    pages = Environment(
        loader=PackageLoader("takeoff.report", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    pages.filters["svg_uri"] = lambda text: _data_uri("image/svg+xml", text.encode())
    pages.filters["capitalize_first"] = lambda text: text[:1].upper() + text[1:]
    return pages


def _source(name: str) -> str:
    """Give a file of the package as it stands."""
    return files("takeoff.report").joinpath("templates", name).read_text(encoding="utf-8")


def _view_script() -> str:
    """Give the library that draws 3-D views, with the line ends that browsers hash."""
    from plotly.offline import get_plotlyjs

    return str(get_plotlyjs()).replace("\r\n", "\n")


def _hash(script: str) -> str:
    """Give the source expression that lets a script run and no other."""
    digest = b64encode(sha256(script.encode()).digest()).decode("ascii")
    return f"'sha256-{digest}'"


def _data_uri(kind: str, content: bytes) -> str:
    """Put a file into an address; nothing where there is none."""
    return f"data:{kind};base64,{b64encode(content).decode('ascii')}" if content else ""
