"""A figure beside a name that is read from right to left stays where it was written."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.report.text_direction import kept_apart

WALL, TOP = "\u05e7\u05d9\u05e8", "\u0644\u0648\u062d \u062c\u062f\u0627\u0631"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        (f"1 x {WALL}, 2 x {TOP}, 1 x slab", f"1 x <{WALL}>, 2 x <{TOP}>, 1 x slab"),
        (f"{TOP} 1 13.77 kg", f"<{TOP}> 1 13.77 kg"),
        (f"{WALL} 6:10; {TOP} 6:45", f"<{WALL}> 6:10; <{TOP}> 6:45"),
        (TOP, TOP),
        ("slab 2", "slab 2"),
        ("панель 墙 2", "панель 墙 2"),
        ("", ""),
    ],
)
def test_runs_are_isolated(text: str, shown: str) -> None:
    assert kept_apart(text) == shown.replace("<", "\u2068").replace(">", "\u2069")


@given(st.text(alphabet=f"{WALL}{TOP} ab12,;:-", max_size=30))
def test_nothing_is_lost_and_each_isolate_is_closed(text: str) -> None:
    shown = kept_apart(text)
    assert shown.replace("\u2068", "").replace("\u2069", "") == text
    depth = 0
    for sign in shown:
        depth += {"\u2068": 1, "\u2069": -1}.get(sign, 0)
        assert depth in {0, 1}
    assert depth == 0
