"""Pieces of known area: every class to a thousandth of the whole, however they are drawn."""

from dataclasses import dataclass
from math import cos, hypot, pi, radians, sin, sqrt, tan
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import quad

from takeoff.files.stl import read_stl
from takeoff.piece.casting import classify_castings
from takeoff.piece.classifying import classify
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from tests.benchmarks.trays import write_stl
from tests.unit.piece.pieces_made import WAYS

FOLDER = Path(__file__).parent / "pieces"


@dataclass(frozen=True)
class Case:
    """Areas of a piece, in square millimetres, each worked out from its dimensions."""

    file: str
    show: tuple[float, float, float]
    show_face: float
    returns: float
    uprights: float
    back: float
    openings: float = 0.0
    undercut: float = 0.0
    kind: ModelKind = ModelKind.PIECE

    @property
    def areas(self):
        return np.array([self.show_face, self.returns, self.uprights, self.back])


UP, DOWN, FRONT, BACK = (0, 0, 1), (0, 0, -1), (0, -1, 0), (0, 1, 0)


def shell():
    """2000 x 600 x 60, hollow from below, 20 thick."""
    inner = 1960 * 560
    hollow = inner + 2 * (1960 + 560) * 40 + (2000 * 600 - inner)
    return Case("shell.stl", UP, 2000 * 600, 2 * 2600 * 60, 0, hollow)


def waterfall():
    """2000 x 650 x 900, two legs, 40 thick: the fronts are 40 mm edge between the legs."""
    return Case(
        "waterfall.stl",
        UP,
        2000 * 650,
        2 * 1920 * 40,
        2 * 650 * 900 + 4 * 40 * 900,
        1920 * 650 + 2 * 650 * 860 + 2 * 40 * 650,
    )


def surround(depth):
    """1400 x 1100 with an opening 800 x 750 from below."""
    face, around = 1400 * 1100 - 800 * 750, 1400 + 2200 + 600 + 1500 + 800
    walls = (around * depth, 0) if depth <= 110 else (0, around * depth)
    return Case(f"surround_{depth}.stl", FRONT, face, *walls, face)


def l_panel():
    """Arms of 900 and 300, 30 thick, 600 high, seen on the long one."""
    return Case(
        "l_panel.stl",
        FRONT,
        900 * 600,
        30 * 600 + 2 * 870 * 30,
        300 * 600 + 2 * 30 * 300,
        (870 + 270 + 30) * 600,
    )


def planter():
    """800 x 400 x 400, 30 thick, cast upside down."""
    inside = 740 * 340 + 2 * (740 + 340) * 370 + (800 * 400 - 740 * 340)
    return Case("planter.stl", DOWN, 800 * 400, 0, 2400 * 400, inside)


def sink():
    """Slab 1200 x 600 x 40 with a bowl 500 x 350 x 130, 20 thick, under it."""
    under = 1200 * 600 - 540 * 390 + 2 * (540 + 390) * 110 + 540 * 390
    return Case("sink.stl", UP, 1200 * 600, 2 * 1800 * 40, 2 * 850 * 130, under)


def window():
    """Panel 2000 x 3000 x 80 with an opening 900 x 1200: its wall is a return too."""
    face, wall = 2000 * 3000 - 900 * 1200, 2 * 2100 * 80
    return Case("window.stl", FRONT, face, 2 * 5000 * 80 + wall, 0, face, openings=wall)


def splayed_window():
    """Panel 2000 x 2000 x 80, opening 900 at the face and 800 at the back."""
    wall = 4 * (900 + 800) / 2 * hypot(80, 50)
    return Case(
        "splayed_window.stl",
        UP,
        2000**2 - 900**2,
        8000 * 80 + wall,
        0,
        2000**2 - 800**2,
        openings=wall,
    )


