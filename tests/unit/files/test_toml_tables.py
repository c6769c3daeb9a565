"""A TOML file is read whole, or refused with every fault at its line."""

from __future__ import annotations

import os
from datetime import date
from decimal import Decimal
from enum import StrEnum
from typing import Annotated, Literal

import pytest
from pydantic import Field, model_validator

from takeoff.errors import ShopFileError
from takeoff.files.toml_quantities import Length, Volume
from takeoff.files.toml_tables import (
    Fault,
    Table,
    check_tables,
    load_toml,
    parse_toml,
    read_tables,
)


class Kind(StrEnum):
    PIECE = "piece"
    OPEN = "open"


class Piece(Table):
    name: Annotated[str, Field(min_length=1)]
    kind: Kind
    count: Annotated[int, Field(ge=1)] = 1
    edge: dict[str, Length] = Field(default_factory=dict)
    thickness: Length | None = None
    price: Decimal = Decimal(0)
    bare: bool = False


class Mixer(Table):
    name: str
    capacity: Volume


class Job(Table):
    unit: Literal["mm", "cm", "m", "in", "ft"]
    date: date
    name: str
    backer: Length | dict[str, Length] = 0.0
    rest: Annotated[float, Field(gt=0.0, lt=1.0, allow_inf_nan=False)] = 0.5


class Order(Table):
    job: Job
    piece: tuple[Piece, ...] = ()
    mixer: tuple[Mixer, ...] = ()
    span: tuple[int, int] = (1, 2)

    @model_validator(mode="after")
    def _span_rises(self):
        if self.span[0] >= self.span[1]:
            raise ValueError("the span must rise")
        return self


LIKE = 'like "4 mm" or "3/16 in"'

SOUND = """\
[job]
unit = "mm"
date = 2026-11-25
name = "hall"
backer = { return = "12 mm" }

[[piece]]
name = "counter"
kind = "open"
price = 12.95
edge = { E1 = "40 mm" }
"""


def refusal_of(text: str) -> list[str]:
    """Give the lines of the refusal of a text."""
    with pytest.raises(ShopFileError, match=r"job\.toml") as refusal:
        check_tables(parse_toml(text, name="job.toml"), Order)
    return str(refusal.value).split("\n")


