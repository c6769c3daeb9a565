import numpy as np
import pytest
import shapely
import trimesh

from takeoff.errors import LayerVolumeError
from takeoff.geometry.layering import Grown, Layering, layer_up
from takeoff.geometry.mesh import Mesh
from takeoff.notes import NoteCode
from takeoff.piece.cast_skin import cast_skin
from takeoff.piece.classifying import classify
from takeoff.piece.corrections import Corrections
from takeoff.piece.fillings import SpaceBehind
from takeoff.piece.layer_notes import difference_note
from takeoff.piece.layer_rules import LayerRules
from takeoff.piece.layers import Layer
from takeoff.piece.laying import lay
from takeoff.piece.level_layers import LevelLayers
from takeoff.piece.meeting_notes import ShallowWalls, meeting_notes
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from takeoff.piece.thickness import everywhere, read_class_thickness
from tests.unit.piece.pieces_made import bowl

UP = np.array([0.0, 0.0, 1.0])
FACE_M, BACKER_M = 0.004, 0.020
TOTAL_M = FACE_M + BACKER_M


def tray(length=1.830, width=0.620, height=0.045):
    """Open tray: show face and four walls."""
    box = trimesh.creation.box((length, width, height))
    box.update_faces(box.face_normals[:, 2] > -0.5)
    return classify(Mesh.from_trimesh(box, unit="m"), kind=ModelKind.OPEN, show_direction=UP)


def solid(size_m):
    box = Mesh.from_trimesh(trimesh.creation.box(size_m), unit="m")
    return classify(box, kind=ModelKind.PIECE, show_direction=UP)


def test_layers_of_a_tray_are_differences_of_boxes():
    laid = lay(tray(), face_coat=everywhere(FACE_M), backer=everywhere(BACKER_M))

    def front_m3(t):
        return 1.83 * 0.62 * 0.045 - (1.83 - 2 * t) * (0.62 - 2 * t) * (0.045 - t)

    assert laid.volume_m3(Layer.FACE_COAT) == pytest.approx(front_m3(FACE_M), rel=1e-9)
    backer_m3 = front_m3(TOTAL_M) - front_m3(FACE_M)
    assert laid.volume_m3(Layer.BACKER) == pytest.approx(backer_m3, rel=1e-9)


def test_area_times_thickness_stands_beside_and_the_difference_is_explained():
    laid = lay(tray(), face_coat=everywhere(FACE_M), backer=everywhere(BACKER_M))
    area_m2 = 1.83 * 0.62 + 2 * (1.83 + 0.62) * 0.045
    assert laid.flat_m3[Layer.BACKER] == pytest.approx(area_m2 * BACKER_M)
    [note] = laid.notes
    assert note.code is NoteCode.LAYER_FLAT
    assert "too much; layers share" in note.text
    assert "inside corners" not in note.text  # a tray has none


def test_rows_name_layer_and_class_and_add_up():
    laid = lay(tray(), face_coat=everywhere(FACE_M), backer=everywhere(BACKER_M))
    pairs = [(row.layer, row.surface_class) for row in laid.rows]
    assert pairs == [
        (layer, kind) for layer in Layer for kind in (SurfaceClass.SHOW_FACE, SurfaceClass.RETURN)
    ]
    face = [row for row in laid.rows if row.layer is Layer.FACE_COAT]
    assert sum(row.volume_m3 for row in face) == pytest.approx(laid.volume_m3(Layer.FACE_COAT))


def test_without_thicknesses_there_are_no_layers():
    laid = lay(tray())
    assert (laid.rows, laid.notes) == ((), ())


def test_one_layer_alone_has_rows_of_its_own_only():
    laid = lay(tray(), backer=everywhere(BACKER_M))
    assert {row.layer for row in laid.rows} == {Layer.BACKER}
    assert laid.volume_m3(Layer.FACE_COAT) == 0.0


