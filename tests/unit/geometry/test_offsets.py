import numpy as np
import pytest
import trimesh
from shapely import Polygon

from takeoff.geometry.mesh import Mesh
from takeoff.geometry.offsets import front_m3, offset_coefficients

TOTAL_M = 0.024


def skin_of(solid, *, keep=lambda mesh: mesh.face_normals[:, 2] > -0.5):
    """Take the facets of a solid that do not face down."""
    solid = solid.copy()
    solid.update_faces(keep(solid))
    return Mesh.from_trimesh(solid, unit="m")


def layer_m3(mesh, thickness_m):
    return float(offset_coefficients(mesh).facet_volumes_m3(thickness_m).sum())


def test_an_open_tray_is_a_box_less_the_box_inside():
    length, width, height = 1.830, 0.620, 0.045
    tray = skin_of(trimesh.creation.box((length, width, height)))
    exact_m3 = length * width * height - (length - 2 * TOTAL_M) * (width - 2 * TOTAL_M) * (
        height - TOTAL_M
    )
    assert layer_m3(tray, TOTAL_M) == pytest.approx(exact_m3, rel=1e-12)


@pytest.mark.parametrize("times", [0, 1, 3])
def test_triangulation_changes_nothing(times):
    box = trimesh.creation.box((0.8, 0.5, 0.3))
    for _ in range(times):
        box = box.subdivide()
    exact_m3 = 0.8 * 0.5 * 0.3 - (0.8 - 2 * TOTAL_M) * (0.5 - 2 * TOTAL_M) * (0.3 - 2 * TOTAL_M)
    assert layer_m3(Mesh.from_trimesh(box, unit="m"), TOTAL_M) == pytest.approx(exact_m3, rel=1e-12)


def test_an_inside_corner_is_round():
    plan = Polygon([(0, 0), (1, 0), (1, 0.4), (0.4, 0.4), (0.4, 1), (0, 1)])
    ell = skin_of(trimesh.creation.extrude_polygon(plan, 0.15))
    # Wall layer in plan: T times the perimeter, less T2 at five corners, plus pi/4 T2 at one.
    ring_m2 = plan.length * TOTAL_M + (np.pi / 4 - 5) * TOTAL_M**2
    exact_m3 = plan.area * TOTAL_M + ring_m2 * (0.15 - TOTAL_M)
    assert layer_m3(ell, TOTAL_M) == pytest.approx(exact_m3, rel=1e-12)


def test_a_round_plan_in_chords_is_its_own_prism():
    angle = np.arange(96) * 2 * np.pi / 96
    plan = Polygon(np.c_[0.5 * np.cos(angle), 0.5 * np.sin(angle)])
    drum = skin_of(trimesh.creation.extrude_polygon(plan, 0.2))
    inner_m2 = plan.buffer(-TOTAL_M, join_style="mitre").area
    exact_m3 = plan.area * 0.2 - inner_m2 * (0.2 - TOTAL_M)
    # Along a rim the corners follow the round law, 5e-7 off the mitres of these chords.
    assert layer_m3(drum, TOTAL_M) == pytest.approx(exact_m3, rel=1e-6)


def disc_and_skirt(turn_deg, *, count=720, skirt_m=0.5):
    """A disc of radius 1 m with a conical skirt round it, both open at their ends."""
    turn, around = np.radians(turn_deg), np.arange(count) * 2 * np.pi / count
    ring = np.c_[np.cos(around), np.sin(around), np.zeros(count)]
    foot = ring * (1 + skirt_m * np.cos(turn)) - [0, 0, skirt_m * np.sin(turn)]
    one = np.arange(count) + 1
    other = np.roll(one, -1)
    disc, upper = np.c_[0 * one, one, other], np.c_[one, one + count, other + count]
    lower = np.c_[one, other + count, other]
    points = np.vstack([np.zeros((1, 3)), ring, foot])
    return Mesh(points, np.vstack([disc, upper, lower]).astype(np.int32)), count


@pytest.mark.parametrize("turn_deg", [25, 45, 60, 90, 120, 140])
def test_both_sides_of_an_arris_that_runs_round_have_their_own_part(turn_deg):
    mesh, disc = disc_and_skirt(turn_deg)
    terms = offset_coefficients(mesh)
    # At depth s the disc has the radius 1 - s tan(turn / 2), and so has the skirt at its top,
    # whose foot has moved in by s sin(turn): areas of a circle and of a frustum, cubic in s once
    # they are added up.
    tangent, sine = np.tan(np.radians(turn_deg) / 2), np.sin(np.radians(turn_deg))
    cubes = np.pi * tangent**2 / 3, np.pi * tangent * (tangent + sine) / 3
    assert terms.corner_count[:disc].sum() == pytest.approx(cubes[0], rel=1e-4)
    assert terms.corner_count[disc:].sum() == pytest.approx(cubes[1], rel=1e-4)


def test_layers_outside_a_box_are_round_at_every_edge():
    a, b, c = 0.9, 0.6, 0.4
    pocket = trimesh.creation.box((a, b, c))
    pocket.invert()
    t = TOTAL_M
    exact_m3 = 2 * (a * b + b * c + a * c) * t + np.pi * t**2 * (a + b + c) + 4 / 3 * np.pi * t**3
    assert layer_m3(Mesh.from_trimesh(pocket, unit="m"), t) == pytest.approx(exact_m3, rel=1e-12)


@pytest.mark.parametrize(("inward", "sign"), [(True, -1), (False, 1)], ids=["inside", "outside"])
def test_a_ball_keeps_its_cubic_term(inward, sign):
    radius_m = 0.150
    ball = trimesh.creation.icosphere(5, radius_m)
    if not inward:
        ball.invert()
    shell_m3 = 4 / 3 * np.pi * abs((radius_m + sign * TOTAL_M) ** 3 - radius_m**3)
    # The chords of the ball itself lie 0.03 % inside it.
    assert layer_m3(Mesh.from_trimesh(ball, unit="m"), TOTAL_M) == pytest.approx(shell_m3, rel=8e-4)


def test_open_edges_end_square():
    sheet = trimesh.Trimesh([[0, 0, 0], [2, 0, 0], [2, 1, 0], [0, 1, 0]], [[0, 1, 2], [0, 2, 3]])
    assert layer_m3(Mesh.from_trimesh(sheet, unit="m"), 0.02) == pytest.approx(0.04, rel=1e-12)


def test_a_rib_narrower_than_two_layers_is_told():
    rib = offset_coefficients(skin_of(trimesh.creation.box((1.0, 0.020, 0.060))))
    assert front_m3(rib, 0.009).error_m3 == 0.0
    # From 10 mm on both side layers fill the rib: the lost width is 2 (T - 10 mm) in each depth.
    assert front_m3(rib, 0.024).error_m3 > 0.05 * rib.facet_volumes_m3(0.024).sum()


def test_a_wide_piece_has_nothing_to_collapse():
    tray = offset_coefficients(skin_of(trimesh.creation.box((1.8, 0.6, 0.045))))
    assert front_m3(tray, TOTAL_M).error_m3 == 0.0
