"""A bid as text an estimator reads."""

from __future__ import annotations

from takeoff.batching.lots import Bound
from takeoff.documents import BidDocument, LotRow
from takeoff.piece.layers import Layer
from takeoff.report.batch_text import pour_day_text
from takeoff.report.figures import (
    System,
    written_area,
    written_length,
    written_mass,
    written_volume,
)
from takeoff.report.note_text import note_line
from takeoff.report.tables import plain_table

_WORDS = {Layer.FACE_COAT: "face coat"}
_BOUNDS = {
    Bound.DEMAND: "one batch does",
    Bound.MIXER: "as large as the mixer takes",
    Bound.POT_LIFE: "as large as the pot life allows",
    Bound.BAGS: "as many whole bags as the mixer takes",
    Bound.LEAST_FILL: "as small as the mixer works",
}


def bid_text(document: BidDocument, *, system: System = System.METRIC, width: int = 0) -> str:
    """Write a bid as text.

    Parameters
    ----------
    document : BidDocument
        The document, not refused.
    system : System, optional
        Units of the text.
    width : int, default 0
        Width of the terminal; 0 for any.

    Returns
    -------
    str
        Pieces, batches, materials, total and notes, without a line feed at the end.

    Examples
    --------
    >>> from takeoff.errors import PriceError
    >>> from takeoff.job.result import refused_bid
    >>> document = refused_bid("hall.toml", PriceError("no pack and price for sand"))
    >>> print(bid_text(document).splitlines()[0])
    hall.toml
    """
    title = document["job"] + (f", {document['date']}" if document["date"] else "")
    parts = [
        title,
        _piece_table(document, system, width),
        _batch_table(document, system, width),
        _pour_day(document, system, width),
        _material_table(document, system, width),
        f"MATERIAL ONLY {document['currency']} {document['material_total']}",
        _form_line(document, system),
        "\n".join(_note_lines(document)),
        "\n".join(["Caution", *(f"- {sentence}" for sentence in document["cautions"])]),
    ]
    return "\n\n".join(part for part in parts if part)


def _piece_table(document: BidDocument, system: System, width: int) -> str:
    head = ["piece", "count", "show face", "returns", "uprights", "face coat", "backer", "wet"]
    rows = [
        [
            piece["name"],
            str(piece["count"]),
            written_area(piece["area_m2"]["show_face"], system),
            written_area(piece["area_m2"]["return"], system),
            written_area(piece["area_m2"]["upright"], system),
            written_volume(piece["layer_volume_m3"]["face_coat"], system),
            written_volume(piece["layer_volume_m3"]["backer"], system),
            written_mass(piece["wet_kg"], system),
        ]
        for piece in document["pieces"]
    ]
    return "each piece\n" + plain_table(head, rows, right=range(1, 8), width=width)


def _batch_table(document: BidDocument, system: System, width: int) -> str:
    batch = document["batch"]
    if batch is None:
        return ""
    head = ["layer", "mix", "batches", "of", "in", "bound", "placed", "lost"]
    rows = [_lot_cells(lot, system) for lot in batch["lots"]]
    return "batches\n" + plain_table(head, rows, right=[2, 3, 6, 7], width=width)


def _pour_day(document: BidDocument, system: System, width: int) -> str:
    pour = document["pour_day"]
    return "" if pour is None else pour_day_text(pour, system=system, width=width)


def _lot_cells(lot: LotRow, system: System) -> list[str]:
    return [
        _WORDS.get(Layer(lot["layer"]), lot["layer"]),
        lot["mix"],
        str(lot["batch_count"]),
        f"{written_mass(lot['mass_kg'], system)} / {written_volume(lot['volume_m3'], system)}",
        lot["mixer"],
        _BOUNDS[Bound(lot["bound"])],
        written_mass(lot["placed_kg"], system),
        written_mass(lot["loss_kg"] + lot["residue_kg"] + lot["leftover_kg"], system),
    ]


def _material_table(document: BidDocument, system: System, width: int) -> str:
    prices = {line["what"]: line["price"] for line in document["lines"]}
    head = ["material", "net", "lost", "order", "packs", "price", document["currency"]]
    rows = [
        [
            row["ingredient"],
            written_mass(row["net_kg"], system),
            written_mass(row["loss_kg"], system),
            written_mass(row["order_kg"], system),
            "-" if row["packs"] is None else f"{row['packs']} x {row['pack']}",
            prices.get(row["ingredient"], "-"),
            row["cost"] or "-",
        ]
        for row in document["materials"]
    ]
    return "materials\n" + plain_table(head, rows, right=range(1, 7), width=width)


def _form_line(document: BidDocument, system: System) -> str:
    work = document["form_work"]
    if work is None:
        return ""
    area, bead = written_area(work["form_m2"], system), written_length(work["bead_m"], system)
    return f"form area {area}, sealant bead {bead}"


def _note_lines(document: BidDocument) -> list[str]:
    lines = [note_line(note) for note in document["notes"]]
    for piece in document["pieces"]:
        lines += [f"note: {piece['name']}: {note['text']}" for note in piece["notes"]]
    lines += [f"skipped: {row['count']} {row['what']}: {row['why']}" for row in document["skipped"]]
    return lines
