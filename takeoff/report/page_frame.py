"""What every page has: its policy, its style, its scripts, and the pieces drawn on it."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from hashlib import sha256
from importlib.resources import files
from importlib.util import find_spec
from typing import TYPE_CHECKING

from takeoff.documents import MeasuredPieceRow
from takeoff.errors import MissingExtraError
from takeoff.piece.surfaces import Surfaces
from takeoff.report.figures import System
from takeoff.report.first_hits import pictures_can_be_drawn
from takeoff.report.note_text import BidNote
from takeoff.report.page_cells import Table
from takeoff.report.page_view import PageView, page_view, views_can_be_made
from takeoff.report.picture import Panel, picture_png
from takeoff.report.text_direction import kept_apart

if TYPE_CHECKING:
    from jinja2 import Environment

_POLICY = (
    "default-src 'none'; script-src {scripts}; style-src 'unsafe-inline'; "
    "img-src data: blob:; base-uri 'none'; form-action 'none'"
)


@dataclass(frozen=True, slots=True, eq=False)
class PieceShape:
    """What a page draws of a piece.

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
class PagePiece:
    """One piece as a page shows it.

    Parameters
    ----------
    place : int
        Its number on the page, from 1.
    name, about : str
        What it is called, and where it comes from.
    tables : tuple of Table
        What was measured of it.
    notes : tuple of BidNote
        What is said of it.
    still, pattern : str
        Pictures as addresses; empty for none.
    behind : str
        What the second still picture shows.
    view : PageView or None
        Its 3-D view.
    classes : frozenset of str
        Classes of its surfaces.
    """

    place: int
    name: str
    about: str
    tables: tuple[Table, ...]
    notes: tuple[BidNote, ...]
    still: str
    pattern: str
    behind: str
    view: PageView | None
    classes: frozenset[str]


@dataclass(frozen=True, slots=True)
class PieceWords:
    """What a page says of a piece.

    Parameters
    ----------
    place : int
        Its number on the page, from 1.
    about : str
        Where it comes from.
    tables : tuple of Table
        What was measured of it.
    notes : tuple of BidNote
        What is said of it.
    """

    place: int
    about: str
    tables: tuple[Table, ...]
    notes: tuple[BidNote, ...]


def page_piece(
    row: MeasuredPieceRow, words: PieceWords, shape: PieceShape | None, system: System
) -> PagePiece:
    """Draw a piece for a page.

    Parameters
    ----------
    row : MeasuredPieceRow
        The piece.
    words : PieceWords
        What is said of it.
    shape : PieceShape or None
        What to draw; None for nothing.
    system : System
        Units of the text.

    Returns
    -------
    PagePiece
        The piece, with the pictures that the installed libraries can draw.

    Examples
    --------
    >>> row = {"name": "slab", "kind": "piece", "surfaces": []}
    >>> page_piece(row, PieceWords(1, "slab.stl", (), ()), None, System.METRIC).behind
    'from behind'
    """
    still, view = "", None
    if shape is not None and pictures_can_be_drawn():
        still = data_uri("image/png", picture_png([Panel("", shape.surfaces)]))
    if shape is not None and views_can_be_made():
        view = page_view(shape.surfaces, row["surfaces"], system=system)
    return PagePiece(
        place=words.place,
        name=row["name"],
        about=words.about,
        tables=words.tables,
        notes=words.notes,
        still=still,
        pattern=data_uri("image/svg+xml", (shape.pattern_svg if shape else "").encode()),
        behind="into the form, from its open side" if row["kind"] == "form" else "from behind",
        view=view,
        classes=frozenset(surface["class"] for surface in row["surfaces"]),
    )


def rendered(template: str, pieces: Sequence[PagePiece], **shown: object) -> str:
    """Set a page.

    Parameters
    ----------
    template : str
        The template of its words.
    pieces : sequence of PagePiece
        The pieces on it.
    **shown : object
        What the template shows besides.

    Returns
    -------
    str
        HTML that needs nothing else, the same every time. Its scripts run by their hashes, under
        a policy that lets no other run.

    Raises
    ------
    MissingExtraError
        If the extra ``[report]`` is not installed.

    Examples
    --------
    >>> rendered("no-such.html", [])
    Traceback (most recent call last):
    jinja2.exceptions.TemplateNotFound: no-such.html...
    """
    if find_spec("jinja2") is None:
        text = "the page needs the extra [report], as in pip install '.[report]'"
        raise MissingExtraError(text, where=template)
    scripts = [_source("bid.js")]
    if any(piece.view is not None for piece in pieces):
        scripts.insert(0, _view_script())
    return (
        _pages()
        .get_template(template)
        .render(
            pieces=pieces,
            policy=_POLICY.format(scripts=" ".join(map(_hash, scripts))),
            style=_source("bid.css"),
            scripts=scripts,
            **shown,
        )
    )


def data_uri(kind: str, content: bytes) -> str:
    """Put a file into an address.

    Parameters
    ----------
    kind : str
        Its media type.
    content : bytes
        The file.

    Returns
    -------
    str
        The address; nothing where there is no content.

    Examples
    --------
    >>> data_uri("image/png", b"123"), data_uri("image/png", b"")
    ('data:image/png;base64,MTIz', '')
    """
    return f"data:{kind};base64,{b64encode(content).decode('ascii')}" if content else ""


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
        finalize=lambda value: kept_apart(value) if type(value) is str else value,
    )
    pages.filters["svg_uri"] = lambda text: data_uri("image/svg+xml", text.encode())
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


def notes_from(notes: Iterable[BidNote], at: str) -> tuple[BidNote, ...]:
    """Choose the notes that stand below a place of a document.

    Parameters
    ----------
    notes : iterable of BidNote
        All of them.
    at : str
        The place, as a JSON pointer.

    Returns
    -------
    tuple of BidNote
        Those.

    Examples
    --------
    >>> notes_from([BidNote("note", "", "", "mended", "/notes/0/text")], "/pieces/0")
    ()
    """
    return tuple(note for note in notes if note.at.startswith(f"{at}/"))
