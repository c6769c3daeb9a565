"""Times and hands as a printed sheet of a pour says them."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.report.pour_words import clock_text

_MINUTE_S = 60.0


def start_text(time_s: float) -> str:
    """Write when something starts: to the minute, never sooner than planned.

    A batch that is started sooner goes off sooner; so its start is not rounded down while its
    use-by stays as it is.

    Parameters
    ----------
    time_s : float
        From the start of the day. [s]

    Returns
    -------
    str
        Hours and minutes.

    Examples
    --------
    >>> start_text(2460.0), start_text(2490.0)
    ('0:41', '0:42')
    """
    return _clock(-int(-time_s // _MINUTE_S))


def limit_text(time_s: float, *, planned_s: float) -> str:
    """Write a limit: rounded down to five minutes.

    Parameters
    ----------
    time_s : float
        From the start of the day. [s]
    planned_s : float
        What the plan has; where five minutes would fall before it, the limit is rounded down to
        the minute. [s]

    Returns
    -------
    str
        Hours and minutes.

    Examples
    --------
    >>> limit_text(2280.0, planned_s=900.0), limit_text(2280.0, planned_s=2220.0)
    ('0:35', '0:38')
    """
    coarse = clock_text(time_s)
    hours, minutes = coarse.split(":")
    if (int(hours) * 60 + int(minutes)) * _MINUTE_S >= planned_s:
        return coarse
    return _clock(int(time_s // _MINUTE_S))


def hands_text(mixed_by: int, placed_by: Sequence[int]) -> str:
    """Say who mixes and who places.

    Parameters
    ----------
    mixed_by : int
        The pair of hands that mixes.
    placed_by : sequence of int
        Those that place.

    Returns
    -------
    str
        The words.

    Examples
    --------
    >>> hands_text(1, [2, 3])
    'hand 1 mixes, hands 2 + 3 place'
    """
    if len(placed_by) == 1:
        return f"hand {mixed_by} mixes, hand {placed_by[0]} places"
    return f"hand {mixed_by} mixes, hands {' + '.join(map(str, placed_by))} place"


def _clock(minutes: int) -> str:
    return f"{minutes // 60}:{minutes % 60:02d}"