def test_the_back_of_a_solid_carries_no_layer():
    laid = lay(solid((1.0, 0.5, 0.06)), backer=everywhere(0.02), solid_m3=0.03)
    exact_m3 = 1.0 * 0.5 * 0.06 - 0.96 * 0.46 * 0.04
    assert laid.volume_m3(Layer.BACKER) == pytest.approx(exact_m3, rel=1e-9)


def test_a_slab_as_thick_as_its_layers_is_filled():
    laid = lay(
        solid((1.0, 0.5, 0.024)),
        face_coat=everywhere(FACE_M),
        backer=everywhere(BACKER_M),
        solid_m3=0.012,
    )
    total_m3 = laid.volume_m3(Layer.FACE_COAT) + laid.volume_m3(Layer.BACKER)
    assert total_m3 == pytest.approx(0.012, rel=1e-9)


def test_layers_thicker_than_the_solid_are_refused():
    with pytest.raises(LayerVolumeError, match=r"more than the 10\.00 L of the solid"):
        lay(
            solid((1.0, 0.5, 0.020)),
            face_coat=everywhere(FACE_M),
            backer=everywhere(BACKER_M),
            solid_m3=0.010,
        )


def test_ribs_narrower_than_the_layers_are_filled():
    combs = [trimesh.creation.box((0.02, 1.0, 0.06)) for _ in range(3)]
    for number, comb in enumerate(combs):
        comb.apply_translation((0.1 * number, 0.0, 0.0))
    comb = trimesh.util.concatenate(combs)
    comb.update_faces(comb.face_normals[:, 2] > -0.5)
    ribs = classify(Mesh.from_trimesh(comb, unit="m"), kind=ModelKind.OPEN, show_direction=UP)
    laid = lay(ribs, face_coat=everywhere(FACE_M), backer=everywhere(BACKER_M))
    whole_m3 = sum(laid.volume_m3(layer) for layer in Layer)
    assert whole_m3 == pytest.approx(3 * 0.02 * 1.0 * 0.06, rel=5e-3)
    assert laid.uncertainty_share > 0.0
    [note] = [note for note in laid.notes if note.code is NoteCode.THICK_FOR_SHAPE]
    assert "layers meet: by faces and edges they would take" in note.text


def prism(section, *, length=2.0):
    """Sweep a section (across, height) along y as an open surface, show side up."""
    points = np.array([(x, y, z) for y in (0.0, length) for x, z in section])
    count = len(section)
    triangles = [
        corner
        for k in range(count - 1)
        for corner in ((k, k + 1, count + k + 1), (k, count + k + 1, count + k))
    ]
    mesh = Mesh(points, np.array(triangles, dtype=np.int32))
    return classify(mesh, kind=ModelKind.OPEN, show_direction=UP)


def both_sides(half):
    """Mirror the right half of a section, from the middle out."""
    return np.r_[(np.asarray(half) * np.array([-1, 1]))[::-1], half]


def total_m3(surfaces, total_m):
    laid = lay(surfaces, backer=everywhere(total_m))
    return laid.volume_m3(Layer.BACKER)


@pytest.mark.parametrize("radius_m", [0.003, 0.010])
def test_arrises_rounded_tighter_than_the_layers_are_followed(radius_m):
    turn = np.linspace(0.0, np.pi / 2, 9)
    arc = radius_m * np.c_[np.sin(turn), np.cos(turn) - 1.0] + np.array([0.31 - radius_m, 0.0])
    plate = prism(both_sides([*arc.tolist(), (0.31, -0.060)]))
    # Sharp faces 0.62 + 2 x 0.06 wide, less a square at each arris, less what the round cuts off.
    section_m2 = 0.74 * TOTAL_M - 2 * (TOTAL_M**2 + (1 - np.pi / 4) * radius_m**2)
    assert total_m3(plate, TOTAL_M) == pytest.approx(2.0 * section_m2, rel=4e-4)


