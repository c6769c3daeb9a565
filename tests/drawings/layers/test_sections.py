"""Shapes swept along a line or turned about an axis, held to the offset of their section."""

import numpy as np
import pytest
import shapely

import takeoff
from tests.drawings.layers import shapes
from tests.drawings.layers.shapes import mesh_of

LENGTH = 700.0


def layer_of(line, t):
    """Area within a thickness below a section whose ends run level, square at both ends."""
    (left, _), (right, _) = line[0], line[-1]
    below = shapely.Polygon([*line, (right, -500.0), (left, -500.0)])
    return shapely.LineString(line).buffer(t, quad_segs=64).intersection(below)


def wave():
    x = np.linspace(0.0, 800.0, 401)
    hump = 8.0 * (1.0 - np.cos(2 * np.pi * x / 80.0))
    return [(-50.0, 0.0), *zip(x.tolist(), hump.tolist(), strict=True), (850.0, 0.0)]


def slanted_ribs(slope_deg):
    run = 40.0 / np.tan(np.radians(slope_deg))
    points = [(-60.0, 0.0)]
    for k in range(4):
        at = k * 240.0
        points += [(at, 0.0), (at + run, 40.0), (at + run + 18.0, 40.0), (at + 2 * run + 18.0, 0.0)]
    return [*points, (points[-1][0] + 60.0, 0.0)]


def tee():
    return [
        (-200.0, 0.0),
        (-10.0, 0.0),
        (-10.0, 50.0),
        (-30.0, 50.0),
        (-30.0, 72.0),
        (30.0, 72.0),
        (30.0, 50.0),
        (10.0, 50.0),
        (10.0, 0.0),
        (200.0, 0.0),
    ]


def steps():
    return [(-200, 90), (0, 90), (0, 60), (60, 60), (60, 22), (75, 22), (75, 0), (300, 0)]


def ridges(half, height, pitch=40.0, count=4):
    points = [(-60.0, 0.0)]
    for k in range(count):
        middle = pitch * (k + 0.5)
        points += [(middle - half, 0.0), (middle, height), (middle + half, 0.0)]
    return [*points, (pitch * count + 60.0, 0.0)]


def cusps(radius, count=4):
    half_rounds = shapes.grooves(count, radius, 2 * radius, 20)[1:]
    return [(-40.0, 0.0), *map(tuple, half_rounds), (2 * radius * count + 40.0, 0.0)]


def flute_beside_a_border(ledge):
    half = shapes.arc((ledge + 10.0, 0.0), 10.0, (np.pi, 2 * np.pi), 24)
    return [(0.0, 0.0), *map(tuple, half.tolist()), (80.0, 0.0)]


def groove_beside_a_border(ledge):
    groove = [(ledge, 0.0), (ledge + 8.0, -10.0), (ledge + 16.0, 0.0)]
    return [(0.0, 0.0), *groove, (90.0, 0.0)]


SECTIONS = {
    "knife edges": ridges(3, 20),
    "blades": ridges(3, 60),
    "cusps between flutes": cusps(30.0),
    **{f"flute {ledge} mm from a border": flute_beside_a_border(ledge) for ledge in (0.5, 2, 6)},
    **{f"groove {ledge} mm from a border": groove_beside_a_border(ledge) for ledge in (0.5, 2)},
    "wave": wave(),
    "ribs at 30": slanted_ribs(30),
    "ribs at 75": slanted_ribs(75),
    "tee": tee(),
    "steps": steps(),
}


@pytest.mark.parametrize("total", [15.0, 24.0])
@pytest.mark.parametrize("line", SECTIONS.values(), ids=SECTIONS)
def test_swept_sections(line, total):
    mesh = mesh_of(shapes.extrude(line, LENGTH))
    laid = takeoff.layer_volumes(mesh, face_coat="4 mm", backer=f"{total - 4} mm")
    whole = sum(laid.volume_m3.values()) * 1e9
    assert whole == pytest.approx(LENGTH * layer_of(line, total).area, rel=5e-3)
    coat = LENGTH * layer_of(line, 4.0).area
    assert laid.volume_m3["face_coat"] * 1e9 == pytest.approx(coat, rel=5e-3)


