"""The files of a bid: page, workbook, sheets, flat pattern, pictures and tables."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping

from takeoff.documents import BidDocument
from takeoff.errors import MissingExtraError
from takeoff.job.result import Bid
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.measuring.picturing import no_pictures, open_sides, piece_pictures
from takeoff.notes import Note, NoteCode
from takeoff.piece.developing import patterns_of
from takeoff.report.batch_csv import batch_csv
from takeoff.report.batch_sheets import sheets_pdf
from takeoff.report.bid_page import page_html
from takeoff.report.bid_workbook import workbook_bytes
from takeoff.report.csv_text import csv_bytes
from takeoff.report.figures import System
from takeoff.report.flat_pattern import pattern_dxf
from takeoff.report.json_text import json_bytes
from takeoff.report.material_rows import MATERIAL_COLUMNS, material_table
from takeoff.report.page_frame import PieceShape
from takeoff.report.pattern_layout import PiecePattern
from takeoff.report.pattern_picture import pattern_svg
from takeoff.report.sheet_layout import Paper
from takeoff.report.surface_rows import SURFACE_COLUMNS, surface_table

OF_EXTRA = ("bid.html", "bid.xlsx", "batches.pdf")
"""What is written only where the extra is installed."""


def bid_files(made: Bid) -> dict[str, bytes]:
    """Give the bytes of every file of a bid.

    Parameters
    ----------
    made : Bid
        The bid.

    Returns
    -------
    dict of str to bytes
        Bytes by name: ``bid.json``, ``materials.csv``, ``surfaces.csv``, ``batches.csv`` and
        ``pieces.dxf`` always; ``bid.html``, ``bid.xlsx``, ``batches.pdf`` and a PNG of each
        piece where the extra ``[report]`` is installed.

    Examples
    --------
    >>> from takeoff.job.bidding import bid
    >>> names = sorted(bid_files(bid("samples/ferry-hall/job.toml")))
    >>> {"bid.json", "batches.csv", "materials.csv", "pieces.dxf", "surfaces.csv"} <= set(names)
    True
    """
    document = made.to_dict()
    measured = [piece.cast.measured for piece in made.pieces if piece.cast.measured is not None]
    system = System(made.order.show_units)
    patterns = [_pattern(one) for one in measured]
    contents = {
        "bid.json": json_bytes(document),
        "materials.csv": csv_bytes(material_table(document["materials"]), columns=MATERIAL_COLUMNS),
        "surfaces.csv": csv_bytes(surface_table(document["pieces"]), columns=SURFACE_COLUMNS),
        "batches.csv": batch_csv(document),
        "pieces.dxf": pattern_dxf(patterns, system=system),
    }
    shapes = [
        PieceShape(one.surfaces, pattern_svg(pattern, system=system))
        for one, pattern in zip(measured, patterns, strict=True)
    ]
    paper = Paper.LETTER if system is System.US else Paper.A4
    made_by_extra: Mapping[str, Callable[[], bytes]] = {
        "bid.html": lambda: page_html(document, shapes=shapes).encode("utf-8"),
        "bid.xlsx": lambda: workbook_bytes(document),
        "batches.pdf": lambda: sheets_pdf(document, paper=paper, pictures=open_sides(measured)),
    }
    for name, make in made_by_extra.items():
        try:
            contents[name] = make()
        except MissingExtraError:
            continue
    return {**contents, **piece_pictures(measured)}


def left_out(names: Collection[str]) -> tuple[Note, ...]:
    """Say which files of a bid are not there, and what would bring them.

    Parameters
    ----------
    names : collection of str
        Names of the files that are there.

    Returns
    -------
    tuple of Note
        Empty where all are.

    Examples
    --------
    >>> [note for note in left_out(OF_EXTRA) if note.code is NoteCode.FILE_LEFT_OUT]
    []
    """
    missing = [name for name in OF_EXTRA if name not in names]
    notes = list(no_pictures())
    if missing:
        text = (
            f"not written: {', '.join(missing)}; they need the extra [report], as in "
            "pip install '.[report]'"
        )
        notes.append(Note(NoteCode.FILE_LEFT_OUT, text))
    return tuple(notes)


def page_of(made: Bid) -> str:
    """Give a bid as the page that ``bid.html`` holds.

    Parameters
    ----------
    made : Bid
        The bid.

    Returns
    -------
    str
        HTML that needs nothing else.

    Raises
    ------
    MissingExtraError
        If the extra ``[report]`` is not installed.

    Examples
    --------
    >>> from takeoff.job.bidding import bid
    >>> page_of(bid("samples/ferry-hall/panels.toml")).lstrip().startswith("<!")
    True
    """
    document: BidDocument = made.to_dict()
    system = System(made.order.show_units)
    shapes = [
        PieceShape(one.surfaces, pattern_svg(_pattern(one), system=system))
        for piece in made.pieces
        if (one := piece.cast.measured) is not None
    ]
    return page_html(document, shapes=shapes)


def _pattern(piece: MeasuredPiece) -> PiecePattern:
    return PiecePattern(piece.name, patterns_of(piece.surfaces))
