from decimal import Decimal

import pytest

from takeoff.errors import ShopFileError
from takeoff.files.rate_tables import RateTables
from takeoff.files.toml_tables import check_tables, parse_toml
from takeoff.pricing.lines import Terms
from takeoff.pricing.rates import Measure, Rate

SHOP = """
[labour]
hour_price = "38,00"

[terms]
markup = "15 %"
tax = "8.875 %"
minimum_charge = "250.00"

[[rate]]
what = "form boards"
per = "form_m2"
price = "12.50"

[[rate]]
what = "set up forms"
per = "form_ft2"
hours = "0.6 h"

[[rate]]
what = "cut-outs"
per = "opening"
price = 18
labour = true
"""


def read(text=SHOP):
    file = parse_toml(text, name="shop.toml")
    tables = check_tables(file, RateTables)
    faults = tables.rate_faults()
    if faults:
        raise file.refusal(faults)
    return tables


def test_rates_are_read_with_their_unit_and_their_hours():
    assert read().rates() == (
        Rate("form boards", Measure.FORM_M2, Decimal("12.50")),
        Rate("set up forms", Measure.FORM_FT2, Decimal("38.00"), hours_s=2160.0),
        Rate("cut-outs", Measure.OPENING, Decimal(18), labour=True),
    )


def test_terms_are_read_as_they_are_written():
    assert read().terms() == Terms(Decimal("0.15"), Decimal("0.08875"), Decimal("250.00"))


def test_a_shop_that_tells_nothing_charges_nothing_on_top():
    tables = read("")
    assert (tables.rates(), tables.terms()) == ((), Terms())


@pytest.mark.parametrize("measure", Measure)
def test_every_measure_may_be_charged_by(measure):
    [rate] = read(f'[[rate]]\nwhat = "work"\nper = "{measure}"\nprice = "1.00"').rates()
    assert rate.per is measure


def test_one_name_may_be_charged_by_two_measures():
    text = SHOP.replace('per = "opening"', 'per = "batch"').replace("cut-outs", "form boards")
    assert [rate.what for rate in read(text).rates()][::2] == ["form boards"] * 2


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('hour_price = "38,00"', "", r"shop.toml:18: rate\[2\].hours: has no price; .*hour_price"),
        ('hour_price = "38,00"', 'hour_price = "0"', "shop.toml:3: labour.hour_price: must be ab"),
        ('hour_price = "38,00"', 'hour_prise = "38"', 'did you mean "hour_price"'),
        (
            'price = "12.50"',
            'price = "12.50"\nhours = "1 h"',
            r"shop.toml:14: rate\[1\].hours: stands beside a price; keep one",
        ),
        ('price = "12.50"', "", r"shop.toml:10: rate\[1\].price: is missing; give a price, or hou"),
        (
            'hours = "0.6 h"',
            'hours = "0.6 h"\nlabour = false',
            r"shop.toml:19: rate\[2\].labour: cannot be false for hours",
        ),
        ('hours = "0.6 h"', "hours = 0.6", r"shop.toml:18: .*0.6 has no unit"),
        ('hours = "0.6 h"', 'hours = "0 h"', r"rate\[2\].hours: must be above 0"),
        (
            'per = "form_m2"',
            'per = "form_m3"',
            r'shop.toml:12: rate\[1\].per: "form_m3" is not one of .*; did you mean "form_m2"',
        ),
        ('per = "form_m2"', 'per = "furlong"', '"furlong" is not one of form_m2, inner_form_m2'),
        ('per = "form_m2"', "", r"rate\[1\].per: is missing"),
        ('what = "form boards"', 'what = ""', r"rate\[1\].what: must not be empty"),
        ('price = "12.50"', 'price = "12.505"', "more than two decimals; .* pack or measure"),
        (
            'what = "set up forms"',
            'what = "Form boards "',
            r"rate\[2\].what: 'Form boards ' per form_ft2 is there twice, first per form_m2; keep",
        ),
        ('markup = "15 %"', "markup = 15", "15 has no unit"),
        ('markup = "15 %"', 'markup = "1500 %"', "terms.markup: must be at most 1000 %"),
        ('tax = "8.875 %"', 'tax = "8875 %"', "terms.tax: must be at most 100 %,"),
        ('tax = "8.875 %"', 'tex = "8.875 %"', 'terms.tex: unknown key; did you mean "tax"'),
        ('"250.00"', '"-250.00"', "terms.minimum_charge: '-250.00' is not a price"),
    ],
)
def test_a_wrong_entry_is_refused_at_its_line(old, new, message):
    assert SHOP.count(old) == 1
    with pytest.raises(ShopFileError, match=message):
        read(SHOP.replace(old, new))


def test_all_faults_of_the_rates_are_told_at_once():
    with pytest.raises(ShopFileError, match=r"(?s)rate\[1\].price.*rate\[2\].hours") as refused:
        read(SHOP.replace('price = "12.50"', "").replace('hour_price = "38,00"', ""))
    assert len(refused.value.faults) == 2


def test_rates_at_fault_are_left_out_not_taken_as_free():
    text = SHOP.replace('price = "12.50"', "").replace('hour_price = "38,00"', "")
    tables = check_tables(parse_toml(text, name="shop.toml"), RateTables)
    assert [rate.what for rate in tables.rates()] == ["cut-outs"]
