import numpy as np
import pytest

import takeoff
from takeoff.geometry.facets import facets_of
from tests.drawings.layers import shapes
from tests.drawings.layers.closed_forms import (
    CASES,
    SURROUND,
    block,
    eased_block,
    eased_tray,
    two_thicknesses,
)
from tests.drawings.layers.shapes import mesh_of

LAYERS = [(4.0, 20.0), (3.0, 12.0), (5.0, 15.0)]


def laid_on(part, face_coat, backer):
    mesh = part if isinstance(part, takeoff.Mesh) else mesh_of(part)
    if np.ndim(face_coat) or np.ndim(backer):
        count = len(mesh.triangles)
        return takeoff.layer_volumes(
            mesh,
            face_coat_m=np.broadcast_to(np.asarray(face_coat) * 1e-3, count),
            backer_m=np.broadcast_to(np.asarray(backer) * 1e-3, count),
        )
    return takeoff.layer_volumes(mesh, face_coat=f"{face_coat} mm", backer=f"{backer} mm")


@pytest.mark.parametrize(("face_coat", "backer"), LAYERS)
@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_both_layers_within_half_a_percent_of_the_closed_form(case, face_coat, backer):
    laid = laid_on(case.make(), face_coat, backer)
    total = sum(laid.volume_m3.values()) * 1e9
    assert total == pytest.approx(case.volume(face_coat + backer), rel=5e-3)
    share = 5e-3 if case.radius < 10 * face_coat else 3e-3
    coat = case.volume(face_coat)
    assert laid.volume_m3["face_coat"] * 1e9 == pytest.approx(coat, rel=share)
    assert abs(total / case.volume(face_coat + backer) - 1) <= laid.uncertainty_share + 4.2e-3


def upward(mesh):
    return facets_of(mesh).normals[:, 2] > 0.5


@pytest.mark.parametrize("show", [24.0, 15.0, 20.0])
@pytest.mark.parametrize("walls", [29.0, 19.0, 24.0])
@pytest.mark.parametrize("size", [(2400, 650, 40), (800, 600, 100)])
def test_walls_of_another_thickness_than_the_show_face(size, show, walls):
    mesh = mesh_of(shapes.tray(*size))
    backer = np.where(upward(mesh), show, walls) - 4.0
    laid = laid_on(mesh, 4.0, backer)
    length, width, height = size
    inner = (length - 2 * walls) * (width - 2 * walls) * (height - show)
    total = sum(laid.volume_m3.values()) * 1e9
    assert total == pytest.approx(length * width * height - inner, rel=1e-9)


def test_a_surround_with_thinner_uprights():
    mesh = mesh_of(shapes.prism(SURROUND, 150))
    laid = laid_on(mesh, 4.0, np.where(upward(mesh), 20.0, 15.0))
    ring = SURROUND.length * 19 - 6 * 19**2 + 2 * np.pi / 4 * 19**2
    exact = SURROUND.area * 24 + ring * (150 - 24)
    assert sum(laid.volume_m3.values()) * 1e9 == pytest.approx(exact, rel=1e-9)


@pytest.mark.parametrize("angle", [60, 90, 120, 270])
@pytest.mark.parametrize("pair", [(24.0, 19.0), (19.0, 24.0), (15.0, 20.0)])
def test_two_thicknesses_that_meet_at_an_edge(angle, pair):
    mesh = mesh_of(shapes.wedge(angle, 300, 500))
    one, two = pair
    laid = laid_on(mesh, 0.0, np.where(upward(mesh), one, two))
    exact = two_thicknesses(angle, one, two)
    assert laid.volume_m3["backer"] * 1e9 == pytest.approx(exact, rel=1e-9)


def test_a_face_coat_of_two_thicknesses():
    mesh = mesh_of(shapes.tray(800, 600, 100))
    laid = laid_on(mesh, np.where(upward(mesh), 5.0, 3.0), 12.0)
    coat = block(800, 600, 100, 0, bottom=0) + 800 * 600 * 100 - 794 * 594 * 95
    assert laid.volume_m3["face_coat"] * 1e9 == pytest.approx(coat, rel=1e-9)


@pytest.mark.parametrize(("radius", "steps"), [(3, 8), (10, 10)])
def test_eased_arrises_between_two_thicknesses(radius, steps):
    mesh = mesh_of(eased_tray(radius, steps))
    show = facets_of(mesh).normals[:, 2] < -np.sqrt(0.5)  # it stands on its show face
    laid = laid_on(mesh, 4.0, np.where(show, 20.0, 25.0))
    outside = eased_block(2400, 650, 40, radius, 0)
    exact = outside - (2400 - 58) * (650 - 58) * (40 - 24)
    assert sum(laid.volume_m3.values()) * 1e9 == pytest.approx(exact, rel=5e-3)


def test_a_step_of_thickness_on_a_flat_face_is_square():
    mesh = mesh_of(shapes.extrude([[0, 0], [300, 0], [700, 0]], 500))
    left = mesh.points_m[mesh.triangles].mean(axis=1)[:, 0] < 0.3
    laid = laid_on(mesh, 0.0, np.where(left, 20.0, 15.0))
    assert laid.volume_m3["backer"] * 1e9 == pytest.approx(500 * (300 * 20 + 400 * 15), rel=1e-9)


@pytest.mark.parametrize("part", [shapes.tray(2400, 650, 40), shapes.pocket(370, 270, 90, 40, 12)])
def test_the_number_of_triangles_changes_nothing(part):
    few, many = (
        sum(laid_on(mesh_of(m), 4.0, 20.0).volume_m3.values())
        for m in (part, shapes.divided(part, 60_000))
    )
    assert many == pytest.approx(few, rel=1e-6)


@pytest.mark.parametrize("name", ["ribs", "reeds"])
def test_the_number_of_triangles_hardly_changes_what_is_counted(name):
    part = next(case for case in CASES if case.name == name).make()
    few, many = (laid_on(mesh_of(m), 4.0, 20.0) for m in (part, shapes.divided(part, 60_000)))
    for layer, volume_m3 in few.volume_m3.items():
        assert many.volume_m3[layer] == pytest.approx(volume_m3, rel=1e-3)


def test_the_same_bytes_come_out_of_every_run():
    runs = [laid_on(shapes.box(600, 400, 30), 4.0, 20.0) for _ in range(2)]
    assert runs[0] == runs[1]