def tread():
    """Stair tread 1200 x 300 x 40 with a riser 40 thick, 150 in all."""
    return Case(
        "tread.stl",
        UP,
        1200 * 300,
        1200 * 40 + 2 * 260 * 40,
        1200 * 150 + 2 * 40 * 150,
        1200 * 260 + 1200 * 110 + 1200 * 40,
    )


def chamfered():
    """Slab 1500 x 600 x 50, arris chamfered by 10: half of the chamfer belongs to each."""
    half = sqrt(2) * 10 * 2 * (1500 + 600 - 20) / 2
    return Case("chamfered.stl", UP, 1480 * 580 + half, 4200 * 40 + half, 0, 1500 * 600)


def drainboard():
    """800 x 500, 40 at one end, rising by 5 degrees: still below 110 at the other."""
    high = 40 + 800 * tan(radians(5))
    walls = 500 * 40 + 500 * high + 800 * (40 + high)
    return Case("drainboard.stl", UP, 800 * 500 / cos(radians(5)), walls, 0, 800 * 500)


def upstand():
    """Slab 1500 x 600 x 40 with an upstand 20 wide and 100 high along the back."""
    return Case(
        "upstand.stl",
        UP,
        1500 * 580 + 1500 * 20,
        1500 * 40 + 1500 * 100 + 2 * 580 * 40,
        1500 * 140 + 2 * 20 * 140,
        1500 * 600,
    )


def undercut():
    """Slab 1500 x 600 x 60, its sides leaning in by 15 degrees towards the back."""
    inset = 60 * tan(radians(15))
    walls = 2 * hypot(60, inset) * (1500 + 600 - 2 * inset)
    back = (1500 - 2 * inset) * (600 - 2 * inset)
    return Case("undercut.stl", UP, 1500 * 600, walls, 0, back, undercut=walls)


def half_column(*, closed):
    """Half a column, 200 to 150 in radius, 2500 high; its ends are upright where over 110 deep."""

    def deep(radius):
        reach = sqrt(radius**2 - 110**2)
        return quad(lambda x: sqrt(radius**2 - x**2), -reach, reach)[0]

    mantle, ends = pi * 350 / 2 * hypot(2500, 50), pi * (200**2 + 150**2) / 2
    uprights = deep(200) + deep(150)
    back = 350 * 2500 if closed else 0
    return Case(
        "half_column.stl" if closed else "open_half_column.stl",
        BACK,
        mantle,
        ends - uprights,
        uprights,
        back,
        kind=ModelKind.PIECE if closed else ModelKind.OPEN,
    )


def barrel():
    """Vault of 800 radius, 25 thick, 60 degrees to both sides, 1500 long; all edges are returns."""
    angle = 2 * radians(60)
    edges = angle * (800**2 - 775**2) + 2 * 25 * 1500
    return Case("barrel.stl", UP, angle * 800 * 1500, edges, 0, angle * 775 * 1500)


def bench():
    """Ring segment of 120 degrees, 1500 to 2000 in radius, 450 high."""
    face, angle = radians(120) / 2 * (2000**2 - 1500**2), radians(120)
    return Case("bench.stl", UP, face, 0, angle * 3500 * 450 + 2 * 500 * 450, face)


def rounded_slab(size, radius, corner):
    """Flat top, upper and lower half of the arris all round, sides and bottom of a slab."""
    length, width, high = size
    straight = 2 * (length - 2 * corner) + 2 * (width - 2 * corner)

    def band(first, last):
        around = (corner - radius) * (last - first) + radius * (cos(first) - cos(last))
        return straight * radius * (last - first) + 2 * pi * radius * around

    flat = (length - 2 * radius) * (width - 2 * radius) - (4 - pi) * (corner - radius) ** 2
    side = (straight + 2 * pi * corner) * (high - radius)
    bottom = length * width - (4 - pi) * corner**2
    return flat, band(0, pi / 4), band(pi / 4, pi / 2), side, bottom


