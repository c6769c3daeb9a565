"""A caster with wet gloves finds everything on the sheet, in the order of work."""

from __future__ import annotations

import pytest

import takeoff
from takeoff.report.figures import System
from takeoff.report.weigh_text import weigh_text

BAG = """\
name = "grey-bag"
layer = "backer"
placing = "poured"
pot_life = "25 min"
wait = "40 min"
bag = { name = "grey-premix", mass = "25 kg", yield = "13.5 L", water = "3 L" }
"""


def text_of(mix="backer-poured", *, system=System.METRIC, **told):
    """Write a sheet."""
    return weigh_text(takeoff.weigh(mix, **told).to_dict(), system=system)


def steps_of(text):
    """Give the numbered steps."""
    lines = text.splitlines()
    first = next(number for number, line in enumerate(lines) if line.startswith("step"))
    return lines[first + 1 : lines.index("", first)]


def test_the_steps_are_numbered_in_the_order_of_work():
    steps = steps_of(text_of(volume="18 L", scale="10 g"))
    assert [step.split()[:2] for step in steps] == [
        ["1", "water"],
        ["2", "acrylic-dispersion"],
        ["3", "white-cement"],
        ["4", "silica-sand"],
        ["5", "held-back"],
        ["6", "mix"],
        ["7", "ar-glass-fibre"],
    ]
    assert steps[0].endswith("3.65 kg        3.65 kg  first, into the mixer")
    assert steps[5].endswith("mix 3 min, rest 3 min, mix again 2 min")
    assert steps[6].endswith("1.13 kg       37.70 kg  last, slowly, only until mixed through")


def test_dispersible_fibre_stands_at_the_start_and_the_mixing_at_the_end():
    steps = steps_of(text_of("backer-stiff-pva", mass="30 kg"))
    assert steps[1].split()[1] == "pva-fibre"
    assert steps[-1].endswith("mix again 2 min")


def test_readings_are_to_the_gram_on_a_scale_of_a_gram():
    steps = steps_of(text_of(volume="60 L", scale="1 g"))
    assert steps[2].split()[2:6] == ["51.013", "kg", "69.557", "kg"]


def test_a_scale_in_pounds_and_ounces_is_read_in_them():
    text = text_of(volume="5 gal", scale="0.1 oz", system=System.US)
    steps = steps_of(text)
    assert steps[2].split()[2:10] == ["35", "lb", "7.6", "oz", "48", "lb", "6.0", "oz"]
    assert "lb/cu ft fresh" in text.splitlines()[0]
    assert " kg" not in "\n".join(steps)


def test_every_dose_stands_on_the_three_bases():
    text = text_of(mass="40 kg")
    (head,) = [line for line in text.splitlines() if line.startswith("dose")]
    assert head.split() == ["dose", "of", "dry", "of", "cement", "of", "total"]
    (fibre,) = [line for line in text.splitlines() if line.startswith("ar-glass-fibre  ")]
    assert fibre.split() == ["ar-glass-fibre", "3.696", "%", "7.392", "%", "3", "%"]
    (in_all,) = [line for line in text.splitlines() if line.startswith("water in all  ")]
    assert in_all.split()[3:7] == ["16.5", "%", "33", "%"]


def test_the_water_is_printed_as_total_and_to_add():
    text = text_of(volume="18 L", scale="10 g")
    assert "water in all 5.053 kg, to add 4.06 kg; water:cement 0.33" in text


def test_the_sheet_ends_in_the_cautions_and_they_in_the_rules():
    lines = text_of(mass="40 kg").splitlines()
    caution = lines.index("Caution")
    assert all(line.startswith("- ") for line in lines[caution + 1 :])
    assert lines[-1] == "- Follow the safety data sheets and local rules."
    assert len(lines) - caution < 15
    assert any("from memory" in line for line in lines[caution:])


@pytest.fixture
def bag(tmp_path):
    """Write a premix."""
    path = tmp_path / "bag.toml"
    path.write_text(BAG, encoding="utf-8")
    return path


