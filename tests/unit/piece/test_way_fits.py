import numpy as np
import pytest

from takeoff.geometry.mesh import Mesh
from takeoff.piece.laying import lay
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from takeoff.piece.thickness import everywhere
from takeoff.piece.way_fits import WallAtHand, beside_m, fit_of
from takeoff.piece.ways import Way
from tests.unit.piece.pieces_made import BACK, MM, box, prism, told, without

WALLS = {SurfaceClass.RETURN, SurfaceClass.UPRIGHT}


def frustum(show_mm, foot_mm, depth_mm):
    """An open tray whose walls lean in where its foot is smaller than its show face."""
    corners = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    points = [(x * show_mm[0] / 2, y * show_mm[1] / 2, depth_mm) for x, y in corners]
    points += [(x * foot_mm[0] / 2, y * foot_mm[1] / 2, 0.0) for x, y in corners]
    triangles = [(0, 1, 2), (0, 2, 3)]
    for here, ahead in ((0, 1), (1, 2), (2, 3), (3, 0)):
        triangles += [(4 + here, 4 + ahead, ahead), (4 + here, ahead, here)]
    return Mesh(np.array(points) * MM, np.array(triangles, dtype=np.int32))


def tray(size_mm):
    """An open tray with plumb walls."""
    return without(box((0, 0, 0), size_mm), (0, 0, -1))


def at_hand(mesh, *, layers_mm=(4, 16), solid_m3=None, kind=ModelKind.OPEN, **how):
    """The walls of a piece with its layers, by their ids."""
    surfaces = told(mesh, kind=kind, **how)
    face_m, backer_m = (thickness * MM for thickness in layers_mm)
    laid = lay(surfaces, face_coat=everywhere(face_m), backer=everywhere(backer_m))
    shown = {surface.id: surface for surface in surfaces.surfaces}
    lowest = min(
        (one for one in shown.values() if one.surface_class in WALLS), key=lambda one: one.depth_m
    )
    return {
        taken.surface: WallAtHand(
            shown[taken.surface],
            taken,
            beside_m(laid.rows),
            surfaces.rules.return_limit_m,
            sum(row.volume_m3 for row in laid.rows),
            solid_m3,
            lowest,
        )
        for taken in laid.walls
    }


def fits(wall):
    return {way: fit_of(way, wall) for way in Way}


def test_every_way_suits_a_plumb_return_deeper_than_the_layers():
    for wall in at_hand(tray((400, 300, 60))).values():
        assert all(fit.feasible and fit.why == "" for fit in fits(wall).values())


@pytest.mark.parametrize("depth_mm", [15, 20])
def test_a_wall_that_the_layers_of_the_show_face_cover_takes_neither_form_nor_filling(depth_mm):
    for wall in at_hand(tray((400, 300, depth_mm))).values():
        found = fits(wall)
        for way in (Way.DAMMED, Way.CORED):
            assert not found[way].feasible
            assert "of the show face, 20 mm, reach its foot: there is nothing to" in found[way].why
        assert not found[Way.FILLED].feasible
        assert found[Way.FILLED].why.endswith("there is nothing to fill")
        assert found[Way.PACKED].feasible
        assert found[Way.SPRAYED].feasible


@pytest.mark.parametrize("width_mm", [30, 36, 40])
def test_where_the_layers_meet_there_is_no_room_for_an_inner_form_and_pouring_fills_it(width_mm):
    for wall in at_hand(tray((400, width_mm, 60))).values():
        found = fits(wall)
        for way in (Way.DAMMED, Way.CORED):
            assert found[way].why == "the layers meet: there is no room for an inner form"
            assert not found[way].feasible
        assert found[Way.FILLED].feasible
        assert "poured to its foot it takes no more than they do" in found[Way.FILLED].why


def test_a_gap_between_the_layers_has_room_for_an_inner_form():
    for wall in at_hand(tray((400, 44, 60))).values():
        assert all(fit.feasible and fit.why == "" for fit in fits(wall).values())


def test_a_dam_deeper_than_a_return_is_built_as_a_form():
    [wall, *_] = at_hand(tray((400, 300, 200))).values()
    assert fit_of(Way.DAMMED, wall).feasible
    assert "deeper than 110 mm: a loose strip does not hold it" in fit_of(Way.DAMMED, wall).why
    assert fit_of(Way.CORED, wall).why == ""


def test_a_wall_that_leans_in_catches_the_second_form_and_is_sprayed_in_thin_passes():
    # 10 mm over 100 mm: atan 0.1 = 5.7 degrees.
    for wall in at_hand(frustum((400, 300), (380, 280), 100)).values():
        found = fits(wall)
        assert all(fit.feasible for fit in found.values())
        assert found[Way.CORED].why.startswith("leans in by 6°: the second form is caught")
        assert "the coat hangs there; thin passes" in found[Way.SPRAYED].why
        assert found[Way.PACKED].why == ""


def test_a_wall_that_leans_out_is_cast_as_a_plumb_one():
    for wall in at_hand(frustum((400, 300), (420, 320), 100)).values():
        assert all(fit.feasible and fit.why == "" for fit in fits(wall).values())


def stepped_mm():
    """A section as deep as 100 mm on one side and 40 mm on the other, show side up."""
    return [(0, 0), (60, 0), (60, 60), (400, 60), (400, 100), (0, 100)]


def test_filling_runs_over_a_wall_less_deep_than_the_one_it_is_filled_to():
    walls = at_hand(prism(stepped_mm(), 1000), kind=ModelKind.PIECE, show=BACK, layers_mm=(4, 8))
    deep = max(walls.values(), key=lambda wall: wall.surface.depth_m)
    low = min(walls.values(), key=lambda wall: wall.surface.depth_m)
    assert low.surface.depth_m == pytest.approx(0.040)
    words = f"runs over {low.surface.id}, 40 mm deep, unless the form is raised there"
    assert words in fit_of(Way.FILLED, deep).why
    assert "runs over" not in fit_of(Way.FILLED, low).why


def test_filling_what_is_drawn_hollow_is_said():
    channel = [(0, 0), (20, 0), (20, 40), (280, 40), (280, 0), (300, 0), (300, 60), (0, 60)]
    solid_m3 = (0.3 * 0.06 - 0.26 * 0.04) * 1.0
    walls = at_hand(
        prism(channel, 1000), kind=ModelKind.PIECE, show=BACK, layers_mm=(4, 4), solid_m3=solid_m3
    )
    why = fit_of(Way.FILLED, max(walls.values(), key=lambda wall: wall.surface.area_m2)).why
    assert why == "fills what is drawn hollow: 18.00 L, where 7.60 L are drawn"


def test_filling_a_slab_that_is_drawn_solid_is_as_drawn():
    walls = at_hand(box((0, 0, 0), (400, 300, 60)), kind=ModelKind.PIECE, solid_m3=0.0072)
    assert all(fit_of(Way.FILLED, wall).why == "" for wall in walls.values())