def rounded_25():
    """Slab 1500 x 600 x 50, corners of 60 in plan, arris rounded by 25."""
    flat, upper, lower, side, bottom = rounded_slab((1500, 600, 50), 25, 60)
    return Case("rounded_25.stl", UP, flat + upper, lower + side, 0, bottom)


def drip_groove():
    """The same rounded by 10, with a groove 10 x 10 along its underside, end to end."""
    flat, upper, lower, side, bottom = rounded_slab((1500, 600, 50), 10, 60)
    returns = lower + side - 2 * 10 * 10
    return Case("drip_groove.stl", UP, flat + upper, returns, 0, bottom + 2 * 1500 * 10)


def sink_rounded():
    """Slab 1200 x 600 x 40 with a bowl 500 x 350 x 130 in it, floor rounded by 30."""
    flat, upper, lower, side, mouth = rounded_slab((500, 350, 130), 30, 60)
    show = 1200 * 600 - mouth + flat + upper
    back = 1200 * 600 - 540 * 390 + 2 * (540 + 390) * 110 + 540 * 390
    return Case("sink_rounded.stl", UP, show, 2 * 1800 * 40, lower + side, back)


def fluted():
    """Panel 1200 x 2400 x 60 with 30 half-round flutes of radius 12."""
    show = 1200 * 2400 + 30 * (pi - 2) * 12 * 2400
    ends = 2 * (1200 * 60 - 30 * pi * 12**2 / 2)
    return Case("fluted.stl", BACK, show, 2 * 2400 * 60 + ends, 0, 1200 * 2400)


def wavy():
    """Panel 1200 x 800, 50 thick on average, waves of 120 with an amplitude of 8."""
    wave = 2 * pi / 120
    line = 10 * quad(lambda x: hypot(1, 8 * wave * cos(wave * x)), 0, 120)[0]
    return Case("wavy.stl", UP, line * 800, 2 * 800 * 50 + 2 * 1200 * 50, 0, 1200 * 800)


def form_with_island():
    """Block 1100 x 800 x 140, cavity 900 x 600 x 80, in it a core 300 x 200 as high as the rim."""
    face, around, core = 900 * 600 - 300 * 200, 2 * 1500 * 80, 2 * 500 * 80
    outside = 2 * 1100 * 800 + 2 * 1900 * 140 - face
    return Case(
        "form_island.stl",
        DOWN,
        face,
        around + core,
        0,
        outside,
        openings=core,
        kind=ModelKind.FORM,
    )


def fluted_form():
    """Block 1000 x 800 x 140, cavity 800 x 600 x 60, 16 half round ribs of 10 on its floor."""
    arc, half_disc = 12 * 20 * sin(pi / 24), 12 * 50 * sin(pi / 12)
    face = (800 + 16 * (arc - 20)) * 600
    walls = 2 * 600 * 60 + 2 * (800 * 60 - 16 * half_disc)
    outside = 2 * 1000 * 800 - 800 * 600 + 2 * 1800 * 140
    return Case("form_fluted.stl", DOWN, face, walls, 0, outside, kind=ModelKind.FORM)


CASES = [
    shell(),
    waterfall(),
    surround(80),
    surround(200),
    l_panel(),
    planter(),
    sink(),
    window(),
    splayed_window(),
    tread(),
    chamfered(),
    drainboard(),
    upstand(),
    undercut(),
    half_column(closed=True),
    half_column(closed=False),
    barrel(),
    bench(),
    rounded_25(),
    drip_groove(),
    sink_rounded(),
    fluted(),
    wavy(),
    Case("slab.stl", UP, 2000 * 600, 2 * 2600 * 40, 0, 2000 * 600),
    form_with_island(),
    fluted_form(),
    Case("open_slab.stl", UP, 2000 * 600, 2 * 2600 * 40, 0, 0, kind=ModelKind.OPEN),
    Case("open_box.stl", DOWN, 800 * 400, 0, 2400 * 400, 0, kind=ModelKind.OPEN),
    Case("open_barrel.stl", UP, 2 * radians(60) * 800 * 1500, 0, 0, 0, kind=ModelKind.OPEN),
]


