from decimal import Decimal

import pytest

from takeoff.errors import PriceError
from takeoff.pricing.materials import Need, material_total, materials_of
from takeoff.pricing.packs import Pack

PRICES = {
    "cement": Pack("cement", 25.0, "25 kg", Decimal("14.20")),
    "sand": Pack("sand", 25.0, "25 kg", Decimal("7.90")),
}


def test_lots_share_their_packs():
    needs = [Need("cement", 30.0, 30.5), Need("cement", 15.0, 15.5), Need("sand", 10.0, 10.1)]
    cement, sand = materials_of(needs, PRICES)
    assert (cement.packs, sand.packs) == (2, 1)
    assert cement.loss_kg == pytest.approx(1.0)
    assert material_total([cement, sand]) == Decimal("36.30")


def test_tap_water_has_no_price():
    [water] = materials_of([Need("water", 5.0, 5.1, bought=False)], PRICES)
    assert (water.pack, water.packs, water.cost) == (None, None, None)


def test_all_ingredients_without_a_price_are_named_at_once():
    needs = [Need("fibre", 1.0, 1.0), Need("cement", 1.0, 1.0), Need("polymer", 1.0, 1.0)]
    with pytest.raises(PriceError, match="no pack and price for fibre, polymer"):
        materials_of(needs, PRICES)
