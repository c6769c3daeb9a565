"""Pieces drawn here, with areas worked out from their dimensions: a thousandth of the whole."""

from dataclasses import dataclass, field
from math import hypot, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
import trimesh
from scipy.integrate import quad

from takeoff.geometry.mesh import Mesh
from tests.unit.piece.pieces_made import BACK, MM, UP, WAYS, box, prism, told
from tests.unit.piece.test_curving import arc

DOWN = -UP


@dataclass(frozen=True)
class Piece:
    """A piece, and its areas in square millimetres."""

    name: str
    mesh: Mesh
    show: np.ndarray
    areas: tuple[float, float, float, float]
    openings: float = 0.0
    undercut: float = 0.0
    bare: tuple[bool, ...] = field(default=())


def polygon_area(section):
    x, y = np.asarray(section, dtype=float).T
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2.0


def cut(body, *tools):
    """A body without what tools take out of it."""
    meshes = [trimesh.Trimesh(one.points_m, one.triangles) for one in (body, *tools)]
    left = trimesh.boolean.difference(meshes, engine="manifold")
    return Mesh(np.array(left.vertices), np.array(left.faces, dtype=np.int32))


def upright_prism(section_mm, low_mm, high_mm):
    """A section in x and y, standing along z."""
    mesh = prism(section_mm, high_mm - low_mm)
    return Mesh(mesh.points_m + np.array([0.0, 0.0, low_mm * MM]), mesh.triangles)


def drip_edge():
    """Slab 600 x 60 with a drip groove 10 x 12 under its front."""
    section = [[0, 0], [30, 0], [30, 12], [40, 12], [40, 0], [600, 0], [600, 60], [0, 60]]
    returns = 2 * 60 * 1500 + 2 * (600 * 60 - 10 * 12)
    back = (600 + 2 * 12) * 1500
    return Piece("drip edge", prism(section, 1500), BACK, (600 * 1500, returns, 0, back))


def sloped_counter():
    """Counter 650 deep, 40 at the front and 53 at the back."""
    section = [[0, 0], [650, 0], [650, 40], [0, 53]]
    returns = (40 + 53) * 2400 + 2 * 650 * 46.5
    areas = (hypot(650, 13) * 2400, returns, 0, 650 * 2400)
    return Piece("sloped counter", prism(section, 2400), BACK, areas)


def basin():
    """Block 900 x 500 x 160, basin 500 x 300 x 120, overflow 20 x 20 and a drain of 24 sides."""
    ring = [[450 + x, 250 + y] for x, y in arc((0, 0), 22.5, 0, 345, 23)]
    drain, around = polygon_area(ring), 24 * 2 * 22.5 * sin(pi / 24)
    mesh = cut(
        box((0, 0, 0), (900, 500, 160)),
        box((200, 100, 40), (700, 400, 200)),
        box((440, -10, 120), (460, 110, 140)),
        upright_prism(ring, -10, 50),
    )
    uprights = 2 * (500 + 300) * 120 - 400 + 2 * 1400 * 160 - 400
    back = 900 * 500 - drain + 4 * 20 * 100
    areas = (900 * 500 - drain, around * 40, uprights, back)
    return Piece("basin", mesh, UP, areas, openings=around * 40, bare=(True,))


def uneven_waterfall():
    """Counter 2000 x 650, 40 thick, legs of 900 and 400."""
    section = [[0, 0], [40, 0], [40, 860], [1960, 860], [1960, 500], [2000, 500], [2000, 900]]
    uprights = (900 + 400) * 650 + 2 * 40 * (900 + 400)
    back = (860 + 360 + 1920 + 40 + 40) * 650
    areas = (2000 * 650, 2 * 1920 * 40, uprights, back)
    return Piece("uneven waterfall", prism([*section, [0, 900]], 650), BACK, areas)


def corner_cladding():
    """Arms of 600 and 200, 30 thick, 1200 high, seen on the long one."""
    section = [[0, 170], [570, 170], [570, 0], [600, 0], [600, 200], [0, 200]]
    returns = 30 * 1200 + 2 * 570 * 30
    uprights = 200 * 1200 + 2 * 30 * 200
    back = (570 + 170 + 30) * 1200
    return Piece(
        "corner cladding", prism(section, 1200), BACK, (600 * 1200, returns, uprights, back)
    )