def test_a_sound_file_is_read(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(SOUND, encoding="utf-8")
    order = read_tables(path, Order)
    assert order.job.date == date(2026, 11, 25)
    assert order.job.backer == {"return": 0.012}
    assert order.piece[0].kind is Kind.OPEN
    assert order.piece[0].price == Decimal("12.95")
    assert order.piece[0].edge == {"E1": 0.04}


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig"])
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_marks_and_line_ends_of_other_systems_are_no_matter(tmp_path, encoding, newline):
    path = tmp_path / "job.toml"
    path.write_text(SOUND.replace("hall", "Hàlle 大厅"), encoding=encoding, newline=newline)
    assert read_tables(str(path), Order).job.name == "Hàlle 大厅"


def test_every_fault_is_told_at_its_line():
    assert refusal_of(
        """\
[job]
unit = "mn"
date = "2026-1"
nane = 3
backer = { return = 4 }
rest = 1.5

[[piece]]
name = ""
kind = "pieec"
count = 0
edge = { E3 = 0 }
price = "x"
[[piece]]
name = 1
kind = 3
count = true
thicknes = "4 mm"
bare = "yes"
[[mixer]]
name = "large"
[[mixer]]
capasity = 20
[[mxer]]
"""
    ) == [
        "job.toml:1: job.name: is missing",
        'job.toml:2: job.unit: "mn" is not one of mm, cm, m, in, ft; did you mean "m"?',
        'job.toml:3: job.date: must be a date like 2026-11-25, found "2026-1"',
        'job.toml:4: job.nane: unknown key; did you mean "name"?',
        f"job.toml:5: job.backer.return: 4 has no unit; write it in quotes with one, {LIKE}",
        f"job.toml:5: job.backer: must be text with a unit, {LIKE}, found a table",
        "job.toml:6: job.rest: must be below 1, found 1.5",
        "job.toml:9: piece[1].name: must not be empty",
        'job.toml:10: piece[1].kind: "pieec" is not one of piece, open; did you mean "piece"?',
        "job.toml:11: piece[1].count: must be at least 1, found 0",
        f"job.toml:12: piece[1].edge.E3: 0 has no unit; write it in quotes with one, {LIKE}",
        'job.toml:13: piece[1].price: must be a number, found "x"',
        "job.toml:15: piece[2].name: must be text in quotes, found 1",
        "job.toml:16: piece[2].kind: 3 is not one of piece, open",
        "job.toml:17: piece[2].count: must be a whole number, found true",
        'job.toml:18: piece[2].thicknes: unknown key; did you mean "thickness"?',
        'job.toml:19: piece[2].bare: must be true or false, found "yes"',
        "job.toml:20: mixer[1].capacity: is missing",
        "job.toml:22: mixer[2].capacity: is missing",
        "job.toml:22: mixer[2].name: is missing",
        'job.toml:23: mixer[2].capasity: unknown key; did you mean "capacity"?',
        'job.toml:24: mxer: unknown key; did you mean "mixer"?',
    ]


@pytest.mark.parametrize(
    ("text", "refusal"),
    [
        ("", "job.toml:1: job: is missing"),
        ("\n\njob = 3", "job.toml:3: job: must be a table, found 3"),
        (SOUND + "[piece.edge2]", 'piece[1].edge2: unknown key; did you mean "edge"?'),
        (SOUND.replace("[[piece]]", "[piece]"), "job.toml:7: piece: must be a list in brackets"),
        (SOUND + "count = 1e400", "job.toml:12: piece[1].count: must be a whole number, found inf"),
        (SOUND + "count = 1.5", "piece[1].count: must be a whole number, found 1.5"),
        (SOUND + "bare = 1", "piece[1].bare: must be true or false, found 1"),
        (SOUND.replace("[job]", "span = [2, 1]\n[job]"), "job.toml:1: the span must rise"),
        (SOUND.replace("[job]", 'span = [1, "2"]\n[job]'), "span[2]: must be a whole number"),
        (SOUND.replace("[job]", "[job]\nrest = nan"), "job.rest: must be a finite number"),
        (SOUND.replace("[job]", "[job]\nrest = 0"), "job.rest: must be above 0, found 0"),
        (SOUND.replace("[job]", "[job]\nbakcer = 1"), 'unknown key; did you mean "backer"?'),
        (SOUND.replace("[job]", "[job]\nzzz = 1"), "known: unit, date, name, backer, rest"),
    ],
)
def test_one_fault_is_told_at_its_line(text, refusal):
    (line,) = refusal_of(text)
    assert refusal in line


@pytest.mark.parametrize(
    ("text", "refusal"),
    [
        ("[job]\ndate = 2026-13-1\n", "job.toml:2: not valid TOML at column"),
        (
            "[job]\nunit = mm\n",
            "job.toml:2: not valid TOML at column 8: invalid value; words, and quantities",
        ),
        ("[job]\nbacker = 4 mm\n", 'stand in quotes, like "4 mm"'),
        ("[job]\nbacker = 3/16 in\n", 'stand in quotes, like "4 mm"'),
        ('a = "\n', "job.toml:1: not valid TOML at column"),
        ('a = """\n\n', "job.toml:1: not valid TOML at its end: unterminated string"),
        ("[job]\n[job]\n", "job.toml:2: not valid TOML at column 5: cannot declare job twice"),
        ("[a.b]\n[a.b]\n", "cannot declare a.b twice"),
        ("a = 1\na = 2", "job.toml:2: not valid TOML at its end: cannot overwrite a value"),
        ("\x00", "job.toml:1: not valid TOML"),
        ("a = " + "[" * 100_000, "job.toml: nested too deeply to be read"),
        ("a = " + "{b = " * 100_000, "job.toml: nested too deeply to be read"),
        ("a = " + "9" * 5000, "job.toml: not valid TOML: exceeds the limit"),
    ],
    ids=range(13),
)
def test_what_is_no_toml_is_refused_at_its_line(text, refusal):
    (line,) = refusal_of(text)
    assert refusal in line


def test_a_table_too_deep_for_the_model_is_refused():
    deep = "job" + ".a" * 400 + " = 1"
    with pytest.raises(ShopFileError, match=r"job\.toml"):
        check_tables(parse_toml(deep, name="job.toml"), Order)


def test_the_first_fault_is_where_the_error_is():
    with pytest.raises(ShopFileError, match="is missing") as refusal:
        check_tables(parse_toml("[job]\nunit = 3", name="job.toml"), Order)
    assert refusal.value.where == "job.toml:1"
    assert refusal.value.text.startswith("job.date: is missing\njob.toml:1: job.name: is missing")


def test_faults_found_later_are_told_the_same_way():
    file = parse_toml(SOUND, name="job.toml")
    refusal = file.refusal(
        [
            Fault(("piece", 0, "edge", "E9"), "there is no such edge"),
            Fault(("job", "name"), "is taken"),
            Fault((), "makes no job"),
        ]
    )
    assert str(refusal).split("\n") == [
        "job.toml:1: makes no job",
        "job.toml:4: job.name: is taken",
        "job.toml:11: piece[1].edge.E9: there is no such edge",
    ]


def test_a_missing_file_is_named_and_the_nearest_offered(tmp_path):
    (tmp_path / "job.toml").write_text(SOUND, encoding="utf-8")
    with pytest.raises(ShopFileError, match=r'jbo.toml: there is no such file; did you mean "job'):
        load_toml(tmp_path / "jbo.toml")
    with pytest.raises(ShopFileError, match=r"there is no such file$"):
        load_toml(tmp_path / "none" / "x.toml")


@pytest.mark.parametrize("name", ["wall-panel.dxf", "ticket-counter.stl", "PANEL.DXF"])
@pytest.mark.parametrize("content", [b"  0\nSECTION\n", b"\x80" * 84, b"solid top\n", b""])
def test_a_drawing_is_refused_with_what_makes_a_job_of_it(tmp_path, name, content):
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(ShopFileError) as refused:
        load_toml(path)
    assert str(refused.value) == (
        f"{path}: is a drawing, no TOML file; takeoff start {path} makes a job of it"
    )


def test_a_drawing_that_is_not_there_is_missing(tmp_path):
    with pytest.raises(ShopFileError, match="there is no such file"):
        load_toml(tmp_path / "panel.dxf")


def test_a_folder_is_no_file(tmp_path):
    with pytest.raises(ShopFileError, match="is a folder; name the TOML file in it"):
        load_toml(tmp_path)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read all")
def test_a_file_that_may_not_be_read_is_refused(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(SOUND, encoding="utf-8")
    path.chmod(0)
    with pytest.raises(ShopFileError, match="cannot be read: Permission denied"):
        load_toml(path)


@pytest.mark.parametrize(
    ("name", "refusal"),
    [("a\0b.toml", "is not the name of a file"), ("x" * 5000 + ".toml", "cannot be read")],
    ids=["nul", "long"],
)
def test_what_is_no_name_of_a_file_is_refused(name, refusal):
    with pytest.raises(ShopFileError, match=refusal):
        load_toml(name)


@pytest.mark.parametrize(
    ("content", "refusal"),
    [
        (b'a = 1\nb = "caf\xe9"\n', r"job\.toml:2: byte 0xe9 is not UTF-8; save the file as UTF-8"),
        ("a = 1".encode("utf-16"), "is UTF-16 text; save it as UTF-8"),
        (b"#" * 4_000_001, "is larger than 4 MB"),
        (b"\x89PNG\r\n\x1a\n", "byte 0x89 is not UTF-8"),
    ],
    ids=["latin-1", "utf-16", "large", "picture"],
)
def test_bytes_that_are_no_text_are_refused(tmp_path, content, refusal):
    path = tmp_path / "job.toml"
    path.write_bytes(content)
    with pytest.raises(ShopFileError, match=refusal):
        load_toml(path)
