"""The figures that stand at the top of a page: what the job comes to at one look."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.documents import BidDocument
from takeoff.report.bid_words import counted
from takeoff.report.figures import System
from takeoff.report.page_cells import Cell, Placed


@dataclass(frozen=True, slots=True)
class Tile:
    """One figure at the top of a page.

    Parameters
    ----------
    name : str
        What it is.
    cell : Cell
        The figure.
    after : str, default ""
        What stands below it.
    """

    name: str
    cell: Cell
    after: str = ""


def page_tiles(document: BidDocument, system: System) -> list[Tile]:
    """Choose the figures for the top of a page.

    Parameters
    ----------
    document : BidDocument
        The document.
    system : System
        Units of the text.

    Returns
    -------
    list of Tile
        Total and material, castings, forms, batches, and the heaviest piece, as far as known.

    Examples
    --------
    >>> from takeoff.errors import PriceError
    >>> from takeoff.job.result import refused_bid
    >>> page_tiles(refused_bid("hall.toml", PriceError("no price for sand")), System.METRIC)
    []
    """
    job, tiles = Placed(document, "", system), []
    if document["total"] is not None:
        tiles.append(Tile("total", job.cell("total", after=document["currency"]), _range(document)))
    if document["material_total"] is not None:
        priced = "with no labour" if document["total"] is None else "in the total"
        money = job.cell("material_total", after=document["currency"])
        tiles.append(Tile("material", money, priced))
    if document["pieces"]:
        castings = sum(piece["count"] for piece in document["pieces"])
        kinds = len(document["pieces"])
        said = f"of {counted(kinds, 'piece', 'different pieces')}"
        tiles.append(Tile("castings", Cell(str(castings)), said))
    if document["form_work"] is not None:
        forms = f"in {counted(document['form_work']['forms'], 'form', 'forms')}"
        area = job.part("form_work").cell("form_m2")
        tiles.append(Tile("area of forms", area, forms))
    if document["batch"] is not None:
        count = job.part("batch").cell("batch_count")
        tiles.append(Tile("batches", count, _days(document)))
    if document["pieces"]:
        masses_kg = [piece["handling_kg"] for piece in document["pieces"]]
        place = masses_kg.index(max(masses_kg))
        heaviest = list(job.parts("pieces"))[place]
        name = document["pieces"][place]["name"]
        tiles.append(Tile("heaviest piece", heaviest.cell("handling_kg"), name))
    return tiles


def _range(document: BidDocument) -> str:
    """Say between what the total comes out."""
    ends = document["total_range"]
    if ends is None or ends["low"] == ends["high"]:
        return ""
    return f"{ends['low']} to {ends['high']} with the thickness"


def _days(document: BidDocument) -> str:
    """Say on how many days they are poured, where that is planned."""
    pour = document["pour_day"]
    if pour is None or not pour["days"]:
        return ""
    return f"on {counted(len(pour['days']), 'day', 'days')}"
