"""Written quantities: what is read, to the last bit, and what is refused, and in which words."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from takeoff.errors import QuantityError
from takeoff.units import (
    area_m2,
    density_kg_m3,
    duration_s,
    length_m,
    mass_kg,
    metres_per_unit,
    share,
    speed_m_s,
    temperature_c,
    volume_m3,
)

Reader = Callable[[str], float]

READ: tuple[tuple[Reader, str, float], ...] = (
    (length_m, "20 mm", 0.02),
    (length_m, "20mm", 0.02),
    (length_m, "  20   mm ", 0.02),
    (length_m, "20 MM", 0.02),
    (length_m, "20 millimetres", 0.02),
    (length_m, "20 Millimeters", 0.02),
    (length_m, "+20 mm", 0.02),
    (length_m, "0 mm", 0.0),
    (length_m, "-0 mm", 0.0),
    (length_m, "05 mm", 0.005),
    (length_m, "0,5 cm", 0.005),
    (length_m, "0,125 m", 0.125),
    (length_m, "000,125 m", 0.125),
    (length_m, "1,25 m", 1.25),
    (length_m, "1,2500 m", 1.25),
    (length_m, "1250,500 mm", 1.2505),
    (length_m, "1.250 m", 1.25),
    (length_m, ".5 in", 0.0127),
    (length_m, ",5 in", 0.0127),
    (length_m, "1e-3 m", 0.001),
    (length_m, "1,5E+2 mm", 0.15),
    (length_m, "2.4 dm", 0.24),
    (length_m, "0.012 km", 12.0),
    (length_m, "100 um", 0.0001),
    (length_m, "100 micron", 0.0001),
    (length_m, "40 mil", 0.001016),
    (length_m, "3 yd", 2.7432),
    (length_m, "3/16 in", 0.0047625),
    (length_m, '1/8"', 0.003175),
    (length_m, "1 / 8 in.", 0.003175),
    (length_m, "5/4 in", 0.03175),
    (length_m, "100/8 in", 0.3175),
    (length_m, '1-1/2"', 0.0381),
    (length_m, "1 1/2 inches", 0.0381),
    (length_m, "5''", 0.127),
    (length_m, "2 1/2 ft", 0.762),
    (length_m, "2' 1 1/2\"", 0.6477),
    (length_m, "2'-1 1/2\"", 0.6477),
    (length_m, "2' - 1-1/2\"", 0.6477),
    (length_m, "2'1/2\"", 0.6223),
    (length_m, "0' 6\"", 0.1524),
    (length_m, "2ft 6in", 0.762),
    (length_m, "2ft3in", 0.6858),
    (length_m, "2 ft. 6 in.", 0.762),
    (length_m, "2 feet 6.5 inches", 0.7747),
    (length_m, "1 yd 2 ft 6 in", 1.6764),
    (length_m, "1 m 20 cm", 1.2),
    (length_m, "1 m 20 cm 5 mm", 1.205),
    (area_m2, "2.5 m2", 2.5),
    (area_m2, "2,5 m²", 2.5),
    (area_m2, "2.5 m^2", 2.5),
    (area_m2, "2.5 square metres", 2.5),
    (area_m2, "150 cm2", 0.015),
    (area_m2, "750 mm²", 0.00075),
    (area_m2, "100 sq ft", 9.290304),
    (area_m2, "100 sq. ft.", 9.290304),
    (area_m2, "100 ft2", 9.290304),
    (area_m2, "100 SF", 9.290304),
    (area_m2, "100 sq in", 0.064516),
    (area_m2, "3 yd2", 2.50838208),
    (volume_m3, "18.9 L", 0.0189),
    (volume_m3, "18,9 litres", 0.0189),
    (volume_m3, "500 ml", 0.0005),
    (volume_m3, "50 cl", 0.0005),
    (volume_m3, "5 dm3", 0.005),
    (volume_m3, "1.5 m³", 1.5),
    (volume_m3, "3 cc", 0.000003),
    (volume_m3, "5 gal", 0.01892705892),
    (volume_m3, "5 US gallons", 0.01892705892),
    (volume_m3, "5 imp gal", 0.02273045),
    (volume_m3, "1 gal 2 qt", 0.005678117676),
    (volume_m3, "2 pt", 0.000946352946),
    (volume_m3, "16 fl oz", 0.000473176473),
    (volume_m3, "16 fl. oz.", 0.000473176473),
    (volume_m3, "2.5 cu ft", 0.07079211648),
    (volume_m3, "2.5 cubic feet", 0.07079211648),
    (volume_m3, "1 yd3", 0.764554857984),
    (volume_m3, "1 cu yd", 0.764554857984),
    (volume_m3, "231 in3", 0.003785411784),
    (mass_kg, "93 g", 0.093),
    (mass_kg, "25 kg", 25.0),
    (mass_kg, "25 Kg", 25.0),
    (mass_kg, "10 mg", 0.00001),
    (mass_kg, "1.2 t", 1200.0),
    (mass_kg, "2 tonnes", 2000.0),
    (mass_kg, "40 lb", 18.1436948),
    (mass_kg, "40 LBS", 18.1436948),
    (mass_kg, "40#", 18.1436948),
    (mass_kg, "16 oz", 0.45359237),
    (mass_kg, "2 lb 3 oz", 0.992233309375),
    (mass_kg, "2lb3oz", 0.992233309375),
    (mass_kg, "1 kg 250 g", 1.25),
    (mass_kg, "1 short ton", 907.18474),
    (mass_kg, "1 long ton", 1016.0469088),
    (density_kg_m3, "2100 kg/m3", 2100.0),
    (speed_m_s, "5 m/s", 5.0),
    (speed_m_s, "18 km/h", 5.0),
    (speed_m_s, "10 mph", 4.4704),
    (speed_m_s, "0 km / h", 0.0),
    (density_kg_m3, "2100 kg / m³", 2100.0),
    (density_kg_m3, "2,1 g/cm3", 2100.0),
    (density_kg_m3, "2.1 g/cc", 2100.0),
    (density_kg_m3, "1.05 kg/L", 1050.0),
    (density_kg_m3, "2.1 t/m3", 2100.0),
    (density_kg_m3, "0 kg/m3", 0.0),
    (temperature_c, "20 C", 20.0),
    (temperature_c, "20°C", 20.0),
    (temperature_c, "20 ℃", 20.0),
    (temperature_c, "20 degrees Celsius", 20.0),
    (temperature_c, "68 F", 20.0),
    (temperature_c, "68 °f", 20.0),
    (temperature_c, "68 deg F", 20.0),
    (temperature_c, "-40 F", -40.0),
    (temperature_c, "−5,5 C", -5.5),
    (temperature_c, "293.15 K", 20.0),
    (temperature_c, "0 kelvin", -273.15),
    (duration_s, "45 s", 45.0),
    (duration_s, "90 min", 5400.0),
    (duration_s, "1.5 hr", 5400.0),
    (duration_s, "1 h 30 min", 5400.0),
    (duration_s, "1h30min", 5400.0),
    (duration_s, "28 days", 2_419_200.0),
    (share, "10 %", 0.1),
    (share, "3,5%", 0.035),
    (share, "1/2 %", 0.005),
    (share, "150 percent", 1.5),
    (share, "5 ‰", 0.005),
)

REFUSED: tuple[tuple[Reader, str, str], ...] = (
    (length_m, "", r"cannot read '' as a length: it is empty; write for example \"20 mm\""),
    (length_m, "   ", "it is empty"),
    (length_m, "20", r"'20' has no unit; write for example \"20 mm\", \"3/16 in\" or \"2ft"),
    (length_m, "2 1/2", "'2 1/2' has no unit"),
    (length_m, "6'2", "'2' has no unit"),
    (length_m, "mm", "stopped at 'mm', where a number must stand"),
    (length_m, "inf m", "stopped at 'inf m', where a number must stand"),
    (length_m, "nan mm", "stopped at 'nan mm', where a number must stand"),
    (length_m, "٣ mm", "where a number must stand"),
    (length_m, "2' -", "stopped at '', where a number must stand"),
    (length_m, "20 mm thick", "stopped at 'thick', where a number must stand"),
    (length_m, "20 mm x 30 mm", "stopped at 'x 30 mm'"),
    (length_m, "2 ft.5 in", "stopped at '.5 in', where a number must stand"),
    (length_m, "5 mmm", r"cannot read '5 mmm' as a length: stopped at 'mmm'; did you mean \"mm\""),
    (length_m, "5 inchs", r"did you mean \"inches\"\?"),
    (length_m, "20² mm", "stopped at '² mm'"),
    (length_m, "3 lb", "stopped at 'lb', which is a unit of mass"),
    (length_m, "20 m2", "stopped at 'm2', which is a unit of area"),
    (length_m, "2 survey ft", "stopped at 'survey ft'; write for example"),
    (length_m, "1,250 mm", "two ways, as '1250 mm' or as '1.250 mm'; write the one that is meant"),
    (length_m, "12,500 mm", "two ways, as '12500 mm' or as '12.500 mm'"),
    (length_m, "2' 1,125\"", "two ways"),
    (length_m, "01,250 mm", "two ways"),
    (length_m, "105/8 in", "two ways, as '10 5/8 in' or as '13 1/8 in'"),
    (length_m, "11/2 in", "two ways, as '1 1/2 in' or as '5 1/2 in'"),
    (length_m, "113/16 in", "two ways, as '1 13/16 in' or as '7 1/16 in'"),
    (length_m, "1.250,5 mm", "stopped at ',5 mm'; write a number in one piece"),
    (length_m, "1,250.5 mm", "stopped at '.5 mm'; write a number in one piece"),
    (length_m, "1,250,000 mm", "one decimal sign and no thousands separator"),
    (length_m, "1 250 mm", "stopped at '250 mm'; write a number in one piece"),
    (length_m, "1_250 mm", "stopped at '_250 mm'; write a number in one piece"),
    (length_m, "1'250 mm", "'mm' cannot follow 'ft'"),
    (length_m, "6 in 2 ft", "'ft' cannot follow 'in'"),
    (length_m, "2 ft 3 ft", "'ft' cannot follow 'ft'"),
    (length_m, "1 m 2 in", "'in' cannot follow 'm'"),
    (length_m, "1.5 ft 3 in", "only the last part may be a fraction, not that in 'ft'"),
    (length_m, "2' 14\"", "the part in 'in' is not less than one 'ft'"),
    (length_m, "3-5 mm", "stopped at '-5 mm'"),
    (length_m, "-3 mm", "cannot read '-3 mm' as a length: it is negative"),
    (length_m, "--3 mm", "where a number must stand"),
    (length_m, "1/0 in", "a fraction cannot have 0 below the line"),
    (length_m, "1 5/4 in", "beside a whole number, 5/4 must be less than 1"),
    (length_m, "1 4/4 in", "beside a whole number, 4/4 must be less than 1"),
    (length_m, "1.5/2 in", "stopped at '/2 in'"),
    (length_m, "1e400 m", "the power of ten 400 is out of reach"),
    (length_m, "1e-999999999999 m", "the power of ten -999999999999 is out of reach"),
    (length_m, "1e40 m", "too large, or too small, to be meant"),
    (length_m, "1e-40 m", "too large, or too small, to be meant"),
    (length_m, "1" * 70 + " m", "too large, or too small, to be meant"),
    (length_m, "1" * 5000 + " m", "'1111.*1\\.\\.\\. as a length: it is longer than 80 characters"),
    (area_m2, "5 m", "cannot read '5 m' as an area: stopped at 'm', which is a unit of length"),
    (area_m2, "-5 m2", "it is negative"),
    (volume_m3, "16 oz", r"stopped at 'oz'; an ounce is a mass; write \"fl oz\" for a volume"),
    (volume_m3, "2 yd", "stopped at 'yd', which is a unit of length"),
    (volume_m3, "-1 L", "it is negative"),
    (mass_kg, "1 ton", r"write \"t\" \(1000 kg\), \"short ton\" \(2000 lb\) or \"long ton\""),
    (mass_kg, "3 Tons", "a ton may be any of three"),
    (mass_kg, "1 T", "a ton may be any of three"),
    (mass_kg, "1 Mg", "this may be a megagram or a milligram"),
    (mass_kg, "5 gr", r"this may be grams or grains; write \"g\""),
    (mass_kg, "5 gal", "stopped at 'gal', which is a unit of volume"),
    (mass_kg, "1 lb 16 oz", "the part in 'oz' is not less than one 'lb'"),
    (mass_kg, "1 kg 3 oz", "'oz' cannot follow 'kg'"),
    (mass_kg, "-1 kg", "it is negative"),
    (density_kg_m3, "2100", r"'2100' has no unit; write for example \"2100 kg/m3\""),
    (speed_m_s, "5", r"'5' has no unit; write for example \"5 m/s\""),
    (speed_m_s, "5 km", "stopped at 'km', which is a unit of length"),
    (density_kg_m3, "2100 kg", "stopped at 'kg', which is a unit of mass"),
    (density_kg_m3, "2100 kg/m2", "stopped at 'kg/m2'; write for example"),
    (temperature_c, "20", r"'20' has no unit; write for example \"20 C\" or \"68 F\""),
    (temperature_c, "20°", r"degrees of which scale\? write \"C\" or \"F\""),
    (temperature_c, "20 k", r"stopped at 'k'; write \"K\" for kelvin"),
    (temperature_c, "-460 F", "it lies below absolute zero, -273.15 C"),
    (temperature_c, "20 C 5 C", "'C' cannot follow 'C'"),
    (duration_s, "1:30", "stopped at ':30'; this may be hours or minutes; write"),
    (duration_s, "30 m", r"this may be metres or minutes; write \"min\""),
    (duration_s, "30'", r"stopped at \"'\"; write \"min\" for minutes"),
    (duration_s, "1h30", "'30' has no unit"),
    (share, "0.1", r"cannot read '0.1' as a share: '0.1' has no unit; write for example \"10 %\""),
    (share, "-5 %", "it is negative"),
)


def named(reader: Reader, text: str) -> str:
    return f"{reader.__name__}: {text[:40]}"


@pytest.mark.parametrize(
    ("reader", "text", "value"),
    [pytest.param(*case, id=named(case[0], case[1])) for case in READ],
)
def test_a_written_quantity_is_read_to_the_last_bit(
    reader: Reader, text: str, value: float
) -> None:
    assert reader(text) == value


@pytest.mark.parametrize(
    ("reader", "text", "refusal"),
    [pytest.param(*case, id=named(case[0], case[1])) for case in REFUSED],
)
def test_what_cannot_be_read_for_certain_is_refused(
    reader: Reader, text: str, refusal: str
) -> None:
    with pytest.raises(QuantityError, match=refusal):
        reader(text)


@pytest.mark.parametrize(
    ("found", "refusal"),
    [
        (20, "cannot read 20 as a length: a bare number has no unit; write for example"),
        (2.5, "cannot read 2.5 as a length: a bare number has no unit"),
        (float("nan"), "a bare number has no unit"),
        (True, "cannot read True as a length: it is not text"),
        (None, "cannot read None as a length: it is not text"),
        pytest.param(
            10**5000,
            "cannot read a value of type int as a length: a bare number has no unit",
            id="a number of 5001 digits",
        ),
        (b"20 mm", "cannot read a value of type bytes as a length: it is not text"),
        (["20 mm"], "cannot read a value of type list as a length: it is not text"),
    ],
)
def test_what_is_not_text_is_refused(found: object, refusal: str) -> None:
    with pytest.raises(QuantityError, match=refusal):
        length_m(found)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("lb_ft3_text", "value"),
    [("131 lb/ft3", 131.0), ("131 pcf", 131.0), ("131 lb per cu ft", 131.0)],
)
def test_pounds_a_cubic_foot_are_pounds_over_feet_cubed(lb_ft3_text: str, value: float) -> None:
    assert density_kg_m3(lb_ft3_text) == pytest.approx(value * 0.45359237 / 0.3048**3, rel=1e-15)


@pytest.mark.parametrize(
    ("name", "metres"),
    [
        ("mm", 0.001),
        ("MM", 0.001),
        ("cm", 0.01),
        ("dm", 0.1),
        ("m", 1.0),
        ("M", 1.0),
        ("metres", 1.0),
        ("km", 1000.0),
        ("um", 1e-6),
        ("µm", 1e-6),
        ("μm", 1e-6),
        ("microns", 1e-6),
        ("in", 0.0254),
        (" Inch ", 0.0254),
        ("inches", 0.0254),
        ('"', 0.0254),
        ("″", 0.0254),
        ("ft", 0.3048),
        ("foot", 0.3048),
        ("Feet", 0.3048),
        ("'", 0.3048),
        ("yd", 0.9144),
        ("mil", 0.0000254),
    ],
)
def test_every_spelling_of_a_unit_of_length_is_known(name: str, metres: float) -> None:
    assert metres_per_unit(name) == metres


@pytest.mark.parametrize("name", ["", "mn", "m2", "lb", "3 mm", "mm mm", "m" * 500, None, 25.4])
def test_what_is_no_unit_of_length_is_refused(name: object) -> None:
    refusal = "is not a unit of length; write one of mm, cm, dm, m, km, in, ft, yd, mil, um"
    with pytest.raises(QuantityError, match=refusal):
        metres_per_unit(name)  # type: ignore[arg-type]
