"""Three weighings of a coupon must be those of one coupon."""

from __future__ import annotations

import pytest

from takeoff.errors import MixError
from takeoff.mix.hardened import Coupon


def test_a_dense_coupon_has_no_pores():
    coupon = Coupon(dry_kg=1.0, saturated_kg=1.0, immersed_kg=0.5)
    assert (coupon.wet_kg_m3, coupon.dry_kg_m3) == (2000.0, 2000.0)
    assert (coupon.absorption_share, coupon.porosity_share) == (0.0, 0.0)


def test_porosity_is_absorption_times_density():
    coupon = Coupon(dry_kg=1.0, saturated_kg=1.11, immersed_kg=0.6)
    assert coupon.porosity_share == pytest.approx(coupon.absorption_share * coupon.dry_kg_m3 / 1e3)


@pytest.mark.parametrize(
    "masses_kg", [(1.0, 0.9, 0.5), (1.0, 1.1, 1.0), (1.0, 1.1, -0.1), (1.0, float("inf"), 0.5)]
)
def test_weighings_that_contradict_each_other_are_refused(masses_kg):
    with pytest.raises(MixError, match="are not of one coupon"):
        Coupon(*masses_kg)


def test_water_weighs_something():
    with pytest.raises(MixError, match="water of 0 kg/m3 is none"):
        Coupon(1.0, 1.1, 0.6, water_kg_m3=0.0)
