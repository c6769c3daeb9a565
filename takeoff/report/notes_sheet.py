"""The last sheet of a job: every caution and every note, large enough to be read on a wall."""

from __future__ import annotations

from takeoff.report.sheet_blocks import SheetJob
from takeoff.report.sheet_layout import Pen, line_mm

_HEAD_PT, _TEXT_PT = 24.0, 11.0


def draw_notes(pen: Pen, job: SheetJob) -> None:
    """Draw cautions and notes, on as many pages as they take; nothing where there are none.

    Parameters
    ----------
    pen : Pen
        What draws.
    job : SheetJob
        What every sheet of the job needs.

    Examples
    --------
    >>> from takeoff.report.figures import System
    >>> from takeoff.report.sheet_layout import Paper
    >>> from takeoff.report.sheet_weights import Weights
    >>> draw_notes(Pen(Paper.A4), SheetJob("hall", Weights(System.METRIC, ()), (), (), {}))
    """
    top = pen.bottom
    width = pen.right - pen.left
    for head, texts in (("Caution", job.cautions), ("Notes", job.notes)):
        if not texts:
            continue
        if top + 4.0 * line_mm(_HEAD_PT) > pen.bottom:
            top = pen.new_page()
        pen.write(head, (pen.left, top), width, size=_HEAD_PT, bold=True)
        top += line_mm(_HEAD_PT)
        for text in texts:
            high = len(pen.lines(text, width, size=_TEXT_PT)) * line_mm(_TEXT_PT)
            if top + high > pen.bottom:
                top = pen.new_page()
            top = pen.paragraph(text, (pen.left, top), width, size=_TEXT_PT) + 1.2
