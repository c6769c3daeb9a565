"""The tables of a whole job on its page: pieces, weights, batches, materials, lines."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.documents import BidDocument, LotRow
from takeoff.pour_documents import PouredBatchRow
from takeoff.report.bid_words import bound_words, pack_words, place_words, trade_word
from takeoff.report.figures import System, written_mass
from takeoff.report.mixing_words import mixing_turn, mixing_words
from takeoff.report.page_cells import NOTHING, Cell, Placed, Table, across, columns


def piece_tables(document: BidDocument, system: System) -> list[Table]:
    """Set up what is cast, and what it weighs.

    Parameters
    ----------
    document : BidDocument
        The document.
    system : System
        Units of the text.

    Returns
    -------
    list of Table
        Pieces, their weights, and what is cast besides.

    Examples
    --------
    >>> from takeoff.errors import PriceError
    >>> from takeoff.job.result import refused_bid
    >>> document = refused_bid("hall.toml", PriceError("no price for sand"))
    >>> [table.caption for table in piece_tables(document, System.METRIC)]
    []
    """
    job = Placed(document, "", system)
    besides = [
        (one.cell("name"), one.cell("count"), one.cell("wet_kg"))
        for one in job.parts("cast_besides")
    ]
    tables = [
        _each_piece(job),
        _weights(document, job),
        Table("cast besides", columns("besides, count, wet", right="count, wet"), tuple(besides)),
    ]
    return [table for table in tables if table.rows]


def _each_piece(job: Placed) -> Table:
    """List areas, volumes and mass of each piece."""
    rows = []
    for piece in job.parts("pieces"):
        area, volume = piece.part("area_m2"), piece.part("layer_volume_m3")
        rows.append(
            (
                piece.cell("name"),
                piece.cell("count"),
                piece.cell("forms"),
                area.cell("show_face", surface_class="show_face"),
                area.cell("return", surface_class="return"),
                area.cell("upright", surface_class="upright"),
                volume.cell("face_coat"),
                volume.cell("backer"),
                piece.cell("wet_kg"),
            )
        )
    names = "count, forms, show face, returns, uprights, face coat, backer, wet"
    return Table("each piece", columns(f"piece, {names}", right=names), tuple(rows))


def _weights(document: BidDocument, job: Placed) -> Table:
    """Say what each piece weighs, and what the weights hold."""
    beside = (("items_kg", "of this items"), ("core_kg", "of this core"))
    told = [pair for pair in beside if any(piece.row[pair[0]] for piece in job.parts("pieces"))]
    rows = []
    for piece, row in zip(job.parts("pieces"), document["pieces"], strict=True):
        place = place_words(row["centre_of_gravity_m"], job.system)
        masses = map(piece.cell, ("wet_kg", "cured_kg", "handling_kg", *(key for key, _ in told)))
        rows.append((piece.cell("name"), *masses, Cell(place)))
    kinds = ["wet", "cured", "as handled", *(name for _, name in told)]
    names = ", ".join([*kinds, "centre of gravity x / y / z"])
    said = dict.fromkeys(f"cured: {row['cured_basis']}" for row in document["pieces"])
    table = columns(f"piece, {names}", right=names)
    return Table("weights of each piece", table, tuple(rows), remarks=tuple(said))


def batch_tables(document: BidDocument, system: System) -> list[Table]:
    """Set up the lots of batches, and what is weighed for one.

    Parameters
    ----------
    document : BidDocument
        The document.
    system : System
        Units of the text.

    Returns
    -------
    list of Table
        The lots, and what goes into the mixer for each.

    Examples
    --------
    >>> from takeoff.errors import PriceError
    >>> from takeoff.job.result import refused_bid
    >>> batch_tables(refused_bid("hall.toml", PriceError("no price for sand")), System.METRIC)
    []
    """
    batch = document["batch"]
    if batch is None or not batch["lots"]:
        return []
    rows, fillings = [], []
    for lot, row in zip(
        Placed(document, "", system).part("batch").parts("lots"), batch["lots"], strict=True
    ):
        lost_kg = row["loss_kg"] + row["residue_kg"] + row["leftover_kg"]
        rows.append(
            (
                Cell(trade_word(row["layer"])),
                lot.cell("mix"),
                lot.cell("batch_count"),
                lot.cell("mass_kg"),
                lot.cell("volume_m3"),
                lot.cell("mixer"),
                Cell(bound_words(row["bound"])),
                lot.cell("placed_kg"),
                Cell(written_mass(lost_kg, system)),
            )
        )
        fillings.append(filling_table(lot, row, f"one batch of {row['mix']}"))
    names = "layer, mix, batches, each, in volume, mixer, bound, placed, lost"
    right = "batches, each, in volume, placed, lost"
    return [Table("equal batches of each mix", columns(names, right=right), tuple(rows)), *fillings]


def filling_table(batch: Placed, row: LotRow | PouredBatchRow, caption: str) -> Table:
    """Set up what is weighed for one batch, in order of addition.

    Parameters
    ----------
    batch : Placed
        The batch or lot.
    row : LotRow or PouredBatchRow
        The same as it stands in the document.
    caption : str
        Which batch it is.

    Returns
    -------
    Table
        Each ingredient with the running total, the mixing and the rest in their place.

    Examples
    --------
    >>> water = {"name": "water", "mass_kg": 3.5, "when": "first", "after_rest": False}
    >>> lot = {"ingredients": [water], "mixing": [{"what": "mix", "duration_s": 180.0}]}
    >>> table = filling_table(Placed(lot, "/lot", System.METRIC), lot, "one batch")
    >>> [[cell.text for cell in row] for row in table.rows]
    [['1', 'water', '3.5 kg', '3.5 kg', 'first'], ['2', '', '', '', 'mix 3 min']]
    """
    steps, running_kg = [], 0.0
    for line, told in zip(batch.parts("ingredients"), row["ingredients"], strict=True):
        running_kg += told["mass_kg"]
        running = Cell(written_mass(running_kg, batch.system))
        steps.append((line.cell("name"), line.cell("mass_kg"), running, line.cell("when")))
    if row["mixing"]:
        words = Cell(mixing_words(row["mixing"]))
        steps.insert(mixing_turn(row["ingredients"]), (Cell(""), Cell(""), Cell(""), words))
    rows = [(Cell(str(number)), *cells) for number, cells in enumerate(steps, start=1)]
    names = columns("no., ingredient, weigh, running total, when", right="weigh, running total")
    return Table(caption, names, tuple(rows))


def material_table(document: BidDocument, system: System) -> Table:
    """Set up what is ordered of every ingredient.

    Parameters
    ----------
    document : BidDocument
        The document.
    system : System
        Units of the text.

    Returns
    -------
    Table
        Net, lost, order, packs, stock, cost and what is left over.

    Examples
    --------
    >>> from takeoff.errors import PriceError
    >>> from takeoff.job.result import refused_bid
    >>> document = refused_bid("hall.toml", PriceError("no price for sand"))
    >>> material_table(document, System.METRIC).rows
    ()
    """
    job = Placed(document, "", system)
    rows, remarks = [], []
    for one, row in zip(job.parts("materials"), document["materials"], strict=True):
        rows.append(
            (
                one.cell("ingredient"),
                one.cell("net_kg"),
                one.cell("loss_kg"),
                one.cell("order_kg", after=_ends(one.part("order_range_kg"))),
                Cell(", ".join(pack_words(row, system)) or NOTHING),
                Cell(", ".join(bought["price"] for bought in row["bought"]) or NOTHING),
                one.cell("cost"),
                one.cell("left_over_kg"),
            )
        )
        for passed in row["stock_passed_over"]:
            lot = f" of lot {passed['lot']}" if passed["lot"] else ""
            mass = written_mass(passed["mass_kg"], system)
            remarks.append(f"{row['ingredient']}: {mass}{lot} in stock not used: {passed['why']}")
    names = "net, lost, order, packs, price, money, left over"
    heads = columns(f"material, {names}", right=names, money=document["currency"])
    return Table("each ingredient", heads, tuple(rows), remarks=tuple(remarks))


def _ends(ends: Placed) -> str:
    """Say between what a figure may come out, where that is a range."""
    low, high = ends.cell("low").text, ends.cell("high").text
    return "" if low == high else f"{low} to {high}"


def line_table(document: BidDocument) -> Table:
    """Set up every priced line, and what they come to.

    Parameters
    ----------
    document : BidDocument
        The document.

    Returns
    -------
    Table
        The lines; at the foot the material, and the total where labour is priced.

    Examples
    --------
    >>> from takeoff.errors import PriceError
    >>> from takeoff.job.result import refused_bid
    >>> line_table(refused_bid("hall.toml", PriceError("no price for sand"))).caption
    'priced lines'
    """
    job = Placed(document, "", System.METRIC)
    keys = ("what", "quantity", "unit", "price", "amount", "basis")
    rows = tuple(tuple(map(line.cell, keys)) for line in job.parts("lines"))
    names = "line, quantity, unit, price, money, from"
    heads = columns(names, right="quantity, price, money", money=document["currency"])
    return Table("priced lines", heads, rows, tuple(_sums(document, job)))


def _sums(document: BidDocument, job: Placed) -> Iterator[tuple[Cell, ...]]:
    """Sum up the lines."""
    if document["material_total"] is not None:
        yield (across("of this material", 4), job.cell("material_total"), Cell(""))
    if document["total"] is None:
        yield (across("MATERIAL ONLY: no labour is priced", 4), across(NOTHING, 2))
    else:
        yield (across("TOTAL", 4), job.cell("total"), Cell(_total_ends(document)))


def _total_ends(document: BidDocument) -> str:
    """Say between what the total comes out with the thickness."""
    ends = document["total_range"]
    if ends is None or ends["low"] == ends["high"]:
        return ""
    return f"from {ends['low']} to {ends['high']} with the thickness"


def assumption_table(document: BidDocument) -> Table:
    """Set up what is taken for granted, and the money that hangs on it.

    Parameters
    ----------
    document : BidDocument
        The document.

    Returns
    -------
    Table
        The assumptions; no rows where there are none.

    Examples
    --------
    >>> held = {"what": "forms of wall panel", "value": "6", "at_stake": "-1650.47"}
    >>> table = assumption_table({"assumptions": [held], "currency": "EUR"})
    >>> [cell.text for cell in table.rows[0]]
    ['forms of wall panel', '6', '-1650.47']
    """
    job = Placed(document, "", System.METRIC)
    keys = ("what", "value", "at_stake")
    rows = tuple(tuple(map(row.cell, keys)) for row in job.parts("assumptions"))
    names = columns("taken for granted, as, money", right="money", money=document["currency"])
    said = ("the last column is how far the total moves where it does not hold",)
    return Table("taken for granted", names, rows, remarks=said)


def form_table(document: BidDocument, system: System) -> Table:
    """Set up what the forms take.

    Parameters
    ----------
    document : BidDocument
        The document.
    system : System
        Units of the text.

    Returns
    -------
    Table
        Forms, inner forms, bead, release and sealer in one row; none where there are no forms.

    Examples
    --------
    >>> form_table({"form_work": None}, System.METRIC).rows
    ()
    """
    heads = "forms, area of forms, inner forms, sealant bead, release on, sealer on"
    rows: tuple[tuple[Cell, ...], ...] = ()
    if document["form_work"] is not None:
        work = ("forms", "form_m2", "inner_form_m2", "bead_m", "release_m2", "sealer_m2")
        rows = (tuple(map(Placed(document, "", system).part("form_work").cell, work)),)
    return Table("work on forms", columns(heads, right=heads), rows)
