import pytest

from takeoff.errors import LayerError, UnreadableError
from takeoff.files.dxf_document import document_of
from takeoff.files.dxf_rules import DxfRules
from takeoff.files.dxf_walk import Walk
from takeoff.notes import NoteCode
from tests.unit.files.dxf_reading import areas_mm2, codes, left_out, read
from tests.unit.files.dxf_text import block, circle, dxf, insert, line, polyline, rectangle, tags

PANEL = polyline(rectangle(0, 0, 600, 400))
HOLE = block("HOLE", circle(0, 0, 10))
HIDDEN = [("OLD", 1, 7), ("OFF", 0, -7)]


def walk(text, *, chosen=(), rules=None):
    return Walk(document_of(text.encode()), frozenset(chosen), rules or DxfRules())


def test_entities_inside_blocks_are_placed():
    text = dxf(PANEL + insert("HOLE", 300, 200, (41, 2)), blocks=HOLE)
    panel, hole = walk(text).placed()
    assert (panel.blocks, hole.blocks) == ((), ("HOLE",))
    assert hole.matrix[:2, 3].tolist() == [300, 200]
    assert hole.place == "CIRCLE at line 15, on layer 0, in block HOLE"


def test_layer_0_inside_a_block_is_the_layer_of_the_reference(tmp_path):
    blocks = block("HOLE", circle(0, 0, 10) + circle(50, 0, 10, layer="OWN"))
    text = dxf(insert("HOLE", 0, 0, layer="TOP"), blocks=blocks)
    assert [here.layer for here in walk(text).placed()] == ["TOP", "OWN"]


def test_a_block_on_a_frozen_layer_is_hidden_whole(tmp_path):
    blocks = block("HOLE", circle(300, 200, 10, layer="OWN"))
    drawing = read(
        tmp_path, PANEL + insert("HOLE", 0, 0, layer="OLD"), blocks=blocks, layers=HIDDEN
    )
    assert areas_mm2(drawing) == pytest.approx([240_000])
    assert left_out(drawing) == {"INSERT of block HOLE": 1}
    assert "its layer OLD is frozen" in drawing.notes[0].text


def test_a_block_on_a_layer_switched_off_shows_what_is_on_layers_of_its_own():
    blocks = block("HOLE", circle(0, 0, 10) + circle(50, 0, 10, layer="OWN"))
    seen = walk(dxf(insert("HOLE", 0, 0, layer="OFF"), blocks=blocks, layers=HIDDEN))
    assert [here.layer for here in seen.placed()] == ["OWN"]
    assert dict(seen.skipped) == {("CIRCLE on layer OFF", "the layer is switched off"): 1}


@pytest.mark.parametrize("layer", ["OLD", "OFF", "Defpoints", "DEFPOINTS"])
def test_what_does_not_show_is_left_out_and_named(tmp_path, layer):
    drawing = read(tmp_path, PANEL + circle(300, 200, 10, layer=layer), layers=HIDDEN)
    assert areas_mm2(drawing) == pytest.approx([240_000])
    assert left_out(drawing) == {f"CIRCLE on layer {layer}": 1}
    assert codes(drawing) == [NoteCode.SKIPPED]


def test_a_hidden_layer_that_is_asked_for_is_read_and_noted(tmp_path):
    hidden = polyline(rectangle(0, 0, 600, 400), layer="OLD")
    drawing = read(tmp_path, hidden, layers=HIDDEN, asked=("old",))
    assert areas_mm2(drawing) == pytest.approx([240_000])
    [note] = drawing.notes
    assert note.code is NoteCode.LAYER_CHOICE
    assert "layer OLD is frozen" in note.text


def test_layers_that_were_not_asked_for_are_left_out_without_a_doubt(tmp_path):
    drawing = read(
        tmp_path, polyline(rectangle(0, 0, 600, 400), layer="TOP") + PANEL, asked=("top",)
    )
    assert [piece.layer for piece in drawing.pieces] == ["TOP"]
    assert left_out(drawing) == {"LWPOLYLINE on layer 0": 1}
    assert drawing.notes == ()


def test_a_layer_that_is_not_there_is_refused_with_those_that_are(tmp_path):
    with pytest.raises(LayerError, match="no layer NOPE; entities lie on these: 0, OWN") as refusal:
        read(tmp_path, PANEL + circle(0, 0, 9, layer="OWN"), asked=("NOPE", "own"))
    assert refusal.value.where.endswith("piece.dxf")


def test_a_layer_that_holds_nothing_is_refused(tmp_path):
    with pytest.raises(LayerError, match=r"on the layers asked for \(OLD\)"):
        read(tmp_path, PANEL, layers=HIDDEN, asked=("OLD",))


