"""Mixes are read from shipped names and shops' files; what is wrong is told at its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from takeoff.errors import ShopFileError
from takeoff.files.mix_file import read_mix
from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Basis, Placing, Use
from takeoff.mix.volumes import bag_yield_m3
from takeoff.mix.weighing import weigh_out
from takeoff.notes import NoteCode

OURS = """\
name = "our-backer"
layer = "backer"
placing = "packed"
pot_life = "25 min"

[water]
share = "16 %"
basis = "of_dry"

[air]
share = "4 %"

[ingredient.our-sand]
role = "sand"
density = "2.62 kg/L"

[ingredient.flow]
role = "plasticizer"
density = "1080 kg/m3"
solids = "40 %"

[[dose]]
ingredient = "grey-cement"
share = "100 %"
basis = "of_cement"

[[dose]]
ingredient = "our-sand"
share = "100 %"
basis = "of_cement"

[[dose]]
ingredient = "acrylic-dispersion"
solids = "6 %"
basis = "of_cement"

[[dose]]
ingredient = "flow"
share = "0.5 %"
basis = "of_dry"

[[dose]]
ingredient = "pva-fibre"
share = "1.5 %"
basis = "of_total"
"""

BAGGED = """\
kind = "premix"
name = "our-grey"
layer = "backer"
placing = "poured"

[bag]
name = "grey-premix"
mass = "50 lb"
yield = "12 L"
water = "3 L"

