import pytest

from takeoff.errors import ShopFileError
from takeoff.files.toml_marks import marks_left, still_to_tell
from takeoff.files.toml_quantities import Length
from takeoff.files.toml_tables import Table, check_tables, parse_toml

ASKED = """[bench]
unit = "?"
height = "?"
[[pack]]
price = "4"
"""


class _Bench(Table):
    unit: str
    height: Length


class _Pack(Table):
    price: str


class _Tables(Table):
    bench: _Bench
    pack: tuple[_Pack, ...] = ()


def refusal(text):
    with pytest.raises(ShopFileError) as refused:
        check_tables(parse_toml(text, name="job.toml"), _Tables)
    return refused.value.faults


def test_marks_are_found_in_tables_and_lists():
    value = {"a": "?", "b": [{"c": "?"}, {"c": "??"}], "d": ["?", 1], "e": 2, "f": "what?"}
    assert list(marks_left(value)) == [("a",), ("b", 0, "c"), ("d", 0)]


def test_a_mark_is_refused_at_its_line_with_what_would_do():
    (unit, height) = refusal(ASKED)
    assert unit == ("job.toml:2", f"bench.unit: {still_to_tell()}")
    assert height[0] == "job.toml:3"
    assert height[1].startswith("bench.height: still to be told; cannot read '?' as a length")


def test_a_mark_is_refused_where_any_text_would_do():
    faults = refusal(ASKED.replace('height = "?"', 'height = "4 mm"').replace('"4"', '"?"'))
    assert [place for place, _ in faults] == ["job.toml:2", "job.toml:5"]


def test_other_faults_are_listed_with_the_marks():
    faults = refusal(ASKED + "nmae = 1\n")
    assert [place for place, _ in faults] == ["job.toml:2", "job.toml:3", "job.toml:6"]


def test_a_file_without_marks_is_read():
    told = ASKED.replace('"?"', '"4 mm"')
    assert check_tables(parse_toml(told, name="job.toml"), _Tables).bench.unit == "4 mm"