def ribbed(high):
    """Panel 600 x 50 with three ribs 40 wide."""
    section = [[0, 0], [600, 0], [600, 50]]
    for left in (480, 280, 80):
        section += [[left + 40, 50], [left + 40, 50 + high], [left, 50 + high], [left, 50]]
    section.append([0, 50])
    sides = 6 * high * 900
    returns = 2 * 50 * 900 + 2 * (600 * 50 + 3 * 40 * high)
    show = 600 * 900
    show, returns = (show + sides, returns) if high <= 30 else (show, returns + sides)
    return Piece(f"ribs {high}", prism(section, 900), BACK, (show, returns, 0, 600 * 900))


def curved_shell():
    """Vault of 500, 30 thick, 80 degrees to both sides."""
    outer, inner = arc((0, 0), 500, -80, 80, 160), arc((0, 0), 470, 80, -80, 160)
    chord = 160 * 2 * sin(radians(0.5))
    returns = 2 * polygon_area([*outer, *inner]) + 2 * 30 * 900
    areas = (chord * 500 * 900, returns, 0, chord * 470 * 900)
    return Piece("curved shell", prism([*outer, *inner], 900), BACK, areas)


def plinth():
    """Three steps of 50, the upper ones 100 wide."""
    section = [[0, 0], [600, 0], [600, 50], [500, 50], [500, 100], [400, 100], [400, 150], [0, 150]]
    returns = 3 * 50 * 800 + 2 * (100 * 100 + 100 * 50)
    uprights = 150 * 800 + 2 * 400 * 150
    return Piece("plinth", prism(section, 800), BACK, (600 * 800, returns, uprights, 600 * 800))


def sloped_sill():
    """Panel 1500 x 1200 x 90, opening 500 x 600 at the face, its sill rising 30 to the back."""
    hole = prism([[300 - 10 / 3, 100], [900, 100], [900, -10], [330 + 10 / 3, -10]], 500)
    points = hole.points_m[:, [2, 0, 1]] + np.array([0.5, 0.0, 0.0])
    mesh = cut(box((0, 0, 0), (1500, 1200, 90)), Mesh(points, hole.triangles))
    walls = hypot(90, 30) * 500 + 90 * 500 + 2 * (600 + 570) / 2 * 90
    areas = (1500 * 1200 - 500 * 600, 2 * 2700 * 90 + walls, 0, 1500 * 1200 - 500 * 570)
    return Piece("sloped sill", mesh, UP, areas, openings=walls, bare=(False,))


def undercut_lip():
    """Slab 600 x 60 whose front leans in by 10 degrees."""
    inset = 60 * tan(radians(10))
    section = [[inset, 0], [600, 0], [600, 60], [0, 60]]
    lip = hypot(60, inset) * 1500
    returns = lip + 60 * 1500 + 2 * (600 - inset / 2) * 60
    areas = (600 * 1500, returns, 0, (600 - inset) * 1500)
    return Piece("undercut lip", prism(section, 1500), BACK, areas, undercut=lip)


def stilted_column():
    """Half column of 200 on sides 60 deep: curved face to 86.5 degrees, then return."""
    round_ = arc((0, 60), 200, 90, -90, 360)
    chord = 2 * 200 * sin(radians(0.25))
    show = 346 * chord * 1000
    ends = 2 * polygon_area([[-200, 0], [200, 0], *round_])
    reach = sqrt(200**2 - 50**2)
    deep = 2 * quad(lambda x: 60 + sqrt(200**2 - x**2), -reach, reach)[0]
    returns = 2 * (60 + 7 * chord) * 1000 + ends - deep
    mesh = prism([[-200, 0], [200, 0], *round_], 1000)
    return Piece("stilted column", mesh, BACK, (show, returns, deep, 400 * 1000))


def cove_base():
    """Slab 500 x 30 with an upstand 100 x 100 more, a cove of 20 where they meet."""
    cove = arc((120, 50), 20, 180, 270, 24)
    section = [[0, 0], [500, 0], [500, 30], *cove, [100, 130], [0, 130]]
    half = 24 * 20 * sin(radians(90 / 48))
    under = polygon_area([[100, 0], [120, 0], *cove])
    show = (380 + 100 + half) * 700
    returns = (80 + half + 30) * 700 + 2 * (380 * 30 + under)
    areas = (show, returns, 130 * 700 + 2 * 100 * 130, 500 * 700)
    return Piece("cove base", prism(section, 700), BACK, areas)


def cant_edges():
    """Slab 600 x 60 with cants of 20 at 45 degrees: half to the face, half to the return."""
    section = [[0, 0], [600, 0], [600, 40], [580, 60], [20, 60], [0, 40]]
    cant = 20 * sqrt(2) * 900
    returns = 2 * 40 * 900 + cant + 2 * (600 * 60 - 400)
    return Piece("cant edges", prism(section, 900), BACK, (560 * 900 + cant, returns, 0, 600 * 900))