def test_chamfers_narrower_than_the_layers_are_followed():
    cut_m = 0.004
    plate = prism(both_sides([(0.31 - cut_m, 0.0), (0.31, -cut_m), (0.31, -0.060)]))
    section_m2 = 0.74 * TOTAL_M - 2 * (TOTAL_M**2 + cut_m**2 / 2)
    assert total_m3(plate, TOTAL_M) == pytest.approx(2.0 * section_m2, rel=1e-4)


def rib(*, ease=()):
    """A plate 3 m wide with one rib 20 mm wide and 60 mm high, its arrises sharp or eased."""
    return prism(both_sides([*(ease or [(0.010, 0.060)]), (0.010, 0.0), (1.5, 0.0)]))


@pytest.mark.parametrize(
    ("ease", "cut_m2"),
    [
        pytest.param((), 0.0, id="sharp"),
        pytest.param(((0.007, 0.060), (0.010, 0.057)), 0.003**2, id="chamfered"),
    ],
)
@pytest.mark.parametrize("total", [TOTAL_M, 0.015])
def test_a_rib_narrower_than_two_layers_is_filled(ease, cut_m2, total):
    # Below the plane of the plate, the layers round the two feet are circles that overlap.
    under_m2 = 0.010 * np.sqrt(total**2 - 0.010**2) + total**2 * np.arcsin(0.010 / total)
    section_m2 = 2.98 * total + 0.020 * 0.060 - cut_m2 + under_m2
    assert total_m3(rib(ease=ease), total) == pytest.approx(2.0 * section_m2, rel=3e-3)


def test_layers_end_square_where_they_are_thicker_than_a_wall_is_deep():
    # A point belongs to the show face where its foot there is nearer than the rim of the wall.
    depth, total = 0.010, TOTAL_M
    below = np.linspace(depth, total, 2001)
    near = np.sqrt(np.maximum(2 * depth * below - depth**2, 0.0))
    section = (0.6 - 2 * near) * (0.4 - 2 * near)
    exact_m3 = 0.6 * 0.4 * depth + (section[1:] + section[:-1]) @ np.diff(below) / 2
    assert total_m3(tray(0.6, 0.4, depth), total) == pytest.approx(exact_m3, rel=5e-3)


def frustum_m3(half_x, half_y, slope, top, foot):
    """Volume between two heights of a block whose half widths grow by the slope going down."""

    def area_m2(z):
        return 4 * (half_x - z * slope) * (half_y - z * slope)

    # Simpson's rule is exact for the square of a linear width.
    return (top - foot) / 6 * (area_m2(top) + 4 * area_m2((top + foot) / 2) + area_m2(foot))


@pytest.mark.parametrize("draft_deg", [-8.0, 3.0, 8.0, 15.0])
def test_the_layer_of_a_drafted_solid_ends_in_its_back_plane(draft_deg):
    slope = np.tan(np.radians(draft_deg))
    height, total = 0.080, 0.020
    corners = [
        (x * (0.45 + down * slope), y * (0.30 + down * slope), -down)
        for down in (0.0, height)
        for x in (-1, 1)
        for y in (-1, 1)
    ]
    block = Mesh.from_trimesh(trimesh.convex.convex_hull(np.array(corners)), unit="m")
    piece = classify(block, kind=ModelKind.PIECE, show_direction=UP)
    inset = total / np.cos(np.radians(draft_deg))
    solid_m3 = frustum_m3(0.45, 0.30, slope, 0.0, -height)
    inner_m3 = frustum_m3(0.45 - inset, 0.30 - inset, slope, -total, -height)
    # What is left out is a cube of the thickness by the tangent of the draft at each rim corner.
    corners_m3 = 4 * total**3 * abs(slope)
    assert total_m3(piece, total) == pytest.approx(solid_m3 - inner_m3, abs=1.1 * corners_m3)


