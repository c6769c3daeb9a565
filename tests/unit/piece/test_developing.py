from dataclasses import replace

import numpy as np
import pytest
import shapely
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.piece.developing import Development, patterns_of
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from tests.unit.piece.pieces_made import (
    BACK,
    MM,
    UP,
    beside,
    box,
    mend_body,
    prism,
    shuffled,
    subdivided,
    told,
    turned,
    turned_section,
    unwelded,
)
from tests.unit.piece.test_curving import arc
from tests.unit.piece.test_walls import LEGS

FLAT, DEVELOPED, PROJECTED = Development.FLAT, Development.DEVELOPED, Development.PROJECTED

# A top with a leg under its left end, arrises rounded to 20 mm in steps of 11.25 degrees.
ROUNDED = [
    (0, -300),
    (40, -300),
    (40, -20),
    (600, -20),
    *[(580 + 20 * np.cos(a), 80 + 20 * np.sin(a)) for a in np.radians(np.linspace(0, 90, 9))],
    *[(20 + 20 * np.cos(a), 80 + 20 * np.sin(a)) for a in np.radians(np.linspace(90, 180, 9))],
]
RING = trimesh.creation.annulus(100, 500, 50, sections=64)


def by_id(surfaces):
    return {pattern.id: pattern for pattern in patterns_of(surfaces)}


def sizes_mm(pattern):
    return [np.ptp(sheet.outer_m, axis=0) / MM for sheet in pattern.sheets]


def polygon_m2(pattern):
    """Area of the outlines by another library."""
    return sum(
        shapely.Polygon(sheet.outer_m, [hole.points_m for hole in sheet.holes]).area
        for sheet in pattern.sheets
    )


def cylinder_part(radius_mm, length_mm, turn_deg, *, steps=48, rows=1):
    """An open part of a tube about the y axis, its middle on top."""
    angle = np.radians(90.0 + turn_deg / 2.0 - np.linspace(0.0, turn_deg, steps + 1))
    along = np.linspace(0.0, length_mm, rows + 1)
    points = [[radius_mm * np.cos(a), y, radius_mm * np.sin(a)] for a in angle for y in along]
    first = np.arange(steps * (rows + 1)).reshape(steps, rows + 1)[:, :-1].ravel()
    beyond = first + rows + 1
    triangles = [[first, beyond, first + 1], [first + 1, beyond, beyond + 1]]
    return Mesh(
        np.array(points) * MM,
        np.concatenate([np.array(part).T for part in triangles]).astype(np.int32),
    )


@pytest.mark.parametrize("section", [LEGS, ROUNDED], ids=["legs", "rounded"])
@pytest.mark.parametrize("way", [shuffled, subdivided, turned, unwelded])
def test_every_surface_that_develops_keeps_its_area_however_it_is_drawn(section, way):
    mesh, show = way(prism(section, 900), BACK)
    for pattern in patterns_of(told(mesh, show=show)):
        assert pattern.development in {FLAT, DEVELOPED}
        assert polygon_m2(pattern) == pytest.approx(pattern.area_m2, rel=1e-6)
        assert pattern.is_true()


def test_a_flat_is_drawn_as_it_is_with_its_opening():
    patterns = by_id(told(mend_body(RING)))
    face = patterns["F1"]
    assert (face.development, [hole.opening for hole in face.sheets[0].holes]) == (FLAT, ["O1"])
    assert sizes_mm(face) == [pytest.approx([1000, 1000])]
    assert face.drawn_m2 == pytest.approx(face.area_m2, rel=1e-12)
    assert patterns["R2"].opening == "O1"


def test_the_wall_of_a_round_opening_rolls_out_as_a_strip():
    wall = by_id(told(mend_body(RING)))["R2"]
    round_mm = 64 * 2 * 100 * np.sin(np.pi / 64)
    assert wall.development is DEVELOPED
    assert sizes_mm(wall) == [pytest.approx([round_mm, 50])]
    assert len(wall.sheets[0].outer_m) == 4


def test_a_cone_rolls_out_with_both_its_rims_and_one_cut():
    pot = told(turned_section([(0, 0), (300, 0), (200, 200), (0, 200)], 64))
    wall = by_id(pot)["U1"]
    rims_mm = 64 * 2 * (300 + 200) * np.sin(np.pi / 64)
    cut_mm = 2 * np.hypot(100, 200)
    assert wall.development is DEVELOPED
    assert shapely.LinearRing(wall.sheets[0].outer_m).length / MM == pytest.approx(rims_mm + cut_mm)
    assert wall.drawn_m2 == pytest.approx(wall.area_m2, rel=1e-9)


def test_a_whole_cone_is_cut_to_its_tip():
    cone = turned_section([(0, 0), (300, 0), (0, 400)], 64)
    face = by_id(told(cone, face_angle_deg=60.0))["F1"]
    assert face.development is DEVELOPED
    assert len(face.sheets[0].outer_m) == 66
    assert polygon_m2(face) == pytest.approx(face.area_m2, rel=1e-9)


