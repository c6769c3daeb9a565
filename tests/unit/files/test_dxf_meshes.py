import pytest

from takeoff.errors import LayerError, UnreadableError
from takeoff.notes import NoteCode
from tests.unit.files.dxf_reading import codes, left_out, read
from tests.unit.files.dxf_text import block, insert, line, polyline, rectangle, tags

BOX = [(x, y, z) for z in (0, 40) for x, y in rectangle(0, 0, 900, 300)]
BOX_FACES = [(0, 3, 2, 1), (4, 5, 6, 7), (0, 1, 5, 4), (1, 2, 6, 5), (2, 3, 7, 6), (3, 0, 4, 7)]
BOX_M2, BOX_M3 = 2 * (0.9 * 0.3 + 0.9 * 0.04 + 0.3 * 0.04), 0.9 * 0.3 * 0.04


def at(code, point):
    return tuple((code + 10 * axis, value) for axis, value in enumerate(point))


def faces_3d(*, layer="0"):
    return "".join(
        tags(
            (0, "3DFACE"),
            (8, layer),
            *(tag for k, number in enumerate(face) for tag in at(10 + k, BOX[number])),
        )
        for face in BOX_FACES
    )


def mesh_entity(*more, faces=BOX_FACES):
    numbers = [(90, n) for face in faces for n in (len(face), *face)]
    points = [tag for point in BOX for tag in at(10, point)]
    return tags(
        (0, "MESH"), (8, "0"), (71, 2), *more, (92, 8), *points, (93, len(numbers)), *numbers,
        (94, 1), (90, 0), (90, 1), (95, 0), (90, 0),
    )  # fmt: skip


def polyface(faces):
    corners = "".join(tags((0, "VERTEX"), *at(10, point), (70, 192)) for point in BOX)
    sides = "".join(
        tags((0, "VERTEX"), (10, 0), (20, 0), (70, 128), *((71 + k, n) for k, n in enumerate(f)))
        for f in faces
    )
    return tags((0, "POLYLINE"), (8, "0"), (70, 64)) + corners + sides + tags((0, "SEQEND"))


ONE_BASED = [tuple(number + 1 for number in face) for face in BOX_FACES]


@pytest.mark.parametrize("drawn", [faces_3d(), mesh_entity(), polyface(ONE_BASED)])
def test_faces_that_close_are_a_solid(tmp_path, drawn):
    [piece] = read(tmp_path, drawn).pieces
    assert piece.report.area_m2 == pytest.approx(BOX_M2)
    assert piece.report.volume_m3 == pytest.approx(BOX_M3)
    assert (piece.name, piece.layer) == ("piece", "0")


def test_negative_corner_numbers_only_hide_edges(tmp_path):
    hidden = [(a, -b, c, -d) for a, b, c, d in ONE_BASED]
    [piece] = read(tmp_path, polyface(hidden)).pieces
    assert piece.report.volume_m3 == pytest.approx(BOX_M3)


def test_a_scaled_block_scales_its_faces(tmp_path):
    placed = insert("BOX", 5, 5, (41, 2), (42, 2), (43, 2))
    [piece] = read(tmp_path, placed, blocks=block("BOX", faces_3d())).pieces
    assert piece.report.volume_m3 == pytest.approx(8 * BOX_M3)


def test_lines_beside_faces_are_left_out(tmp_path):
    drawing = read(tmp_path, faces_3d() + line((0, 0), (900, 0)))
    assert left_out(drawing) == {"LINE": 1}
    assert NoteCode.SKIPPED in codes(drawing)


def test_faces_and_outlines_together_are_refused_with_their_layers(tmp_path):
    both = faces_3d(layer="SOLID") + polyline(rectangle(0, 0, 900, 300), layer="FLAT")
    with pytest.raises(LayerError, match=r"in space \(layer SOLID\).*outlines \(layer FLAT\)"):
        read(tmp_path, both)
    [piece] = read(tmp_path, both, asked=("FLAT",)).pieces
    assert piece.report is None