@pytest.mark.parametrize("cells", [10, 40])
def test_a_domed_face_with_a_sharp_rim_does_not_drift_with_its_mesh(cells):
    # A pillow 20 mm high on a block 600 x 400 x 60; 6.389 L by counting 1.3 million points.
    x, y = np.meshgrid(
        np.linspace(0, 0.6, cells + 1), np.linspace(0, 0.4, cells + 1), indexing="ij"
    )
    z = 0.020 * np.sin(np.pi * x / 0.6) * np.sin(np.pi * y / 0.4)
    top = np.c_[x.ravel(), y.ravel(), z.ravel()]
    number = np.arange((cells + 1) ** 2).reshape(cells + 1, cells + 1)
    a, b, c, d = number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:]
    faces = np.r_[np.c_[a.ravel(), b.ravel(), c.ravel()], np.c_[a.ravel(), c.ravel(), d.ravel()]]
    ring = [*number[:, 0], *number[-1, 1:], *number[-2::-1, -1], *number[0, -2:0:-1]]
    foot = top[ring] * np.array([1, 1, 0]) + np.array([0, 0, -0.060])
    first, count = len(top), len(ring)
    walls = []
    for k in range(count):
        near, far = ring[k], ring[(k + 1) % count]
        low, next_low = first + k, first + (k + 1) % count
        walls += [(near, low, next_low), (near, next_low, far)]
    mesh = Mesh(np.r_[top, foot], np.r_[faces, np.array(walls)].astype(np.int32))
    pillow = classify(mesh, kind=ModelKind.OPEN, show_direction=UP)
    assert total_m3(pillow, 0.020) == pytest.approx(6.389e-3, rel=4e-3)


def grooved(count, *, width=0.010, depth=0.005):
    """A plate 1 m wide with grooves in its face, 50 mm apart."""
    section = [(-0.5, 0.0)]
    for k in range(count):
        at = -0.4 + 0.05 * k
        section += [(at, 0.0), (at, -depth), (at + width, -depth), (at + width, 0.0)]
    return prism([*section, (0.5, 0.0)])


@pytest.mark.parametrize("count", [1, 12])
def test_grooves_narrower_than_the_layers_fill_up_behind(count):
    surfaces = grooved(count)
    line = [(-0.5, 0.0)]
    for k in range(count):
        at = -0.4 + 0.05 * k
        line += [(at, 0.0), (at, -0.005), (at + 0.010, -0.005), (at + 0.010, 0.0)]
    line.append((0.5, 0.0))
    below = shapely.Polygon([*line, (0.5, -0.2), (-0.5, -0.2)])
    section_m2 = shapely.LineString(line).buffer(TOTAL_M, quad_segs=64).intersection(below).area
    assert total_m3(surfaces, TOTAL_M) == pytest.approx(2.0 * section_m2, rel=3e-3)


def test_shallow_steps_in_the_show_face_are_followed():
    step = prism([(-0.5, 0.004), (0.0, 0.004), (0.0, 0.0), (0.5, 0.0)])
    flat_m3 = 2.0 * (1.0 + 0.004) * TOTAL_M
    assert total_m3(step, TOTAL_M) == pytest.approx(flat_m3, rel=0.01)


def test_a_negative_thickness_is_refused():
    with pytest.raises(LayerVolumeError, match="cannot be thinner than 0"):
        lay(tray(), face_coat=everywhere(-0.001))


def test_walls_may_have_a_thickness_of_their_own():
    told = read_class_thickness("20 mm", on_return="25 mm")
    laid = lay(tray(), face_coat=everywhere(FACE_M), backer=told)
    exact_m3 = 1.83 * 0.62 * 0.045 - (1.83 - 0.058) * (0.62 - 0.058) * (0.045 - 0.024)
    whole_m3 = sum(laid.volume_m3(layer) for layer in Layer)
    assert whole_m3 == pytest.approx(exact_m3, rel=1e-9)
    assert [row.thickness_m for row in laid.rows if row.layer is Layer.BACKER] == [0.020, 0.025]


