"""The workbook reckoned by a spreadsheet that shares nothing with what wrote it."""

import io
from decimal import Decimal
from fractions import Fraction

import openpyxl
import pytest

import takeoff
from takeoff.pricing.lines import LineKind, Terms, line_of, price_up, printed_quantity, total_of
from takeoff.pricing.materials import Market, purchases_of
from takeoff.pricing.packs import Pack
from takeoff.report.bid_workbook import workbook_bytes
from takeoff.report.book_hours import hours_basis
from tests.pages.office import needs_office, reckoned_again
from tests.unit.report.books_read import formulas, names, row_of, values

pytest.importorskip("xlsxwriter")
pytestmark = needs_office


@pytest.fixture(scope="module")
def hall():
    return takeoff.bid("samples/ferry-hall/job.toml").to_dict()


@pytest.fixture(scope="module")
def panels():
    return takeoff.bid("samples/ferry-hall/panels.toml").to_dict()


@pytest.fixture(scope="module")
def office(tmp_path_factory):
    """One profile for all: it is made once."""
    return tmp_path_factory.mktemp("office")


def in_us(document):
    return document | {"settings": {**document["settings"], "show_units": "us"}}


def changed(content, inputs):
    """Change inputs by name or by cell; the results that were kept are lost with it."""
    book = openpyxl.load_workbook(io.BytesIO(content))
    named = names(content)
    for place, value in inputs.items():
        sheet, cell = named.get(place, ("Inputs", place))
        book[sheet][cell] = value
    written = io.BytesIO()
    book.save(written)
    return written.getvalue()


def input_cell(content, what, of):
    """The cell of an input that has no name."""
    cells = values(content)
    [row] = [
        at[1:]
        for (sheet, at), value in cells.items()
        if sheet == "Inputs" and at[0] == "A" and value == what and cells[sheet, f"B{at[1:]}"] == of
    ]
    return f"C{row}"


def assert_same(reckoned, told):
    """Every cell holds what it held, numbers to a billionth."""
    assert set(reckoned) == set(told)
    for at, value in told.items():
        if isinstance(value, int | float):
            assert reckoned[at] == pytest.approx(value, rel=1e-9, abs=1e-9), at
        else:
            assert reckoned[at] == value, at


@pytest.mark.parametrize("kind", ["hall", "panels", "in US units", "material only"])
def test_every_formula_comes_to_what_was_written_beside_it(hall, panels, office, kind):
    lines = [line for line in hall["lines"] if line["kind"] in {"material", "rate"}]
    document = {
        "hall": hall,
        "panels": panels,
        "in US units": in_us(panels),
        "material only": hall | {"lines": lines, "total": None, "total_range": None},
    }[kind]
    content = workbook_bytes(document)
    without = changed(content, {})
    assert not set(formulas(without)) & set(values(without))
    assert_same(values(reckoned_again(without, office)), values(content))


def repriced(document, *, prices, hour_price, hours, extra_share, terms):
    """Price a bid anew by the rules of the package, with other inputs."""
    sold = {
        row["ingredient"]: tuple(
            Pack(
                row["ingredient"],
                pack["pack_kg"],
                pack["pack"],
                prices.get(row["ingredient"], Decimal(pack["price"])),
            )
            for pack in row["sold_in"]
        )
        for row in document["materials"]
        if row["sold_in"]
    }
    more = 1 + Fraction(str(extra_share))
    order_kg = {
        row["ingredient"]: float(Fraction(row["order_kg"]) * more)
        for row in document["materials"]
        if row["sold_in"]
    }
    lines = [
        line_of(
            one.ingredient,
            Decimal(pack.packs),
            f"pack of {pack.pack.pack}",
            pack.pack.price,
            LineKind.MATERIAL,
        )
        for one in purchases_of(order_kg, Market(sold))
        for pack in one.bought
    ]
    for line in document["lines"]:
        basis = hours_basis(line)
        if basis is not None:
            each = hours.get(line["what"], Fraction(repr(basis.each_h)))
            number = printed_quantity(Fraction(basis.measured) * each)
            lines.append(line_of(line["what"], number, "h", hour_price, LineKind.LABOUR))
        elif line["kind"] in {"labour", "rate", "item"}:
            price = prices.get(line["what"], Decimal(line["price"]))
            number = Decimal(line["quantity"])
            lines.append(line_of(line["what"], number, line["unit"], price, LineKind.RATE))
    return price_up(lines, terms)


