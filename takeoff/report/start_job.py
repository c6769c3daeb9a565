"""The job file of a started job: what was found in its drawings, and what is left to tell."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.batching.placing_rules import WaitRules
from takeoff.report.figures import System, written_duration
from takeoff.report.start_piece import piece_lines
from takeoff.report.system_choice import system_of_unit
from takeoff.report.toml_sheet import SheetLine, entry, off, prose, toml_text
from takeoff.start_documents import EDIT_MARK, NO_CURRENCY, StartedDrawingRow

HOW_TO_EDIT = (
    f'What only you know is left as "{EDIT_MARK}": put the value in its place. As long as one is '
    "left, the file is refused, with its line. An entry behind a # that no blank follows is not in "
    "force; it shows what holds without it, or how it is written: take the # away to use it."
)
"""How a started file is edited."""

_ASKS_BACKER = "thickness of the backer, and the way it gets onto walls it does not stand on"
_ASKS_THICKNESS = "thickness of the backer"


def job_lines(
    drawings: Sequence[StartedDrawingRow],
    *,
    name: str,
    shop: str,
    face_coat: str,
    backer: str,
    mixes: Sequence[str],
) -> list[SheetLine]:
    """Give the lines of a job file.

    Parameters
    ----------
    drawings : sequence of StartedDrawingRow
        What was found in each drawing.
    name : str
        Name of the job.
    shop : str
        The shop file beside it.
    face_coat, backer : str
        The shipped mixes that are taken.
    mixes : sequence of str
        All that are shipped.

    Returns
    -------
    list of SheetLine
        The lines.

    Examples
    --------
    >>> lines = job_lines([], name="hall", shop="shop.toml", face_coat="a", backer="b", mixes=[])
    >>> [line.code for line in lines if line.marks]
    ['thickness = "?"']
    """
    walls = any(_may_have_walls(row) for row in drawings)
    parts = [
        prose("A job as takeoff started it from its drawings."),
        prose(HOW_TO_EDIT),
        _job_part(name, shop, system_of(drawings)),
        _face_coat_part(face_coat, mixes),
        _backer_part(backer, walls=walls),
        _wall_backer_part(),
        *(piece_lines(row) for row in sorted(drawings, key=lambda row: row["error"] is None)),
        _extra_part(),
        _beside_part(),
    ]
    return [line for part in parts for line in (*part, SheetLine())][:-1]


def system_of(drawings: Sequence[StartedDrawingRow]) -> System:
    """Choose the units of a job: US customary where all its drawings are in inches or feet.

    Parameters
    ----------
    drawings : sequence of StartedDrawingRow
        The drawings.

    Returns
    -------
    System
        The units.

    Examples
    --------
    >>> system_of([]).value
    'metric'
    """
    units = {unit["name"] for row in drawings if (unit := row["unit"]) is not None}
    systems = {system_of_unit(name) for name in units}
    return System.US if systems == {System.US} else System.METRIC


def _may_have_walls(row: StartedDrawingRow) -> bool:
    """Tell whether a drawing has walls, or may have some once more of it is told."""
    return any(piece["walls"] or piece["asked"] or not piece["size_m"] for piece in row["drawn"])


def _job_part(name: str, shop: str, system: System) -> list[SheetLine]:
    units = off('show_units = "us"', '"metric" or "us", of what is printed; metric unless told')
    if system is System.US:
        units = entry("show_units", "us", '"metric" or "us", of what is printed')
    return [
        SheetLine("[job]"),
        entry("name", name, "printed on the bid"),
        entry(
            "currency",
            NO_CURRENCY,
            "of all prices, like EUR or USD; ¤ is the sign for one that is not told",
        ),
        entry("shop", shop, "mixers, hands and prices"),
        units,
        off('date = "2026-11-25"', "of the bid; none unless told"),
        off("days = 2", "in how many days it is poured; as many as it takes unless told"),
    ]


def _face_coat_part(mix: str, mixes: Sequence[str]) -> list[SheetLine]:
    waits = WaitRules()
    listed = ", ".join(mixes)
    return [
        *prose(f"Mixes may be those shipped ({listed}), or the path of your own mix.toml."),
        SheetLine("[face_coat]"),
        entry("thickness", "4 mm", '3 to 5 mm are common practice, no source; or "3-4-5 mm"'),
        entry("mix", mix),
        off('overspray = "10 %"', "share of what is sprayed that misses the form; 0 unless told"),
        *_pouring_lines("3 kg/min"),
        off("passes = 1", "in how many passes"),
        _wait("pass_least_wait", waits.pass_least_s, "from the end of a pass to the next"),
        _wait("pass_longest_wait", waits.pass_most_s, "oldest that a pass may be under the next"),
        _wait("brush", waits.brush_s, "to brush one piece between passes"),
        off("[face_coat.return]", "and [face_coat.upright]: where it is not as thick"),
        off('thickness = "4 mm"'),
    ]


def _backer_part(mix: str, *, walls: bool) -> list[SheetLine]:
    waits = WaitRules()
    told = "dammed, cored or filled; with [wall_backer] packed or sprayed"
    thickness = 'behind the face coat: like "16 mm", "14-16-20 mm", or "fill" to the back drawn'
    asks = _ASKS_BACKER if walls else _ASKS_THICKNESS
    way = entry("way", EDIT_MARK, told, asks=asks) if walls else off('way = "dammed"', told)
    return [
        *prose(
            "A poured backer stands on no wall deeper than the layers of the show face; way says "
            "how it gets there: behind an inner dam (dammed), in a second form (cored), by filling "
            "to the foot of the wall (filled), or by another mix that is packed or sprayed."
        ),
        SheetLine("[backer]"),
        entry("thickness", EDIT_MARK, thickness, asks=asks),
        way,
        entry("mix", mix),
        *_pouring_lines("4 kg/min"),
        _wait("wet_edge", waits.wet_edge_s, "longest gap between two batches on one piece"),
        _wait("least_wait", waits.layer_least_s, "from the end of the face coat to the backer"),
        _wait("longest_wait", waits.layer_most_s, "oldest that the face coat may be under it"),
        off("[backer.return]", "and [backer.upright]: where walls are not as thick or another way"),
        off('thickness = "16 mm"'),
        off('way = "dammed"'),
    ]


def _pouring_lines(rate: str) -> list[SheetLine]:
    """Give what the clock needs of a layer."""
    return [
        off(
            'pot_life = "30 min"', "by the product's data sheet or your own count; none unless told"
        ),
        off(f'rate = "{rate}"', "what one pair of hands places, counted by you; none unless told"),
        off("hands = 1", "how many place it at once; all of the shop unless told"),
        off('temperature = "20 C"', "of the mix on the day; none unless told"),
        off("one_batch = true", "every piece of it from one batch; not unless told"),
    ]


def _wait(key: str, usual_s: float, what: str) -> SheetLine:
    return off(f'{key} = "{written_duration(usual_s)}"', f"{what}; this, common practice")


def _wall_backer_part() -> list[SheetLine]:
    return [
        *prose("The backer of walls that are packed or sprayed while the rest is poured."),
        off("[wall_backer]"),
        off('mix = "backer-packed"'),
        *_pouring_lines("2 kg/min"),
    ]


def _extra_part() -> list[SheetLine]:
    """Give what any piece may have besides its drawing, at home below the last of them."""
    return [
        *prose("What is cast on every copy of the piece above: ribs, pads, thickenings."),
        off("[[piece.add]]"),
        off('name = "rib"'),
        off('size = "300 x 50 x 30 mm"', 'or volume = "0.45 L"'),
        off('layer = "backer"', "backer or face_coat"),
        off("count = 1"),
        *prose("Foam or another light core left in its backer."),
        off("[[piece.core]]"),
        off('name = "foam"'),
        off('volume = "2 L"', 'or size = "400 x 100 x 50 mm"'),
        off('density = "30 kg/m3"'),
        off("count = 1"),
        *prose("Inserts, brackets and frames built into it."),
        off("[[piece.item]]"),
        off('name = "bracket"'),
        off('mass = "0.4 kg"'),
        off(f"price = {toml_text(EDIT_MARK)}", "of one; not priced unless told"),
        off("count = 4"),
        *prose("What grinding takes off the show face; it is cast thicker by that."),
        off("[piece.finish]"),
        off('removed = "0.5 mm"', "0 unless told"),
    ]


def _beside_part() -> list[SheetLine]:
    return [
        *prose("What is cast besides the pieces; nothing unless told."),
        off("[spare]"),
        off('share = "5 %"', "mixed to spare, of what the pieces take"),
        off("[[sample]]"),
        off('name = "for the client"'),
        off('size = "300 x 300 mm"'),
        off("count = 1"),
        off("[qc]", "test boards"),
        off('size = "600 x 600 mm"'),
        off('thickness = "12 mm"'),
        off("boards = 1", "of every mix on every day"),
    ]
