"""Masses as they are weighed on a printed sheet."""

from __future__ import annotations

import pytest

from takeoff.mix.scales import Scale
from takeoff.report.figures import System
from takeoff.report.sheet_weights import Weights, weights_of
from takeoff.units import mass_kg


@pytest.mark.parametrize(
    ("division", "mass", "reading", "other"),
    [
        ("10 g", "121.83 kg", "121.83 kg", "268.6 lb"),
        ("1 g", "0.355 kg", "355 g", "12.52 oz"),
        ("0.1 oz", "33 lb 11.7 oz", "33 lb 11.7 oz", "15.3 kg"),
        ("0.01 lb", "33.73 lb", "33.73 lb", "15.3 kg"),
        ("0.05 kg", "15.3 kg", "15.30 kg", "33 lb 11.7 oz"),
    ],
)
@pytest.mark.parametrize("system", list(System))
def test_a_mass_is_written_as_its_scale_shows_it_whatever_the_text_is_in(
    division: str, mass: str, reading: str, other: str, system: System
) -> None:
    weights = Weights(system, (Scale(mass_kg(division)),))
    assert weights.reading(mass_kg(mass)) == reading
    assert weights.other(mass_kg(mass)) == other


@pytest.mark.parametrize(
    ("division", "placed"),
    [("10 g", "17.5 kg"), ("0.02 lb", "38.57 lb"), ("0.1 oz", "38 lb 9.1 oz")],
)
def test_what_is_placed_is_written_in_the_unit_of_the_scale(division: str, placed: str) -> None:
    weights = Weights(System.US, (Scale(mass_kg(division)),))
    assert weights.rounded(mass_kg("38.57 lb")) == placed


def test_of_several_scales_the_finest_that_holds_it_shows_a_mass() -> None:
    weights = Weights(System.METRIC, (Scale(0.01), Scale(0.001, 3.0)))
    assert weights.reading(1.244) == "1.244 kg"
    assert weights.reading(11.19) == "11.19 kg"
    assert weights.running(12.434) == "12.434 kg"


def test_without_a_scale_the_units_of_the_text_are_taken() -> None:
    assert Weights(System.US, ()).reading(1.0) == "2 lb 3.27 oz"
    assert Weights(System.METRIC, ()).other(1.0) == "2 lb 3.27 oz"


def test_the_scales_of_a_shop_are_read_from_the_settings() -> None:
    told = {"division_kg": 0.01, "capacity_kg": None}, {"division_kg": 0.001, "capacity_kg": 3.0}
    weights = weights_of({"show_units": "metric", "shop": {"scales": list(told)}})
    assert weights.scales == (Scale(0.01), Scale(0.001, 3.0))
    assert weights_of({}).scales == ()