def test_a_range_of_thickness_is_a_range_of_volume():
    coat = read_class_thickness("3-4-5 mm")
    laid = lay(tray(), face_coat=coat, backer=everywhere(BACKER_M))

    def front_m3(t):
        return 1.83 * 0.62 * 0.045 - (1.83 - 2 * t) * (0.62 - 2 * t) * (0.045 - t)

    assert laid.volume_range_m3(Layer.FACE_COAT) == pytest.approx(
        (front_m3(0.003), front_m3(0.005))
    )
    low_m3, high_m3 = laid.volume_range_m3(Layer.BACKER)
    assert low_m3 == pytest.approx(front_m3(0.023) - front_m3(0.003))
    assert high_m3 == pytest.approx(front_m3(0.025) - front_m3(0.005))
    assert laid.rows[0].thickness_range_m == (0.003, 0.005)


def test_a_solid_piece_is_filled_to_its_back():
    filled = read_class_thickness("fill")
    laid = lay(solid((1.0, 0.5, 0.06)), face_coat=everywhere(FACE_M), backer=filled, solid_m3=0.03)
    coat_m3 = 0.03 - 0.992 * 0.492 * 0.056
    assert laid.volume_m3(Layer.FACE_COAT) == pytest.approx(coat_m3)
    assert laid.volume_m3(Layer.BACKER) == pytest.approx(0.03 - coat_m3)
    with pytest.raises(LayerVolumeError, match="only a piece modelled as a closed solid"):
        lay(tray(), backer=filled)
    with pytest.raises(LayerVolumeError, match="only the backer can fill"):
        lay(tray(), face_coat=filled)


def test_walls_say_what_each_way_to_cast_them_takes():
    laid = lay(tray(), face_coat=everywhere(FACE_M), backer=everywhere(BACKER_M))
    inner_m2 = 2 * (1.83 - 0.048 + 0.62 - 0.048) * (0.045 - 0.024)
    assert laid.inner_form_m2 == pytest.approx(inner_m2)
    space_m3 = (1.83 - 0.048) * (0.62 - 0.048) * (0.045 - 0.024)
    assert laid.filled_m3 == pytest.approx(space_m3)
    assert [wall.filled_m3 for wall in laid.walls] == pytest.approx([space_m3] * 4)


def test_each_wall_has_its_own_inner_face_and_layers():
    depth, total = 0.045, TOTAL_M
    walls = lay(tray(), face_coat=everywhere(FACE_M), backer=everywhere(BACKER_M)).walls
    for wall, length in zip(walls, (1.83, 1.83, 0.62, 0.62), strict=True):
        inner_m2 = (length - 2 * total) * (depth - total)
        assert wall.inner_form_m2 == pytest.approx(inner_m2, rel=1e-9)
        # The mean of (l - 2 s) (d - s) over the layers: l d less (l + 2 d) t / 2, and 2/3 t2.
        mean_m2 = length * depth - (length + 2 * depth) * total / 2 + 2 / 3 * total**2
        assert wall.layer_m3 == pytest.approx(mean_m2 * total, rel=1e-9)


def chorded(plan, depth):
    """A plan with a hole, walls all round: its outer walls, and that of the hole."""
    solid = trimesh.creation.extrude_polygon(plan, depth)
    solid.update_faces(solid.face_normals[:, 2] > -0.5)
    told = Corrections(bare={"O1": False})
    return classify(
        Mesh.from_trimesh(solid, unit="m"), kind=ModelKind.OPEN, show_direction=UP, corrections=told
    )


