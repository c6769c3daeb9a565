from math import cos, pi, sin

import pytest
import trimesh

import takeoff
from takeoff.errors import (
    DirectionMissingError,
    LayerError,
    LayerVolumeError,
    MeshError,
    SurfaceError,
    UnreadableError,
)
from takeoff.measuring.request import MeasureRequest
from takeoff.measuring.taking import measure_drawing
from takeoff.piece.thickness import everywhere
from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"
COUNTER = {"unit": "mm", "kind": "open", "show": "up"}


def test_the_return_limit_decides_and_can_be_told():
    usual = takeoff.measure(SAMPLES / "ticket-counter.stl", **COUNTER)
    deep = takeoff.measure(SAMPLES / "ticket-counter.stl", **COUNTER, return_limit="900 mm")
    assert usual.area_m2["upright"] == pytest.approx(0.5934)
    assert deep.area_m2["upright"] == 0.0
    assert deep.area_m2["return"] == pytest.approx(0.5934 + 0.1908)
    assert deep.to_dict()["settings"]["return_limit_m"] == 0.9


def test_the_solid_volume_is_given_for_closed_pieces_only():
    surround = takeoff.measure(
        SAMPLES / "hearth-surround.stl", unit="in", kind="piece", show="front"
    )
    [piece] = surround.to_dict()["pieces"]
    assert piece["solid_volume_m3"] == pytest.approx(1056 * 6 * 0.0254**3)
    [counter] = takeoff.measure(SAMPLES / "ticket-counter.stl", **COUNTER).to_dict()["pieces"]
    assert counter["solid_volume_m3"] is None


def test_an_open_surface_is_not_blamed_for_being_open():
    counter = takeoff.measure(SAMPLES / "ticket-counter.stl", **COUNTER)
    assert counter.notes == ()


@pytest.mark.parametrize(
    ("changes", "error", "message"),
    [
        ({"kind": "bust"}, SurfaceError, "'bust' is no kind of model; give one of piece, form"),
        ({"kind": "form"}, SurfaceError, "open edges"),
        ({"kind": "piece"}, SurfaceError, "open"),
        ({"show": None}, DirectionMissingError, "--show up"),
        ({"kind": None, "show": None}, DirectionMissingError, "--kind open"),
        ({"show": "S9"}, SurfaceError, "there is no reading S9"),
        ({"edge_depth": "40 mm"}, SurfaceError, "edge depths belong to outlines"),
        ({"edges": {"E1": "0 mm"}}, SurfaceError, "edge depths belong to outlines"),
        ({"layers": ("TOP",)}, LayerError, "an STL file has no layers"),
        ({"backer": "0 mm"}, LayerVolumeError, "a layer of 0 mm is no layer"),
    ],
)
def test_what_does_not_fit_a_mesh_is_refused(changes, error, message):
    with pytest.raises(error, match=message):
        takeoff.measure(SAMPLES / "ticket-counter.stl", **{**COUNTER, **changes})


@pytest.mark.parametrize("name", ["piece.step", "piece"])
def test_other_formats_are_refused(name):
    with pytest.raises(UnreadableError, match=r"are not read; export the piece as \.dxf or \.stl"):
        takeoff.measure(name, unit="mm")


def test_a_refused_piece_of_several_is_named(tmp_path):
    boxes = [trimesh.creation.box((400, 300, 50)), trimesh.creation.box((400, 300, 10))]
    boxes[1].apply_translation((900, 0, 0))
    path = tmp_path / "two.stl"
    trimesh.util.concatenate(boxes).export(path)
    request = MeasureRequest(unit="mm", kind="piece", show="up", backer=everywhere(0.020))
    with pytest.raises(LayerVolumeError, match=r"two\.stl: .*2: layers of 20 mm"):
        measure_drawing(path, request)


def test_bodies_that_run_into_each_other_are_refused(tmp_path):
    boxes = [trimesh.creation.box((400, 300, 50)), trimesh.creation.box((400, 300, 50))]
    boxes[1].apply_translation((100, 20, 10))
    path = tmp_path / "overlap.stl"
    trimesh.util.concatenate(boxes).export(path)
    with pytest.raises(MeshError, match="1 pairs run into each other"):
        takeoff.measure(path, unit="mm", kind="piece", show="up")


def test_a_one_sided_band_is_refused(tmp_path):
    turn = [k * 2 * pi / 24 for k in range(24)]
    points = [
        ((600 + s * cos(a / 2)) * cos(a), (600 + s * cos(a / 2)) * sin(a), s * sin(a / 2))
        for a in turn
        for s in (-100, 100)
    ]
    faces = []
    for k in range(24):
        a, b = 2 * k, 2 * k + 1
        c, d = (1, 0) if k == 23 else (2 * k + 2, 2 * k + 3)
        faces += [(a, c, b), (b, c, d)]
    path = tmp_path / "band.stl"
    trimesh.Trimesh(points, faces, process=False).export(path)
    with pytest.raises(SurfaceError, match="face opposite ways"):
        takeoff.measure(path, unit="mm", kind="open", show="up")


@pytest.mark.parametrize("empty", ["", "  "])
def test_an_empty_path_is_called_empty(empty):
    with pytest.raises(UnreadableError, match=r"^the path of the drawing is empty; name an STL"):
        takeoff.measure(empty)


def test_a_folder_is_called_one(tmp_path):
    with pytest.raises(UnreadableError, match=r"is a folder; name the drawings in it, \.dxf or"):
        takeoff.measure(tmp_path)
