from xml.etree import ElementTree as Tree

import pytest

from takeoff.report.charts import flat_true_svg, pour_day_svg
from takeoff.report.figures import System
from takeoff.report.svg_drawing import fitted, in_xml

NAME = "</text><script>alert(1)</script>\x01 渡輪 & \U0001f6a2"


def piece(name, *, true, flat):
    volumes = [dict(zip(("face_coat", "backer"), pair, strict=True)) for pair in (true, flat)]
    return {"name": name, "layer_volume_m3": volumes[0], "flat_volume_m3": volumes[1]}


def batch(number, start_s, **also):
    row = {
        "id": f"1.{number}", "layer": "backer", "mass_kg": 50.0, "mix_start_s": start_s,
        "mix_end_s": start_s + 300.0, "place_start_s": start_s + 420.0,
        "place_end_s": start_s + 1200.0, "brush_end_s": start_s + 1200.0,
        "use_by_s": start_s + 1500.0, "mixed_by": 1, "placed_by": [2], "parts": [],
    }  # fmt: skip
    return row | also


def drawn(svg):
    """Give the words of a drawing, and its bars: left, top and width."""
    root = Tree.fromstring(svg)
    space = "{http://www.w3.org/2000/svg}"
    words = [one.text for one in root.iter(f"{space}text")]
    bars = [
        tuple(float(one.get(key)) for key in ("x", "y", "width"))
        for one in root.iter(f"{space}rect")
        if one.get("x") is not None
    ]
    return words, bars


def test_bars_are_as_long_as_volumes_are_large():
    pieces = [piece("tile", true=(0.002, 0.008), flat=(0.003, 0.009)),
              piece("sill", true=(0.001, 0.005), flat=(0.001, 0.005))]  # fmt: skip
    words, bars = drawn(flat_true_svg({"pieces": pieces}))
    assert {"10 L", "12 L", "20.0 % too much", "6 L", "the same"} <= set(words)
    flat_coat, flat_backer, true_coat, true_backer = [width for _, _, width in bars[2:6]]
    assert flat_backer / flat_coat == pytest.approx(3.0, rel=1e-3)
    assert (true_coat + true_backer) / (flat_coat + flat_backer) == pytest.approx(10 / 12, rel=1e-3)


def test_what_is_too_little_is_told():
    bowl = [piece("bowl", true=(0.002, 0.008), flat=(0.002, 0.007))]
    assert "10.0 % too little" in drawn(flat_true_svg({"pieces": bowl}))[0]
    assert "2.642 gal" in drawn(flat_true_svg({"pieces": bowl}, system=System.US))[0]


def ends(svg):
    """Tell how far words may reach, at the width of wide type, and how wide a drawing is."""
    root = Tree.fromstring(svg)
    for one in root.iter("{http://www.w3.org/2000/svg}text"):
        if one.get("text-anchor") == "start":
            sign_px = 13 * (0.7 if one.get("font-weight") else 0.62)
            yield float(one.get("x")) + sign_px * len(one.text), float(root.get("width"))


@pytest.mark.parametrize("system", list(System))
def test_no_words_run_over_the_right_edge(system):
    pieces = [
        piece("sill", true=(0.002, 0.00794), flat=(0.002, 0.0091)),
        piece("bowl", true=(0.002, 0.00794), flat=(0.002, 0.0071)),
        piece("rail", true=(0.0002, 0.0007), flat=(0.002, 0.0091)),
    ]
    svg = flat_true_svg({"pieces": pieces}, system=system)
    assert {"11.7 % too much", "8.5 % too little", "1133.3 % too much"} <= set(drawn(svg)[0])
    day = {"day": 1, "batches": [batch(1, 0.0, placed_by=[2, 3], brush_end_s=1300.0)]}
    hands = pour_day_svg(day, system=system)
    assert "hand 1 mixes, hands 2 + 3, then brush" in drawn(hands)[0]
    assert all(end <= wide for drawing in (svg, hands) for end, wide in ends(drawing))


def test_pieces_without_layers_are_not_drawn():
    bare = piece("bare", true=(0.0, 0.0), flat=(0.0, 0.0))
    assert flat_true_svg({"pieces": [bare]}) == ""
    words, _ = drawn(flat_true_svg({"pieces": [bare, piece("b", true=(1, 1), flat=(1, 1))]}))
    assert "bare" not in words


def test_a_lane_runs_from_mixing_to_the_time_it_must_be_in_by():
    coat = batch(2, 1800.0, layer="face_coat", brush_end_s=3300.0)
    day = {"day": 1, "batches": [batch(1, 0.0), coat]}
    words, bars = drawn(pour_day_svg(day))
    assert {"1.1 backer", "1.2 face coat", "50 kg", "brush", "0:00", "0:30"} <= set(words)
    assert "hand 1 mixes, hand 2, then brush" in words
    mix, place = [bar for bar in bars if bar[1] == bars[4][1]][:2]
    assert place[2] / mix[2] == pytest.approx(780 / 300, rel=1e-3)
    assert (place[0] - mix[0]) / mix[2] == pytest.approx(420 / 300, rel=1e-3)
    lanes = {top for _, top, _ in bars[4:]}
    assert len(lanes) == 2


def test_a_long_day_keeps_its_ticks_apart():
    day = {"day": 1, "batches": [batch(number, 3600.0 * number) for number in range(9)]}
    words, _ = drawn(pour_day_svg(day))
    times = [word for word in words if word.endswith(":00") and len(word) < 6]
    assert 4 < len(times) <= 11


def test_names_cannot_break_out_of_a_drawing():
    svg = flat_true_svg({"pieces": [piece(NAME, true=(0.1, 0.2), flat=(0.1, 0.2))]})
    root = Tree.fromstring(svg)
    assert {one.tag.partition("}")[2] for one in root.iter()} <= {
        "svg", "title", "desc", "defs", "pattern", "path", "rect", "line", "text",
    }  # fmt: skip
    assert in_xml(NAME) in root[1].text


def test_the_same_figures_are_drawn_the_same():
    day = {"day": 1, "batches": [batch(1, 0.0)]}
    assert pour_day_svg(day) == pour_day_svg(day)


def test_long_names_are_cut_where_they_would_run_over():
    assert fitted("sill", 100.0) == "sill"
    assert fitted("windowsill of the waiting hall", 100.0).endswith("…")
    assert len(fitted("渡輪候船室售票櫃檯面板", 100.0)) < len(fitted("m" * 40, 100.0))
