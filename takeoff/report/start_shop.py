"""The shop file of a started job: what only the shop knows, asked place by place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from takeoff.batching.placing_rules import DayRules, PlacingRules
from takeoff.report.figures import System, written_duration, written_share
from takeoff.report.start_job import HOW_TO_EDIT
from takeoff.report.toml_sheet import SheetLine, entry, off, prose, toml_text
from takeoff.start_documents import EDIT_MARK

_MARK = toml_text(EDIT_MARK)
_ASKS_MIXER = "how much wet mix the mixer works at once"
_ASKS_LABOUR = "what an hour of work costs, and the hours a form and a casting take by area"


def shop_lines(ingredients: Sequence[str], *, system: System) -> list[SheetLine]:
    """Give the lines of a shop file.

    Parameters
    ----------
    ingredients : sequence of str
        What the mixes of the job are bought from.
    system : System
        The units of the job.

    Returns
    -------
    list of SheetLine
        The lines.

    Examples
    --------
    >>> lines = shop_lines(["white-cement"], system=System.METRIC)
    >>> [line.marks for line in lines if line.marks]
    [1, 1, 1, 1, 1, 1]
    """
    parts = [
        prose("A shop as takeoff started it: mixers, hands, hours and prices."),
        prose(HOW_TO_EDIT),
        _habit_part(system),
        _price_part(ingredients, system),
        _labour_part(system),
        _mixer_part(system),
        _hands_part(),
        _terms_part(),
    ]
    return [line for part in parts for line in (*part, SheetLine())][:-1]


def _price_part(ingredients: Sequence[str], system: System) -> list[SheetLine]:
    """Ask for packs and prices in one place, a table for each ingredient."""
    asks = f"packs and prices of {', '.join(ingredients)}"
    pack = '"50 lb"' if system is System.US else '"25 kg"'
    rows = []
    for name in ingredients:
        rows += [
            SheetLine("[[price]]", asks=asks),
            entry("ingredient", name, asks=asks),
            SheetLine(f"pack = {_MARK}", asks=asks),
            SheetLine(f"price = {_MARK}", asks=asks),
        ]
    return [
        *prose(
            f"What each ingredient of the mixes is sold in, like {pack}, and what one such pack "
            "costs, without currency. One more [[price]] for every other size of pack. one_lot = "
            "true below a price: all of a job from one lot, before least cost."
        ),
        *rows,
        SheetLine(),
        *prose("What is paid for and on the shelf; it is used first."),
        off("[[stock]]"),
        off('ingredient = "white-cement"'),
        off('mass = "10 kg"'),
        off('opened = "2026-11-02"'),
        off('use_by = "2027-03-01"'),
        off('lot = "A7"'),
    ]


def _labour_part(system: System) -> list[SheetLine]:
    form, casting = ("form_ft2", "casting_ft2") if system is System.US else _METRIC_MEASURES
    area = "square foot" if system is System.US else "square metre"
    return [
        *prose(
            f"What an hour of one person costs, without currency; and hours of work, like "
            f'"0.6 h", for every {area} of form, built once, and of casting, every time.'
        ),
        SheetLine("[labour]"),
        SheetLine(f"hour_price = {_MARK}", asks=_ASKS_LABOUR),
        *_hours("build forms", form),
        *_hours("cast, strip and finish", casting),
        SheetLine(),
        *prose(
            "More that a shop may charge; take the # away from all four lines of one, or add more."
        ),
        *_more("form boards", form, "price"),
        *_more("sealant", _bead(system), "price"),
        *_more("release", _area("release", system), "price"),
        *_more("sealer", _area("sealer", system), "price"),
        *_more("inner forms", _area("inner_form", system), "hours"),
        *_more("delivery", "job", "price"),
    ]


_METRIC_MEASURES = ("form_m2", "casting_m2")


def _area(what: str, system: System) -> str:
    return f"{what}_ft2" if system is System.US else f"{what}_m2"


def _bead(system: System) -> str:
    return "bead_ft" if system is System.US else "bead_m"


def _hours(what: str, per: str) -> list[SheetLine]:
    return [replace(line, asks=_ASKS_LABOUR) for line in _rate(what, per, "hours")]


def _more(what: str, per: str, costs: str) -> list[SheetLine]:
    return [replace(line, off=True) for line in _rate(what, per, costs)]


def _rate(what: str, per: str, costs: str) -> list[SheetLine]:
    """Give the lines of a rate whose price or hours are left to tell."""
    return [
        SheetLine("[[rate]]"),
        entry("what", what),
        entry("per", per),
        SheetLine(f"{costs} = {_MARK}"),
    ]


def _habit_part(system: System) -> list[SheetLine]:
    day, placing = DayRules(), PlacingRules()
    unit = "in" if system is System.US else "mm"
    largest = ("10 ft x 5 ft", "250 lb") if system is System.US else ("3.2 m x 1.5 m", "120 kg")
    return [
        *prose("Habits and hours. The times are common practice, no source, and hold unless told."),
        off(f'unit = "{unit}"', "of drawings that neither tell nor declare one; none unless told"),
        off('kind = "piece"', "of meshes: piece, form or open; found or asked unless told"),
        off(f'max_piece = "{largest[0]}"', "largest piece the shop casts; no limit unless told"),
        off(f'max_kg = "{largest[1]}"', "heaviest piece it handles; no limit unless told"),
        _time("working_day", day.day_s, "length of the working day"),
        off("tables = 4", "how many castings find room at once; any number unless told"),
        _time("demould", day.demould_s, "from the last layer to stripping the form"),
        _time("reset", day.reset_s, "to make a form ready for its next casting"),
        _time("haul", placing.haul_s, "from the end of mixing to the first placing"),
        _time("wash", placing.wash_s, "to wash a mixer between mixes or colours"),
        _time("refill", placing.refill_s, "to refill the hopper of a gun"),
        _share("pot_reserve", placing.pot_reserve_share, "of the pot life kept in hand"),
        _share("window_reserve", placing.window_reserve_share, "of wet edge and longest wait"),
    ]


def _time(key: str, usual_s: float, what: str) -> SheetLine:
    return off(f'{key} = "{written_duration(usual_s)}"', what)


def _share(key: str, usual_share: float, what: str) -> SheetLine:
    return off(f'{key} = "{written_share(usual_share)}"', f"share {what}")


def _mixer_part(system: System) -> list[SheetLine]:
    placing = PlacingRules()
    litres = '"15 gal"' if system is System.US else '"60 L"'
    return [
        *prose(
            f"The mixer; one more [[mixer]] for each other. Capacity is wet mix, like {litres}."
        ),
        SheetLine("[[mixer]]"),
        entry("name", "mixer"),
        SheetLine(f"capacity = {_MARK}", "by its maker or your own trial", asks=_ASKS_MIXER),
        off('least_fill = "0 L"', "least that it mixes well"),
        off('residue = "0 kg"', "what stays in mixer and bucket, each batch"),
        off('suits = ["backer-poured"]', "the mixes it is kept for; every one unless told"),
        _time("mix_time", placing.mix_s, "to charge and mix one batch; this, common practice"),
        _time("clean_time", placing.clean_s, "to scrape it between batches; this, common practice"),
    ]


def _hands_part() -> list[SheetLine]:
    return [
        *prose("Scales; masses are not rounded unless one is told."),
        off("[[scale]]"),
        off('division = "10 g"'),
        off('capacity = "60 kg"', "any unless told"),
        off("[crew]"),
        off("hands = 1", "how many place at once"),
        off("[[gun]]"),
        off('hopper = "6 L"', "a hopper of any size unless told"),
    ]


def _terms_part() -> list[SheetLine]:
    return [
        *prose("What comes on top: nothing unless told."),
        off("[terms]"),
        off('markup = "0 %"', "on material, items, labour and rates"),
        off('tax = "0 %"', "on all, last"),
        off(f"minimum_charge = {_MARK}", "least sum before tax"),
    ]
