"""A scale shows whole divisions, the finest that holds a mass is taken, no bucket overflows."""

from __future__ import annotations

import pytest

from takeoff.errors import MixError
from takeoff.mix.scales import Portion, Scale, scale_for, split


@pytest.mark.parametrize(
    ("mass_kg", "division_kg", "shown_kg"),
    [
        (17.4361, 0.01, 17.44),
        (17.4361, 0.1, 17.4),
        (17.4361, 0.02, 17.44),
        (0.3, 0.1, 0.3),
        (2.675, 0.005, 2.675),
        (100.0, 0.5, 100.0),
        (45.2, 0.45359237, 45.359237),
    ],
)
def test_a_mass_is_shown_to_the_division(mass_kg, division_kg, shown_kg):
    assert Scale(division_kg).shows_kg(mass_kg) == shown_kg


@pytest.mark.parametrize("division_kg", [0.0, -0.01, float("nan"), float("inf")])
def test_a_scale_has_a_division(division_kg):
    with pytest.raises(MixError, match="the division of a scale must be above 0"):
        Scale(division_kg)


@pytest.mark.parametrize("capacity_kg", [0.005, 0.0, float("nan")])
def test_a_scale_holds_at_least_its_division(capacity_kg):
    with pytest.raises(MixError, match=r"a scale holds at least its division of 0.01 kg"):
        Scale(0.01, capacity_kg)


POCKET, BENCH, FLOOR = Scale(0.0001, 0.5), Scale(0.001, 6.0), Scale(0.05, 150.0)


@pytest.mark.parametrize(
    ("mass_kg", "chosen"),
    [
        (0.2, POCKET),
        (0.5, POCKET),
        (0.501, BENCH),
        (6.0, BENCH),
        (6.001, FLOOR),
        (150.0, FLOOR),
        (400.0, FLOOR),
    ],
)
def test_the_finest_scale_that_holds_it_is_taken(mass_kg, chosen):
    assert scale_for(mass_kg, [FLOOR, POCKET, BENCH]) is chosen


def test_where_there_is_no_scale_there_is_none():
    assert scale_for(1.0, []) is None


def test_a_scale_of_no_told_capacity_holds_anything():
    plain = Scale(0.01)
    assert scale_for(1e6, [plain, Scale(0.1, 10.0)]) is plain


@pytest.mark.parametrize(
    ("mass_kg", "scale", "bucket_kg", "portions"),
    [
        (12.4, None, None, [(1, 12.4)]),
        (12.4, None, 20.0, [(1, 12.4)]),
        (20.0, None, 20.0, [(1, 20.0)]),
        (52.4, None, 20.0, [(2, 20.0), (1, 12.4)]),
        (60.0, None, 20.0, [(3, 20.0)]),
        (52.4, Scale(0.1, 15.0), 20.0, [(3, 15.0), (1, 7.4)]),
        # A bucket of 18.14 kg is filled to 18.1 kg on a scale of 100 g.
        (40.0, Scale(0.1), 18.14, [(2, 18.1), (1, 3.8)]),
        (0.3, Scale(0.1), 0.1, [(3, 0.1)]),
    ],
)
def test_no_bucket_is_overfilled_and_nothing_is_lost(mass_kg, scale, bucket_kg, portions):
    found = split(mass_kg, scale=scale, bucket_kg=bucket_kg)
    assert list(found) == [Portion(count, each_kg) for count, each_kg in portions]
    assert sum(one.count * one.mass_kg for one in found) == pytest.approx(mass_kg, rel=1e-12)


def test_a_bucket_smaller_than_the_scale_can_show_is_refused():
    with pytest.raises(MixError, match=r"a bucket of 0.05 kg holds less than the scale can show"):
        split(1.0, scale=Scale(0.1), bucket_kg=0.05)
