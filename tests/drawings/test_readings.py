"""Nothing told: fresh pieces are read right or asked about, never read wrong."""

import numpy as np
import pytest
import trimesh

from takeoff.errors import DirectionMissingError
from takeoff.files.stl import read_stl
from takeoff.geometry.mesh import Mesh
from takeoff.notes import NoteCode
from takeoff.piece.casting import classify_castings
from takeoff.piece.finding import Source, find
from takeoff.piece.surfaces import SurfaceClass
from tests.drawings.readable import drawn
from tests.drawings.test_pieces import CASES, FOLDER
from tests.unit.piece.pieces_made import shuffled, subdivided, turned, unwelded, wholly_flipped

DRAWN = {piece.name: piece for piece in drawn()}
ASKED = [name for name, piece in DRAWN.items() if piece.asked]
SETTLED = [name for name, piece in DRAWN.items() if not piece.asked]


def upside_down(mesh, show):
    swap = np.array([[0.0, 1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, -1.0]])
    return Mesh(mesh.points_m @ swap.T, mesh.triangles), swap @ show


def mirrored(mesh, show):
    flip = np.diag([-1.0, 1.0, 1.0])
    triangles = np.ascontiguousarray(mesh.triangles[:, ::-1])
    return Mesh(mesh.points_m @ flip, triangles), flip @ show


def cast_m2(mesh, kind, show):
    """Show face, return and upright of all that is cast."""
    cast = classify_castings(mesh, kind=kind, show_direction=show)
    return np.sum([[one.area_m2[name] for name in list(SurfaceClass)[:3]] for one in cast], axis=0)


@pytest.mark.parametrize("way", [upside_down, mirrored])
@pytest.mark.parametrize("name", SETTLED)
def test_what_can_be_read_one_way_is_read_right(name, way):
    piece = DRAWN[name]
    mesh, show = way(piece.mesh, np.array(piece.show))
    found = find(mesh)
    assert (found.kind, found.source) == (piece.kind, Source.FOUND)
    meant_m2 = cast_m2(mesh, piece.kind, show)
    got_m2 = cast_m2(mesh, found.kind, found.show_direction)
    [note] = found.notes
    if note.code is NoteCode.DIRECTION_FOUND:
        assert found.show_direction == pytest.approx(show, abs=1e-4)
        assert got_m2 == pytest.approx(meant_m2, abs=meant_m2.sum() / 1000)
    else:
        assert note.code is NoteCode.DIRECTION_EITHER
        assert got_m2 == pytest.approx(meant_m2, abs=meant_m2.sum() / 200)


@pytest.mark.parametrize("name", ASKED)
def test_what_can_be_read_several_ways_is_asked_about(name):
    piece = DRAWN[name]
    mesh, _ = turned(piece.mesh, np.array(piece.show))
    with pytest.raises(DirectionMissingError, match=r"can be read in \d ways; paste one of these"):
        find(mesh)


@pytest.mark.parametrize("name", ["eased slab", "vanity", "sharp tray"])
@pytest.mark.parametrize("way", [subdivided, wholly_flipped, shuffled, unwelded])
def test_neither_dividing_nor_flipping_facets_changes_the_outcome(name, way):
    piece = DRAWN[name]
    mesh, _ = way(piece.mesh, np.array(piece.show))
    if piece.asked:
        with pytest.raises(DirectionMissingError, match="paste one of these"):
            find(mesh)
    else:
        assert find(mesh).show_direction.tolist() == list(piece.show)


@pytest.mark.parametrize(
    "name",
    [name for name in ASKED if name not in {"hexagonal planter", "column", "open step"}],
)
def test_what_was_meant_is_among_the_readings(name):
    piece = DRAWN[name]
    with pytest.raises(DirectionMissingError) as asked:
        find(piece.mesh)
    words = {(0, 0, 1): "up", (0, 0, -1): "down", (0, -1, 0): "front", (0, 1, 0): "back"}
    option = f"--kind {piece.kind.value} --show {words[tuple(int(v) for v in piece.show)]} "
    assert option in str(asked.value)


def test_layers_make_the_two_sides_of_a_curve_differ():
    vault = DRAWN["open vault"].mesh
    assert find(vault).notes[0].code is NoteCode.DIRECTION_EITHER
    with pytest.raises(DirectionMissingError, match="can be read in 2 ways"):
        find(vault, layers_m=0.02)


def test_a_scan_is_always_asked_about():
    slab = DRAWN["eased slab"].mesh
    points, triangles = slab.points_m, slab.triangles
    for _ in range(3):
        points, triangles = trimesh.remesh.subdivide(points, triangles)
    shake_m = np.random.default_rng(3).normal(scale=0.001, size=points.shape)
    with pytest.raises(DirectionMissingError, match="the mesh is a scan, of which this is always"):
        find(Mesh(points + shake_m, triangles.astype(np.int32)))


ASKED_FILES = {
    "shell.stl",
    "l_panel.stl",
    "planter.stl",
    "tread.stl",
    "upstand.stl",
    "undercut.stl",
    "barrel.stl",
    "form_island.stl",
    "form_fluted.stl",
}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.file)
def test_drawings_of_known_area_are_read_right_or_asked_about(case):
    (piece,) = read_stl(FOLDER / case.file, unit="mm").pieces
    mesh, _ = turned(piece.shape, np.array(case.show, dtype=float))
    if case.file in ASKED_FILES:
        with pytest.raises(DirectionMissingError, match="paste one of these"):
            find(mesh)
        return
    found = find(mesh)
    got_mm2 = cast_m2(mesh, found.kind, found.show_direction) * 1e6
    assert got_mm2 == pytest.approx(case.areas[:3], abs=case.areas.sum() / 500)


@pytest.mark.parametrize("file", ["shell.stl", "form_island.stl", "form_fluted.stl"])
def test_the_kind_alone_settles_forms_and_shells(file):
    [case] = [one for one in CASES if one.file == file]
    (piece,) = read_stl(FOLDER / case.file, unit="mm").pieces
    found = find(piece.shape, kind=case.kind)
    assert found.show_direction.tolist() == list(case.show)