def test_whole_bags_are_counted(bag):
    (step,) = [step for step in steps_of(text_of(bag, bags=2, scale="10 g")) if "premix" in step]
    assert "2 bags of 25 kg" in step


def test_a_part_of_a_bag_is_weighed(bag):
    (step,) = [
        step for step in steps_of(text_of(bag, volume="20 L", scale="10 g")) if "premix" in step
    ]
    assert "1 bag of 25 kg + 12.04 kg" in step


def test_a_bag_is_told_with_its_water_and_what_it_gives(bag):
    text = text_of(bag, bags=3)
    assert "a bag of 25 kg takes 2.995 kg of water to add and gives 13.5 L" in text


def test_water_is_held_against_the_binder_where_there_is_pozzolan(tmp_path):
    path = tmp_path / "fume.toml"
    dose = '[[dose]]\ningredient = "silica-fume"\nshare = "10 %"\nbasis = "of_cement"\n'
    path.write_text(
        'name = "fume"\nlayer = "backer"\nplacing = "packed"\nwater = { w_c = 0.33 }\n'
        'air = { share = "5 %" }\n[[dose]]\ningredient = "grey-cement"\nshare = "100 %"\n'
        f'basis = "of_cement"\n{dose}',
        encoding="utf-8",
    )
    assert "; water:cement 0.33, water:binder 0.3\n" in text_of(path, mass="10 kg")


def test_times_are_told_and_estimated(bag):
    text = text_of(bag, bags=1, temperature="30 C")
    assert "pot life 25 min at 20 C, about 15 min at 30 C (an estimate)" in text
    assert "wait 40 min before the next layer at 20 C\n" in text
    assert "mixing times not told: the products' data sheets rule" in text
    cold = text_of(bag, bags=1, temperature="41 F", system=System.US)
    assert "pot life 25 min at 68 F\n" in cold
    assert "wait 40 min before the next layer at 68 F, about 1 h 37 min at 41 F" in cold


def test_a_pot_life_not_told_is_left_to_the_data_sheets():
    assert "pot life not told: the products' data sheets rule" in text_of(mass="40 kg")


def test_a_coat_is_told_by_its_weight():
    metric = text_of("face-coat-sprayed", mass="20 kg", coat="4 mm")
    assert "a coat of 4 mm weighs 8.334 kg/m²; on a board of 300 x 300 mm 750.1 g" in metric
    us = text_of("face-coat-sprayed", mass="44 lb", coat="3/16 in", system=System.US)
    assert "a coat of 3/16 in weighs 2 lb 0.52 oz/sq ft" in us
    plain = text_of("face-coat-sprayed", mass="20 kg")
    assert "1 mm of it weighs 2.084 kg/m²" in plain


def test_temperature_ice_and_drying_are_told():
    text = text_of(
        mass="40 kg",
        at={"all": "32 C", "water": "15 C"},
        wanted="20 C",
        air="30 C",
        humidity="40 %",
        wind="10 km/h",
    )
    assert "the mix comes to 20 C with 871.9 g of ice, 16.3 % of all water" in text
    assert "setting takes" not in text
    assert "setting takes about 2.3 times what" in text_of(mass="40 kg", at={"all": "6 C"})
    # 38^2.5 - 0.4 x 48^2.5 = 2516.3, times 10 + 4, times 5e-6: 0.176.
    assert "dries at 0.18 kg/m² h (equation of Uno 1998); watch it from 0.5 kg/m² h on" in text
    us = text_of(
        mass="88 lb",
        temperature="80 F",
        air="80 F",
        humidity="30 %",
        wind="10 mph",
        system=System.US,
    )
    assert "lb/sq ft h (equation of Uno 1998); watch it from 0.1 lb/sq ft h on" in us


def test_the_spray_station_is_told():
    text = text_of("backer-sprayed", mass="40 kg", slurry="9.5 kg/min", glass="125 g in 15 s")
    assert "9.5 kg/min of slurry takes 500 g/min of fibre for 5 % of total: 125 g in a bag" in text
    assert "it gives 500 g/min of fibre: 5 % of total" in text
    assert "into the mixer 38 kg, the rest at the gun" in text
