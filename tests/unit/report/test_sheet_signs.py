"""Text in any script as signs that can be printed."""

from __future__ import annotations

import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.report.sheet_signs import in_line, printable, told_apart

LATIN = str.isascii


def every(_: str) -> bool:
    return True


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a\x00b\n\tc", "a b c"),
        ("Zu\u0308rich", "Zurich"),
        ("\ufb01ne \u2163", "fine IV"),
        ("\u2113 5", "l 5"),
        ("\U0001f3d7\ufe0f", "[building construction]"),
        ("\u5899\u677f", "QiangBan"),
        ("벽체 판넬", "ByeogChe PanNel"),
        ("दीवार", "divar"),
        ("แผ่นผนัง", "aephnphnang"),
        ("\ue000", "?"),
        ("\ud800", "?"),
        ("a\u200d\u202eb", "ab"),
        ("", ""),
    ],
)
def test_what_no_font_has_becomes_what_one_has(text: str, told: str) -> None:
    assert printable(text, LATIN) == told


def test_what_the_fonts_have_stays() -> None:
    assert printable("墙板 Ж Ω é 😀", every) == "墙板 Ж Ω é 😀"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        # Alone, at the start, in the middle and at the end of a word.
        ("\u0628", "\ufe8f"),
        ("\u0628\u0628\u0628", "\ufe90\ufe92\ufe91"),
        # A letter that joins to none after it ends the run.
        ("\u062f\u0628", "\ufe8f\ufea9"),
        # Two letters that are written as one, alone and after another.
        ("\u0644\u0627", "\ufefb"),
        ("\u0628\u0644\u0627", "\ufefc\ufe91"),
    ],
)
def test_arabic_is_joined_and_turned_round(text: str, told: str) -> None:
    assert in_line(text, every) == told


def test_figures_beside_a_name_stay_where_they_stand() -> None:
    name = told_apart(["\u05e7\u05d9\u05e8"], every)["\u05e7\u05d9\u05e8"]
    assert in_line(f"{name} 5 kg", every) == "\u05e8\u05d9\u05e7 5 kg"


def test_names_that_would_look_alike_are_numbered() -> None:
    assert told_apart(["\ue000", "\ue001", "slab"], LATIN) == {
        "\ue000": "? (1)",
        "\ue001": "? (2)",
        "slab": "slab",
    }
    assert told_apart(["\ue000", "\ue001", "? (1)"], LATIN) == {
        "\ue000": "? (2)",
        "\ue001": "? (3)",
        "? (1)": "? (1)",
    }
    told = told_apart(["มา", "ม่า", "ม้า"], LATIN)
    assert len(set(told.values())) == 3


@given(st.lists(st.text(min_size=1, max_size=6), unique=True, max_size=8))
def test_no_two_names_print_alike(names: list[str]) -> None:
    told = told_apart(names, LATIN)
    assert len(set(told.values())) == len(names)
    assert all(text.strip("\u200e") and LATIN(text.strip("\u200e")) for text in told.values())


def test_without_the_library_of_letters_nothing_breaks(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "anyascii", None)
    assert printable("벽체 slab", LATIN) == "?? slab"
