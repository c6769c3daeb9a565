"""STL drawings, binary or in text."""

import hashlib

import numpy as np
import pytest

from takeoff.errors import ErrorKind, MeshError, QuantityError, UnitMissingError, UnreadableError
from takeoff.files.stl import read_stl
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.mesh_rules import MeshRules
from takeoff.notes import NoteCode
from tests.unit.files.stl_written import binary_stl, text_stl
from tests.unit.geometry.meshes_made import TOP, box, inverted, plate, soup, together, without

SLAB = box(high=(1.5, 0.5, 0.04))


@pytest.fixture
def read(tmp_path):
    """Write an STL and read it."""

    def written(data, unit="mm", **options):
        path = tmp_path / "slab.stl"
        path.write_bytes(data.encode() if isinstance(data, str) else data)
        return read_stl(path, unit=unit, **options)

    return written


@pytest.mark.parametrize("write", [binary_stl, text_stl])
def test_a_solid_is_read_in_metres(read, write):
    data = write(SLAB)
    drawing = read(data)
    [piece] = drawing.pieces
    assert piece.report.volume_m3 == pytest.approx(0.03, rel=1e-6)
    assert piece.shape.points_m.max(axis=0).tolist() == pytest.approx([1.5, 0.5, 0.04])
    assert (drawing.notes, drawing.mended, drawing.skipped) == ((), (), ())
    raw = data.encode() if isinstance(data, str) else data
    assert drawing.sha256 == hashlib.sha256(raw).hexdigest()
    assert (drawing.unit.name, drawing.unit.source) == ("mm", "told")
    assert read(data, with_hash=False).sha256 == ""


@pytest.mark.parametrize(("unit", "metres"), [("mm", 1e-3), ("in", 0.0254), ("m", 1.0)])
def test_coordinates_are_in_the_unit_told(read, unit, metres):
    [piece] = read(binary_stl(SLAB, scale=1.0 / metres), unit=unit).pieces
    assert piece.report.area_m2 == pytest.approx(1.66, rel=1e-6)


def test_a_piece_is_named_for_its_solid_else_for_its_file(read):
    assert read(binary_stl(SLAB)).pieces[0].name == "slab"
    assert read(text_stl(SLAB, name="")).pieces[0].name == "slab"
    assert read(text_stl(SLAB, name="Top  A\t1")).pieces[0].name == "Top A 1"


def test_solids_apart_in_one_file_are_pieces_with_numbers(read):
    drawing = read(binary_stl(together(SLAB, box((0, 2, 0), (1, 3, 0.1)))))
    assert [piece.name for piece in drawing.pieces] == ["slab-1", "slab-2"]
    volumes = [piece.report.volume_m3 for piece in drawing.pieces]
    assert volumes == pytest.approx([0.03, 0.1], rel=1e-6)


def test_solids_of_the_same_name_are_told_apart(read):
    other = box((0, 2, 0), (1, 3, 0.1))
    drawing = read(text_stl(SLAB, name="top") + text_stl(other, name="top"))
    assert [piece.name for piece in drawing.pieces] == ["top-1", "top-2"]


def test_solids_that_close_only_together_are_one_piece(read):
    lid, rest = without(SLAB, [*range(2), *range(4, 12)]), without(SLAB, TOP)
    drawing = read(text_stl(lid, name="lid") + text_stl(rest, name="rest"))
    [piece] = drawing.pieces
    assert (piece.name, piece.report.closed) == ("slab", True)
    assert [note.code for note in drawing.notes] == [NoteCode.NAME_CHANGED]


def test_open_solids_that_have_nothing_to_do_with_each_other_stay_pieces(read):
    one, other = without(SLAB, TOP), without(box((0, 2, 0), (1, 3, 0.1)), TOP)
    drawing = read(text_stl(one, name="a") + text_stl(other, name="b"))
    assert [piece.name for piece in drawing.pieces] == ["a", "b"]
    assert [note.code for note in drawing.notes] == [NoteCode.NOT_CLOSED] * 2


def test_named_solids_that_touch_stay_two(read):
    other = box((1.5, 0, 0), (2, 0.5, 0.04))
    drawing = read(text_stl(SLAB, name="a") + text_stl(other, name="b"))
    assert [piece.report.volume_m3 for piece in drawing.pieces] == pytest.approx([0.03, 0.01])


def test_solids_without_facets_are_left_out_and_named(read):
    drawing = read(text_stl(SLAB) + "solid nothing\nendsolid nothing\n")
    assert [(tally.what, tally.count) for tally in drawing.skipped] == [("empty solid", 1)]
    assert len(drawing.pieces) == 1


def test_cavities_are_noted(read):
    drawing = read(binary_stl(together(SLAB, inverted(box((0.1, 0.1, 0.01), (0.2, 0.2, 0.02))))))
    assert [note.code for note in drawing.notes] == [NoteCode.CAVITY]
    assert drawing.pieces[0].report.volume_m3 == pytest.approx(0.03 - 0.0001, rel=1e-6)


