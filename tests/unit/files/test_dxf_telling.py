import pytest

from takeoff.errors import ErrorKind, TakeoffError
from takeoff.notes import NoteCode
from tests.unit.files.dxf_reading import areas_mm2, codes, left_out, read
from tests.unit.files.dxf_text import lines, polyline, rectangle, tags

PANEL = polyline(rectangle(0, 0, 600, 400))


def entity(kind):
    return tags((0, kind), (8, "0"), (10, 0), (20, 0), (40, 1))


@pytest.mark.parametrize(
    "kind",
    [
        "DIMENSION",
        "LEADER",
        "POINT",
        "ATTDEF",
        "WIPEOUT",
        "XLINE",
        "RAY",
        "IMAGE",
        "VIEWPORT",
    ],
)
def test_what_bounds_no_piece_is_counted_without_a_doubt(tmp_path, kind):
    drawing = read(tmp_path, PANEL + entity(kind) * 2)
    assert areas_mm2(drawing) == pytest.approx([240_000])
    assert left_out(drawing) == {kind: 2}
    assert drawing.notes == ()


@pytest.mark.parametrize(
    ("kind", "says"),
    [
        ("REGION", "an ACIS body"),
        ("3DSOLID", "an ACIS body"),
        ("ACAD_PROXY_ENTITY", "a proxy of an add-on"),
        ("HELIX", "a curve in space"),
        ("WHATEVER", "a kind of entity that is not read"),
    ],
)
def test_what_may_bound_the_piece_is_counted_and_doubted(tmp_path, kind, says):
    drawing = read(tmp_path, PANEL + entity(kind))
    assert left_out(drawing) == {kind: 1}
    assert codes(drawing) == [NoteCode.SKIPPED]
    assert says in drawing.notes[0].text


@pytest.mark.parametrize(
    ("entities", "says"),
    [
        ("", "no closed outline and no mesh; it is empty; draw each outline"),
        (entity("POINT"), r"it holds POINT \(1\): annotation.*explode a REGION"),
        (entity("3DSOLID"), r"3DSOLID \(1\): an ACIS body.*export a 3DSOLID as STL"),
        (entity("WHATEVER"), r"it holds WHATEVER \(1\): a kind of entity that is not read"),
        (lines([(0, 0), (5, 0)], closed=False), r"LINE on layer 0 \(1\): straight and open"),
    ],
)
def test_a_drawing_without_anything_to_measure_says_what_it_holds(tmp_path, entities, says):
    with pytest.raises(TakeoffError, match=says) as refusal:
        read(tmp_path, entities)
    assert refusal.value.kind is ErrorKind.OUTLINE


def test_advice_about_bodies_is_given_only_where_there_may_be_some(tmp_path):
    hidden = polyline(rectangle(0, 0, 600, 400), layer="OLD")
    with pytest.raises(TakeoffError, match=r"the layer is frozen$"):
        read(tmp_path, hidden, layers=[("OLD", 1, 7)])
