"""What is said of a bid, in the same words and figures in text, page and sheets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from takeoff.batching.lots import Bound
from takeoff.bid_documents import MaterialRow
from takeoff.documents import BidDocument
from takeoff.notes import BESIDES_PRICE
from takeoff.piece.layers import Layer
from takeoff.piece.surfaces import SurfaceClass
from takeoff.report.figures import System, written_length, written_mass
from takeoff.units import length_m

_PLACE_STEP_M = {System.METRIC: length_m("1 mm"), System.US: length_m("0.0625 in")}
_MOST_NAMED = 12  # pieces that are named one by one
_WORDS: dict[str, str] = {SurfaceClass.SHOW_FACE: "show face", Layer.FACE_COAT: "face coat"}
_BOUNDS = {
    Bound.DEMAND: "one batch does",
    Bound.MIXER: "as large as the mixer takes",
    Bound.POT_LIFE: "as large as the pot life allows",
    Bound.BAGS: "as many whole bags as the mixer takes",
    Bound.LEAST_FILL: "as small as the mixer works",
}


def counted(count: int, one: str, more: str) -> str:
    """Count things.

    Parameters
    ----------
    count : int
        How many.
    one, more : str
        Their name, where there is one, and where there are others than one.

    Returns
    -------
    str
        The number with the name.

    Examples
    --------
    >>> counted(1, "batch", "batches"), counted(0, "batch", "batches")
    ('1 batch', '0 batches')
    """
    return f"{count} {one if count == 1 else more}"


def trade_word(value: str) -> str:
    """Give a class or a layer as people write it.

    Parameters
    ----------
    value : str
        The class or layer, as in a document.

    Returns
    -------
    str
        The word.

    Examples
    --------
    >>> trade_word("show_face"), trade_word("return")
    ('show face', 'return')
    """
    return _WORDS.get(value, value)


def bound_words(bound: str) -> str:
    """Say why batches are no larger.

    Parameters
    ----------
    bound : str
        What bounds them, as in a document.

    Returns
    -------
    str
        The reason.

    Examples
    --------
    >>> bound_words("mixer")
    'as large as the mixer takes'
    """
    return _BOUNDS[Bound(bound)]


def what_is_bid(document: BidDocument, *, listed: str) -> str:
    """Name the pieces, or count them where they are many.

    Parameters
    ----------
    document : BidDocument
        The document.
    listed : str
        Where all of them are listed.

    Returns
    -------
    str
        Castings of each piece.

    Examples
    --------
    >>> what_is_bid({"pieces": [{"count": 6, "name": "wall panel"}]}, listed="below")
    '6 x wall panel'
    """
    pieces = document["pieces"]
    if len(pieces) > _MOST_NAMED:
        castings = sum(piece["count"] for piece in pieces)
        return f"{castings} castings of {len(pieces)} pieces, listed {listed}"
    return ", ".join(f"{piece['count']} x {piece['name']}" for piece in pieces)


def pack_words(row: MaterialRow, system: System) -> Iterator[str]:
    """Name what is bought, and what is taken from stock.

    Parameters
    ----------
    row : MaterialRow
        An ingredient.
    system : System
        Units of the text.

    Yields
    ------
    str
        Packs of one size, or a lot in stock.

    Examples
    --------
    >>> bought = {"pack": "25 kg", "packs": 2, "price": "14.20", "cost": "28.40"}
    >>> row = {"bought": [bought], "from_stock": [{"lot": "A7", "mass_kg": 3.0}]}
    >>> list(pack_words(row, System.METRIC))
    ['2 x 25 kg', '3 kg in stock of lot A7']
    """
    for bought in row["bought"]:
        yield f"{bought['packs']} x {bought['pack']}"
    for drawn in row["from_stock"]:
        lot = f" of lot {drawn['lot']}" if drawn["lot"] else ""
        yield f"{written_mass(drawn['mass_kg'], system)} in stock{lot}"


def place_words(place_m: Sequence[float] | None, system: System) -> str:
    """Write a place in the axes of the drawing, to the millimetre or a sixteenth of an inch.

    Parameters
    ----------
    place_m : sequence of float or None
        The place. [m]
    system : System
        Units of the text.

    Returns
    -------
    str
        Along x, y and z.

    Examples
    --------
    >>> place_words((0.6, -0.0000145, -0.01375), System.METRIC)
    '600 mm / 0 mm / -14 mm'
    """
    if place_m is None:
        return "-"
    step_m = _PLACE_STEP_M[system]
    return " / ".join(
        written_length(round(along_m / step_m) * step_m, system) for along_m in place_m
    )


def total_line(document: BidDocument) -> str:
    """Say what the job comes to.

    Parameters
    ----------
    document : BidDocument
        The document.

    Returns
    -------
    str
        The total, and its range with the thickness; or that only material is priced.

    Examples
    --------
    >>> document = {"currency": "EUR", "total": None, "material_total": "865.10"}
    >>> total_line(document)
    'MATERIAL ONLY EUR 865.10'
    """
    currency = document["currency"]
    if document["total"] is None:
        return f"MATERIAL ONLY {currency} {document['material_total']}"
    total = f"TOTAL {currency} {document['total']}"
    ends = document["total_range"]
    if ends is not None and ends["low"] != ends["high"]:
        total += f", from {ends['low']} to {ends['high']} with the thickness"
    return total


def doubts_line(document: BidDocument) -> str:
    """Say how many notes of a bid may change what it comes to.

    Parameters
    ----------
    document : BidDocument
        The document.

    Returns
    -------
    str
        Their number; empty where there is none.

    Examples
    --------
    >>> memory = {"code": "from-memory", "text": "water", "where": "backer"}
    >>> doubts_line({"notes": [memory], "pieces": [{"notes": [memory]}]})
    '2 notes may change this price'
    """
    notes = [*document["notes"], *(note for one in document["pieces"] for note in one["notes"])]
    doubts = sum(note["code"] not in BESIDES_PRICE for note in notes)
    return f"{counted(doubts, 'note', 'notes')} may change this price" if doubts else ""
