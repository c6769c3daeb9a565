"""The pour day: a plan of a whole job, and the document and files made of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from takeoff.batching.plans import Plan
from takeoff.batching.pouring import Outcome
from takeoff.batching.risk import Risk
from takeoff.documents import BatchDocument, SettingValue
from takeoff.errors import TakeoffError
from takeoff.files.order import Order
from takeoff.files.order_parts import Portion
from takeoff.job.batch_weighing import Key
from takeoff.job.more_hands import MoreHands
from takeoff.job.pour_order import PourOrder
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.measuring.rows import error_rows, head_of
from takeoff.mix.weigh_sheet import WeighedMix
from takeoff.notes import Note
from takeoff.piece.ways import Way


@dataclass(frozen=True, slots=True, eq=False)
class DayPlan:
    """The pour day of a job.

    Parameters
    ----------
    order : Order
        The job as written.
    pour : PourOrder
        Its castings, the workshop, the defaults in force.
    outcome : Outcome
        The plan, or why there is none.
    weighed : mapping of tuple to WeighedMix
        What is weighed, by mix and planned mass.
    risk : Risk or None
        What goes wrong in replays.
    more_hands : MoreHands or None
        What one more pair of hands would save.
    notes : tuple of Note
        Doubts a person must see.
    cautions : tuple of str
        What to mind, each with its source.
    mix_cautions : mapping of str to tuple of str
        What of it concerns who mixes and places each mix, by name.
    settings : mapping of str
        Every value in force.
    boards : mapping of Portion to int
        How many test boards it casts.
    drawn : tuple of MeasuredPiece
        Its pieces as measured.
    ways : mapping of str to mapping of str to Way
        How walls are cast, by piece and id of the wall.
    """

    order: Order
    pour: PourOrder
    outcome: Outcome
    weighed: Mapping[Key, WeighedMix]
    risk: Risk | None
    more_hands: MoreHands | None
    notes: tuple[Note, ...]
    cautions: tuple[str, ...]
    mix_cautions: Mapping[str, tuple[str, ...]]
    settings: Mapping[str, SettingValue]
    boards: Mapping[Portion, int] = field(default_factory=dict)
    drawn: tuple[MeasuredPiece, ...] = ()
    ways: Mapping[str, Mapping[str, Way]] = field(default_factory=dict)

    @property
    def feasible(self) -> bool:
        """Whether there is a plan."""
        return self.outcome.plan is not None

    @property
    def batch_count(self) -> int:
        """How many batches are mixed."""
        return 0 if self.outcome.plan is None else self.outcome.plan.batch_count

    @property
    def plan(self) -> Plan | None:
        """The plan on the clock; None where there is none."""
        return self.outcome.plan

    def to_dict(self) -> BatchDocument:
        """Give the plan as its JSON document.

        Returns
        -------
        BatchDocument
            The document; complete where there is no plan, too.
        """
        from takeoff.job.pour_rows import batch_document

        return batch_document(self)

    def rows(self) -> list[dict[str, str | float | None]]:
        """Give one flat row per batch.

        Returns
        -------
        list of dict
            Day, batch, mixer, mix, mass, times and where it goes.
        """
        from takeoff.report.batch_rows import batch_table

        return batch_table(self.to_dict()["days"])

    def _repr_html_(self) -> str:
        """Give a small table for notebooks."""
        from takeoff.report.html_table import html_table

        return html_table(self.rows())

    def write(self, folder: str | Path) -> tuple[Path, ...]:
        """Write ``batch.json``, ``batches.csv``, ``pour-day.txt`` and ``batches.pdf``.

        Parameters
        ----------
        folder : str or Path
            Where to; made if it is not there.

        Returns
        -------
        tuple of Path
            The files; the sheets of ``batches.pdf`` only where there is a plan, and the extra
            ``[report]`` is installed.

        Raises
        ------
        OutputError
            If the folder cannot be written to.
        """
        from takeoff.files.writing import write_files
        from takeoff.measuring.picturing import open_sides
        from takeoff.report.batch_csv import pour_csv
        from takeoff.report.batch_sheets import pour_sheets_pdf
        from takeoff.report.batch_text import batch_text
        from takeoff.report.figures import System
        from takeoff.report.json_text import json_bytes
        from takeoff.report.sheet_fonts import sheets_can_be_made
        from takeoff.report.sheet_layout import Paper

        document = self.to_dict()
        system = System(self.order.show_units)
        text = batch_text(document, system=system)
        contents = {
            "batch.json": json_bytes(document),
            "batches.csv": pour_csv(document),
            "pour-day.txt": f"{text}\n".encode(),
        }
        if self.feasible and sheets_can_be_made():
            paper = Paper.LETTER if system is System.US else Paper.A4
            contents["batches.pdf"] = pour_sheets_pdf(
                document, paper=paper, pictures=open_sides(self.drawn)
            )
        return write_files(folder, contents)


def refused_plan(path: str | Path, error: TakeoffError) -> BatchDocument:
    """Give the document of a plan that was refused: complete, and empty.

    Parameters
    ----------
    path : str or Path
        The job file.
    error : TakeoffError
        Why.

    Returns
    -------
    BatchDocument
        The document.

    Examples
    --------
    >>> from takeoff.errors import BatchError
    >>> refused_plan("job.toml", BatchError("no rate"))["feasible"]
    False
    """
    head = head_of("takeoff.batch/1", settings={}, errors=error_rows(error, file=str(path)))
    return BatchDocument(
        **head,
        job=str(path),
        date=None,
        feasible=False,
        findings=[],
        batch_count=0,
        batch_bound=None,
        proven=False,
        method=None,
        hands=None,
        working_day_s=None,
        mixers=[],
        rules=[],
        demand=[],
        walls=[],
        days=[],
        risk=None,
        more_hands=None,
        defaults=[],
        cautions=[],
        mix_cautions=[],
    )
