"""Bids of the ferry hall to make pages of, and the figures of a document as text."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

import takeoff
from takeoff.documents import BidDocument
from takeoff.report import figures
from takeoff.report.figures import System
from takeoff.report.page_frame import PieceShape

SAMPLES = Path(__file__).resolve().parents[3] / "samples" / "ferry-hall"
VOID = {"meta", "link", "img", "input", "br", "hr"}


def copied_hall(folder: Path) -> Path:
    """Copy the sample."""
    hall = folder / "hall"
    shutil.copytree(SAMPLES, hall, ignore=shutil.ignore_patterns("__pycache__"))
    return hall


def bid_of(job: Path, *, us: bool = False) -> tuple[BidDocument, list[PieceShape]]:
    """Bid a job, and give its document with the shapes of its pieces."""
    if us:
        text = job.read_text(encoding="utf-8")
        told = re.sub(r"(?m)^show_units.*\n", "", text)
        told = told.replace("[job]\n", '[job]\nshow_units = "us"\n', 1)
        job.write_text(told, encoding="utf-8")
    made = takeoff.bid(job)
    shapes = [
        PieceShape(piece.cast.measured.surfaces)
        for piece in made.pieces
        if piece.cast.measured is not None
    ]
    return made.to_dict(), shapes


def copy_of(document: BidDocument) -> BidDocument:
    """Copy a document as deep as it goes."""
    return json.loads(json.dumps(document))


class Read(HTMLParser):
    """A page read again: its tags, and the text of what stands at a place of the document."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.at: list[tuple[str, str]] = []
        self.scripts: list[str] = []
        self.text = ""
        self._open: list[list] = []
        self.feed(page)
        self.close()
        assert [frame[0] for frame in self._open] == []

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self._open.append([tag, dict(attrs).get("data-at"), ""])

    def handle_endtag(self, tag):
        name, place, text = self._open.pop()
        assert name == tag
        if place is not None:
            self.at.append((place, text))
        if tag == "script":
            self.scripts.append(text)
        elif self._open and tag != "style":
            self._open[-1][2] += text

    def handle_data(self, data):
        if self._open:
            self._open[-1][2] += data
            if self._open[-1][0] not in {"script", "style"}:
                self.text += data


WRITTEN = {
    "m": figures.written_length,
    "m2": figures.written_area,
    "m3": figures.written_volume,
    "kg": figures.written_mass,
}


def text_at(document: BidDocument, pointer: str, system: System) -> str:
    """Write what stands at a place of a document as the page should."""
    value, unit = document, ""
    for key in pointer.split("/")[1:]:
        value = value[int(key)] if isinstance(value, list) else value[key]
        unit = key.rsplit("_", 1)[1] if "_" in key and key.rsplit("_", 1)[1] in WRITTEN else unit
    if isinstance(value, bool):
        return "bare" if value else "coated"
    if isinstance(value, float):
        return WRITTEN[unit](value, system)
    return "-" if value in (None, "") else str(value)


def figures_of(value: object, place: str = "") -> Iterator[tuple[str, float]]:
    """Walk every float of a document, with its place."""
    if isinstance(value, dict):
        for key, part in value.items():
            yield from figures_of(part, f"{place}/{key}")
    elif isinstance(value, list):
        for number, part in enumerate(value):
            yield from figures_of(part, f"{place}/{number}")
    elif isinstance(value, float):
        yield place, value
