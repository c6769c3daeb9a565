"""Whatever a piece is called, its file is one that every machine takes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.report.file_names import free_name


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("wall panel", "wall-panel.png"),
        ("../../etc/passwd", "etc-passwd.png"),
        (r"C:\new", "C-new.png"),
        ("-rf", "rf.png"),
        (".hidden", "hidden.png"),
        ("=1+1", "1-1.png"),
        ("<script>alert(1)</script>", "script-alert-1-script.png"),
        ("Стойка кассы", "Стойка-кассы.png"),
        ("墙板 \U0001f9f1", "墙板-brick.png"),
        ("แผ่นผนัง", "แผ่นผนัง.png"),
        ("दीवार", "दीवार.png"),
        ("\U0001f469\u200d\U0001f527", "woman-wrench.png"),
        ("nul", "nul-piece.png"),
        ("LPT1", "LPT1-piece.png"),
        ("console", "console.png"),
        ("\u202e\x00\n", "piece.png"),
        ("", "piece.png"),
    ],
)
def test_names_become_files(name: str, file: str) -> None:
    assert free_name(name, ".png", []) == file


def test_capitals_alone_do_not_tell_two_files_apart() -> None:
    assert free_name("Panel", ".png", ["panel.png", "panel-2.png"]) == "Panel-3.png"


@given(st.text(max_size=400))
def test_any_name_is_short_and_stays_in_its_folder(name: str) -> None:
    file = free_name(name, ".png", [])
    assert len(file.encode()) < 200
    assert not set(file) & set('/\\:*?"<>|\x00 ')
    assert file[0] not in ".-~"
