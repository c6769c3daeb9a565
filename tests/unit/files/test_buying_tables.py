"""What a shop file says of packs, prices and stock."""

from datetime import date
from decimal import Decimal

import pytest

from takeoff.errors import ShopFileError
from takeoff.files.shop_file import read_shop
from takeoff.pricing.packs import Pack
from takeoff.pricing.stock import Stock

SHOP = """
[[mixer]]
name = "pan"
capacity = "60 L"

[[price]]
ingredient = "white-cement"
pack = "25 kg"
price = "14.20"

[[price]]
ingredient = "oxide"
pack = "2 kg"
price = "31.50"
one_lot = false

[[price]]
ingredient = "white-cement"
pack = "1 t"
price = "410"
one_lot = true

[[stock]]
ingredient = "oxide"
mass = "1.5 kg"
opened = "2026-10-01"
use_by = 2027-03-01
lot = "A 17"

[[stock]]
ingredient = "white-cement"
mass = "12 kg"
"""


@pytest.fixture
def read(tmp_path):
    def written(text=SHOP):
        path = tmp_path / "shop.toml"
        path.write_text(text, encoding="utf-8")
        return read_shop(path)

    return written


def test_several_packs_of_one_ingredient_are_kept_as_written(read):
    shop = read()
    bag = Pack("white-cement", 25.0, "25 kg", Decimal("14.20"))
    assert shop.packs == {
        "white-cement": (bag, Pack("white-cement", 1000.0, "1 t", Decimal("410"))),
        "oxide": (Pack("oxide", 2.0, "2 kg", Decimal("31.50")),),
    }


def test_stock_is_read_into_si_with_its_days(read):
    oxide, cement = read().stock
    assert oxide == Stock("oxide", 1.5, date(2026, 10, 1), date(2027, 3, 1), "A 17")
    assert cement == Stock("white-cement", 12.0, None, None, None)


def test_one_lot_is_what_is_told_and_nothing_else(read):
    assert read().one_lot == {"oxide": False, "white-cement": True}
    untold = SHOP.replace("one_lot = false\n", "").replace("one_lot = true\n", "")
    assert read(untold).one_lot == {}


def test_a_shop_may_tell_neither_prices_nor_stock(read):
    shop = read(SHOP[: SHOP.index("[[price]]")])
    assert (shop.packs, shop.stock, shop.one_lot) == ({}, (), {})


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (
            'pack = "1 t"',
            'pack = "25000 g"',
            r"shop.toml:18: price\[3\].ingredient: 'white-cement' is priced twice by 25 kg; keep",
        ),
        ('pack = "2 kg"', 'pack = "0 kg"', r"shop.toml:13: price\[2\].pack: '0 kg' holds nothing"),
        ('pack = "2 kg"', "pack = 2", r"shop.toml:13: .*2 has no unit; write it in quotes with"),
        ('pack = "2 kg"', 'pack = "2 L"', r"shop.toml:13: price\[2\].pack: "),
        ("one_lot = false", 'one_lot = "no"', r"shop.toml:15: .*must be true or false"),
        (
            '"14.20"',
            '"14.20"\none_lot = false',
            r"shop.toml:22: price\[3\].one_lot: is told both ways for 'white-cement'; keep one",
        ),
        ("one_lot = false", "onelot = false", 'did you mean "one_lot"'),
        ('mass = "1.5 kg"', 'mass = "0 kg"', r"shop.toml:25: stock\[1\].mass: must be above 0"),
        ('mass = "1.5 kg"', "mass = 1.5", "1.5 has no unit"),
        ('mass = "1.5 kg"\n', "", r"shop.toml:23: stock\[1\].mass: is missing"),
        ('lot = "A 17"', "lot = 17", r"shop.toml:28: stock\[1\].lot: must be text in quotes"),
        ('"2026-10-01"', '"1.10.2026"', "must be a date like 2026-11-25, found .1.10.2026"),
        ('"2026-10-01"', '"20261001"', "must be a date like 2026-11-25"),
        ('"2026-10-01"', '"0"', "must be a date like 2026-11-25"),
        ('"2026-10-01"', "5", "must be a date like 2026-11-25, found 5"),
        ('"2026-10-01"', "2026-10-01T08:00:00", "must be a date like 2026-11-25"),
        ('"2026-10-01"', '"2026-02-30"', r"shop.toml:26: .*'2026-02-30' is not in the calendar"),
        ('"2026-10-01"', '"2027-03-02"', r"shop.toml:26: stock\[1\].opened: is after its use_by"),
        ('mass = "12 kg"', 'mass = "12 kg"\nuseby = 2027-01-01', 'did you mean "use_by"'),
    ],
)
def test_a_wrong_entry_is_refused_at_its_line(read, old, new, message):
    assert SHOP.count(old) == 1
    with pytest.raises(ShopFileError, match=message):
        read(SHOP.replace(old, new))


def test_stock_of_what_is_not_priced_is_refused_with_the_nearest_name(read):
    slip = SHOP.replace('[[stock]]\ningredient = "oxide"', '[[stock]]\ningredient = "oxyde"')
    place = r"shop.toml:24: stock\[1\].ingredient: "
    with pytest.raises(ShopFileError, match=rf"{place}'oxyde' has no .*did you mean \"oxide\"\?"):
        read(slip)
    unpriced = SHOP[: SHOP.index("[[price]]")] + SHOP[SHOP.index("[[stock]]") :]
    with pytest.raises(
        ShopFileError, match=r"'oxide' has no \[\[price\]\]; give it one"
    ) as refused:
        read(unpriced)
    assert len(refused.value.faults) == 2
