"""Lifting, gravity, heads and buoyancy as they are published."""

from __future__ import annotations

import pytest

from takeoff.files.shipped_handling import shipped_handling
from takeoff.job.buoyancy import head_pa, hold_down_n
from takeoff.job.lifting import lifting_words
from takeoff.units import area_m2, density_kg_m3, length_m, mass_kg, volume_m3


# NIOSH 94-110, as reprinted by CCOHS, ccohs.ca/oshanswers/ergonomics/niosh/calculating_rwl.html:
# load constant 23 kg, 51 lb. osha.gov/SLTC/etools/poultry: about 51 pounds under ideal conditions.
@pytest.mark.parametrize(("printed_kg", "printed_lb"), [pytest.param(23, 51, id="SAF-01")])
def test_the_load_constant_is_that_of_niosh(printed_kg, printed_lb):
    load = shipped_handling().load_constant
    assert (load.most_kg, load.most_lb) == (printed_kg, printed_lb)
    assert f"{printed_kg} kg ({printed_lb} lb)" in lifting_words()


# Third General Conference on Weights and Measures, 1901, confirmed 1913, as printed at
# asastandards.org/Terms/standard-acceleration-due-to-earths-gravity.
def test_standard_gravity_as_printed():
    gravity_m_s2 = shipped_handling().gravity_m_s2
    assert gravity_m_s2 == 9.80665
    assert gravity_m_s2 / length_m("1 ft") == pytest.approx(32.1740, abs=0.00005)
    assert gravity_m_s2 / length_m("1 in") == pytest.approx(386.089, abs=0.0005)


# Concrete Construction, problem clinic, "Form pressure",
# concreteconstruction.net/how-to/form-pressure_o: a form 8 ft high full of liquid concrete of
# 150 lb/ft3 has 1200 lb/ft2 at its foot, 8.33 psi.
@pytest.mark.parametrize(
    ("height", "density", "printed_lb_ft2", "printed_lb_in2"),
    [pytest.param("8 ft", "150 lb/ft3", 1200.0, 8.33, id="form full of liquid concrete")],
)
def test_the_head_of_liquid_concrete(height, density, printed_lb_ft2, printed_lb_in2):
    pressure_pa = head_pa(length_m(height), density_kg_m3(density))
    pound_n = mass_kg("1 lb") * shipped_handling().gravity_m_s2
    in_lb_ft2 = pressure_pa * area_m2("1 sq ft") / pound_n
    assert in_lb_ft2 == pytest.approx(printed_lb_ft2, abs=0.5)
    assert in_lb_ft2 / 144.0 == pytest.approx(printed_lb_in2, abs=0.005)


# A cork buoy of 2 ft3 at 15 lb/ft3 in water of 62.4 lb/ft3, westendchronicle.com, "How to calculate
# buoy floatation in the water": it weighs 30 lb, and held under it is pushed up with 124.8 lb.
@pytest.mark.parametrize(
    ("volume", "density", "liquid", "printed_weight_lb", "printed_push_lb"),
    [pytest.param("2 ft3", "15 lb/ft3", "62.4 lb/ft3", 30.0, 124.8, id="cork buoy")],
)
def test_a_buoy_held_under(volume, density, liquid, printed_weight_lb, printed_push_lb):
    pound_n = mass_kg("1 lb") * shipped_handling().gravity_m_s2
    told = volume_m3(volume), density_kg_m3(density), density_kg_m3(liquid)
    assert hold_down_n(told[0], 0.0, told[2]) / pound_n == pytest.approx(printed_push_lb, abs=0.05)
    assert hold_down_n(*told) / pound_n == pytest.approx(
        printed_push_lb - printed_weight_lb, abs=0.05
    )


# College Physics, 11.7 Archimedes' principle, from memory: 1.00e7 kg of steel of 7.8e3 kg/m3, under
# water, is pushed up with 1.3e7 N; as a boat that displaces 1.00e5 m3, with 9.80e8 N at most.
@pytest.mark.parametrize(
    ("displaced_m3", "printed_n", "last_digit_n"),
    [
        pytest.param(1.00e7 / 7.8e3, 1.3e7, 1e6, id="steel under water, from memory"),
        pytest.param(1.00e5, 9.80e8, 1e6, id="steel as a boat, from memory"),
    ],
)
def test_steel_and_a_boat(displaced_m3, printed_n, last_digit_n):
    push_n = hold_down_n(displaced_m3, 0.0, 1000.0)
    assert push_n == pytest.approx(printed_n, abs=last_digit_n)
