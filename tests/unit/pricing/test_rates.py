from decimal import Decimal
from fractions import Fraction

import pytest

from takeoff.errors import PriceError, QuantityError
from takeoff.pricing.lines import LineKind, Terms, line_of, price_up, total_of
from takeoff.pricing.rates import Measure, Rate, is_priced, rate_lines
from takeoff.unit_tables import AREA, LENGTH, MASS

METRIC_OF_US = {
    "form_ft2": "form_m2",
    "inner_form_ft2": "inner_form_m2",
    "casting_ft2": "casting_m2",
    "show_face_ft2": "show_face_m2",
    "return_ft2": "return_m2",
    "upright_ft2": "upright_m2",
    "release_ft2": "release_m2",
    "sealer_ft2": "sealer_m2",
    "arris_ft": "arris_m",
    "bead_ft": "bead_m",
    "lb": "kg",
}


def rate(what, per, price, **told):
    return Rate(what, Measure(per), Decimal(price), **told)


def charges(lines):
    return [(line.what, str(line.quantity), str(line.amount)) for line in lines]


def test_every_us_measure_is_taken_from_its_metric_one():
    taken = {measure.value: measure.told_as.value for measure in Measure}
    assert {us: si for us, si in taken.items() if us != si} == METRIC_OF_US


def test_every_measure_has_words_of_its_own():
    words = [measure.unit for measure in Measure]
    assert len(set(words)) == len(Measure)
    assert all(words)


@pytest.mark.parametrize(
    ("per", "unit"),
    [
        ("form_m2", "m² of form"),
        ("inner_form_ft2", "sq ft of inner form"),
        ("casting_m2", "m² of casting"),
        ("arris_ft", "ft of arris"),
        ("bead_m", "m of bead"),
        ("release_m2", "m² released"),
        ("sealer_ft2", "sq ft sealed"),
        ("lb", "lb"),
        ("kg", "kg"),
        ("opening", "opening"),
        ("hour", "h"),
        ("job", "job"),
    ],
)
def test_a_measure_is_written_as_the_trade_writes_it(per, unit):
    assert Measure(per).unit == unit


@pytest.mark.parametrize(
    ("per", "kind", "symbol"),
    [
        ("form_ft2", AREA, "ft2"),
        ("sealer_ft2", AREA, "ft2"),
        ("bead_ft", LENGTH, "ft"),
        ("lb", MASS, "lb"),
    ],
)
def test_a_us_measure_is_of_exact_size(per, kind, symbol):
    [size] = [unit.size for unit in kind.units if unit.symbol == symbol]
    told = float(size * 1000)
    [line] = rate_lines([rate("work", per, "1.00")], {Measure(per).told_as: told})
    assert (line.quantity, line.amount) == (1000, Decimal("1000.00"))
    assert size in {Fraction(9290304, 10**8), Fraction(3048, 10**4), Fraction(45359237, 10**8)}


def test_a_counter_in_metric_is_priced_by_hand():
    lines = rate_lines(
        [
            rate("form boards", "form_m2", "12.50"),
            rate("set up forms", "form_m2", "38.00", hours_s=2160.0),
            rate("spray and pack", "casting_m2", "38.00", hours_s=1500.0),
            rate("cut-outs", "opening", "18.00", labour=True),
        ],
        {Measure.FORM_M2: 7.81, Measure.CASTING_M2: 23.43, Measure.OPENING: 3},
    )
    assert charges(lines) == [
        ("form boards", "7.81", "97.63"),  # 7.81 x 12.50 = 97.625
        ("set up forms", "4.686", "178.07"),  # 7.81 x 0.6 h = 4.686 h; x 38.00 = 178.068
        ("spray and pack", "9.763", "370.99"),  # 23.43 x 25/60 h = 9.7625 h; 9.763 x 38 = 370.994
        ("cut-outs", "3", "54.00"),  # 3 x 18.00
    ]
    assert [line.kind for line in lines] == [
        LineKind.RATE,
        LineKind.LABOUR,
        LineKind.LABOUR,
        LineKind.LABOUR,
    ]
    bought = [
        line_of("white-cement", Decimal(5), "pack of 25 kg", Decimal("14.20"), LineKind.MATERIAL),
        line_of("silica-sand", Decimal(4), "pack of 25 kg", Decimal("7.90"), LineKind.MATERIAL),
        line_of("brackets", Decimal(6), "item", Decimal("3.20"), LineKind.ITEM),
    ]
    bid = price_up([*bought, *lines], Terms(Decimal("0.15"), Decimal("0.2"), Decimal("250.00")))
    # 71.00 + 31.60 + 19.20 + 97.63 + 178.07 + 370.99 + 54.00 = 822.49
    # 15 % of 822.49 = 123.3735 -> 123.37; sum 945.86, above the minimum of 250.00
    # 20 % of 945.86 = 189.172 -> 189.17; total 1135.03
    assert [line.amount for line in bid[-2:]] == [Decimal("123.37"), Decimal("189.17")]
    assert total_of(bid) == Decimal("1135.03")


