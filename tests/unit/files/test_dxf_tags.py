import pytest

from takeoff.errors import UnreadableError
from takeoff.files.dxf_tags import exact_number, has_decimal_comma, records_of
from tests.unit.files.dxf_text import dxf, line, tags


def kinds(text):
    data = text if isinstance(text, bytes) else text.encode()
    return [record.kind for record in records_of(data)]


def test_records_start_at_each_zero_and_know_their_line():
    records = records_of(dxf(line((0, 0), (1, 0))).encode())
    assert [(record.kind, record.line) for record in records] == [
        ("SECTION", 1),
        ("LINE", 5),
        ("ENDSEC", 21),
        ("EOF", 23),
    ]
    assert records[1].place == "LINE at line 5"


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_any_line_ends_do(end):
    assert kinds(dxf(line((0, 0), (1, 0))).replace("\n", end))[1] == "LINE"


def test_a_mark_of_utf8_and_blank_lines_before_the_file_are_passed_over():
    records = records_of(b"\xef\xbb\xbf\r\n\n" + dxf("").encode())
    assert (records[0].kind, records[0].line) == ("SECTION", 3)


def test_comments_and_extended_data_are_left_out():
    text = tags((999, "made by hand")) + dxf(line((0, 0), (1, 0), (1001, "APP"), (1010, 7)))
    record = records_of(text.encode())[1]
    assert max(code for code, _ in record.tags) < 999


def test_tags_of_an_embedded_object_are_left_out():
    text = dxf(tags((0, "MTEXT"), (10, 1), (101, "Embedded Object"), (10, 9)))
    record = records_of(text.encode())[1]
    assert [value for code, value in record.tags if code == 10] == [b"1"]


def test_nothing_after_the_end_of_file_is_read():
    assert kinds(dxf("") + "\x1a rubbish\nmore rubbish")[-1] == "EOF"


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "the file is empty"),
        (b" \r\n\x00", "the file is empty"),
        (b"AC1027\x00\x00", "a DWG drawing; save it as DXF"),
        (b"%PDF-1.7", "a PDF"),
        (b"PK\x03\x04", "a zip archive"),
        ("0\nSECTION".encode("utf-16"), "text in UTF-16"),
        (b"solid part\nfacet", "an STL file"),
        (b"<html>", "a markup file"),
        (b"hello there\nyou\n", "starts with 'hello there'"),
        (b"0\nLINE\n8\n0\n", "it has no SECTION"),
        (b"\x89PNG\r\n\x1a\n", "this is no DXF"),
    ],
)
def test_what_is_no_dxf_is_called_by_its_name(data, says):
    with pytest.raises(UnreadableError, match=says):
        records_of(data)


def test_lines_out_of_step_are_refused_with_the_line():
    text = dxf(line((0, 0), (1, 0))).replace("SECTION\n", "SECTION\nand one line more\n", 1)
    with pytest.raises(UnreadableError, match=r"line 3: 'and one line more' is no group code"):
        records_of(text.encode())


def test_a_binary_file_cut_short_is_refused():
    head = b"AutoCAD Binary DXF\r\n\x1a\x00"
    with pytest.raises(UnreadableError, match="damaged or cut short"):
        records_of(head + b"\x00SECTION\x00\x02ENT")


@pytest.mark.parametrize(
    ("text", "number"),
    [
        (b"1.5", 1.5),
        (b"  -.5 ", -0.5),
        (b"1e3", 1000.0),
        (b"+2.5E-01", 0.25),
        (b"1481,25", 1481.25),
        (b"-0,414214", -0.414214),
        (b"2,5e2", 250.0),
    ],
)
def test_numbers_are_read_exactly(text, number):
    assert exact_number(text) == number


@pytest.mark.parametrize(
    "text",
    [b"", b"x", b"1,2,3", b"1.234,5", b"1,234.5", b"1_0", b"nan", b"inf", b"-Infinity", b"1e999"],
)
def test_what_is_no_finite_number_is_not_guessed(text):
    with pytest.raises(ValueError, match=r"^$|could not convert"):
        exact_number(text)


def test_a_decimal_comma_is_one_between_digits():
    assert [has_decimal_comma(text) for text in (b" 0,5 ", b"0.5", b"A, B", b"1,2,3")] == [
        True,
        False,
        False,
        False,
    ]
