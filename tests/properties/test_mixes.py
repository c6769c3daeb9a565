"""What holds of any mix, however its doses are written and however much of it is weighed."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from takeoff.errors import MixError
from takeoff.mix.checking import mix_faults
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Bag, Basis, Dose, Mix, MixUse, Placing
from takeoff.mix.volumes import absolute_volume_m3, fresh_density_kg_m3
from takeoff.mix.weighing import weigh_out

CEMENT = Ingredient("cement", Role.CEMENT, 3150.0)
WATER = Ingredient("water", Role.WATER, 998.2)

SHARES = st.floats(0.001, 0.08)
MOST = {
    Role.SAND: st.floats(0.2, 2.0),
    Role.POZZOLAN: st.floats(0.01, 0.3),
    Role.POLYMER: st.floats(0.01, 0.15),
    Role.PLASTICIZER: st.floats(0.001, 0.02),
    Role.FIBRE: SHARES,
    Role.PIGMENT: SHARES,
}
AMOUNTS = st.floats(0.5, 2000.0)


@st.composite
def ingredients(draw: st.DrawFn, role: Role) -> Ingredient:
    """Draw an ingredient of a role, perhaps a liquid."""
    liquid = role in {Role.POLYMER, Role.PLASTICIZER} and draw(st.booleans())
    return Ingredient(
        str(role),
        role,
        draw(st.floats(800.0, 5000.0)),
        water_share=draw(st.floats(0.3, 0.7)) if liquid else 0.0,
    )


@st.composite
def mixes(draw: st.DrawFn) -> Mix:
    """Draw a mix whose doses all name the cement."""
    roles = draw(st.lists(st.sampled_from(sorted(MOST)), unique=True))
    doses = [Dose(draw(ingredients(role)), draw(MOST[role]), Basis.OF_CEMENT) for role in roles]
    mix = Mix(
        "any",
        MixUse.BACKER,
        draw(st.sampled_from(sorted(Placing))),
        doses=(Dose(CEMENT, 1.0, Basis.OF_CEMENT), *doses),
        water=Dose(WATER, draw(st.floats(0.2, 0.6)), Basis.OF_CEMENT),
        air_share=draw(st.floats(0.0, 0.2)),
    )
    assume(not mix_faults(mix))
    return mix


def masses_of(sheet):
    """Give the masses by name."""
    return {line.name: line.mass_kg for line in sheet.lines}


@given(mixes(), AMOUNTS)
def test_what_is_weighed_for_a_volume_fills_that_volume(mix, litres):
    sheet = weigh_out(mix, volume_m3=litres / 1000.0)
    filled_m3 = absolute_volume_m3(
        masses_of(sheet),
        {line.name: line.density_kg_m3 for line in sheet.lines},
        air_share=mix.air_share,
    )
    assert filled_m3 == pytest.approx(litres / 1000.0, rel=1e-9)
    assert sheet.mass_kg == pytest.approx(fresh_density_kg_m3(mix) * litres / 1000.0, rel=1e-9)


@given(mixes(), AMOUNTS)
def test_masses_add_up_and_water_is_counted_once(mix, total_kg):
    sheet = weigh_out(mix, mass_kg=total_kg)
    assert sum(masses_of(sheet).values()) == pytest.approx(total_kg, rel=1e-9)
    assert sum(line.shares.of_total for line in sheet.lines) == pytest.approx(1.0, rel=1e-9)
    in_liquids_kg = sum(line.water_kg for line in sheet.lines if line.role is not Role.WATER)
    assert sheet.water_total_kg == pytest.approx(sheet.water_to_add_kg + in_liquids_kg)
    cement_kg = masses_of(sheet)["cement"]
    # Water to add that is less than a hundred-thousandth of the whole is left out.
    assert sheet.water_total_kg / cement_kg == pytest.approx(
        mix.water.share, abs=1.1e-5 * total_kg / cement_kg
    )


@given(mixes(), AMOUNTS, st.floats(1.1, 50.0))
def test_twice_as_much_is_twice_of_everything(mix, total_kg, factor):
    once, more = weigh_out(mix, mass_kg=total_kg), weigh_out(mix, mass_kg=factor * total_kg)
    assert masses_of(more) == pytest.approx(
        {name: factor * mass_kg for name, mass_kg in masses_of(once).items()}, rel=1e-9
    )
    assert more.volume_m3 == pytest.approx(factor * once.volume_m3, rel=1e-9)


@given(mixes(), st.data())
def test_the_basis_of_a_dose_is_only_a_way_to_write_it(mix, data):
    sheet = weigh_out(mix, mass_kg=100.0)
    assume(sheet.water_to_add_kg > 0.01)
    lines = {line.name: line for line in sheet.lines}
    dry_kg = sum(dose.ingredient.is_dry * lines[dose.ingredient.name].mass_kg for dose in mix.doses)
    whole_kg = {
        Basis.OF_DRY: dry_kg,
        Basis.OF_CEMENT: lines["cement"].mass_kg,
        Basis.OF_TOTAL: 100.0,
    }

    def rewritten(dose: Dose, mass_kg: float) -> Dose:
        basis = data.draw(st.sampled_from(list(Basis)))
        return Dose(dose.ingredient, mass_kg / whole_kg[basis], basis)

    # The cement itself stays, so that the bases still hang together.
    doses = [rewritten(dose, lines[dose.ingredient.name].mass_kg) for dose in mix.doses[1:]]
    other = replace(
        mix, doses=(mix.doses[0], *doses), water=rewritten(mix.water, sheet.water_total_kg)
    )
    assert masses_of(weigh_out(other, mass_kg=100.0)) == pytest.approx(
        masses_of(sheet), rel=1e-6, abs=1e-6
    )


@given(mixes(), AMOUNTS, st.sampled_from([0.001, 0.005, 0.01, 0.02, 0.1, 0.5]))
def test_a_rounded_sheet_is_within_two_percent_or_says_by_how_much_to_grow(
    mix, total_kg, division_kg
):
    exact = masses_of(weigh_out(mix, mass_kg=total_kg))
    try:
        sheet = weigh_out(mix, mass_kg=total_kg, division_kg=division_kg)
    except MixError as refusal:
        factor = float(re.search(r"at least ([\d.e+]+) times", str(refusal))[1])
        assert factor > 1.0
        sheet = weigh_out(mix, mass_kg=factor * total_kg, division_kg=division_kg)
        exact = {name: factor * mass_kg for name, mass_kg in exact.items()}
    shown = masses_of(sheet)
    assert shown == pytest.approx(exact, rel=0.0201)
    divisions = {name: mass_kg / division_kg for name, mass_kg in shown.items()}
    assert divisions == pytest.approx({name: round(count) for name, count in divisions.items()})
    assert sheet.mass_kg == pytest.approx(sum(shown.values()))


@given(st.integers(1, 40), st.floats(10.0, 50.0), st.floats(0.1, 0.3), mixes())
def test_bags_are_whole_bags(bags, bag_kg, water_share, mix):
    premix = Ingredient("premix", Role.PREMIX, 2700.0)
    beside = tuple(
        replace(dose, basis=Basis.OF_DRY)
        for dose in mix.doses
        if not dose.ingredient.is_dry and dose.ingredient.role is not Role.POLYMER
    )
    bagged = replace(
        mix,
        doses=(Dose(premix, 1.0, Basis.OF_DRY), *beside),
        water=Dose(WATER, water_share, Basis.OF_DRY),
        bag=Bag(mass_kg=bag_kg, yield_m3=bag_kg / 2000.0),
    )
    sheet = weigh_out(bagged, bags=bags)
    assert masses_of(sheet)["premix"] == pytest.approx(bags * bag_kg, rel=1e-9)
    assert sheet.water_total_kg == pytest.approx(bags * bag_kg * water_share, rel=1e-9)
