import pytest

from takeoff.errors import UnreadableError
from takeoff.files.dxf_document import decoded, document_of
from tests.unit.files.dxf_text import block, circle, dxf, insert, line, section, tags


def document(text, *, codec="cp1252"):
    return document_of(text.encode(codec))


def test_header_variables_keep_their_first_value():
    header = [(9, "$INSUNITS"), (70, 4), (9, "$EXTMIN"), (10, 1.5), (20, 2.5)]
    found = document(dxf("", header=header)).header
    assert found == {"$INSUNITS": b"4", "$EXTMIN": b"1.5"}


def test_layers_tell_why_they_do_not_show():
    text = dxf("", layers=[("TOP", 0, 7), ("OLD", 1, 7), ("OFF", 0, -7), ("BOTH", 5, -1)])
    states = document(text).layers
    assert {state.name: state.hidden for state in states.values()} == {
        "TOP": "",
        "OLD": "frozen",
        "OFF": "switched off",
        "BOTH": "frozen",
    }


def test_blocks_hold_their_entities_and_base():
    text = dxf("", blocks=block("Sink", circle(0, 0, 5), base=(2, 3)) + block("X", "", (70, 4)))
    blocks = document(text).blocks
    assert blocks["sink"].base.tolist() == [2.0, 3.0, 0.0]
    assert [entity.record.kind for entity in blocks["sink"].entities] == ["CIRCLE"]
    assert (blocks["sink"].external, blocks["x"].external) == (False, True)


def test_vertices_and_attributes_stay_with_their_owner():
    vertex = tags((0, "VERTEX"), (10, 1), (20, 2))
    old = tags((0, "POLYLINE"), (8, "TOP")) + vertex * 2 + tags((0, "SEQEND"))
    tagged = insert("A", 0, 0) + tags((0, "ATTRIB"), (1, "x"))  # without its end mark
    found = document(dxf(old + tagged + line((0, 0), (1, 0)))).entities
    assert [(entity.record.kind, len(entity.parts)) for entity in found] == [
        ("POLYLINE", 2),
        ("INSERT", 1),
        ("LINE", 0),
    ]
    assert found[0].layer == "TOP"


@pytest.mark.parametrize(
    ("header", "codec"),
    [
        ([], "cp1252"),
        ([(9, "$DWGCODEPAGE"), (3, "ANSI_1250")], "cp1250"),
        ([(9, "$DWGCODEPAGE"), (3, "ansi_936")], "gbk"),
        ([(9, "$DWGCODEPAGE"), (3, "dos850")], "cp850"),
        ([(9, "$DWGCODEPAGE"), (3, "iso8859-2")], "iso8859-2"),
        ([(9, "$DWGCODEPAGE"), (3, "no such page")], "cp1252"),
        ([(9, "$ACADVER"), (1, "AC1015"), (9, "$DWGCODEPAGE"), (3, "ANSI_1251")], "cp1251"),
        ([(9, "$ACADVER"), (1, "AC1021"), (9, "$DWGCODEPAGE"), (3, "ANSI_1251")], "utf-8"),
    ],
)
def test_the_encoding_follows_version_and_code_page(header, codec):
    assert document(dxf("", header=header)).codec == codec


def test_a_layer_name_survives_its_code_page():
    header = [(9, "$ACADVER"), (1, "AC1015"), (9, "$DWGCODEPAGE"), (3, "ANSI_1250")]
    text = dxf(line((0, 0), (1, 0), layer="PŁYTA"), header=header)
    assert document(text, codec="cp1250").entities[0].layer == "PŁYTA"


def test_characters_outside_the_encoding_are_decoded():
    assert decoded(rb"\U+041F\U+043B\U+0438\U+0442\U+0430", "cp1252") == "Плита"
    assert decoded(b"\xff plain", "utf-8") == "\ufffd plain"


def test_a_file_that_stops_inside_a_section_is_refused():
    whole = dxf(line((0, 0), (1, 0)))
    cut = whole[: whole.index("ENDSEC") - 4]
    with pytest.raises(UnreadableError, match=r"cut short: it ends inside the section ENTITIES"):
        document(cut)


@pytest.mark.parametrize("end", ["", tags((0, "EOF"))])
def test_a_file_may_lack_one_of_its_two_end_marks(end):
    whole = section("ENTITIES", line((0, 0), (1, 0)))
    assert len(document(whole + end).entities) == 1
    assert len(document(whole.replace(tags((0, "ENDSEC")), "") + tags((0, "EOF"))).entities) == 1
