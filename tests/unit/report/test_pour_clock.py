"""The one rounding of times that text, page, workbook and sheets have."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.report.pour_clock import PRINTED_S, batch_clocks, clock_step_s, limit_clocks

MINUTES = st.floats(0.0, 600.0)


def seconds(text: str) -> int:
    """Read a printed time back. [s]"""
    hours, minutes = text.split(":")
    return 3600 * int(hours) + 60 * int(minutes)


def batch(mix: float, place: tuple[float, float], use_by: float, *faces: float) -> Any:
    """A batch by its minutes."""
    return {
        "mix_start_s": 60.0 * mix,
        "place_start_s": 60.0 * place[0],
        "place_end_s": 60.0 * place[1],
        "use_by_s": 60.0 * use_by,
        "parts": [{"start_s": 60.0 * start} for start in faces],
    }


@pytest.mark.parametrize(
    ("made", "told"),
    [
        (batch(8, (16, 20), 44, 16), ("0:10", "0:20", "0:40")),
        (batch(0, (9, 15), 38, 9), ("0:00", "0:10", "0:35")),
        # Placed from 16, gone off at 19: in steps of five it would be placed after that.
        (batch(8, (16, 18), 19, 16), ("0:08", "0:16", "0:19")),
        # The plan has it in at 38, and 35 would be printed.
        (batch(8, (16, 38), 39, 16), ("0:08", "0:16", "0:39")),
        # The second face may be started from 21 until 23: no step of five lies there.
        (batch(8, (16, 28), 30, 16, 21), ("0:08", "0:16", "0:30")),
    ],
)
def test_five_minutes_are_printed_where_they_contradict_nothing(made: Any, told: Any) -> None:
    assert batch_clocks(made) == told


@given(MINUTES, st.floats(0.5, 20.0), st.floats(0.5, 20.0), st.floats(0.0, 60.0))
def test_who_keeps_to_what_is_printed_never_overruns(
    mix: float, mixing: float, placing: float, spare: float
) -> None:
    place = mix + mixing
    made = batch(mix, (place, place + placing), place + placing + spare, place)
    mix_at, place_at, use_by_s = map(seconds, batch_clocks(made))
    assert made["mix_start_s"] <= mix_at
    assert made["place_start_s"] <= place_at
    assert use_by_s <= made["use_by_s"]
    if clock_step_s(made) == PRINTED_S:
        assert made["place_end_s"] <= use_by_s
        assert place_at < use_by_s


@pytest.mark.parametrize(
    ("planned_s", "latest_s", "told"),
    [
        (540.0, 1920.0, ("0:10", "0:30")),
        (900.0, 2280.0, ("0:15", "0:35")),
        (2220.0, 2280.0, ("0:37", "0:38")),
        (3600.0, 3600.0, ("1:00", "1:00")),
        (2430.0, 2450.0, ("0:40", "0:40")),
    ],
)
def test_a_limit_is_never_printed_late_nor_before_its_start(
    planned_s: float, latest_s: float, told: tuple[str, str]
) -> None:
    assert limit_clocks(planned_s, latest_s, step_s=PRINTED_S) == told


@given(MINUTES, st.floats(0.0, 60.0))
def test_a_start_is_printed_no_later_than_its_limit(planned: float, spare: float) -> None:
    latest_s = 60.0 * (planned + spare)
    start, latest = map(seconds, limit_clocks(60.0 * planned, latest_s, step_s=PRINTED_S))
    assert start <= latest <= latest_s
