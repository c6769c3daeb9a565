"""Times of a pour day as they are printed: one rounding for text, page, workbook and sheets."""

from __future__ import annotations

from takeoff.pour_documents import PouredBatchRow

PRINTED_S = 300.0
_FINE_S = 60.0


def clock_text(time_s: float, *, up: bool = False, step_s: float = PRINTED_S) -> str:
    """Write a time of the day, to five minutes unless told.

    Parameters
    ----------
    time_s : float
        From the start of the day. [s]
    up : bool, default False
        Whether to round up; rounded down otherwise.
    step_s : float, default 300
        Minutes are told in steps of this. [s]

    Returns
    -------
    str
        Hours and minutes from the start of the day.

    Examples
    --------
    >>> clock_text(5399.0), clock_text(5399.0, up=True)
    ('1:25', '1:30')
    """
    minutes = _stepped_s(time_s, step_s, up=up) // 60
    return f"{minutes // 60}:{minutes % 60:02d}"


def clock_step_s(batch: PouredBatchRow) -> float:
    """Give the step that the times of a batch are printed in.

    Parameters
    ----------
    batch : PouredBatchRow
        The batch.

    Returns
    -------
    float
        Five minutes; one where in steps of five it would be placed after it has gone off, a face
        would be started after its latest start, or the plan itself would miss what is printed. [s]

    Examples
    --------
    >>> batch = {"mix_start_s": 840.0, "place_start_s": 1380.0, "place_end_s": 2100.0, "parts": []}
    >>> clock_step_s(batch | {"use_by_s": 3120.0}), clock_step_s(batch | {"use_by_s": 2160.0})
    (300.0, 300.0)
    >>> clock_step_s(batch | {"use_by_s": 2220.0, "place_end_s": 2160.0})
    60.0
    """
    use_by_s = batch["use_by_s"]
    spare_s = use_by_s - batch["place_end_s"]
    printed_s = _stepped_s(use_by_s, PRINTED_S, up=False)
    starts_s = (part["start_s"] for part in batch["parts"])
    coarse = (
        _stepped_s(batch["place_start_s"], PRINTED_S, up=True) < printed_s
        and batch["place_end_s"] <= printed_s
        and all(_in_order(start_s, start_s + spare_s) for start_s in starts_s)
    )
    return PRINTED_S if coarse else _FINE_S


def batch_clocks(batch: PouredBatchRow) -> tuple[str, str, str]:
    """Say when a batch is mixed, placed from, and in the form at the latest.

    Parameters
    ----------
    batch : PouredBatchRow
        The batch.

    Returns
    -------
    tuple of str
        The three times, to five minutes; to the minute where it goes off too fast for that.

    Notes
    -----
    The last is rounded down, the others up: who mixes when it is printed is never nearer to the
    end of the pot life than what is printed of it.

    Examples
    --------
    >>> batch = {"mix_start_s": 840.0, "place_start_s": 1380.0, "place_end_s": 1500.0, "parts": []}
    >>> batch_clocks(batch | {"use_by_s": 3120.0})
    ('0:15', '0:25', '0:50')
    >>> batch_clocks(batch | {"use_by_s": 1620.0})
    ('0:14', '0:23', '0:27')
    """
    step_s = clock_step_s(batch)
    return (
        clock_text(batch["mix_start_s"], up=True, step_s=step_s),
        clock_text(batch["place_start_s"], up=True, step_s=step_s),
        clock_text(batch["use_by_s"], step_s=step_s),
    )


def limit_clocks(planned_s: float, latest_s: float, *, step_s: float) -> tuple[str, str]:
    """Say when something is started, and when at the latest.

    Parameters
    ----------
    planned_s : float
        When the plan starts it, from the start of the day. [s]
    latest_s : float
        After this it must not be started. [s]
    step_s : float
        The step that is printed; a minute where the plan would miss its own limit in it. [s]

    Returns
    -------
    tuple of str
        The start rounded up, the limit down; the limit for both where they lie within a minute.

    Examples
    --------
    >>> limit_clocks(540.0, 1920.0, step_s=300.0), limit_clocks(2220.0, 2280.0, step_s=300.0)
    (('0:10', '0:30'), ('0:37', '0:38'))
    """
    told_s = step_s if _in_order(planned_s, latest_s, step_s) else _FINE_S
    latest = clock_text(latest_s, step_s=told_s)
    if not _in_order(planned_s, latest_s, told_s):
        return latest, latest
    return clock_text(planned_s, up=True, step_s=told_s), latest


def _in_order(start_s: float, limit_s: float, step_s: float = PRINTED_S) -> bool:
    """Tell whether a start as it is printed lies no later than a limit as it is printed."""
    return _stepped_s(start_s, step_s, up=True) <= _stepped_s(limit_s, step_s, up=False)


def _stepped_s(time_s: float, step_s: float, *, up: bool) -> int:
    """Round a time of the day to a step."""
    steps = -int(-time_s // step_s) if up else int(time_s // step_s)
    return steps * int(step_s)