@pytest.mark.parametrize(
    ("unit", "words"),
    [("in", "38.1 x 12.7 x 1.016 m overall is absurd.*1.5 m in mm"), ("m", "1500 x 500 x 40 m")],
)
def test_an_absurd_size_is_noted(read, unit, words):
    [note] = read(binary_stl(SLAB), unit=unit).notes
    assert note.code is NoteCode.SIZE_ABSURD
    assert words.split(".*")[0] in note.text


def test_float_steps_far_away_are_named_where_they_show(read):
    far = Mesh(SLAB.points_m + np.array([500.0, 900.0, 0.0]), SLAB.triangles)
    [note] = read(binary_stl(far)).notes
    assert note.code is NoteCode.COARSE_COORDINATES
    assert "900.5 m from the origin" in note.text
    assert "steps of 0.062 mm" in note.text


def test_single_precision_is_seen_in_text_too(read):
    far = Mesh(SLAB.points_m * 1000 + np.array([500_000.3, 900_000.3, 0.0]), SLAB.triangles)
    single = Mesh(far.points_m.astype(np.float32).astype(float), far.triangles)
    coarse = read(text_stl(single, scale=1.0, number="{:.6f}"))
    assert [note.code for note in coarse.notes] == [NoteCode.COARSE_COORDINATES]
    assert read(text_stl(far, scale=1.0, number="{:.6f}")).notes == ()


def test_a_surface_drawn_from_both_sides_is_refused_where_it_does_not_repeat(read):
    front = Mesh(SLAB.points_m[:4], np.array([[0, 1, 3], [0, 3, 2]], dtype=np.int32))
    back = np.array([[0, 2, 1], [1, 2, 3]], dtype=np.int32)
    both = Mesh(front.points_m, np.concatenate([front.triangles, back]))
    with pytest.raises(MeshError, match=r"have no thickness.*drawn from both sides"):
        read(binary_stl(both))


def test_a_body_inside_another_wound_outward_is_refused(read):
    with pytest.raises(MeshError, match=r"bodies overlap.*one inside the other"):
        read(binary_stl(together(SLAB, box((0.1, 0.1, 0.01), (0.2, 0.2, 0.02)))))


@pytest.mark.parametrize("number", [np.nan, np.inf, -np.inf])
@pytest.mark.parametrize("write", [binary_stl, text_stl])
def test_a_coordinate_that_is_no_number_is_refused_with_its_facet(read, write, number):
    drawn = soup(SLAB)
    drawn.points_m[3 * 6 + 1, 2] = number
    with pytest.raises(MeshError, match="facet 7 is not a finite number") as refusal:
        read(write(drawn))
    assert refusal.value.where.endswith("slab.stl: facet 7")


def test_a_coordinate_beyond_the_earth_is_refused(read):
    drawn = soup(SLAB)
    drawn.points_m[3 * 6 + 1, 2] = -1e12
    with pytest.raises(MeshError, match=r"facet 7 of slab lies 1e.12 m from the origin"):
        read(binary_stl(drawn))


@pytest.mark.parametrize("write", [binary_stl, text_stl])
def test_a_file_without_facets_is_refused(read, write):
    with pytest.raises(MeshError, match="there are no facets in it"):
        read(write(Mesh(np.zeros((1, 3)), np.empty((0, 3), dtype=np.int32))))


def test_a_mesh_without_area_is_refused_with_its_file(read):
    point = Mesh(np.ones((3, 3)), np.array([[0, 1, 2]], dtype=np.int32))
    with pytest.raises(MeshError, match=r"slab.stl: no facet of it has any area"):
        read(binary_stl(point))


def test_without_a_unit_the_sizes_are_told(read):
    with pytest.raises(UnitMissingError, match=r"1.5 x 0.5 x 0.04 m if it is in mm"):
        read(binary_stl(SLAB), unit=None)


def test_a_unit_that_is_none_is_refused_before_the_file(tmp_path):
    with pytest.raises(QuantityError, match="furlongs"):
        read_stl(tmp_path / "missing.stl", unit="furlongs")


def test_a_damaged_file_is_refused_for_that_before_its_unit(read):
    with pytest.raises(UnreadableError, match="declares 99 facets"):
        read(binary_stl(SLAB, declared=99), unit=None)


def test_rules_reach_the_mending(read):
    shaken = soup(plate())
    shaken.points_m[:] += np.random.default_rng(0).uniform(-1e-4, 1e-4, shaken.points_m.shape)
    wide = MeshRules(weld_m=1e-3, widest_weld_m=1e-3)
    [piece] = read(binary_stl(shaken), rules=wide).pieces
    assert piece.report.closed


def test_errors_say_what_kind_they_are(read):
    with pytest.raises(MeshError, match="no facets") as refusal:
        read("solid\nendsolid\n")
    assert refusal.value.kind is ErrorKind.MESH