def test_a_hearth_in_us_units_is_priced_by_hand():
    lines = rate_lines(
        [
            rate("form boards", "form_ft2", "4.75"),
            rate("bead", "bead_ft", "0.35"),
            rate("freight", "lb", "0.12"),
            rate("cast", "casting_ft2", "52.00", hours_s=180.0),
        ],
        {
            Measure.FORM_M2: 1.6103,
            Measure.BEAD_M: 8.412,
            Measure.KG: 61.8,
            Measure.CASTING_M2: 1.6103,
        },
    )
    assert charges(lines) == [
        ("form boards", "17.333", "82.33"),  # 1.6103 / 0.09290304 = 17.33312; x 4.75 = 82.33175
        ("bead", "27.598", "9.66"),  # 8.412 / 0.3048 = 27.59843; x 0.35 = 9.6593
        ("freight", "136.246", "16.35"),  # 61.8 / 0.45359237 = 136.24568; x 0.12 = 16.34952
        ("cast", "0.867", "45.08"),  # 17.333 x 0.05 h = 0.86665 h; 0.867 x 52.00 = 45.084
    ]
    assert lines[3].basis == "17.333 sq ft of casting x 0.05 h"
    bid = price_up(lines, Terms(tax_share=Decimal("0.08875"), minimum_charge=Decimal("400.00")))
    # 82.33 + 9.66 + 16.35 + 45.08 = 153.42; to 400.00 lack 246.58
    # 8.875 % of 400.00 = 35.50; total 435.50
    assert [line.amount for line in bid[-2:]] == [Decimal("246.58"), Decimal("35.50")]
    assert total_of(bid) == Decimal("435.50")


def test_panels_with_a_spare_are_priced_by_hand():
    lines = rate_lines(
        [
            rate("form", "form", "210.00"),
            rate("crate", "piece", "12.35"),
            rate("cast and strip", "piece", "41.50", hours_s=4800.0),
            rate("crane", "day", "35.00"),
            rate("mixer wear", "batch", "6.50"),
            rate("freight", "kg", "0.05"),
            rate("drawing", "job", "95.00"),
        ],
        {
            Measure.FORM: 1,
            Measure.PIECE: 7,
            Measure.DAY: 2,
            Measure.BATCH: 12,
            Measure.KG: 774.6,
            Measure.JOB: 1,
        },
    )
    assert charges(lines) == [
        ("form", "1", "210.00"),
        ("crate", "7", "86.45"),  # 6 and a spare, x 12.35
        ("cast and strip", "9.333", "387.32"),  # 7 x 80/60 h = 9.3333 h; 9.333 x 41.50 = 387.3195
        ("crane", "2", "70.00"),
        ("mixer wear", "12", "78.00"),
        ("freight", "774.6", "38.73"),
        ("drawing", "1", "95.00"),
    ]
    # 210.00 + 86.45 + 387.32 + 70.00 + 78.00 + 38.73 + 95.00 = 965.50
    assert total_of(price_up(lines, Terms())) == Decimal("965.50")


@pytest.mark.parametrize(
    ("hours_s", "written"),
    [
        (2160.0, "0.6 h"),
        (4500.0, "1.25 h"),
        (1200.0, "20 min"),
        (4800.0, "80 min"),
        (10.0, "10 s"),
        (0.0001, "0 s"),
    ],
)
def test_the_hours_of_a_line_say_what_they_were_reckoned_from(hours_s, written):
    [line] = rate_lines([rate("seal", "piece", "30.00", hours_s=hours_s)], {Measure.PIECE: 3})
    assert line.basis == f"3 piece x {written}"


def test_a_rate_on_nothing_is_a_line_of_nothing():
    [line] = rate_lines([rate("cut-outs", "opening", "18.00")], {Measure.OPENING: 0})
    assert (str(line.quantity), str(line.amount)) == ("0", "0.00")


def test_rates_by_what_is_not_counted_are_named_at_once():
    rates = [
        rate("crane", "day", "35.00"),
        rate("boards", "form_ft2", "4.75"),
        rate("wash", "batch", "6.50"),
    ]
    told = r"charged by: 'crane' per day, 'wash' per batch; .* counts: form_m2, form_ft2"
    with pytest.raises(PriceError, match=told):
        rate_lines(rates, {Measure.FORM_M2: 2.0})
    with pytest.raises(PriceError, match="counts: nothing; days and hours are counted once"):
        rate_lines(rates, {})
    with pytest.raises(PriceError, match=r"'boards' per form_ft2; charge .*: batch$"):
        rate_lines(rates[1:], {Measure.BATCH: 3.0})


@pytest.mark.parametrize("count", [-0.5, float("nan"), float("inf"), 1e16])
def test_what_is_no_quantity_is_refused(count):
    with pytest.raises(QuantityError, match="no quantity to charge 'boards' on, in m² of form"):
        rate_lines([rate("boards", "form_ft2", "4.75")], {Measure.FORM_M2: count})


@pytest.mark.parametrize(
    ("rates", "priced"),
    [
        ([], False),
        ([rate("boards", "form_m2", "12.50")], False),
        ([rate("cut-outs", "opening", "18.00", labour=True)], True),
        ([rate("cast", "casting_m2", "38.00", hours_s=1800.0)], True),
        ([rate("cut-outs", "opening", "0.00", labour=True)], False),
    ],
)
def test_a_bid_is_priced_once_labour_costs_something(rates, priced):
    assert is_priced(rates) is priced


def test_a_change_of_what_is_counted_may_go_either_way():
    boards = rate("boards", "form_ft2", "4.75")
    assert boards.counted({Measure.FORM_M2: -0.9290304}) == pytest.approx(-10.0)
    assert boards.counted({Measure.BATCH: 3.0}) == 0.0