def test_the_wall_of_a_round_hole_has_the_inner_face_behind_it():
    depth, total, radius = 0.040, 0.020, 0.1
    hole = shapely.Point(0.45, 0.75).buffer(radius, quad_segs=90)
    piece = chorded(shapely.box(0, 0, 0.9, 1.5).difference(hole), depth)
    laid = lay(piece, face_coat=everywhere(0.004), backer=everywhere(0.016))
    # Behind the hole the layers grow outward: a ring of 120 mm; at the edges they draw in.
    exact_m2 = [
        *[(1.5 - 2 * total) * (depth - total)] * 2,
        *[(0.9 - 2 * total) * (depth - total)] * 2,
        2 * np.pi * (radius + total) * (depth - total),
    ]
    assert [wall.surface for wall in laid.walls] == ["R1", "R2", "R3", "R4", "R5"]
    inner_m2 = [wall.inner_form_m2 for wall in laid.walls]
    assert inner_m2 == pytest.approx(exact_m2, rel=1e-3)
    assert inner_m2[:4] == pytest.approx(exact_m2[:4], rel=1e-9)
    # The same of the layers: the integral of 2 pi (r + s) (d - s) over their depth.
    ring_m3 = radius * depth * total + (depth - radius) * total**2 / 2 - total**3 / 3
    assert laid.walls[4].layer_m3 == pytest.approx(2 * np.pi * ring_m3, rel=1e-3)


@pytest.mark.parametrize("size", [(0.6, 0.4, 0.05), (0.6, 0.4, 0.01), (0.4, 0.03, 0.06)])
def test_walls_add_up_to_their_class(size):
    laid = lay(tray(*size), face_coat=everywhere(0.004), backer=everywhere(0.016))
    on_walls_m3 = sum(
        row.volume_m3 for row in laid.rows if row.surface_class is not SurfaceClass.SHOW_FACE
    )
    assert sum(wall.layer_m3 for wall in laid.walls) == pytest.approx(on_walls_m3, rel=1e-12)


def test_layers_thicker_than_the_walls_are_deep_thin_out_at_the_rim():
    laid = lay(tray(0.9, 1.5, 0.01), face_coat=everywhere(0.004), backer=everywhere(0.016))
    [text] = [note.text for note in laid.notes if note.code is NoteCode.THICK_FOR_SHAPE]
    assert text.endswith(
        "walls 10 mm deep are shallower than the layers of 20 mm, which thin out at the rim"
    )
    assert "grooves" not in text


def test_layers_that_meet_beside_shallow_walls_are_told_as_both():
    layer = Grown(np.array([0.010]), np.zeros((1, 3)))
    met = Layering(layer, layer, np.zeros(1), 0.003, 0.025, True, 0.0, 0.0)
    [note] = meeting_notes(met, shallow=ShallowWalls(0.012, 0.015, 0.020))
    assert note.text.endswith(
        "narrower than two layers and are filled; walls 12 mm to 15 mm deep are shallower than "
        "the layers of 20 mm, which thin out at the rim"
    )


def leaning(top, foot, depth):
    """A tray whose walls lean from its show face to its foot."""
    corners = [
        (x * length / 2, y * width / 2, z)
        for (length, width), z in ((top, 0.0), (foot, -depth))
        for x in (-1, 1)
        for y in (-1, 1)
    ]
    hull = trimesh.convex.convex_hull(np.array(corners))
    hull.update_faces(hull.face_normals[:, 2] > -0.9)
    return classify(Mesh.from_trimesh(hull, unit="m"), kind=ModelKind.OPEN, show_direction=UP)


@pytest.mark.parametrize("lean", [-0.02, -0.01, 0.0, 0.01, 0.02])
def test_filling_behind_leaning_walls_takes_the_space_between_them(lean):
    depth, total = 0.1, 0.020
    piece = leaning((0.4, 0.3), (0.4 + 2 * lean, 0.3 + 2 * lean), depth)
    laid = lay(piece, backer=everywhere(total))
    slope = lean / depth
    inset = total * np.sqrt(1 + slope**2)
    space_m3 = frustum_m3(0.2 - inset, 0.15 - inset, slope, -total, -depth)
    # At the rim, the layers end square to the wall and not at the level: a wedge is left.
    wedge_m3 = 1.5 * total**2 * abs(slope) / 2
    assert laid.filled_m3 == pytest.approx(space_m3, abs=wedge_m3 + 1e-9)
    assert [wall.filled_m3 for wall in laid.walls] == pytest.approx([laid.filled_m3] * 4)