@pytest.mark.parametrize("backer", [8.0, 16.0])
def test_flutes_are_followed_as_closely_on_a_large_panel(backer):
    line = [tuple(point) for point in shapes.grooves(30, 12.0, 40.0, 24)]
    mesh = mesh_of(shapes.extrude(line, 3000.0))
    laid = takeoff.layer_volumes(mesh, face_coat="4 mm", backer=f"{backer} mm")
    whole = sum(laid.volume_m3.values()) * 1e9
    assert whole == pytest.approx(3000.0 * layer_of(line, 4.0 + backer).area, rel=3e-3)
    assert laid.volume_m3["face_coat"] * 1e9 == pytest.approx(
        3000.0 * layer_of(line, 4.0).area, rel=3e-3
    )


@pytest.mark.parametrize("total", [15.0, 24.0])
def test_a_groove_right_at_a_border_carries_its_layer_behind_its_own_wall(total):
    line = [(0.0, 0.0), (8.0, -10.0), (16.0, 0.0), (90.0, 0.0)]
    mesh = mesh_of(shapes.extrude(line, LENGTH))
    laid = takeoff.layer_volumes(mesh, face_coat="4 mm", backer=f"{total - 4} mm")
    slope = np.arctan2(10.0, 8.0)

    def layer(depth):
        # Square to its wall at the border: only the inside corner and the arris count.
        flat = (2 * np.hypot(10.0, 8.0) + 74.0) * depth
        return flat + (slope - np.tan(slope / 2)) * depth**2

    whole = sum(laid.volume_m3.values()) * 1e9
    assert whole == pytest.approx(LENGTH * layer(total), rel=1e-6)
    assert laid.volume_m3["face_coat"] * 1e9 == pytest.approx(LENGTH * layer(4.0), rel=1e-6)


TURNED = {
    "spike": [(0.0, 150.0), (12.0, 0.0), (100.0, 0.0)],
    "slim cone": [(0.0, 300.0), (40.0, 0.0)],
    "cone": [(0.0, 300.0), (220.0, 0.0)],
    "cone with a lip": [(0.0, 260.0), (180.0, 40.0), (180.0, 0.0)],
    "knob": [
        (0.0, 200.0),
        *shapes.arc((20, 180), 20, (np.pi / 2, -np.pi / 4), 40).tolist(),
        (30.0, 120.0),
        (30.0, 60.0),
        (110.0, 0.0),
    ],
}


@pytest.mark.parametrize("total", [15.0, 24.0])
@pytest.mark.parametrize("line", TURNED.values(), ids=TURNED)
def test_turned_sections(line, total):
    count = 360
    mesh = mesh_of(shapes.revolve([(max(r, 1e-9), z) for r, z in line[::-1]], count))
    laid = takeoff.layer_volumes(mesh, face_coat="4 mm", backer=f"{total - 4} mm")
    inside = shapely.Polygon([*line, (line[-1][0], -500.0), (0.0, -500.0)])
    whole = shapely.LineString([(-r, z) for r, z in line[:0:-1]] + list(line))
    layer = whole.buffer(total, quad_segs=64).intersection(inside)
    end = np.array(line[-1]) - np.array(line[-2])
    foot = np.array(line[-1])
    across = np.array([end[1], -end[0]]) * 9.0
    beyond = shapely.Polygon([foot, foot + across, foot + across + 99 * end, foot + 99 * end])
    layer = layer.difference(beyond)
    section = layer.area * 2 * np.pi * layer.centroid.x
    chords = count / (2 * np.pi) * np.sin(2 * np.pi / count)
    assert sum(laid.volume_m3.values()) * 1e9 == pytest.approx(section * chords, rel=5e-3)


def test_three_openings():
    plan = shapely.box(0, 0, 1800, 900)
    for x, y, w, h in ((150, 150, 300, 500), (700, 200, 250, 250), (1200, 100, 400, 700)):
        plan = plan.difference(shapely.box(x, y, x + w, y + h))
    mesh = mesh_of(shapes.prism(plan, 80))
    laid = takeoff.layer_volumes(mesh, face_coat="4 mm", backer="20 mm")
    ring = plan.area - plan.buffer(-24, quad_segs=256).area
    exact = plan.area * 24 + ring * (80 - 24)
    assert sum(laid.volume_m3.values()) * 1e9 == pytest.approx(exact, rel=1e-5)