METRES = {"mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": 0.0254, "ft": 0.3048}


def surfaces_of(case, way):
    (piece,) = read_stl(FOLDER / case.file, unit="mm").pieces
    mesh, show = way(piece.shape, np.array(case.show, dtype=float))
    [surfaces] = classify_castings(mesh, kind=case.kind, show_direction=show)
    return surfaces


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.file)
@pytest.mark.parametrize("way", WAYS)
def test_every_class_is_right_to_a_thousandth_of_the_whole(case, way):
    surfaces = surfaces_of(case, way)
    areas = [surfaces.area_m2[surface_class] * 1e6 for surface_class in SurfaceClass]
    within = case.areas.sum() / 1000
    assert areas == pytest.approx(case.areas, abs=within)
    assert surfaces.opening_wall_m2 * 1e6 == pytest.approx(case.openings, abs=within)
    assert surfaces.undercut_m2 * 1e6 == pytest.approx(case.undercut, abs=within)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.file)
def test_the_list_adds_up_to_the_classes_and_holds_every_facet_once(case):
    surfaces = surfaces_of(case, WAYS[0])
    for surface_class in SurfaceClass:
        listed = [s.area_m2 for s in surfaces.surfaces if s.surface_class is surface_class]
        assert sum(listed) == pytest.approx(surfaces.area_m2[surface_class])
    facets = np.concatenate([surface.facets for surface in surfaces.surfaces])
    assert np.sort(facets).tolist() == list(range(len(surfaces.mesh.triangles)))
    assert surfaces.shares.sum(axis=1) == pytest.approx(np.ones(len(surfaces.shares)))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.file)
def test_neither_turning_nor_triangulation_changes_an_id(case):
    def ids(way):
        surfaces = surfaces_of(case, way).surfaces
        return [(s.id, s.opening, round(s.area_m2, 5), round(s.depth_m, 5)) for s in surfaces]

    assert ids(WAYS[1]) == ids(WAYS[0])
    assert ids(WAYS[3]) == ids(WAYS[0])


@pytest.mark.parametrize("unit", METRES)
@pytest.mark.parametrize("case", [waterfall(), rounded_25(), half_column(closed=True)])
def test_a_drawing_in_another_unit_is_the_same_piece(tmp_path, case, unit):
    (drawn,) = read_stl(FOLDER / case.file, unit="mm").pieces
    path = tmp_path / "piece.stl"
    write_stl(path, drawn.shape.points_m / METRES[unit], drawn.shape.triangles)
    (piece,) = read_stl(path, unit=unit).pieces
    show = np.array(case.show, dtype=float)
    surfaces = classify(piece.shape, kind=case.kind, show_direction=show)
    areas = [surfaces.area_m2[surface_class] * 1e6 for surface_class in SurfaceClass]
    assert areas == pytest.approx(case.areas, abs=case.areas.sum() / 1000)


def test_two_pieces_of_one_drawing_are_told_apart():
    """A slab rounded by 10, and the sink."""
    flat, upper, lower, side, bottom = rounded_slab((1500, 600, 50), 10, 60)
    wanted = sorted([[flat + upper, lower + side, 0, bottom], [*sink().areas]])
    pieces = read_stl(FOLDER / "two_pieces.stl", unit="mm").pieces
    found = [
        [area * 1e6 for area in told.area_m2.values()]
        for told in (
            classify(one.shape, kind=ModelKind.PIECE, show_direction=np.array([0.0, 0.0, 1.0]))
            for one in pieces
        )
    ]
    for areas, right in zip(sorted(found), wanted, strict=True):
        assert areas == pytest.approx(right, abs=sum(right) / 1000)