[[dose]]
ingredient = "ar-glass-fibre"
share = "3 %"
basis = "of_dry"
"""


@pytest.fixture
def read(tmp_path):
    """Read a mix from a text."""

    def read_text(text):
        path = tmp_path / "mix.toml"
        path.write_text(text, encoding="utf-8")
        return read_mix(path)

    return read_text


def masses_of(sheet):
    """Give the masses by ingredient, the parts of the water together."""
    masses_kg = {}
    for line in sheet.lines:
        name = line.charge.ingredient.name
        masses_kg[name] = masses_kg.get(name, 0.0) + line.mass_kg
    return masses_kg


def refusal_of(read, text):
    """Give the lines of the refusal, from the line number on."""
    with pytest.raises(ShopFileError, match=r"mix\.toml") as refusal:
        read(text)
    return [line.split("mix.toml:", 1)[1] for line in str(refusal.value).split("\n")]


def test_a_mix_from_ingredients_is_read(read):
    mix = read(OURS)
    assert (mix.name, mix.placing, mix.pot_life_s) == ("our-backer", Placing.PACKED, 1500.0)
    assert (mix.air_share, mix.water.share, mix.water.basis) == (0.04, 0.16, Basis.OF_DRY)
    sand, flow = mix.doses[1].ingredient, mix.doses[3].ingredient
    assert (sand.role, sand.density_kg_m3) == (Role.SAND, 2620.0)
    assert flow.water_share == pytest.approx(0.6)


def test_solids_of_a_liquid_are_weighed_with_their_water(read):
    # 6 % solids at 48 % solids is 12.5 % of liquid.
    assert read(OURS).doses[2].share == pytest.approx(0.125)


def test_water_by_w_c_is_counted_on_cement(read):
    mix = read(OURS.replace('share = "16 %"\nbasis = "of_dry"', "w_c = 0.32"))
    assert (mix.water.share, mix.water.basis) == (0.32, Basis.OF_CEMENT)


def test_a_figure_of_a_shop_may_tell_its_source(read):
    told = OURS.replace(
        'density = "2.62 kg/L"',
        'density = { value = "2.62 kg/L", source = "our sieve test", seen = false }',
    )
    (note,) = [note for note in read(told).notes if "our-sand" in note.text]
    assert note.code is NoteCode.FROM_MEMORY


def test_an_own_ingredient_goes_before_a_shipped_one(read):
    mix = read(OURS.replace("our-sand", "silica-sand"))
    assert mix.doses[1].ingredient.density_kg_m3 == 2620.0


def test_a_premix_is_read_by_its_bag(read):
    mix = read(BAGGED)
    assert mix.bag.mass_kg == pytest.approx(22.6796185)
    assert mix.doses[0].ingredient.name == "grey-premix"
    # 0.68 kg of fibre at 2700 kg/m3 beside the 12 L of the bag.
    assert bag_yield_m3(mix) == pytest.approx(0.012 + 0.03 * 22.6796185 / 2700.0)
    assert masses_of(weigh_out(mix, bags=2)) == pytest.approx(
        {"water": 2 * 3 * 0.9982, "grey-premix": 45.359237, "ar-glass-fibre": 1.36077711}
    )


def test_the_kind_may_be_left_out(read):
    assert read(BAGGED.replace('kind = "premix"\n', "")).bag is not None


def test_water_of_a_bag_may_be_weighed(read):
    by_mass = weigh_out(read(BAGGED.replace('"3 L"', '"2.9946 kg"')), bags=1)
    by_volume = weigh_out(read(BAGGED), bags=1)
    assert by_mass.water_to_add_kg == pytest.approx(by_volume.water_to_add_kg)


def test_water_per_bag_stays_with_the_bag_when_powder_is_added(read):
    # 2 % of dry is powder polymer: a bag then goes with 1/0.98 of its mass in dry.
    added = '\n[[dose]]\ningredient = "acrylic-powder"\nshare = "2 %"\nbasis = "of_dry"\n'
    sheet = weigh_out(read(BAGGED + added), bags=1)
    masses_kg = masses_of(sheet)
    assert masses_kg["grey-premix"] == pytest.approx(22.6796185)
    assert masses_kg["acrylic-powder"] == pytest.approx(22.6796185 * 0.02 / 0.98)
    assert masses_kg["water"] == pytest.approx(3 * 0.9982)


def test_air_that_a_bag_does_not_tell_is_noted(read):
    first, *_ = read(BAGGED).notes
    assert first.code is NoteCode.DEFAULT_USED
    assert "the yield of the bag is taken to hold its air" in first.text
    told = read(BAGGED + '\n[air]\nshare = "3 %"').notes
    assert NoteCode.DEFAULT_USED not in {note.code for note in told}


def test_cement_that_a_bag_tells_may_be_dosed_on(read):
    text = BAGGED.replace("of_dry", "of_cement").replace("[bag]", '[bag]\ncement = "50 %"')
    assert read(text).doses[0].ingredient.cement_share == 0.5


@pytest.mark.parametrize(
    ("old", "new", "refusal"),
    [
        ('basis = "of_total"\n', "", "42: dose[5].basis: is missing"),
        ('"of_total"', '"of_all"', '45: dose[5].basis: "of_all" is not one of of_dry, of_cement'),
        ('"1.5 %"', '"-1.5 %"', "44: dose[5].share: cannot read '-1.5 %' as a share: it is neg"),
        ('"1.5 %"', '"0 %"', '44: dose[5].share: must be above 0, found "0 %"'),
        ('"1.5 %"', "0.015", "44: dose[5].share: 0.015 has no unit"),
        ('"1.5 %"', '"1.5 kg"', "44: dose[5].share: cannot read '1.5 kg' as a share"),
        ('"1.5 %"', '"90 %"', "42: dose[5]: pva-fibre would be 90 % of the total mass; at most 15"),
        ('share = "1.5 %"', 'shaer = "1.5 %"', '44: dose[5].shaer: unknown key; did you mean "sh'),
        ('share = "1.5 %"\n', "", "42: dose[5]: give either share, as weighed, or solids"),
        ('solids = "6 %"', 'solids = "6 %"\nshare = "6 %"', "32: dose[3]: give either share"),
        ('"16 %"', '"1600 %"', "6: water: water is 32 times the cement; at most 1.2"),
        ('"16 %"', '"1 %"', "6: water: the liquids alone bring"),
        ('share = "16 %"', "w_c = 0.3", "6: water: give either w_c = 0.33, or share and basis"),
        ('"4 %"', '"40 %"', "10: air: air is 40 % of the volume; at most 30 % is credible"),
        ('"4 %"', '"140 %"', '11: air.share: must be below 100 %, found "140 %"'),
        ('"25 min"', "25", '4: pot_life: 25 has no unit; write it in quotes with one, like "25'),
        ('"25 min"', '"0 min"', '4: pot_life: must be above 0, found "0 min"'),
        ('"packed"', '"thrown"', '3: placing: "thrown" is not one of sprayed, packed, poured'),
        ('"backer"', '"core"', '2: layer: "core" is not one of face_coat, backer'),
        ('"pva-fibre"', '"pva-fiber"', '43: dose[5].ingredient: "pva-fiber" is not described'),
        ('"pva-fibre"', '"our-sand"', '43: dose[5].ingredient: "our-sand" is dosed twice'),
        ('"pva-fibre"', '"water"', "43: dose[5].ingredient: water is not a dose"),
        ('"2.62 kg/L"', '"2.62 kg/m3"', "27: dose[2]: the density of our-sand is 2.62 kg/m3"),
        ('"2.62 kg/L"', "2620", "15: ingredient.our-sand.density: 2620 has no unit"),
        ('role = "sand"', 'role = "stone"', '14: ingredient.our-sand.role: "stone" is not one of'),
        ('role = "sand"', 'role = "sand"\nsolids = "9 %"', "may be a liquid, not sand"),
        ('share = "100 %"', 'share = "90 %"', "1: the cements add up to 90 % of cement"),
        ("[air]", "[airs]", '10: airs: unknown key; did you mean "air"?'),
        ('name = "our-backer"', 'kind = "premx"', '1: kind: "premx" is not one of ingredients, pr'),
        ('name = "our-backer"', "kind = [1]", "1: kind: a list is not one of ingredients, premix"),
    ],
)
def test_what_is_wrong_is_told_at_its_line(read, old, new, refusal):
    assert OURS.count(old) >= 1
    assert any(refusal in line for line in refusal_of(read, OURS.replace(old, new)))


@pytest.mark.parametrize(
    ("old", "new", "refusal"),
    [
        ('"12 L"', '"3 L"', "6: bag: 2.9946 kg of water and the air leave no room"),
        ('"12 L"', '"40 L"', "only 1000 to 3500 kg/m3 is credible; check mass, yield"),
        ('"12 L"', "12", "9: bag.yield: 12 has no unit"),
        ('"3 L"', "3", '10: bag.water: must be text with a unit, like "3 L" or "3 kg", found 3'),
        ('"3 L"', '"3 m"', "10: bag.water: cannot read '3 m'"),
        ('yield = "12 L"\n', "", "6: bag.yield: is missing"),
        ("yield", "yeild", '9: bag.yeild: unknown key; did you mean "yield"?'),
        ('"of_dry"', '"of_cement"', "15: dose[1].basis: the bag does not say its cement"),
        (
            '"ar-glass-fibre"\nshare = "3 %"\nbasis = "of_dry"',
            '"silica-sand"\nshare = "3 %"\nbasis = "of_total"',
            '15: dose[1].basis: must be "of_dry" for a dry ingredient beside a premix',
        ),
        (
            '"ar-glass-fibre"\nshare = "3 %"',
            '"silica-sand"\nshare = "100 %"',
            "6: bag: the dry doses beside the premix leave nothing of it",
        ),
        (
            '"ar-glass-fibre"\nshare = "3 %"',
            '"acrylic-dispersion"\nshare = "60 %"',
            "10: bag.water: the liquids alone bring",
        ),
    ],
)
def test_what_is_wrong_with_a_bag_is_told_at_its_line(read, old, new, refusal):
    assert old in BAGGED
    assert any(refusal in line for line in refusal_of(read, BAGGED.replace(old, new)))


def test_all_faults_are_told_at_once(read):
    text = OURS.replace('"pva-fibre"', '"pva"').replace(
        'role = "sand"', 'role = "sand"\nsolids = "9 %"'
    )
    assert [line.split(":")[0] for line in refusal_of(read, text)] == ["13", "44"]


def test_a_fault_of_the_kind_hides_no_other(read):
    text = OURS.replace('name = "our-backer"', 'kind = "premx"').replace('"1.5 %"', "0.015")
    lines = refusal_of(read, text)
    assert [line.split(":")[1] for line in lines] == [" kind", " name", " dose[5].share"]


def test_a_figure_absurd_by_itself_is_told_with_the_faults(read):
    text = OURS.replace('"4 %"', '"40 %"').replace('share = "16 %"\nbasis = "of_dry"', "w_c = 3")
    text = text.replace('"1.5 %"', '"90 %"').replace('solids = "40 %"', 'solid = "40 %"')
    assert [line.split(";")[0] for line in refusal_of(read, text)] == [
        "6: water: water is 3 times the cement",
        "9: air: air is 40 % of the volume",
        "19: ingredient.flow.solid: unknown key",
        "41: dose[5]: pva-fibre would be 90 % of the total mass",
    ]


def test_each_fault_is_had_apart(read):
    text = OURS.replace('basis = "of_total"\n', "").replace('"packed"', '"thrown"')
    with pytest.raises(ShopFileError, match="thrown") as refusal:
        read(text)
    places = [(where.split("mix.toml:")[1], said[:20]) for where, said in refusal.value.faults]
    assert places == [("3", 'placing: "thrown" is'), ("42", "dose[5].basis: is mi")]


WET = OURS + '\n[moisture.our-sand]\nfree = "4 %"\nabsorption = "0.25 %"\n'


def test_moisture_of_a_sand_is_weighed_and_taken_off_the_water(read):
    dry, wet = (masses_of(weigh_out(read(text), mass_kg=50.0)) for text in (OURS, WET))
    sand = read(WET).doses[1]
    assert sand.share == pytest.approx(1.0425)
    assert wet["our-sand"] / wet["grey-cement"] == pytest.approx(1.0425)
    assert wet["water"] / wet["grey-cement"] == pytest.approx(
        dry["water"] / dry["grey-cement"] - 0.04
    )


def test_sand_may_be_drier_than_saturated(read):
    mix = read(WET.replace('free = "4 %"', 'free = "-0.25 %"'))
    assert mix.doses[1].share == pytest.approx(1.0)
    assert mix.doses[1].ingredient.water_share == pytest.approx(-0.0025)


TIMED = OURS.replace(
    'pot_life = "25 min"',
    'pot_life = "25 min"\nwait = "40 min"\nuse = "cladding"\nheld_back = "15 %"\n'
    'mixing = { mix = "3 min", rest = "5 min" }',
)


def test_times_use_and_water_held_back_are_read(read):
    # Common practice, no source: a rest of about 5 min.
    mix = read(TIMED)
    assert (mix.wait_s, mix.use, mix.held_back_share) == (2400.0, Use.CLADDING, 0.15)
    assert (mix.mixing.mix_s, mix.mixing.rest_s, mix.mixing.again_s) == (180.0, 300.0, 0.0)


@pytest.mark.parametrize(
    ("text", "old", "new", "refusal"),
    [
        (
            WET,
            "moisture.our-sand",
            "moisture.our-snad",
            "47: moisture.our-snad: is of no sand of t",
        ),
        (WET, "moisture.our-sand", "moisture.flow", "47: moisture.flow: is of no sand of this mix"),
        (
            WET,
            'free = "4 %"',
            'free = "60 %"',
            "47: moisture.our-sand: a moisture is a share below 0.5",
        ),
        (
            WET,
            'free = "4 %"',
            'free = "-1 %"',
            "47: moisture.our-sand: sand that holds 0.25 % when saturated",
        ),
        (
            WET,
            'free = "4 %"',
            "free = 0.04",
            '48: moisture.our-sand.free: must be text with a unit, like "4 %"',
        ),
        (WET, "free =", "fre =", '48: moisture.our-sand.fre: unknown key; did you mean "free"?'),
        (TIMED, '"3 min"', '"0 min"', "8: mixing.mix: must be above 0"),
        (TIMED, '"3 min", rest', '"3 min", rust', "8: mixing.rust: unknown key"),
        (TIMED, '"40 min"', '"0 s"', "5: wait: must be above 0"),
        (TIMED, '"15 %"', '"100 %"', '7: held_back: must be below 100 %, found "100 %"'),
        (TIMED, '"cladding"', '"facade"', '"facade" is not one of cladding, other'),
        (
            OURS,
            'basis = "of_total"',
            'basis = "of_total"\nat_gun = true',
            "46: dose[5].at_gun: is for placing",
        ),
        (
            OURS,
            'ingredient = "flow"\n',
            'ingredient = "flow"\nat_gun = true\n',
            "dose[4].at_gun: is for fibre, not for plasticizer",
        ),
        (OURS, 'role = "sand"', 'role = "fibre"', "13: ingredient.our-sand: a fibre says how it b"),
        (OURS, 'role = "sand"', 'role = "sand"\nfibre = "pva"', "only a fibre says how it disp"),
    ],
)
def test_what_is_wrong_with_stock_and_times_is_told_at_its_line(read, text, old, new, refusal):
    assert old in text
    assert any(refusal in line for line in refusal_of(read, text.replace(old, new, 1)))


def test_a_fibre_of_a_shop_says_how_it_disperses(read):
    own = '[ingredient.soft]\nrole = "fibre"\ndensity = "1300 kg/m3"\nfibre = "pva"\n\n[[dose]]'
    mix = read(OURS.replace("[[dose]]", own, 1).replace('"pva-fibre"', '"soft"'))
    sheet = weigh_out(mix, mass_kg=40.0)
    assert [line.name for line in sheet.lines][:2] == ["water", "soft"]


@pytest.mark.parametrize(
    ("name", "refusal"),
    [
        ("backer-pourd", r'neither a shipped mix nor a mix file; did you mean "backer-poured"\?'),
        ("xyz", "known: backer-packed, backer-poured, "),
        ("", "neither a shipped mix nor a mix file"),
        ("no-such.toml", "no-such.toml: there is no such file"),
        ("x" * 5000, "neither a shipped mix"),
    ],
    ids=["near", "far", "empty", "file", "long"],
)
def test_what_is_no_mix_is_refused(name, refusal):
    with pytest.raises(ShopFileError, match=refusal):
        read_mix(name)


def test_a_folder_is_no_mix(tmp_path):
    with pytest.raises(ShopFileError, match="is a folder"):
        read_mix(tmp_path)


def test_a_shipped_name_and_its_path_are_one_mix():
    path = Path(__file__).parents[3] / "takeoff" / "data" / "mixes" / "backer-poured.toml"
    assert read_mix(path) == read_mix("backer-poured")