@pytest.mark.parametrize("sides", [6, 8])
def test_a_many_sided_basin(sides):
    angle = np.arange(sides) * 2 * np.pi / sides
    plan = shapely.Polygon(np.c_[260 * np.cos(angle), 260 * np.sin(angle)])
    mesh = mesh_of(shapes.prism(plan, 140))
    laid = takeoff.layer_volumes(mesh, face_coat="4 mm", backer="20 mm")
    ring = plan.area - plan.buffer(-24, join_style="mitre").area
    exact = plan.area * 24 + ring * (140 - 24)
    assert sum(laid.volume_m3.values()) * 1e9 == pytest.approx(exact, rel=1e-6)


@pytest.mark.parametrize("inside_out", [False, True])
@pytest.mark.parametrize("sides", [3, 4, 6])
@pytest.mark.parametrize("total", [15.0, 24.0])
def test_the_layers_of_a_pyramid_end_square_to_each_of_its_sides(total, sides, inside_out):
    height, foot = 100.0, 150.0
    part = shapes.revolve([(foot, 0.0), (1e-9, height)], sides)
    mesh = mesh_of(shapes.flip(part) if inside_out else part)
    laid = takeoff.layer_volumes(mesh, face_coat="4 mm", backer=f"{total - 4} mm")
    half = np.pi / sides
    slant = np.hypot(height, foot * np.cos(half))
    side = foot * np.sin(half) * slant
    lean = np.arcsin(height / slant)
    mitre = height / (foot * np.cos(half))  # of the tip, along the slant, by the depth

    def layer(depth):
        if not inside_out:
            drawn = depth * (1 - mitre * depth / slant + (mitre * depth / slant) ** 2 / 3)
            return sides * side * drawn
        # A round behind each edge, down to the planes across both borders, and part of a ball.
        turn = np.arccos(np.cos(lean) ** 2 + np.sin(lean) ** 2 * np.cos(2 * half))
        edge = np.hypot(foot, height)
        ball = 2 * np.pi - sides * 2 * np.arctan2(foot * np.sin(half), slant)
        slope = foot * np.sin(half) / slant
        foot_ends = 2 * (1 - np.cos(turn / 2)) * slope / 3
        rounds = edge * turn / 2 * depth**2 + foot_ends * depth**3
        return sides * (side * depth + rounds) + ball / 3 * depth**3

    whole = sum(laid.volume_m3.values()) * 1e9
    assert whole == pytest.approx(layer(total), rel=2e-3)
    assert laid.volume_m3["face_coat"] * 1e9 == pytest.approx(layer(4.0), rel=1e-3)
    assert abs(whole / layer(total) - 1) <= laid.uncertainty_share + 1e-3


@pytest.mark.parametrize("count", [90, 360])
@pytest.mark.parametrize(("height", "foot"), [(400, 120), (300, 220), (400, 60), (120, 400)])
@pytest.mark.parametrize("total", [15.0, 24.0])
def test_the_tip_of_a_cone_is_mitred(height, foot, total, count):
    mesh = mesh_of(shapes.revolve([(foot, 0.0), (1e-9, height)], count))
    laid = takeoff.layer_volumes(mesh, face_coat="4 mm", backer=f"{total - 4} mm")
    # A pyramid of many sides, each a triangle. At any depth it is a like triangle, whose tip
    # lies further down; square to the side, the layer ends at its foot.
    half = np.pi / count
    slant = np.hypot(height, foot * np.cos(half))
    cotangent = height / (foot * np.cos(half))

    def layer(depth):
        drawn = depth * (slant**2 - slant * depth * cotangent + (depth * cotangent) ** 2 / 3)
        return count * foot * np.sin(half) / slant * drawn

    # At the foot of each edge between two sides, a sliver is left out.
    assert sum(laid.volume_m3.values()) * 1e9 == pytest.approx(layer(total), rel=1e-5)
    assert laid.volume_m3["face_coat"] * 1e9 == pytest.approx(layer(4.0), rel=1e-5)
