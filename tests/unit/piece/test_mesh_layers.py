import numpy as np
import pytest
import trimesh

import takeoff
from takeoff.errors import LayerVolumeError

LAYERS = {"face_coat": "4 mm", "backer": "20 mm"}


def box_mm(size, *, keep=lambda box: np.ones(len(box.faces), dtype=bool)):
    box = trimesh.creation.box(size)
    box.update_faces(keep(box))
    return takeoff.Mesh.from_trimesh(box, unit="mm")


def tray_mm(size):
    return box_mm(size, keep=lambda box: box.face_normals[:, 2] > -0.5)


def test_the_centroid_of_a_closed_shell_is_its_middle():
    laid = takeoff.layer_volumes(box_mm((800, 600, 100)), **LAYERS)
    for layer in ("face_coat", "backer"):
        assert np.allclose(laid.centroid_m[layer], 0.0, atol=2e-4)


def test_the_centroid_of_a_tray_is_that_of_a_box_less_a_box():
    laid = takeoff.layer_volumes(tray_mm((800, 600, 100)), backer="20 mm")
    inner_m3 = 0.760 * 0.560 * 0.080
    exact_m = -inner_m3 * -0.010 / (0.048 - inner_m3)
    assert laid.centroid_m["backer"][2] == pytest.approx(exact_m, abs=1e-4)


def test_the_inner_face_is_that_of_the_box_inside():
    laid = takeoff.layer_volumes(tray_mm((800, 600, 100)), **LAYERS)
    assert laid.inner_area_m2 == pytest.approx(0.752 * 0.552 + 2 * (0.752 + 0.552) * 0.076)


def test_the_inner_face_is_found_by_counting_too():
    ribs = takeoff.layer_volumes(box_mm((600, 400, 60)), face_coat="4 mm", backer="25 mm")
    assert ribs.inner_area_m2 == pytest.approx(2 * 0.542 * 0.342 + 2 * 0.884 * 0.002, rel=0.02)


def test_thicknesses_are_taken_for_every_triangle():
    mesh = tray_mm((800, 600, 100))
    even = takeoff.layer_volumes(mesh, **LAYERS)
    each = takeoff.layer_volumes(mesh, face_coat_m=np.full(10, 0.004), backer_m=[0.020] * 10)
    assert each.volume_m3 == pytest.approx(even.volume_m3, rel=1e-12)


def test_very_many_thicknesses_are_taken_in_steps():
    sheet = trimesh.Trimesh(
        [[x, y, 0] for x in range(0, 1001, 50) for y in (0, 500)],
        [t for k in range(0, 40, 2) for t in ((k, k + 2, k + 3), (k, k + 3, k + 1))],
        process=False,
    )
    mesh = takeoff.Mesh.from_trimesh(sheet, unit="mm")
    thick_m = np.linspace(0.010, 0.030, len(mesh.triangles))
    laid = takeoff.layer_volumes(mesh, backer_m=thick_m)
    assert laid.volume_m3["backer"] == pytest.approx(0.5 * 0.020, rel=5e-3)


def test_a_closed_solid_is_filled():
    laid = takeoff.layer_volumes(box_mm((600, 400, 30)), face_coat="4 mm", backer="fill")
    coat_m3 = 0.0072 - 0.592 * 0.392 * 0.022
    assert laid.volume_m3["face_coat"] == pytest.approx(coat_m3)
    assert laid.volume_m3["backer"] == pytest.approx(0.0072 - coat_m3)
    assert np.allclose(laid.centroid_m["backer"], 0.0, atol=1e-4)


def test_a_solid_never_gets_more_than_its_own_volume():
    for thickness in ("15 mm", "16 mm", "40 mm"):
        laid = takeoff.layer_volumes(box_mm((600, 400, 30)), backer=thickness)
        assert laid.volume_m3["backer"] <= 0.0072 * (1 + 1e-12)


def test_plates_back_to_back_share_what_lies_between():
    both = trimesh.util.concatenate(
        [trimesh.creation.box((1000, 500, 30)).slice_plane([0, 0, z], [0, 0, z]) for z in (1, -1)]
    )
    both.update_faces(np.abs(both.face_normals[:, 2]) > 0.5)
    laid = takeoff.layer_volumes(takeoff.Mesh.from_trimesh(both, unit="mm"), backer="20 mm")
    assert laid.volume_m3["backer"] == pytest.approx(0.015, rel=5e-3)
    assert "layers meet" in laid.notes[0].text


def soup():
    box = trimesh.creation.box((100, 100, 100))
    return trimesh.Trimesh(
        box.triangles.reshape(-1, 3), np.arange(36).reshape(-1, 3), process=False
    )


def one_turned():
    box = trimesh.creation.box((100, 100, 100))
    box.faces[0] = box.faces[0][::-1]
    return trimesh.Trimesh(box.vertices, box.faces, process=False)


@pytest.mark.parametrize(
    ("make", "layers", "message"),
    [
        (soup, LAYERS, "do not share their points"),
        (one_turned, LAYERS, "wound the same way by both their triangles"),
        (lambda: trimesh.creation.box((9, 9, 9)), {"face_coat": "fill"}, "only the backer can"),
        (lambda: trimesh.creation.box((9, 9, 9)), {"backer_m": [0.02]}, "give one thickness for"),
        (lambda: trimesh.creation.box((9, 9, 9)), {"backer_m": [-0.02] * 12}, "no thickness"),
        (
            lambda: trimesh.creation.box((9, 9, 9)),
            {"backer": "2 mm", "backer_m": [0.02] * 12},
            "is given twice",
        ),
        (lambda: trimesh.Trimesh(np.eye(3), [[0, 1, 2]]), {"backer": "fill"}, "nothing to fill"),
    ],
)
def test_what_makes_no_sense_is_refused(make, layers, message):
    with pytest.raises(LayerVolumeError, match=message):
        takeoff.layer_volumes(takeoff.Mesh.from_trimesh(make(), unit="mm"), **layers)