@pytest.mark.parametrize("rows", [1, 7])
def test_a_barrel_is_as_wide_as_its_arc(rows):
    barrel = told(cylinder_part(1000, 600, 80, rows=rows), kind=ModelKind.OPEN)
    [face] = patterns_of(barrel)
    arc_mm = 48 * 2 * 1000 * np.sin(np.radians(80) / 96)
    assert face.development is DEVELOPED
    assert sorted(sizes_mm(face)[0]) == pytest.approx([600, arc_mm])
    assert face.drawn_m2 == pytest.approx(face.area_m2, rel=1e-9)


def test_a_fold_within_a_surface_is_laid_flat():
    corners_mm = [(0, 0), (500, 0), (900, -160), (900, -200), (500, -40), (0, -40)]
    face = by_id(told(prism(corners_mm, 300), show=BACK))["F1"]
    assert face.development is DEVELOPED
    assert sorted(sizes_mm(face)[0]) == pytest.approx([300, 500 + np.hypot(400, 160)])


def test_what_bends_two_ways_is_only_outlined():
    section = [(0, 470), *arc((0, 0), 470, 0, 60, 20), *arc((0, 0), 500, 60, 0, 20)]
    patterns = by_id(told(turned_section(section, 64)))
    dome = patterns["F1"]
    assert dome.development is PROJECTED
    assert not dome.is_true()
    assert sizes_mm(dome) == [pytest.approx([866, 866], abs=1)]
    assert patterns["R1"].development is DEVELOPED


def test_a_ball_is_outlined_as_a_disc():
    ball = mend_body(trimesh.creation.icosphere(4, 500))
    patterns = patterns_of(told(ball))
    assert {pattern.development for pattern in patterns} == {PROJECTED}
    assert all(pattern.sheets for pattern in patterns)


def test_mitred_arrises_open_by_a_hair():
    points = [(x, y, 0) for x in (0, 600) for y in (0, 400)]
    for angle in np.radians(np.linspace(0, 90, 7)):
        inset, level = 3 - 3 * np.cos(angle), 40 + 3 * np.sin(angle)
        points += [(x, y, level) for x in (inset, 600 - inset) for y in (inset, 400 - inset)]
    slab = mend_body(trimesh.convex.convex_hull(np.array(points, dtype=float)))
    for pattern in patterns_of(told(slab)):
        assert pattern.is_true()
        assert polygon_m2(pattern) == pytest.approx(pattern.area_m2, rel=1e-6)


@pytest.mark.parametrize(("down_mm", "development"), [(0, FLAT), (-150, DEVELOPED)])
def test_a_t_junction_holds(down_mm, development):
    foot = [200, -200, down_mm]
    points_mm = [[0, 0, 0], [400, 0, 0], [400, 300, 0], [0, 300, 0], [200, 0, 0], foot]
    triangles = [[0, 1, 2], [0, 2, 3], [0, 5, 4], [4, 5, 1]]
    sheet = Mesh(np.array(points_mm, dtype=float) * MM, np.array(triangles, dtype=np.int32))
    apart = told(sheet, kind=ModelKind.OPEN)
    whole_m2 = 0.12 + 0.5 * 0.4 * np.hypot(200, down_mm) * MM
    whole = replace(apart.surfaces[0], facets=np.arange(4), area_m2=whole_m2)
    [face] = patterns_of(replace(apart, surfaces=(whole,)))
    assert face.development is development
    assert [len(one.outer_m) for one in face.sheets] == [5]
    assert face.drawn_m2 == pytest.approx(whole_m2)


def test_parts_of_a_flat_stay_where_they_are_to_each_other():
    posts = beside(box((0, 0, 0), (100, 100, 50)), box((300, 0, 0), (400, 100, 50)))
    flats = [one for one in patterns_of(told(posts)) if one.surface_class is SurfaceClass.SHOW_FACE]
    assert sum(len(one.sheets) for one in flats) == 2


@pytest.mark.parametrize(("show", "across_mm", "up_mm"), [(UP, 800, 400), (BACK, 800, 60)])
def test_a_face_stands_as_it_is_seen(show, across_mm, up_mm):
    face = by_id(told(box((0, 0, 0), (800, 400, 60)), show=show))["F1"]
    assert sizes_mm(face) == [pytest.approx([across_mm, up_mm])]


def test_a_mirror_image_is_never_drawn():
    section = [(0, 0), (600, 0), (600, 100), (200, 100), (200, 300), (0, 300)]
    patterns = by_id(told(prism(section, 40)))
    for pattern in patterns.values():
        for sheet in pattern.sheets:
            assert shapely.LinearRing(sheet.outer_m).is_ccw
    corners = {tuple(point) for point in (patterns["F1"].sheets[0].outer_m / MM).round(6).tolist()}
    assert (200.0, 300.0) in corners
    assert (400.0, 300.0) not in corners
