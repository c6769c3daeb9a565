"""Wet sand is weighed heavier and takes water off the mix; dry sand does the opposite."""

from __future__ import annotations

import pytest

from takeoff.errors import MixError
from takeoff.mix.mixes import Dose
from takeoff.mix.moisture import (
    Moisture,
    free_water_in_stock_kg,
    free_water_kg,
    on_stock,
    stock_from_oven_dry_kg,
    stock_from_ssd_kg,
)
from takeoff.mix.weighing import weigh_out
from takeoff.notes import NoteCode
from tests.unit.mix.making import LATEX, OF_CEMENT, SAND, mortar


@pytest.mark.parametrize("surface_share", [0.06, 0.0, -0.01])
def test_what_is_added_to_the_sand_is_the_water_it_brings(surface_share):
    stock_kg = stock_from_ssd_kg(100.0, surface_share=surface_share)
    water_kg = free_water_kg(100.0, surface_share=surface_share)
    assert stock_kg - 100.0 == pytest.approx(water_kg)
    assert free_water_in_stock_kg(stock_kg, surface_share=surface_share) == pytest.approx(water_kg)


def test_absorbed_water_is_weighed_but_not_free():
    # Common practice, no source: sand takes up about 0.25 % inside its grains.
    stock_kg = stock_from_oven_dry_kg(100.0, absorption_share=0.0025, surface_share=0.03)
    assert stock_kg == pytest.approx(103.25)
    assert free_water_kg(100.0, surface_share=0.03) == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("call", "refusal"),
    [
        (lambda: stock_from_ssd_kg(-1.0, surface_share=0.06), "must be at least 0 kg, found -1"),
        (lambda: free_water_kg(float("nan"), surface_share=0.06), "found nan"),
        (lambda: free_water_in_stock_kg(1.0, surface_share=6.0), "found 6 on the surface"),
        (lambda: free_water_kg(1.0, surface_share=-0.6), "6 % is 0.06"),
        (
            lambda: stock_from_oven_dry_kg(1.0, absorption_share=-0.01, surface_share=0.0),
            "-0.01 absorbed",
        ),
    ],
)
def test_what_is_no_moisture_is_refused(call, refusal):
    with pytest.raises(MixError, match=refusal):
        call()


def masses_of(sheet):
    """Give the masses by ingredient, the parts of the water together."""
    masses_kg = {}
    for line in sheet.lines:
        name = line.charge.ingredient.name
        masses_kg[name] = masses_kg.get(name, 0.0) + line.mass_kg
    return masses_kg


DRY = mortar((LATEX, 0.125, OF_CEMENT), water=(0.33, OF_CEMENT), air_share=0.06)


def test_by_hand_wet_sand_is_weighed_heavier_and_takes_water_off():
    # For 10 kg of cement: sand 10 oven dry, 10 x (1 + 0.01 + 0.05) = 10.6 of stock, 0.5 of it
    # free; water 3.3 in all, less 0.65 in 1.25 of latex, less 0.5: 2.15 to add. In all 24.0 kg.
    wet = on_stock(DRY, {"sand": Moisture(free_share=0.05, absorption_share=0.01)})
    sheet = weigh_out(wet, mass_kg=24.0)
    assert masses_of(sheet) == pytest.approx(
        {"cement": 10.0, "sand": 10.6, "latex": 1.25, "water": 2.15}
    )
    assert sheet.water_total_kg == pytest.approx(3.3)
    assert sheet.water_cement_ratio == pytest.approx(0.33)
    shares = {line.name: line.shares for line in sheet.lines}
    assert shares["cement"].of_dry == pytest.approx(0.5)
    # Litres: cement 3.174603, sand saturated 10.1/2.65 = 3.811321 and its free water
    # 0.5/0.9982 = 0.500902, latex 1.179245, water 2.153877; together 10.819948, with 6 % air
    # 11.510583.
    assert sheet.volume_m3 == pytest.approx(0.011510583, abs=1e-8)


def test_dry_sand_adds_water():
    # Sand that lacks 1 % of being saturated: 0.1 kg more water for 10 kg of it.
    dry = on_stock(DRY, {"sand": Moisture(free_share=-0.01, absorption_share=0.01)})
    sheet = weigh_out(dry, mass_kg=10.0 + 10.0 + 1.25 + 2.65 + 0.1)
    assert masses_of(sheet) == pytest.approx(
        {"cement": 10.0, "sand": 10.0, "latex": 1.25, "water": 2.75}
    )
    assert sheet.water_cement_ratio == pytest.approx(0.33)


def test_water_of_the_sand_never_moves_the_volume_of_the_cement():
    wet = on_stock(DRY, {"sand": Moisture(free_share=0.06)})
    assert masses_of(weigh_out(wet, volume_m3=0.02))["cement"] == pytest.approx(
        masses_of(weigh_out(DRY, volume_m3=0.02))["cement"]
    )


def test_moisture_not_told_is_taken_as_none_and_noted():
    (note,) = weigh_out(DRY, mass_kg=20.0).notes
    assert note.code is NoteCode.DEFAULT_USED
    assert note.text.startswith("free moisture and absorption of sand not told and taken as 0")
    assert weigh_out(on_stock(DRY, {"sand": Moisture(0.0, 0.0)}), mass_kg=20.0).notes == ()


@pytest.mark.parametrize(
    ("moisture", "untold"),
    [(Moisture(free_share=0.04), "absorption"), (Moisture(absorption_share=0.01), "free moisture")],
)
def test_the_half_that_is_not_told_is_noted(moisture, untold):
    (note,) = weigh_out(on_stock(DRY, {"sand": moisture}), mass_kg=20.0).notes
    assert note.code is NoteCode.DEFAULT_USED
    assert note.text.startswith(f"{untold} of sand not told and taken as 0")


def test_moisture_is_told_once_and_of_a_sand_that_is_there():
    with pytest.raises(MixError, match="trial: has no sand named gravel; its sand: sand"):
        on_stock(DRY, {"gravel": Moisture()})
    told = on_stock(DRY, {"sand": Moisture()})
    with pytest.raises(MixError, match="sand: its moisture is told already"):
        on_stock(told, {"sand": Moisture(0.04)})


def test_sand_that_brings_more_water_than_there_is_is_refused():
    soaked = on_stock(DRY, {"sand": Moisture(free_share=0.3)})
    with pytest.raises(MixError, match=r"the liquids and the wet sand bring 110.6 % of the water"):
        weigh_out(soaked, mass_kg=20.0)


@pytest.mark.parametrize(
    ("free_share", "absorption_share", "refusal"),
    [
        (0.6, 0.0, "6 % is 0.06"),
        (0.04, -0.01, "-0.01 absorbed"),
        (-0.02, 0.01, "sand that holds 1 % when saturated cannot lack 2 %"),
    ],
)
def test_a_moisture_that_cannot_be_is_refused(free_share, absorption_share, refusal):
    with pytest.raises(MixError, match=refusal):
        Moisture(free_share, absorption_share)


def test_the_dose_of_stock_is_on_the_same_basis():
    dose = on_stock(DRY, {"sand": Moisture(0.04, 0.01)}).doses[1]
    assert isinstance(dose, Dose)
    assert (dose.share, dose.basis) == (pytest.approx(1.05), OF_CEMENT)
    assert dose.ingredient.dry_share * dose.share == pytest.approx(1.0)
    assert SAND.dry_share == 1.0
