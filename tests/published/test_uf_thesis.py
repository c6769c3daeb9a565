"""University of Florida thesis (Parham), p. 72, mix 73A00P.

Read at ufdcimages.uflib.ufl.edu/UF/E0/00/88/23/00001/parham_a_Page_072.txt. The source takes the
70.5 oz of admixture as avoirdupois, 16 to the pound.
"""

from __future__ import annotations

import pytest

from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Basis, Dose, Mix, MixLayer, Placing
from takeoff.mix.weigh_sheet import Charge, weigh_sheet
from takeoff.units import mass_kg

LB = mass_kg("1 lb")
CEMENT = Ingredient("cement", Role.CEMENT, 3150.0)
FINE = Ingredient("fine", Role.SAND, 2650.0)
COARSE = Ingredient("coarse", Role.SAND, 2600.0)
WATER = Ingredient("water", Role.WATER, 1000.0)
ADMIXTURE = Ingredient("admixture", Role.PLASTICIZER, 1080.0)

MASSES_KG = {
    CEMENT: mass_kg("760 lb"),
    WATER: mass_kg("279 lb"),
    FINE: mass_kg("1033 lb"),
    COARSE: mass_kg("1736 lb"),
    ADMIXTURE: mass_kg("70.5 oz"),
}
MIX = Mix(
    "73A00P",
    MixLayer.BACKER,
    Placing.POURED,
    doses=(Dose(CEMENT, 1.0, Basis.OF_CEMENT),),
    water=Dose(WATER, 0.37, Basis.OF_CEMENT),
    air_share=0.0,
)


@pytest.mark.parametrize(
    ("printed_admixture_lb", "printed_total_lb", "printed_w_c"),
    [pytest.param(4.41, 3812.41, 0.37, id="MIX-08 p. 72")],
)
def test_total_and_water_cement_ratio(printed_admixture_lb, printed_total_lb, printed_w_c):
    sheet = weigh_sheet(MIX, [Charge(*weighed) for weighed in MASSES_KG.items()])
    (admixture,) = [line for line in sheet.lines if line.name == "admixture"]
    assert admixture.mass_kg / LB == pytest.approx(printed_admixture_lb, abs=0.005)
    assert sheet.mass_kg / LB == pytest.approx(printed_total_lb, abs=0.005)
    assert sheet.water_cement_ratio == pytest.approx(printed_w_c, abs=0.005)