@pytest.mark.parametrize("lean", [-0.02, 0.02])
@pytest.mark.parametrize("level", [0.02, 0.05, 0.099, 0.1])
def test_the_space_above_a_level_that_leaning_walls_pass_through(lean, level):
    piece = leaning((0.4, 0.3), (0.4 + 2 * lean, 0.3 + 2 * lean), 0.1)
    space = SpaceBehind.of(piece, cast_skin(piece).skin)
    exact_m3 = frustum_m3(0.2, 0.15, lean / 0.1, 0.0, -level)
    assert space.filled_m3(level) == pytest.approx(exact_m3, rel=1e-9)


@pytest.mark.parametrize("size", [(0.4, 0.03, 0.06), (0.6, 0.4, 0.01)])
def test_walls_without_an_inner_face_need_no_second_form(size):
    laid = lay(tray(*size), backer=everywhere(0.020))
    assert laid.walls
    assert laid.inner_form_m2 == 0.0


def test_a_flat_slab_shares_nothing_at_arrises():
    plate = prism([(-0.5, 0.0), (0.0, 0.0), (0.5, 0.0)])
    [note] = lay(plate, backer=everywhere(0.020)).notes
    assert note.text.endswith("true volume 40.00 L: right")


def test_a_thin_spot_of_a_solid_is_filled_and_no_more():
    # A slab 60 thick with a recess 45 deep in its back: 15 mm are left over half of it.
    slab = trimesh.creation.box(bounds=[[0, 0, 0], [1.0, 0.5, 0.06]])
    recess = trimesh.creation.box(bounds=[[0.25, 0.125, -0.01], [0.75, 0.375, 0.045]])
    body = slab.difference(recess)
    piece = classify(Mesh.from_trimesh(body, unit="m"), kind=ModelKind.PIECE, show_direction=UP)
    laid = lay(piece, backer=everywhere(0.020), solid_m3=float(body.volume))
    exact_m3 = 1.0 * 0.5 * 0.06 - 0.96 * 0.46 * 0.04 - 0.5 * 0.25 * 0.005
    assert laid.volume_m3(Layer.BACKER) == pytest.approx(exact_m3, rel=5e-3)


def opening(bare):
    plan = shapely.box(0, 0, 1.2, 0.8).difference(shapely.box(0.4, 0.3, 0.8, 0.5))
    window = trimesh.creation.extrude_polygon(plan, 0.05)
    mesh = Mesh.from_trimesh(window, unit="m")
    told = Corrections(bare={"O1": bare})
    return classify(mesh, kind=ModelKind.PIECE, show_direction=UP, corrections=told), window.volume


@pytest.mark.parametrize("bare", [True, False])
def test_layers_end_square_at_a_bare_opening(bare):
    piece, solid_m3 = opening(bare)
    laid = lay(piece, backer=everywhere(0.020), solid_m3=float(solid_m3))
    face_m2 = 1.2 * 0.8 - 0.4 * 0.2
    ring_m2 = 1.2 * 0.8 - 1.16 * 0.76
    if not bare:
        ring_m2 += 2 * (0.4 + 0.2) * 0.020 + np.pi * 0.020**2
    exact_m3 = face_m2 * 0.020 + ring_m2 * 0.030
    assert laid.volume_m3(Layer.BACKER) == pytest.approx(exact_m3, rel=1e-6)


def filled_by_depth(top, floor):
    surfaces, solid_m3 = bowl(top, floor)
    laid = lay(surfaces, face_coat=everywhere(0.004), backer=everywhere(0.016), solid_m3=solid_m3)
    depth_m = {surface.id: round(surface.depth_m, 3) for surface in surfaces.surfaces}
    return laid, {
        depth: [wall.filled_m3 for wall in laid.walls if depth_m[wall.surface] == depth]
        for depth in (0.14, 0.16)
    }