def test_paper_space_and_invisible_entities_are_left_out(tmp_path):
    paper, unseen = circle(300, 200, 10, (67, 1)), circle(300, 200, 20, (60, 1))
    drawing = read(tmp_path, PANEL + paper + unseen)
    assert areas_mm2(drawing) == pytest.approx([240_000])
    assert {tally.why for tally in drawing.skipped} == {
        "in paper space; only model space is measured",
        "set invisible",
    }


def test_entities_kept_in_the_model_space_block_are_read(tmp_path):
    drawing = read(tmp_path, "", blocks=block("*Model_Space", PANEL) + block("*Paper_Space", HOLE))
    assert areas_mm2(drawing) == pytest.approx([240_000])


@pytest.mark.parametrize(
    ("blocks", "placed", "why"),
    [
        ("", insert("GONE", 0, 0), "the block is not in the file"),
        (block("GONE", "", (70, 4), (1, "other.dwg")), insert("GONE", 0, 0), "external reference"),
        (block("GONE", circle(0, 0, 9)), insert("GONE", 0, 0, (41, 0)), "scaled to nothing"),
    ],
)
def test_a_reference_that_places_nothing_is_named(tmp_path, blocks, placed, why):
    drawing = read(tmp_path, PANEL + placed, blocks=blocks)
    assert left_out(drawing) == {"INSERT of block GONE": 1}
    assert why in drawing.notes[0].text


def test_blocks_that_hold_themselves_are_refused():
    blocks = block("A", insert("B", 0, 0)) + block("B", insert("a", 0, 0))
    with pytest.raises(UnreadableError, match=r"in block B: the block a holds itself"):
        list(walk(dxf(insert("A", 0, 0), blocks=blocks)).placed())


def test_blocks_nested_too_deep_are_refused():
    blocks = "".join(block(f"B{k}", insert(f"B{k + 1}", 0, 0)) for k in range(9))
    rules = DxfRules(nesting_count=5)
    with pytest.raises(UnreadableError, match="nested more than 5 deep"):
        list(walk(dxf(insert("B0", 0, 0), blocks=blocks), rules=rules).placed())


def test_a_drawing_that_unfolds_without_end_is_refused():
    blocks = "".join(block(f"B{k}", insert(f"B{k + 1}", 0, 0) * 10) for k in range(6))
    rules = DxfRules(unfolded_count=1000)
    with pytest.raises(UnreadableError, match="unfold into more than 1000 entities"):
        list(walk(dxf(insert("B0", 0, 0), blocks=blocks), rules=rules).placed())


def test_a_drawing_of_too_many_entities_is_refused():
    with pytest.raises(UnreadableError, match="model space holds more than 5 entities"):
        list(walk(dxf(circle(0, 0, 1) * 6), rules=DxfRules(placed_count=5)).placed())


def test_an_array_without_end_is_refused():
    text = dxf(insert("HOLE", 0, 0, (70, 30_000), (71, 30_000)), blocks=HOLE)
    with pytest.raises(UnreadableError, match="an array of 30000 by 30000 blocks"):
        list(walk(text).placed())


def test_arrays_are_placed_cell_by_cell():
    text = dxf(insert("HOLE", 1, 2, (70, 3), (71, 2), (44, 10), (45, 20)), blocks=HOLE)
    places = [here.matrix[:2, 3].tolist() for here in walk(text).placed()]
    assert places == [[1, 2], [11, 2], [21, 2], [1, 22], [11, 22], [21, 22]]


def test_attributes_of_a_reference_lie_where_they_are_written():
    attribute = tags((0, "ATTRIB"), (8, "0"), (10, 7), (20, 8), (40, 5), (1, "Top"))
    text = dxf(
        insert("HOLE", 300, 200, layer="TOP") + attribute + line((0, 0), (1, 0)), blocks=HOLE
    )
    kinds = {here.entity.record.kind: here for here in walk(text).placed()}
    assert set(kinds) == {"ATTRIB", "CIRCLE", "LINE"}
    assert kinds["ATTRIB"].layer == "TOP"
    assert kinds["ATTRIB"].matrix[:2, 3].tolist() == [0, 0]


def test_layers_that_differ_in_case_are_one(tmp_path):
    hole = circle(300, 200, 10, layer="TOP")
    panel = polyline(rectangle(0, 0, 600, 400), layer="top")
    drawing = read(tmp_path, panel + hole, layers=[("Top", 0, 7)])
    assert [layer.name for layer in drawing.layers] == ["Top"]
    assert drawing.notes == ()
    drawing = read(tmp_path, panel + hole)
    assert [layer.name for layer in drawing.layers] == ["top"]


def test_attributes_on_layers_that_differ_in_case_show_alike(tmp_path):
    title = tags((0, "ATTRIB"), (8, "TOP"), (10, 50), (20, 50), (40, 20), (1, "P-77"))
    placed = insert("HOLE", 300, 200, (66, 1)) + title + tags((0, "SEQEND"))
    drawing = read(tmp_path, PANEL + placed, blocks=HOLE, layers=[("Top", 0, 7)])
    assert drawing.pieces[0].name == "P-77"