def test_a_grid_of_faces_is_a_surface(tmp_path):
    corners = "".join(
        tags((0, "VERTEX"), *at(10, (x, y, 0)), (70, 64)) for x in (0, 100, 200) for y in (0, 50)
    )
    head = tags((0, "POLYLINE"), (8, "0"), (70, 16), (71, 3), (72, 2))
    drawing = read(tmp_path, head + corners + tags((0, "SEQEND")))
    assert drawing.pieces[0].report.area_m2 == pytest.approx(0.2 * 0.05)
    assert NoteCode.NOT_CLOSED in codes(drawing)


def test_a_grid_closed_both_ways_closes(tmp_path):
    ring = [(0, 0), (100, 0), (100, 100), (0, 100)]
    section = [(200, 0), (300, 0), (300, 100), (200, 100)]
    spin = [(1, 0), (0, 1), (-1, 0), (0, -1)]
    corners = "".join(
        tags((0, "VERTEX"), *at(10, (r * c, r * s, z)), (70, 64))
        for c, s in spin
        for r, z in section
    )
    assert len(ring) == len(spin)
    head = tags((0, "POLYLINE"), (8, "0"), (70, 16 | 1 | 32), (71, 4), (72, 4))
    [piece] = read(tmp_path, head + corners + tags((0, "SEQEND"))).pieces
    square_m2 = 2 * (0.3**2 - 0.2**2)  # two squares on their corners, one in the other
    assert piece.report.closed
    assert piece.report.volume_m3 == pytest.approx(square_m2 * 0.1)


def test_a_smoothed_grid_is_read_by_its_smoothed_corners(tmp_path):
    frame = "".join(tags((0, "VERTEX"), *at(10, (0, 0, z)), (70, 80)) for z in range(4))
    corners = "".join(
        tags((0, "VERTEX"), *at(10, (x, y, 0)), (70, 72)) for x in (0, 100) for y in (0, 50)
    )
    head = tags((0, "POLYLINE"), (8, "0"), (70, 20), (71, 2), (72, 2), (73, 2), (74, 2), (75, 6))
    [piece] = read(tmp_path, head + frame + corners + tags((0, "SEQEND"))).pieces
    assert piece.report.area_m2 == pytest.approx(0.1 * 0.05)


@pytest.mark.parametrize(
    ("drawn", "says"),
    [
        (polyface([(1, 2, 99)]), "a face with a corner number that is not there"),
        (mesh_entity().replace(tags(*at(10, BOX[6])), ""), "says it has 8 corners, and has 7"),
        (mesh_entity(faces=[(0, 1, 2), (0, 1)]), "a face has 2 corners"),
        (tags((0, "POLYLINE"), (70, 16), (71, 3), (72, 3)), "a grid of 3 by 3 faces has 0 corners"),
        (tags((0, "3DFACE"), *at(10, (0, 0, 0))), "lacks group code 11"),
        (tags((0, "3DFACE"), *(t for k in range(3) for t in at(10 + k, (9e15, k, 0)))), "beyond"),
    ],
)
def test_faces_that_cannot_be_read_are_refused(tmp_path, drawn, says):
    with pytest.raises(UnreadableError, match=says):
        read(tmp_path, drawn)


def test_a_smoothed_mesh_is_left_out_and_named(tmp_path):
    drawing = read(tmp_path, polyline(rectangle(0, 0, 600, 400)) + mesh_entity((91, 2)))
    assert "is smoothed" in drawing.notes[0].text


def test_edges_written_as_faces_are_counted(tmp_path):
    drawing = read(tmp_path, polyface([*ONE_BASED, (1, 2)]))
    assert left_out(drawing) == {"POLYLINE edges": 1}


@pytest.mark.parametrize("repeated", [(0, 1, 2, 2), (0, 0, 1, 2), (0, 1, 2, 0)])
def test_a_triangle_that_repeats_a_corner_is_no_defect(tmp_path, repeated):
    corners = [(0, 0, 0), (900, 0, 0), (0, 600, 300)]
    drawn = tags(
        (0, "3DFACE"),
        (8, "0"),
        *(t for k, n in enumerate(repeated) for t in at(10 + k, corners[n])),
    )
    drawing = read(tmp_path, drawn)
    assert drawing.pieces[0].report.area_m2 == pytest.approx(0.45 * (0.6**2 + 0.3**2) ** 0.5)
    assert drawing.mended == ()