def test_a_show_face_at_the_foot_of_a_wall_takes_nothing_of_what_fills_it():
    laid, filled = filled_by_depth((0.4, 0.2), (0.4, 0.2))
    # Above z = 20 mm: the solid less the ring outside, the ring behind the bowl, round at its
    # corners, and the rim between them; the floor of the bowl lies below.
    outer_m2 = 0.24 - 0.56 * 0.36
    inner_m2 = 1.2 * 0.02 + np.pi * 0.02**2
    rim_m2 = 0.24 - 0.08 - outer_m2 - inner_m2
    exact_m3 = (0.24 - 0.08) * 0.14 - (outer_m2 + inner_m2) * 0.14 - rim_m2 * 0.02
    assert filled[0.14] == pytest.approx([exact_m3] * 4, rel=1e-6)
    whole_m3 = 0.24 * 0.16 - 0.08 * 0.14 - laid.volume_m3(Layer.FACE_COAT)
    assert filled[0.16] == pytest.approx([whole_m3 - laid.volume_m3(Layer.BACKER)] * 4, rel=1e-6)


def test_walls_whose_layers_meet_at_the_rim_are_filled_below_it():
    _, filled = filled_by_depth((0.56, 0.36), (0.46, 0.26))
    lean = 0.05 / 0.14
    inset_m = 0.02 * np.sqrt(1 + lean**2)
    z_m = (np.arange(2000) + 0.5) / 2000 * 0.12 + 0.02
    half_m = 0.05 * (z_m - 0.02) / 0.14 + inset_m  # beyond the floor of the bowl, on each side
    round_m2 = (4 - np.pi) * inset_m**2  # near enough where the corners lean
    ring_m2 = 0.56 * 0.36 - (0.46 + 2 * half_m) * (0.26 + 2 * half_m) + round_m2
    exact_m3 = np.clip(ring_m2, 0.0, None).mean() * 0.12
    assert filled[0.14] == pytest.approx([exact_m3] * 4, rel=0.01)
    assert min(filled[0.16]) > max(filled[0.14])


def test_layers_above_a_level_that_leaning_walls_pass_through():
    surfaces = leaning((0.4, 0.3), (0.44, 0.34), 0.1)
    skin = cast_skin(surfaces).skin
    count = len(skin.mesh.triangles)

    def laid_on(part, of):
        thickness_m = np.full(len(of), 0.010)
        return layer_up(part, np.ones((len(of), 1)), thickness_m, thickness_m)

    whole = laid_on(skin, np.arange(count))
    layers = LevelLayers(skin, UP, np.full(count, 0.020), whole.volume_m3, laid_on, LayerRules())
    inset = 0.020 * np.sqrt(1 + 0.2**2)
    space_m3 = frustum_m3(0.2 - inset, 0.15 - inset, 0.2, -0.020, -0.06)
    exact_m3 = frustum_m3(0.2, 0.15, 0.2, 0.0, -0.06) - space_m3
    # Where two wedges meet at a corner, their overlap is the least part of the layers.
    assert layers.above_m3(-0.06) == pytest.approx(exact_m3, rel=2e-3)
    assert layers.above_m3(-0.1) == whole.volume_m3


@pytest.mark.parametrize(
    ("arris_m3", "inside_m3", "end"),
    [
        (0.002, 0.001, "; layers share 2.00 L at arrises and need 1.00 L more at inside corners"),
        (0.002, 4e-6, "; layers share 2.00 L at arrises"),
        (0.0, 0.001, "; layers need 1.00 L more at inside corners"),
        (0.0, 0.0, "too much"),
    ],
)
def test_only_what_shows_in_the_litres_is_told_of_edges(arris_m3, inside_m3, end):
    layer = Grown(np.array([0.010]), np.zeros((1, 3)))
    laid = Layering(layer, layer, np.zeros(1), 0.0, 0.020, False, arris_m3, inside_m3)
    assert difference_note(0.022, laid, LayerRules()).text.endswith(end)