def tall_planter():
    """Planter 350 x 350 x 900, 25 thick, cast upside down."""
    mesh = cut(box((0, 0, 0), (350, 350, 900)), box((25, 25, 25), (325, 325, 950)))
    back = 300**2 + 4 * 300 * 875 + 350**2 - 300**2
    return Piece("tall planter", mesh, DOWN, (350**2, 0, 4 * 350 * 900, back))


def stepped_face(high):
    """A face 600 wide with a step in its middle."""
    section = [[0, 0], [600, 0], [600, 50], [300, 50], [300, 50 + high], [0, 50 + high]]
    step, show = high * 900, 600 * 900
    returns = 50 * 900 + (50 + high) * 900 + 2 * (600 * 50 + 300 * high)
    show, returns = (show + step, returns) if high <= 30 else (show, returns + step)
    return Piece(f"step {high}", prism(section, 900), BACK, (show, returns, 0, 600 * 900))


def edge(depth):
    """A slab of that depth."""
    walls = 2 * (1000 + 600) * depth
    sides = (walls, 0) if depth <= 110 else (0, walls)
    return Piece(
        f"edge {depth}", box((0, 0, 0), (1000, 600, depth)), UP, (600_000, *sides, 600_000)
    )


def stacked():
    """A slab 1000 x 600 x 40 and a smaller one on it, not merged."""
    lower, upper = box((0, 0, 0), (1000, 600, 40)), box((200, 200, 40), (800, 500, 90))
    meshes = [trimesh.Trimesh(one.points_m, one.triangles) for one in (lower, upper)]
    merged = trimesh.boolean.union(meshes, engine="manifold")
    mesh = Mesh(np.array(merged.vertices), np.array(merged.faces, dtype=np.int32))
    returns = 3200 * 40 + 1800 * 50
    return Piece("stacked", mesh, UP, (600_000, returns, 0, 600_000))


PIECES = [
    drip_edge(),
    sloped_counter(),
    basin(),
    uneven_waterfall(),
    corner_cladding(),
    ribbed(25),
    ribbed(40),
    curved_shell(),
    plinth(),
    sloped_sill(),
    undercut_lip(),
    stilted_column(),
    cove_base(),
    cant_edges(),
    tall_planter(),
    stepped_face(30),
    stepped_face(31),
    edge(110),
    edge(110.1),
    stacked(),
]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("piece", PIECES, ids=lambda piece: piece.name)
def test_every_class_is_right_to_a_thousandth_of_the_whole(piece, way):
    mesh, show = way(piece.mesh, piece.show)
    surfaces = told(mesh, show=show)
    within = sum(piece.areas) / 1000
    assert [area / MM**2 for area in surfaces.area_m2.values()] == pytest.approx(
        piece.areas, abs=within
    )
    assert surfaces.opening_wall_m2 / MM**2 == pytest.approx(piece.openings, abs=within)
    assert surfaces.undercut_m2 / MM**2 == pytest.approx(piece.undercut, abs=within)
    assert tuple(opening.bare for opening in surfaces.openings) == piece.bare


@pytest.mark.parametrize("piece", PIECES, ids=lambda piece: piece.name)
def test_the_areas_told_make_up_the_whole_piece(piece):
    corners = piece.mesh.points_m[piece.mesh.triangles]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    whole = float(np.linalg.norm(cross, axis=1).sum()) / 2.0 / MM**2
    assert whole == pytest.approx(sum(piece.areas), rel=1e-4)


def test_undercuts_say_by_how_much():
    (lip,) = [s for s in told(undercut_lip().mesh, show=BACK).surfaces if s.undercut_area_m2]
    assert lip.draft_deg == pytest.approx(-10.0)


def test_the_radius_of_a_cove_is_found():
    assert told(cove_base().mesh, show=BACK).min_radius_m == pytest.approx(0.020, rel=0.01)


def test_a_rounded_arris_takes_nothing_off_the_depth():
    round_ = arc((575, 175), 25, 0, 90, 12)
    slab = prism([[0, 0], [600, 0], *round_[::-1], [0, 200]], 900)
    assert max(s.depth_m for s in told(slab, show=BACK).surfaces) == pytest.approx(0.2, rel=1e-3)
    wall = next(s for s in told(slab, show=BACK).surfaces if s.normal[0] > 0.9 and s.depth_m > 0.0)
    assert wall.mean_depth_m == pytest.approx(0.2, rel=1e-3)
