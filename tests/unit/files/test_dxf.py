import hashlib

import ezdxf
import numpy as np
import pytest

from takeoff.errors import ErrorKind, QuantityError, TakeoffError, UnitMissingError, UnreadableError
from takeoff.files.dxf import read_dxf
from takeoff.files.dxf_rules import DxfRules
from takeoff.notes import NoteCode
from tests.unit.files.dxf_reading import areas_mm2, codes, read
from tests.unit.files.dxf_text import circle, dxf, polyline, rectangle, saved, tags

PANEL = polyline(rectangle(0, 0, 600, 400))
INCHES = [(9, "$INSUNITS"), (70, 1), (9, "$MEASUREMENT"), (70, 0)]


def test_a_drawing_carries_its_file_hash_and_unit(tmp_path):
    path = saved(tmp_path, dxf(PANEL))
    drawing = read_dxf(path, unit="mm")
    assert drawing.path == path
    assert drawing.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert (drawing.unit.name, drawing.unit.source) == ("mm", "told")


def test_the_declared_unit_is_taken_where_none_is_told(tmp_path):
    drawing = read(tmp_path, polyline(rectangle(0, 0, 24, 10)), unit=None, header=INCHES)
    assert areas_mm2(drawing) == pytest.approx([240 * 25.4**2])
    assert codes(drawing) == [NoteCode.UNIT_DECLARED]


def test_the_unit_is_asked_for_with_the_sizes_it_would_give(tmp_path):
    with pytest.raises(UnitMissingError, match=r"0\.6 x 0\.4 m if it is in mm") as refusal:
        read(tmp_path, PANEL + circle(300, 200, 10), unit=None)
    assert refusal.value.where.endswith("piece.dxf")


def test_a_told_unit_that_is_none_is_refused(tmp_path):
    with pytest.raises(QuantityError, match="litre"):
        read(tmp_path, PANEL, unit="litre")


def test_a_size_that_is_absurd_is_noted_with_the_piece(tmp_path):
    drawing = read(tmp_path, polyline(rectangle(0, 0, 2400, 600)), unit="in")
    [note] = drawing.notes
    assert note.code is NoteCode.SIZE_ABSURD
    assert "2.4 m in mm" in note.text


@pytest.mark.parametrize("version", ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"])
@pytest.mark.parametrize("form", ["asc", "bin"])
def test_every_version_is_read_in_text_and_binary(tmp_path, version, form):
    document = ezdxf.new(version)
    points = [(0, 0, 0), (600, 0, 0.3), (600, 400, 0), (0, 400, 0)]
    document.modelspace().add_circle((300, 200), 50, dxfattribs={"layer": "ÖFFNUNG"})
    add = document.modelspace().add_polyline2d if version == "R12" else None
    (add or document.modelspace().add_lwpolyline)(points, format="xyb", close=True)
    path = tmp_path / "piece.dxf"
    document.saveas(path, fmt=form)
    drawing = read_dxf(path, unit="mm")
    theta, radius = 4 * np.arctan(0.3), 400 * (1 + 0.3**2) / (4 * 0.3)
    bow = radius**2 / 2 * (theta - np.sin(theta))
    assert areas_mm2(drawing) == pytest.approx([600 * 400 + bow - np.pi * 50**2])
    assert "ÖFFNUNG" in " ".join(note.text for note in drawing.notes)


def test_decimal_commas_are_read_exactly_and_counted(tmp_path):
    text = dxf(polyline([(0.5, 0.5), (600.5, 0.5), (600.5, 400.5), (0.5, 400.5)]))
    drawing = read_dxf(saved(tmp_path, text.replace(".", ",")), unit="mm")
    assert areas_mm2(drawing) == pytest.approx([240_000])
    assert [(tally.what, tally.count) for tally in drawing.mended] == [
        ("numbers with a decimal comma read", 8)
    ]
    assert codes(drawing) == [NoteCode.MENDED]


@pytest.mark.parametrize("wrong", ["1.481,25", "1,481.25", "12,5,0", "abc", "nan", "1e400", ""])
def test_a_number_that_could_be_read_two_ways_is_refused(tmp_path, wrong):
    with pytest.raises(UnreadableError, match=r"LWPOLYLINE at line 5: .*is no number"):
        read(tmp_path, polyline([(0, 0), (wrong, 0), (600, 400)]))


def test_damage_outside_the_drawn_entities_does_no_harm(tmp_path):
    style = tags((0, "STYLE"), (2, "odd"), (40, "wide"))
    text = dxf(PANEL, layers=[("0", 0, 7)]).replace(tags((0, "LAYER")), style + tags((0, "LAYER")))
    assert areas_mm2(read_dxf(saved(tmp_path, text), unit="mm")) == pytest.approx([240_000])


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda path: path.mkdir(), "this is a folder"),
        (lambda path: None, "there is no such file"),
        (lambda path: path.write_bytes(b""), "the file is empty"),
        (lambda path: path.write_bytes(b"AC1032" + bytes(99)), "a DWG drawing"),
        (lambda path: path.write_text(dxf(PANEL)[:-30]), "the file is cut short"),
    ],
)
def test_what_cannot_be_read_is_refused_with_the_file(tmp_path, make, says):
    path = tmp_path / "piece.dxf"
    make(path)
    with pytest.raises(UnreadableError, match=says) as refusal:
        read_dxf(path, unit="mm")
    assert refusal.value.where == str(path)
    assert refusal.value.kind is ErrorKind.UNREADABLE


def test_a_file_that_is_too_large_is_refused_unread(tmp_path):
    with pytest.raises(UnreadableError, match="more than the 100 that are read"):
        read_dxf(saved(tmp_path, dxf(PANEL)), unit="mm", rules=DxfRules(file_bytes=100))


@pytest.mark.parametrize("share", np.linspace(0.02, 0.99, 40).tolist())
def test_a_file_cut_anywhere_is_refused(tmp_path, share):
    whole = dxf(PANEL, header=INCHES, layers=[("0", 0, 7)]).encode()
    with pytest.raises(TakeoffError, match=r"cut short|no SECTION|no DXF|empty"):
        read_dxf(saved(tmp_path, whole[: int(share * (len(whole) - 12))]), unit="mm")


def test_a_damaged_file_is_refused_or_read_but_never_breaks(tmp_path):
    random = np.random.default_rng(7)
    whole = dxf(PANEL + circle(300, 200, 50), header=INCHES).encode().split(b"\n")
    outcomes = {"read": 0, "refused": 0}
    for _ in range(400):
        lines = list(whole)
        for place in random.integers(0, len(lines), 2):
            lines[place] = random.choice([b"0", b"-1", b"1e300", b"x", b"", b"LINE", b"10", b"1,5"])
        try:
            read_dxf(saved(tmp_path, b"\n".join(lines)), unit="mm")
            outcomes["read"] += 1
        except TakeoffError as refusal:
            outcomes["refused"] += refusal.where.startswith(str(tmp_path))
    assert sum(outcomes.values()) == 400
    assert min(outcomes.values()) > 40
