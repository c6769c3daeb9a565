import pytest

from tests.unit.files.dxf_reading import left_out, read
from tests.unit.files.dxf_text import circle, polyline, rectangle, tags

PANEL = polyline(rectangle(0, 0, 600, 400))
OTHER = polyline(rectangle(1000, 0, 500, 400))


def text(said, x, y, *more, height=20):
    return tags((0, "TEXT"), (8, "0"), (10, x), (20, y), (40, height), (1, said), *more)


def names(drawing):
    return [piece.name for piece in drawing.pieces]


def test_a_text_in_an_outline_names_the_piece(tmp_path):
    drawing = read(tmp_path, PANEL + OTHER + text("Top A", 100, 100))
    assert names(drawing) == ["Top A", "piece"]
    assert left_out(drawing) == {"TEXT": 1}


def test_a_text_in_an_opening_names_nothing(tmp_path):
    drawing = read(tmp_path, PANEL + circle(300, 200, 100) + text("Sink", 300, 200))
    assert names(drawing) == ["piece"]


def test_the_largest_text_is_the_name(tmp_path):
    drawing = read(tmp_path, PANEL + text("note", 50, 50, height=5) + text("Top A", 100, 100))
    assert names(drawing) == ["Top A"]


def test_two_texts_of_one_height_name_nothing(tmp_path):
    assert names(read(tmp_path, PANEL + text("this", 50, 50) + text("that", 90, 90))) == ["piece"]


@pytest.mark.parametrize("said", ["1200", "600 x 400".replace(" x ", " / "), "A" * 61, ""])
def test_figures_and_remarks_are_no_names(tmp_path, said):
    assert names(read(tmp_path, PANEL + text(said, 100, 100))) == ["piece"]


def test_pieces_of_one_name_are_numbered(tmp_path):
    texts = text("Panel", 100, 100) + text("Panel", 1100, 100)
    assert names(read(tmp_path, PANEL + OTHER + texts)) == ["Panel-1", "Panel-2"]
    assert names(read(tmp_path, PANEL + OTHER)) == ["piece-1", "piece-2"]


@pytest.mark.parametrize(
    ("said", "name"),
    [("Top %%c90", "Top Ø90"), (r"K\U+00FCche", "Küche"), ("K\u00fcche", "Küche")],
)
def test_the_codes_of_a_text_are_read(tmp_path, said, name):
    assert names(read(tmp_path, PANEL + text(said, 100, 100))) == [name]


def test_a_text_of_several_lines_is_one_name(tmp_path):
    said = r"{\fArial|b1;Vanity}\Ptop"
    drawn = tags((0, "MTEXT"), (8, "0"), (10, 100), (20, 100), (40, 20), (1, said))
    assert names(read(tmp_path, PANEL + drawn)) == ["Vanity top"]


def test_a_centred_text_stands_at_its_second_point(tmp_path):
    inside = text("Top A", 9000, 9000, (72, 1), (11, 300), (21, 200))
    assert names(read(tmp_path, PANEL + inside)) == ["Top A"]
