import json

import pytest

from takeoff.report.csv_text import csv_bytes
from takeoff.report.html_table import html_table
from takeoff.report.json_text import json_bytes, json_text
from takeoff.report.tables import plain_table


def test_floats_have_twelve_digits_and_no_minus_zero():
    assert json.loads(json_text({"a": 1 / 3, "b": [-0.0]})) == {"a": 0.333333333333, "b": [0.0]}
    assert "-0" not in json_text({"b": [-0.0]})


@pytest.mark.parametrize("figure", [float("nan"), float("inf")])
def test_a_figure_that_is_no_number_is_refused(figure):
    with pytest.raises(ValueError, match="not JSON compliant"):
        json_text({"a": figure})


def test_letters_of_any_script_survive():
    assert json.loads(json_bytes({"a": "Зал 候船 🚢"})) == {"a": "Зал 候船 🚢"}


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@cell", " =1", "\t=1"])
def test_text_cannot_run_as_a_formula(text):
    cell = csv_bytes([{"a": text}]).decode("utf-8-sig").splitlines()[1].strip('"')
    assert cell.startswith("'")


def test_negative_figures_stay_figures():
    assert csv_bytes([{"a": -1.5}]).decode("utf-8-sig").splitlines()[1] == "-1.5"


def test_columns_are_written_even_without_rows():
    assert csv_bytes([], columns=["a", "b"]).decode("utf-8-sig") == "a,b\r\n"


def test_a_narrow_terminal_gets_blocks():
    text = plain_table(["piece", "area"], [["top", "1"], ["leg", "2"]], width=40)
    assert text == "piece: top\narea: 1\n\npiece: leg\narea: 2"


def test_signs_as_wide_as_two_keep_their_columns():
    text = plain_table(
        ["piece", "kg"], [["墙板", "1"], ["e\u0301te", "2"], ["slab", "3"]], right=[1]
    )
    assert text.splitlines()[1:] == ["墙板    1", "e\u0301te     2", "slab    3"]


def test_names_of_drawings_cannot_steer_the_terminal():
    assert "\x1b" not in plain_table(["piece"], [["a\x1b[31m\nb"]])
    assert "\u202e" not in plain_table(["piece"], [["a\u202eb"]])
    assert "\U0001f469\u200d\U0001f527" in plain_table(["piece"], [["\U0001f469\u200d\U0001f527"]])


def test_html_is_escaped():
    assert "<script>" not in html_table([{"<script>": "<script>alert(1)</script>"}])
