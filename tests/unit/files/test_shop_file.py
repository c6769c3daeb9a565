from decimal import Decimal

import pytest

from takeoff.errors import PriceError, ShopFileError
from takeoff.files.shop_file import read_shop
from takeoff.pricing.buying import buy

SHOP = """
unit = "mm"
kind = "piece"

[[mixer]]
name = "pan"
capacity = "60 L"
residue = "0.4 kg"
suits = ["backer-poured"]

[[scale]]
division = "10 g"

[[scale]]
division = "1 g"

[crew]
hands = 3

[[price]]
ingredient = "white-cement"
pack = "94 lb"
price = "18,40"

[[price]]
ingredient = "silica-sand"
pack = "50 lb"
price = 7.9
"""


def written(tmp_path, text):
    path = tmp_path / "shop.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_shop_is_read_into_si(tmp_path):
    shop = read_shop(written(tmp_path, SHOP))
    [mixer] = shop.mixers
    assert mixer.capacity_m3 == pytest.approx(0.060)
    assert (mixer.residue_kg, mixer.suits) == (0.4, ("backer-poured",))
    assert (shop.unit, shop.kind, shop.hands, shop.division_kg) == ("mm", "piece", 3, 0.001)
    assert shop.packs["white-cement"][0].pack_kg == pytest.approx(94 * 0.45359237)
    assert shop.packs["white-cement"][0].price == Decimal("18.40")
    assert shop.packs["silica-sand"][0].price == Decimal("7.9")


def test_a_missing_price_is_refused_at_the_last_that_is_there(tmp_path):
    path = written(tmp_path, SHOP)
    with pytest.raises(PriceError, match="no pack and price for oxide; give each in the") as said:
        buy({"oxide": 1.0, "white-cement": 1.0}, read_shop(path).packs)
    assert said.value.where == f"{path}:25"
    assert SHOP.split("\n")[24:26] == ["[[price]]", 'ingredient = "silica-sand"']


def test_a_missing_price_names_a_shop_that_has_none(tmp_path):
    path = written(tmp_path, SHOP.partition("[[price]]")[0])
    with pytest.raises(PriceError, match="no pack and price for oxide") as said:
        buy({"oxide": 1.0}, read_shop(path).packs)
    assert said.value.where == str(path)


def test_scales_keep_the_words_they_are_told_in(tmp_path):
    text = SHOP.replace('division = "10 g"', 'division = "10 g"\ncapacity = "66 lb"', 1)
    scales = read_shop(written(tmp_path, text)).scales
    assert [scale.name for scale in scales] == ["10 g", "1 g"]
    assert scales[0].capacity_kg == pytest.approx(66 * 0.45359237)
    assert scales[1].capacity_kg == float("inf")


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('division = "10 g"', "division = 10", r"shop.toml:12: .*10 has no unit; write it in quo"),
        (
            'division = "10 g"',
            'division = "10 g"\ncapacity = "5 g"',
            r"shop.toml:13: scale\[1\].capacity: must be at least the division",
        ),
        ('capacity = "60 L"', "capacity = 60", r"shop.toml:7: mixer\[1\].capacity: 60 has no unit"),
        ('capacity = "60 L"', 'capacity = "0 L"', r"shop.toml:7: .*must be above 0"),
        ('residue = "0.4 kg"', 'resdue = "0.4 kg"', r'unknown key; did you mean "residue"'),
        ('division = "10 g"', 'division = "0 g"', r"shop.toml:12: .*must be above 0"),
        ("hands = 3", "hands = 0", r"shop.toml:18: crew.hands"),
        ('pack = "94 lb"', 'pack = "bag"', r"shop.toml:22: price\[1\].pack: cannot read 'bag'"),
        ('pack = "94 lb"', 'pack = "0 lb"', "holds nothing"),
        ('price = "18,40"', 'price = "-1"', "'-1' is not a price"),
        ('price = "18,40"', 'price = "free"', "'free' is not a price"),
        ('price = "18,40"', "price = true", "is not a price"),
        ('price = "18,40"', 'price = "1,200"', "can be read two ways; write 1200.00 or 1.20"),
        ('price = "18,40"', 'price = "14.205"', "more than two decimals"),
        ('name = "pan"', 'name = "p\\u001ban"', "which cannot be printed"),
        (
            'ingredient = "silica-sand"\npack = "50 lb"',
            'ingredient = "white-cement"\npack = "94 lb"',
            r"shop.toml:26: price\[2\].ingredient: 'white-cement' is priced twice by 94 lb",
        ),
        ('kind = "piece"', 'kind = "solid"', "shop.toml:3: kind"),
    ],
)
def test_a_wrong_entry_is_refused_at_its_line(tmp_path, old, new, message):
    assert old in SHOP
    with pytest.raises(ShopFileError, match=message):
        read_shop(written(tmp_path, SHOP.replace(old, new, 1)))


def test_a_shop_without_a_mixer_is_refused(tmp_path):
    with pytest.raises(ShopFileError, match="mixer: is missing"):
        read_shop(written(tmp_path, "[crew]\nhands = 1\n"))


def test_two_mixers_of_one_name_are_refused(tmp_path):
    mixer = '[[mixer]]\nname = "pan"\ncapacity = "60 L"\n'
    with pytest.raises(ShopFileError, match=r"shop.toml:5: mixer\[2\].name: 'pan' is there twice"):
        read_shop(written(tmp_path, mixer + mixer))
