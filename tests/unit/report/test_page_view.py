import json
from base64 import b64decode

import numpy as np
import pytest

from takeoff.report import page_view as viewing
from takeoff.report.display_mesh import border_lines_m, display_mesh
from takeoff.report.page_view import page_view
from tests.unit.piece.pieces_made import box, told

pytest.importorskip("plotly")

SLAB = box((0, 0, 0), (800, 400, 60))


def rows_of(surfaces, **also):
    return [
        {"id": one.id, "class": one.surface_class.value, "area_m2": one.area_m2,
         "depth_m": one.depth_m, "opening": one.opening, "why": one.why} | also
        for one in surfaces.surfaces
    ]  # fmt: skip


def numbers(value):
    """Give an array of a figure, packed or listed."""
    if isinstance(value, dict):
        return np.frombuffer(b64decode(value["bdata"]), dtype=f"<{value['dtype']}")
    return np.array(value)


def test_every_surface_is_a_trace_with_points_of_its_own():
    surfaces = told(SLAB)
    figure = json.loads(page_view(surfaces, rows_of(surfaces)).figure)
    faces = [trace for trace in figure["data"] if trace["type"] == "mesh3d"]
    assert [face["name"] for face in faces] == [one.id for one in surfaces.surfaces]
    for face, surface in zip(faces, surfaces.surfaces, strict=True):
        assert face["meta"][0] == surface.surface_class.value
        points_m = np.stack([numbers(face[axis]) for axis in "xyz"], axis=1)
        corners = np.stack([numbers(face[corner]) for corner in "ijk"], axis=1)
        assert len(corners) == len(surface.facets)
        sides_m = points_m[corners]
        across = np.cross(sides_m[:, 1] - sides_m[:, 0], sides_m[:, 2] - sides_m[:, 0])
        area_m2 = 0.5 * np.linalg.norm(across, axis=1).sum()
        assert area_m2 == pytest.approx(surface.area_m2, rel=1e-5)


def test_what_is_pointed_at_tells_the_figures_of_the_document():
    surfaces = told(SLAB)
    odd = rows_of(surfaces, why="<a href='javascript:alert(1)'>&", area_m2=12.5, depth_m=0.06)
    figure = json.loads(page_view(surfaces, odd).figure)
    said = figure["data"][0]["hovertext"]
    assert said.startswith("<b>F1</b> show face<br>12.5 m², 60 mm deep<br>")
    assert "<a" not in said
    assert "&lt;a" in said


def test_ids_are_written_on_the_largest_surfaces(monkeypatch):
    surfaces = told(SLAB)
    monkeypatch.setattr(viewing, "_MOST_IDS", 2)
    figure = json.loads(page_view(surfaces, []).figure)
    ids = [one["text"] for one in figure["layout"]["scene"]["annotations"]]
    largest = sorted(surfaces.surfaces, key=lambda one: -one.area_m2)[:2]
    assert ids == [one.id for one in largest]


def test_the_same_piece_gives_the_same_view():
    assert page_view(told(SLAB), []) == page_view(told(SLAB), [])


def test_a_large_mesh_is_thinned_out_and_keeps_its_shape():
    import trimesh

    from takeoff.geometry.mesh import Mesh

    ball = Mesh.from_trimesh(trimesh.creation.icosphere(5), unit="m")
    shown = display_mesh(ball, most_count=2000)
    assert 800 < len(shown.mesh.triangles) <= 2000
    assert len(shown.facet) == len(shown.mesh.triangles)
    radii_m = np.linalg.norm(shown.mesh.points_m[np.unique(shown.mesh.triangles)], axis=1)
    assert radii_m.min() > 0.95
    assert display_mesh(ball, most_count=len(ball.triangles)).mesh is ball


def test_borders_are_the_edges_between_surfaces():
    surfaces = told(SLAB)
    number = viewing._surface_numbers(surfaces)
    lines_m = border_lines_m(surfaces.mesh, number)
    lengths_m = np.linalg.norm(lines_m[:, 1] - lines_m[:, 0], axis=1)
    assert lengths_m.sum() == pytest.approx(4 * (0.8 + 0.4 + 0.06))


@pytest.mark.parametrize("size_mm", [(1200, 2700, 60), (6000, 300, 20), (400, 400, 400)])
def test_a_piece_lies_whole_in_a_frame_two_units_high_in_its_true_proportions(size_mm):
    surfaces = told(box((0, 0, 0), size_mm))
    scene = json.loads(page_view(surfaces, []).figure)["layout"]["scene"]
    assert scene["aspectmode"] == "manual"
    ratios = np.array([scene["aspectratio"][axis] for axis in "xyz"])
    spans_m = np.array([np.ptp(scene[f"{axis}axis"]["range"]) for axis in "xyz"])
    assert ratios / spans_m == pytest.approx(np.full(3, ratios[0] / spans_m[0]))
    assert np.linalg.norm(ratios) == pytest.approx(2.0)
    assert (spans_m > np.array(size_mm) / 1000.0).all()
    for one in scene["annotations"]:
        for axis in "xyz":
            low, high = scene[f"{axis}axis"]["range"]
            assert low < one[axis] < high
