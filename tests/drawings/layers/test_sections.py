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


SECTIONS = {
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


TURNED = {
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
