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
from takeoff.mix.mixes import Bag, Basis, Dose, Mix, MixLayer, Placing
from takeoff.mix.moisture import Moisture, on_stock
from takeoff.mix.scales import Scale
from takeoff.mix.temperature import Heats, Warmth, heat_balance, ice_for_kg
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
        MixLayer.BACKER,
        draw(st.sampled_from(sorted(Placing))),
        doses=(Dose(CEMENT, 1.0, Basis.OF_CEMENT), *doses),
        water=Dose(WATER, draw(st.floats(0.2, 0.6)), Basis.OF_CEMENT),
        air_share=draw(st.floats(0.0, 0.2)),
    )
    assume(not mix_faults(mix))
    return mix


def masses_of(sheet):
    """Give the masses by ingredient, the parts of the water together."""
    masses_kg = {}
    for line in sheet.lines:
        name = line.charge.ingredient.name
        masses_kg[name] = masses_kg.get(name, 0.0) + line.mass_kg
    return masses_kg


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
    scales = [Scale(division_kg)]
    exact = weigh_out(mix, mass_kg=total_kg)
    try:
        sheet = weigh_out(mix, mass_kg=total_kg, scales=scales)
    except MixError as refusal:
        factor = float(re.search(r"at least ([\d.e+]+) times", str(refusal))[1])
        assert factor > 1.0
        sheet = weigh_out(mix, mass_kg=factor * total_kg, scales=scales)
        exact = weigh_out(mix, mass_kg=factor * total_kg)
    for shown, meant in zip(sheet.lines, exact.lines, strict=False):
        within_kg = exact.water_total_kg if meant.role is Role.WATER else meant.mass_kg
        assert shown.mass_kg == pytest.approx(meant.mass_kg, abs=0.0201 * within_kg)
        assert shown.mass_kg / division_kg == pytest.approx(round(shown.mass_kg / division_kg))
    assert sheet.mass_kg == pytest.approx(sum(masses_of(sheet).values()))


@given(
    mixes(),
    AMOUNTS,
    st.lists(st.tuples(st.sampled_from([0.001, 0.01, 0.1]), st.floats(5.0, 500.0)), min_size=1),
    st.floats(5.0, 60.0),
)
def test_buckets_and_scales_are_never_overfilled_and_hold_all_of_it(mix, total_kg, told, bucket_kg):
    scales = [Scale(*scale) for scale in told]
    try:
        sheet = weigh_out(mix, mass_kg=total_kg, scales=scales, bucket_kg=bucket_kg)
    except MixError as refusal:
        # Too coarse a scale, or a bucket below its division: whatever it is, it says what would do.
        if "times as much at once" not in str(refusal):
            raise
        return
    for line in sheet.lines:
        portions = line.charge.portions
        assert sum(one.count * one.mass_kg for one in portions) == pytest.approx(line.mass_kg)
        assert all(one.mass_kg <= min(bucket_kg, line.charge.scale.capacity_kg) for one in portions)


@given(mixes(), st.floats(-0.02, 0.1), st.floats(0.02, 0.05))
def test_moisture_of_the_sand_moves_neither_the_mix_nor_its_volume(mix, free_share, absorption):
    assume(any(dose.ingredient.role is Role.SAND for dose in mix.doses))
    wet = on_stock(mix, {"sand": Moisture(free_share, absorption)})
    assume(not mix_faults(wet))
    dry_sheet, wet_sheet = weigh_out(mix, mass_kg=100.0), weigh_out(wet, mass_kg=100.0)
    dry_kg, wet_kg = masses_of(dry_sheet), masses_of(wet_sheet)
    assume(wet_sheet.water_to_add_kg > 0.01)
    assert wet_sheet.water_cement_ratio == pytest.approx(dry_sheet.water_cement_ratio, rel=1e-6)
    others = set(dry_kg) - {"sand", "water"}
    scale = wet_kg["cement"] / dry_kg["cement"]
    assert {name: wet_kg[name] for name in others} == pytest.approx(
        {name: scale * dry_kg[name] for name in others}
    )
    sand_kg = wet_kg["sand"] / (1.0 + free_share + absorption)
    assert sand_kg == pytest.approx(scale * dry_kg["sand"])
    # Grains swell by nothing; only what is saturated into them, counted dry before, adds volume.
    filled_m3 = absolute_volume_m3(
        {line.name: line.mass_kg for line in wet_sheet.lines},
        {line.name: line.density_kg_m3 for line in wet_sheet.lines},
        air_share=mix.air_share,
    )
    assert wet_sheet.volume_m3 == pytest.approx(filled_m3)
    assert wet_sheet.volume_m3 >= scale * dry_sheet.volume_m3 * (1.0 - 1e-9)


@given(
    st.floats(1.0, 500.0),
    st.floats(0.5, 100.0),
    st.floats(1.0, 45.0),
    st.floats(1.0, 45.0),
    st.floats(0.0, 40.0),
)
def test_ice_brings_a_mix_to_what_is_wanted_or_is_not_needed(
    solids_kg, water_kg, solids_c, water_c, wanted_c
):
    heats = Heats(920.0, 4184.0, 2097.0, 333.43)
    parts = [Warmth(solids_kg, 0.0, solids_c), Warmth(0.0, water_kg, water_c)]
    ice_kg = ice_for_kg(parts, heats=heats, wanted_c=wanted_c, water_c=water_c)
    assume(ice_kg <= water_kg)
    rest = [parts[0], Warmth(0.0, water_kg - ice_kg, water_c)]
    balance = heat_balance(rest, heats=heats, ice_kg=ice_kg)
    assert balance.temperature_c <= max(solids_c, water_c) + 1e-9
    if ice_kg > 0.0:
        assert balance.temperature_c == pytest.approx(wanted_c, abs=1e-9)
    else:
        assert balance.temperature_c <= wanted_c + 1e-9


@given(st.floats(0.1, 500.0), st.floats(0.1, 100.0), st.floats(0.0, 45.0), st.floats(0.0, 100.0))
def test_a_mix_with_ice_is_never_colder_than_ice_and_keeps_its_heat(
    solids_kg, water_kg, temperature_c, ice_kg
):
    heats = Heats(920.0, 4184.0, 2097.0, 333.43)
    parts = [Warmth(solids_kg, 0.0, temperature_c), Warmth(0.0, water_kg, temperature_c)]
    balance = heat_balance(parts, heats=heats, ice_kg=ice_kg)
    assert 0.0 <= balance.temperature_c <= temperature_c * (1.0 + 1e-12)
    assert 0.0 <= balance.unmelted_kg <= ice_kg * (1.0 + 1e-12)
    before_kj = (solids_kg * 0.92 + water_kg * 4.184) * temperature_c - ice_kg * 333.43
    after_kj = (
        solids_kg * 0.92 + (water_kg + ice_kg) * 4.184
    ) * balance.temperature_c - balance.unmelted_kg * 333.43
    assert after_kj == pytest.approx(before_kj, rel=1e-9, abs=1e-6)


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
