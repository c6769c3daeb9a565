"""A core that mix covers is lifted, a wall full of mix presses at its foot: numbers only."""

from __future__ import annotations

import math

import pytest

from takeoff.errors import LayerVolumeError
from takeoff.job.buoyancy import NO_FORM_DESIGN, head_note, head_pa, hold_down_n, hold_down_note
from takeoff.notes import NoteCode
from takeoff.report.figures import System


@pytest.mark.parametrize(
    ("volume_m3", "density_kg_m3", "mix_kg_m3", "expected_n"),
    [
        (0.002, 30.0, 2100.0, 0.002 * 2070.0 * 9.80665),
        (0.002, 0.0, 2100.0, 0.002 * 2100.0 * 9.80665),
        (0.002, 2100.0, 2100.0, 0.0),
        (0.002, 7850.0, 2100.0, 0.0),
        (0.0, 30.0, 2100.0, 0.0),
    ],
)
def test_a_core_is_lifted_by_what_it_displaces_less_itself(
    volume_m3, density_kg_m3, mix_kg_m3, expected_n
):
    assert hold_down_n(volume_m3, density_kg_m3, mix_kg_m3) == pytest.approx(expected_n, rel=1e-12)


def test_head_grows_with_height_and_density():
    assert head_pa(0.0, 2100.0) == 0.0
    assert head_pa(1.0, 1000.0) == pytest.approx(9806.65)
    assert head_pa(2.0, 2100.0) == pytest.approx(4.2 * head_pa(1.0, 1000.0))


def test_several_cores_are_held_down_each_and_together():
    note = hold_down_note(
        "foam",
        volume_m3=0.002,
        density_kg_m3=30.0,
        mix_kg_m3=2100.0,
        count=3,
        where="bench",
    )
    assert (note.code, note.where) == (NoteCode.HOLD_DOWN, "bench")
    assert note.text == (
        "core foam (2 L, 30 kg/m³): fresh mix round it lifts it with 40.6 N, as much as 4.14 kg "
        f"weigh; 3 of them, 121.8 N in all; hold it down; {NO_FORM_DESIGN}"
    )


def test_a_core_that_sinks_is_not_noted():
    note = hold_down_note("lead", volume_m3=0.001, density_kg_m3=11340.0, mix_kg_m3=2100.0)
    assert note is None


def test_no_head_is_said_without_whose_work_the_form_is():
    note = head_note("U1", 1.0, 2100.0, where="bench")
    assert (note.code, note.where) == (NoteCode.HEAD, "bench")
    assert note.text == (
        "U1: 1000 mm of fresh mix press with 20.59 kPa at their foot, as a liquid would; a number "
        "only, not a formwork design, form and bracing by a competent person"
    )


def test_customary_units_stand_beside_the_kilopascals():
    # 8 ft of 150 lb/ft3.
    note = head_note("U1", 2.4384, 2402.7695, system=System.US)
    assert "8 ft of fresh mix press with 57.46 kPa (1200 lb/sq ft)" in note.text
    core = hold_down_note(
        "foam", volume_m3=0.002, density_kg_m3=30.0, mix_kg_m3=2100.0, system=System.US
    )
    assert "as much as 9 lb 2 oz weigh" in core.text


@pytest.mark.parametrize("figure", [-0.001, math.nan, math.inf])
def test_what_is_no_figure_is_refused(figure):
    for place in range(3):
        told = [0.002, 30.0, 2100.0]
        told[place] = figure
        with pytest.raises(LayerVolumeError, match=r"is no height, volume or density"):
            hold_down_n(*told)
    with pytest.raises(LayerVolumeError, match=r"is no height, volume or density"):
        head_pa(figure, 2100.0)
