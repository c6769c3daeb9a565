"""Meshes made into pieces, with their doubts."""

import numpy as np
import pytest

from takeoff.errors import MeshError
from takeoff.files.drawing import DrawingUnit
from takeoff.files.mesh_notes import mesh_notes, place, repair_notes
from takeoff.files.mesh_pieces import DrawnMesh, mesh_pieces
from takeoff.geometry import body_relations
from takeoff.geometry.mending import mend
from takeoff.geometry.repairs import Defect, Repair
from takeoff.geometry.solids import examine_mesh
from takeoff.notes import NoteCode
from tests.unit.geometry.meshes_made import (
    band,
    box,
    inverted,
    plate,
    sheet,
    together,
    with_facets,
    without,
)

METRE = DrawingUnit("m", 1.0, "told")


def pieces(*meshes):
    return mesh_pieces(meshes, METRE, stem="part", where="part.stl")


def notes_on(mesh, **options):
    report = examine_mesh(mend(mesh, **options))
    return {note.code: note.text for note in mesh_notes(report, where="part.stl")}


def test_layers_and_names_are_kept():
    drawn = [DrawnMesh("", box(), layer="A"), DrawnMesh("b", plate(), layer="B")]
    assert [(piece.name, piece.layer) for piece in pieces(*drawn).pieces] == [
        ("part", "A"),
        ("b", "B"),
    ]


def test_repairs_of_all_meshes_are_added():
    turned = inverted(plate(), [3])
    found = pieces(DrawnMesh("a", turned), DrawnMesh("b", turned))
    assert [(tally.what, tally.count) for tally in found.mended] == [(Defect.WINDING.value, 2)]
    assert [note.code for note in found.notes] == [NoteCode.WINDING]


def test_doubts_of_several_pieces_name_the_piece():
    small = box((0.1, 0.1, 0.1), (0.2, 0.2, 0.2))
    found = pieces(DrawnMesh("", together(box(), inverted(small), box((5, 5, 5), (6, 6, 6)))))
    assert [piece.name for piece in found.pieces] == ["part-1", "part-2"]
    [note] = [note for note in found.notes if note.code is NoteCode.CAVITY]
    assert note.where == "part.stl: part-1"


def test_an_overlap_is_refused_with_its_place():
    both = together(box(), box((0.5, 0, 0), (2, 1, 1)))
    with pytest.raises(MeshError, match=r"near \(0.75, 0.5, 0.5\) m.*unite them") as refusal:
        pieces(DrawnMesh("", both))
    assert refusal.value.where == "part.stl"


def test_places_are_those_of_the_drawing():
    both = together(box(), box((0.5, 0, 0), (2, 1, 1)))
    inch = DrawingUnit("in", 0.0254, "told")
    with pytest.raises(MeshError, match=r"near \(29.5276, 19.685, 19.685\) in"):
        mesh_pieces([DrawnMesh("", both)], inch, stem="part", where="part.stl")


def test_a_clean_solid_raises_no_doubt():
    assert notes_on(plate()) == {}


def test_open_edges_are_placed():
    text = notes_on(without(sheet(steps=40), [700]))[NoteCode.NOT_CLOSED]
    assert "163 open edges, the first at (0, 0.025, 0) m, 1 of the holes are small" in text


def test_torn_edges_are_no_closed_surface():
    text = notes_on(with_facets(box(), [[0, 1, 7], [0, 7, 6]]))[NoteCode.NOT_CLOSED]
    assert "an inner wall may be counted in the area" in text


def test_a_one_sided_surface_is_named():
    assert "one-sided" in notes_on(band(twists=1))[NoteCode.WINDING]


def test_bodies_not_tried_for_overlap_are_named(monkeypatch):
    monkeypatch.setattr(body_relations, "_MOST_WORK", 1)
    hollow = together(box(high=(3, 3, 3)), inverted(box((1, 1, 1), (2, 2, 2))))
    assert "1 pairs of bodies were not tried" in notes_on(hollow)[NoteCode.OVERLAP]


@pytest.mark.parametrize(
    ("mesh", "words"),
    [(box(high=(1, 1, 0.01)), "of the mean thickness"), (sheet(), "of the size")],
)
def test_coarse_coordinates_are_named(mesh, words):
    assert words in notes_on(mesh, resolution_m=0.002)[NoteCode.COARSE_COORDINATES]
    assert NoteCode.COARSE_COORDINATES not in notes_on(mesh, resolution_m=1e-7)


def test_each_kind_of_repair_has_its_note():
    repairs = [Repair(defect, 2) for defect in Defect]
    codes = [note.code for note in repair_notes(repairs, where="part.stl")]
    assert len(codes) == len(Defect)
    assert set(codes) == {NoteCode.MENDED, NoteCode.WINDING, NoteCode.INSIDE_OUT}


def test_places_are_written_to_a_tenth_of_a_millimetre():
    assert place(np.array([1.23456, -0.00001, 1000.0])) == "(1.2346, 0, 1000) m"
