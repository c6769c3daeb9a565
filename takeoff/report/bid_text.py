"""A bid as text an estimator reads."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.documents import BidDocument, LotRow
from takeoff.pricing.lines import LineKind
from takeoff.report.batch_text import pour_day_text
from takeoff.report.bid_words import (
    bound_words,
    counted,
    doubts_line,
    pack_words,
    place_words,
    total_line,
    trade_word,
)
from takeoff.report.figures import (
    System,
    written_area,
    written_length,
    written_mass,
    written_volume,
)
from takeoff.report.note_text import bid_notes
from takeoff.report.tables import plain_table
from takeoff.report.way_text import ways_text


def bid_text(
    document: BidDocument, *, system: System = System.METRIC, width: int = 0, ways: bool = False
) -> str:
    """Write a bid as text.

    Parameters
    ----------
    document : BidDocument
        The document, not refused.
    system : System, optional
        Units of the text.
    width : int, default 0
        Width of the terminal; 0 for any.
    ways : bool, default False
        Whether to set the ways to cast each wall side by side.

    Returns
    -------
    str
        Pieces, batches, materials, lines, total and notes, without a line feed at the end.

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
        _weight_table(document, system, width),
        _besides_table(document, system, width),
        *_way_tables(document, system, width, shown=ways),
        _batch_table(document, system, width),
        _pour_day(document, system, width),
        _material_table(document, system, width),
        _line_table(document, width),
        "\n".join(filter(None, (total_line(document), doubts_line(document)))),
        _assumption_table(document, width),
        _form_line(document, system),
        "\n".join(note.line for note in bid_notes(document)),
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


def _weight_table(document: BidDocument, system: System, width: int) -> str:
    head = ["weights", "wet", "cured", "as handled", "centre of gravity x / y / z"]
    rows = [
        [
            piece["name"],
            written_mass(piece["wet_kg"], system),
            written_mass(piece["cured_kg"], system),
            written_mass(piece["handling_kg"], system),
            place_words(piece["centre_of_gravity_m"], system),
        ]
        for piece in document["pieces"]
    ]
    if not rows:
        return ""
    said = dict.fromkeys(f"cured: {piece['cured_basis']}" for piece in document["pieces"])
    return "\n".join([plain_table(head, rows, right=range(1, 5), width=width), *said])


def _besides_table(document: BidDocument, system: System, width: int) -> str:
    head = ["besides", "count", "wet"]
    rows = [
        [one["name"], str(one["count"]), written_mass(one["wet_kg"], system)]
        for one in document["cast_besides"]
    ]
    return plain_table(head, rows, right=[1, 2], width=width) if rows else ""


def _way_tables(document: BidDocument, system: System, width: int, *, shown: bool) -> Iterator[str]:
    """Set the ways to cast walls side by side, piece by piece."""
    for piece in document["pieces"] if shown else []:
        rows = [row for row in piece["wall_ways"] if not row["stands"]]
        if rows:
            text = ways_text(rows, system=system, currency=document["currency"], width=width)
            yield f"{piece['name']}: ways to cast its walls\n{text}"


def _line_table(document: BidDocument, width: int) -> str:
    """List every line, where there are others than packs."""
    lines = document["lines"]
    if all(line["kind"] == LineKind.MATERIAL for line in lines):
        return ""
    head = ["line", "quantity", "unit", "price", document["currency"], "from"]
    rows = [
        [
            line["what"],
            line["quantity"],
            line["unit"],
            line["price"],
            line["amount"],
            line["basis"] or "-",
        ]
        for line in lines
    ]
    return plain_table(head, rows, right=[1, 3, 4], width=width)


def _assumption_table(document: BidDocument, width: int) -> str:
    rows = [[one["what"], one["value"], one["at_stake"]] for one in document["assumptions"]]
    if not rows:
        return ""
    return plain_table(
        ["taken for granted", "as", document["currency"]], rows, right=[2], width=width
    )


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
        trade_word(lot["layer"]),
        lot["mix"],
        str(lot["batch_count"]),
        f"{written_mass(lot['mass_kg'], system)} / {written_volume(lot['volume_m3'], system)}",
        lot["mixer"],
        bound_words(lot["bound"]),
        written_mass(lot["placed_kg"], system),
        written_mass(lot["loss_kg"] + lot["residue_kg"] + lot["leftover_kg"], system),
    ]


def _material_table(document: BidDocument, system: System, width: int) -> str:
    money = document["currency"]
    head = ["material", "net", "lost", "order", "packs", "price", money, "left over"]
    rows = [
        [
            row["ingredient"],
            written_mass(row["net_kg"], system),
            written_mass(row["loss_kg"], system),
            written_mass(row["order_kg"], system),
            ", ".join(pack_words(row, system)) or "-",
            ", ".join(one["price"] for one in row["bought"]) or "-",
            row["cost"] or "-",
            written_mass(row["left_over_kg"], system),
        ]
        for row in document["materials"]
    ]
    return "materials\n" + plain_table(head, rows, right=range(1, 8), width=width)


def _form_line(document: BidDocument, system: System) -> str:
    work = document["form_work"]
    if work is None:
        return ""
    return ", ".join(
        (
            f"{counted(work['forms'], 'form', 'forms')} {written_area(work['form_m2'], system)}",
            f"inner forms {written_area(work['inner_form_m2'], system)}",
            f"sealant bead {written_length(work['bead_m'], system)}",
            f"release on {written_area(work['release_m2'], system)}",
            f"sealer on {written_area(work['sealer_m2'], system)}",
        )
    )
