"""The points after which nothing more may be started."""

from __future__ import annotations

from typing import Any

from takeoff.report.pour_limits import face_starts, piece_starts
from tests.unit.report.sheet_samples import bid_with_clock


def part(piece: str, layer: str, span_s: tuple[float, float], *, number: int = 1) -> dict[str, Any]:
    return {
        "piece": piece, "copy": 1, "layer": layer, "pass": number, "class": "show_face",
        "mass_kg": 1.0, "start_s": span_s[0], "end_s": span_s[1],
    }  # fmt: skip


def batch(layer: str, use_by_s: float, *parts: dict[str, Any], mix: str = "") -> dict[str, Any]:
    return {
        "mix": mix or layer, "layer": layer, "parts": parts, "use_by_s": use_by_s,
        "place_start_s": parts[0]["start_s"], "place_end_s": parts[-1]["end_s"],
        "brush_end_s": parts[-1]["end_s"],
    }  # fmt: skip


def rule(layer: str, oldest_s: float | None) -> dict[str, Any]:
    return {"mix": layer, "layer": layer, "pass": 1, "max_wait_s": oldest_s}


def starts(batches: list[dict[str, Any]], which: int, rules: list[dict[str, Any]]) -> list[float]:
    document: Any = {"rules": rules}
    day: Any = {"batches": batches}
    made: Any = batches[which]
    return [one.latest_s for one in face_starts(made, day, document)]


def test_a_face_is_started_while_what_is_left_can_still_be_placed() -> None:
    # Two faces of 300 s and 400 s must be in by 2000 s: the second at 1600 s, the first at 1300 s.
    only = batch("coat", 2000.0, part("a", "coat", (100, 400)), part("b", "coat", (400, 800)))
    assert starts([only], 0, [rule("coat", None)]) == [1300.0, 1600.0]


def test_a_face_is_started_before_the_coat_under_it_is_too_old() -> None:
    # The coat under it began at 100 s and ended at 400 s; it may be 1000 s old. The face takes
    # 600 s, so that its last spot, too, is covered in time: 400 + 1000 - 600 = 800 s.
    under = batch("coat", 2000.0, part("a", "coat", (100, 400)))
    over = batch("back", 9000.0, part("a", "back", (500, 1100)))
    assert starts([under, over], 1, [rule("coat", None), rule("back", 1000.0)]) == [800.0]
    quick = batch("back", 9000.0, part("a", "back", (500, 600)))
    assert starts([under, quick], 1, [rule("coat", None), rule("back", 1000.0)]) == [1100.0]


def test_what_goes_on_with_a_face_is_held_to_its_last_spot_alone() -> None:
    under = batch("coat", 2000.0, part("a", "coat", (100, 400)))
    first = batch("back", 9000.0, part("a", "back", (500, 1100)))
    second = batch("back", 9000.0, part("a", "back", (1100, 1300)))
    rules = [rule("coat", None), rule("back", 1000.0)]
    assert starts([under, first, second], 2, rules) == [1200.0]  # 400 + 1000 - (1300 - 1100)


def test_a_coat_of_another_casting_sets_no_limit() -> None:
    under = batch("coat", 2000.0, part("b", "coat", (100, 400)))
    over = batch("back", 9000.0, part("a", "back", (500, 1100)))
    assert starts([under, over], 1, [rule("coat", None), rule("back", 100.0)]) == [8400.0]


def test_a_piece_is_begun_while_its_layers_still_fit_into_the_day() -> None:
    coat = batch("coat", 2000.0, part("a", "coat", (100, 400)), part("b", "coat", (400, 800)))
    back = batch("back", 9000.0, part("a", "back", (900, 1100)), part("b", "back", (1100, 1900)))
    day: Any = {"batches": [coat, back]}
    # From 100 s the first takes until the batch it is in is brushed, 1900 s; the other from 400 s.
    assert piece_starts(day, working_day_s=5000.0) == {"a": 3200.0, "b": 3500.0}
    assert piece_starts(day, working_day_s=None) == {}


def test_no_limit_of_the_ferry_hall_lies_before_its_plan() -> None:
    pour = bid_with_clock()["pour_day"]
    assert pour is not None
    for day in pour["days"]:
        for made in day["batches"]:
            for start in face_starts(made, day, pour):
                assert start.planned_s <= start.latest_s < made["use_by_s"]
        latest_s = piece_starts(day, working_day_s=pour["working_day_s"])
        begun = {one["piece"]: one["start_s"] for made in day["batches"] for one in made["parts"]
                 if one["layer"] == "face_coat" and one["pass"] == 1}  # fmt: skip
        assert all(latest_s[piece] > start_s for piece, start_s in begun.items())