@pytest.mark.parametrize("minimum", ["250.00", "9000.00"])
def test_changed_inputs_come_to_what_the_package_makes_of_them(hall, office, minimum):
    content = workbook_bytes(hall)
    told = {
        "markup": 0.225,
        "tax": 0.08375,
        "minimum_charge": float(minimum),
        "hour_price": 41.5,
        "extra_loss": 0.07,
        input_cell(content, "white-cement", "pack of 25 kg"): 15.35,
        input_cell(content, "release", "m² released"): 0.75,
        input_cell(content, "build forms", "h for one m² of form"): 1.35,
    }
    lines = repriced(
        hall,
        prices={"white-cement": Decimal("15.35"), "release": Decimal("0.75")},
        hour_price=Decimal("41.50"),
        hours={"build forms": Fraction("1.35")},
        extra_share=0.07,
        terms=Terms(Decimal("0.225"), Decimal("0.08375"), Decimal(minimum)),
    )
    reckoned = reckoned_again(changed(content, told), office)
    cells, named = values(reckoned), names(content)
    labels = {LineKind.MARKUP: "markup", LineKind.TAX: "tax"}
    labels[LineKind.MINIMUM] = "up to the minimum charge"
    for line in lines:
        row = row_of(cells, "Bid", labels.get(line.kind, line.what), C=line.unit)
        told_of_it = [float(line.quantity), float(line.price), float(line.amount)]
        assert [row[column] for column in "BDE"] == pytest.approx(told_of_it, abs=1e-9)
    assert (LineKind.MINIMUM in {line.kind for line in lines}) == (minimum == "9000.00")
    assert cells[named["total"]] == pytest.approx(float(total_of(lines)), abs=1e-9)
    assert cells[named["material_short"]] == 0
    cement = next(row for row in hall["materials"] if row["ingredient"] == "white-cement")
    row = row_of(cells, "Materials", "white-cement")
    assert row["E"] == pytest.approx(cement["order_kg"] * 1.07, abs=1e-9)
    assert row["J"] == 17
    change = cells[named["total"]] - float(hall["total"])
    assert row_of(cells, "Inputs", "change")["C"] == pytest.approx(change, abs=1e-9)


def test_stock_is_drawn_before_packs_are_counted(hall, office):
    row = next(one for one in hall["materials"] if one["ingredient"] == "white-cement")
    bought = [row["bought"][0] | {"packs": 12, "cost": "170.40"}]
    drawn = [{"lot": "C7", "mass_kg": 100.0}]
    left_kg = 300.0 - (row["order_kg"] - 100.0)
    changes = {"from_stock": drawn, "bought": bought, "cost": "170.40", "left_over_kg": left_kg}
    materials = [one | changes if one is row else one for one in hall["materials"]]
    cells = values(
        reckoned_again(
            changed(workbook_bytes(hall | {"materials": materials}), {"extra_loss": 0.05}), office
        )
    )
    still_kg = row["order_kg"] * 1.05 - 100.0
    found = row_of(cells, "Materials", "white-cement")
    assert found["G"] == pytest.approx(still_kg, abs=1e-9)
    assert found["J"] == 13
    assert found["M"] == pytest.approx(13 * 25.0 - still_kg, abs=1e-9)
    assert found["N"] == 0


def test_the_bid_says_where_packs_of_several_sizes_no_longer_do(panels, office):
    content = workbook_bytes(panels)
    sand = next(row for row in panels["materials"] if row["ingredient"] == "silica-sand")
    short_kg = sand["order_kg"] * 1.4 - 500.0
    cells = values(reckoned_again(changed(content, {"extra_loss": 0.4}), office))
    assert row_of(cells, "Materials", "silica-sand")["J"] == 1
    assert row_of(cells, "Materials", "silica-sand")["N"] == pytest.approx(short_kg, abs=1e-9)
    assert cells[names(content)["material_short"]] == pytest.approx(short_kg, abs=1e-9)
    assert cells["Bid", "A4"].startswith("CAUTION: packs no longer cover the order")
    assert "A4" not in {at for sheet, at in values(content) if sheet == "Bid"}


def halves():
    """Lines of half a cent exactly, whose float product lies below it."""
    lines = [line_of("labour", Decimal(1), "job", Decimal("10.00"), LineKind.LABOUR)]
    for cents in (50, 150, 350, 2250, 3830, 4110, 99990, 123450):
        price = Decimal(cents).scaleb(-2)
        numbers = (number for number in range(1, 90_000, 7) if number * cents % 1000 == 500)
        quantities = (Decimal(number).scaleb(-3) for number in numbers)
        low = [one for one in quantities if _falls_below(one, price)]
        lines += [
            line_of(f"work {one} at {price}", one, "each", price, LineKind.RATE) for one in low[:20]
        ]
    return lines


def _falls_below(quantity, price):
    return Fraction(float(quantity) * float(price)) < Fraction(quantity * price)


def test_half_a_cent_goes_up_whatever_floats_make_of_it(hall, office):
    lines = price_up(halves(), Terms(Decimal("0.0825"), Decimal("0.08375")))
    assert len(lines) > 50
    rows = [
        {
            "what": line.what,
            "quantity": f"{line.quantity:f}",
            "unit": line.unit,
            "price": f"{line.price:.2f}",
            "amount": f"{line.amount:.2f}",
            "kind": line.kind.value,
            "basis": "",
        }
        for line in lines
    ]
    total = f"{total_of(lines):.2f}"
    bare = {"materials": [], "lines": rows, "material_total": "0.00", "total": total}
    shop = {"settings": {**hall["settings"], "shop": {"minimum_charge": None}}}
    content = workbook_bytes(hall | bare | shop | {"total_range": None})
    cells = values(reckoned_again(changed(content, {}), office))
    assert_same(cells, values(content))
    assert cells[names(content)["total"]] == float(total)
