import pytest

from takeoff.errors import BatchError
from takeoff.job.day_plan import refused_plan
from takeoff.pour_documents import FindingRow, demand_row, part_row
from takeoff.report.batch_rows import BATCH_COLUMNS, batch_table
from takeoff.report.batch_text import batch_text
from takeoff.report.figures import System


def poured(**changes):
    demand = demand_row(
        "panel", 1, "backer", pass_number=1, surface_class="show_face", mass_kg=20.0
    )
    batch = {
        "id": "1.1",
        "mixer": "pan",
        "mix": "backer-poured",
        "colour": "",
        "layer": "backer",
        "placing": "poured",
        "bound": "mixer",
        "mass_kg": 20.4,
        "volume_m3": 0.01,
        "loss_kg": 0.0,
        "residue_kg": 0.4,
        "leftover_kg": 0.0,
        "mix_start_s": 8.0 * 60.0,
        "mix_end_s": 14.0 * 60.0,
        "place_start_s": 16.0 * 60.0,
        "place_end_s": 20.0 * 60.0,
        "brush_end_s": 20.0 * 60.0,
        "use_by_s": 44.0 * 60.0,
        "workers": 2,
        "mixed_by": 1,
        "placed_by": [2, 3],
        "parts": [part_row(demand, mass_kg=20.0, start_s=960.0, end_s=1200.0)],
        "ingredients": [
            {"name": "water", "mass_kg": 4.0, "when": "first", "after_rest": False},
            {"name": "fibre", "mass_kg": 0.5, "when": "last", "after_rest": True},
        ],
        "mixing": [
            {"what": "mix", "duration_s": 180.0},
            {"what": "rest", "duration_s": 90.0},
        ],
    }
    day = {
        "day": 1,
        "makespan_s": 21.0 * 60.0,
        "makespan_bound_s": 21.0 * 60.0,
        "proven": True,
        "method": "greedy",
        "batches": [batch | changes],
    }
    document = refused_plan("hall", BatchError("none"))
    return document | {
        "feasible": True,
        "errors": [],
        "batch_count": 1,
        "batch_bound": 1,
        "proven": True,
        "method": "greedy",
        "hands": 3,
        "days": [day],
    }


def line_of(text, start):
    return next(line for line in text.splitlines() if line.startswith(start))


def test_times_are_printed_to_five_minutes_and_the_last_one_is_never_late():
    text = batch_text(poured())
    cells = line_of(text, "1.1").split()
    # Mixed at 8 min, placed from 16, in the form by 44: 0:10, 0:20, 0:40.
    assert [cell for cell in cells if ":" in cell] == ["0:10", "0:20", "0:40"]
    assert "done at 0:25" in text


@pytest.mark.parametrize("minutes", range(30, 61))
def test_the_time_in_by_is_rounded_down(minutes):
    text = batch_text(poured(use_by_s=minutes * 60.0))
    hours, rest = [cell for cell in line_of(text, "1.1").split() if ":" in cell][-1].split(":")
    printed = 60 * int(hours) + int(rest)
    assert printed <= minutes < printed + 5


def test_a_short_pot_life_is_printed_to_the_minute():
    # Placed from 16 min, gone off at 19: in steps of five it would be placed after it is gone.
    cells = line_of(batch_text(poured(use_by_s=19.0 * 60.0)), "1.1").split()
    assert [cell for cell in cells if ":" in cell] == ["0:08", "0:16", "0:19"]


@pytest.mark.parametrize("minutes", range(8, 20))
def test_who_mixes_when_it_is_printed_never_overruns_what_is_printed(minutes):
    # Six minutes of mixing, 30 of pot life.
    changes = {"mix_start_s": minutes * 60.0, "use_by_s": (minutes + 36) * 60.0}
    cells = [c for c in line_of(batch_text(poured(**changes)), "1.1").split() if ":" in c]
    mixed, use_by = (
        60 * int(c.split(":")[0]) + int(c.split(":")[1]) for c in (cells[0], cells[-1])
    )
    assert use_by <= mixed + 36


def test_it_says_who_brushes_and_which_layer():
    assert ", then brush" not in batch_text(poured())
    line = line_of(batch_text(poured(brush_end_s=21.0 * 60.0, layer="face_coat")), "1.1")
    assert "hands 2 + 3, then brush" in line
    assert "face coat" in line


def test_it_says_who_and_where():
    line = line_of(batch_text(poured()), "1.1")
    for words in ("hand 1", "hands 2 + 3", "panel 1 20 kg", "20.4 kg / 10 L", "pan"):
        assert words in line


def test_mixing_and_rest_stand_before_what_waits_for_them():
    told = "backer-poured, batch 1.1: water 4 kg, mix 3 min, rest 1 min 30 s, fibre 500 g"
    assert told in batch_text(poured()).splitlines()
    untold = "backer-poured, batch 1.1: water 4 kg, fibre 500 g"
    assert untold in batch_text(poured(mixing=[])).splitlines()


def test_it_can_be_written_in_pounds_and_gallons():
    assert "44 lb" in batch_text(poured(), system=System.US)


def test_a_count_above_the_bound_says_by_how_much():
    document = poured() | {"batch_count": 7, "batch_bound": 5, "proven": False}
    assert "no plan has fewer than 5, which is 2 less" in batch_text(document)


@pytest.mark.parametrize(
    ("unit", "value", "limit", "words"),
    [
        ("s", 3600.0, 2400.0, "1 h, where 40 min is the limit"),
        ("kg", 10.0, 7.0, "10 kg, where 7 kg is the limit"),
        ("m3", 0.063, 0.025, "63 L, where 25 L is the limit"),
        ("count", 5.0, 3.0, "5, where 3 is the limit"),
    ],
)
def test_reasons_are_written_with_their_unit(unit, value, limit, words):
    finding = FindingRow(
        rule="a rule", where="panel", value=value, limit=limit, unit=unit, fix="more", enough=True
    )
    document = refused_plan("hall", BatchError("none")) | {"findings": [finding]}
    assert f"panel: a rule: {words}; would do: more" in batch_text(document)


@pytest.mark.parametrize(
    ("enough", "words"),
    [
        ((True,), "NO PLAN as told; this stands in the way"),
        ((True, True), "any one of these changes would do"),
        ((False, True), "all of these stand in the way; change what each of them says"),
    ],
)
def test_it_says_whether_one_change_is_enough(enough, words):
    findings = [
        FindingRow(rule="hands", where="job", value=3, limit=2, unit="count", fix="x", enough=one)
        for one in enough
    ]
    text = batch_text(refused_plan("hall", BatchError("none")) | {"findings": findings})
    assert words in text
    assert text.count("needed: x") == enough.count(False)


def test_rows_hold_what_the_table_says():
    [row] = batch_table(poured()["days"])
    assert tuple(row) == BATCH_COLUMNS
    assert row["use_by_s"] == 44.0 * 60.0
    assert row["goes_to"] == "panel 1 20 kg"
