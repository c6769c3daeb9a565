import numpy as np
import pytest

from takeoff.errors import SurfaceError
from takeoff.piece.casting import areas_cast_m2, classify_castings
from takeoff.piece.cavities import cavities_of
from takeoff.piece.flats import flats_of
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from tests.drawings import readable
from tests.unit.piece.pieces_made import MM, mend_body, turned

DOWN = np.array([0.0, 0.0, -1.0])


def form(*plugs, high=200):
    """A block 1200 x 800 with plugs cut out of it."""
    return mend_body(readable.cut(readable.block((0, 0, 0), (1200, 800, high)), *plugs))


def plug(low, high):
    return readable.block(low, high)


def areas(mesh, show=DOWN):
    """Areas of all that is cast, in square millimetres, one row a casting."""
    cast = classify_castings(mesh, kind=ModelKind.FORM, show_direction=show)
    return [[round(one.area_m2[name] / MM**2) for name in SurfaceClass] for one in cast]


BOX = plug((100, 100, 120), (1100, 700, 201))
BOX_AREAS = [1000 * 600, 2 * 1600 * 80, 0]
OUTSIDE = 1200 * 800 * 2 - 1000 * 600 + 2 * 2000 * 200


def test_what_is_cast_is_the_cavity_turned_inside_out():
    assert areas(form(BOX)) == [[*BOX_AREAS, OUTSIDE]]


def test_a_form_may_stand_askew():
    mesh, show = turned(form(BOX), DOWN)
    assert areas(mesh, show) == [[*BOX_AREAS, OUTSIDE]]


def test_an_island_as_high_as_the_rim_makes_an_opening():
    island = plug((400, 300, 120), (700, 500, 200))
    ring = readable.cut(BOX, island)
    [cast] = classify_castings(form(ring), kind=ModelKind.FORM, show_direction=DOWN)
    assert [opening.id for opening in cast.openings] == ["O1"]
    assert cast.opening_wall_m2 == pytest.approx(2 * 500 * 80 * MM**2)
    assert cast.area_m2[SurfaceClass.SHOW_FACE] == pytest.approx((600000 - 60000) * MM**2)


def test_two_pockets_are_two_pieces_that_share_the_outside():
    small, large = plug((60, 100, 150), (400, 700, 201)), plug((500, 100, 120), (1100, 700, 201))
    mesh = form(small, large)
    outside = 1200 * 800 * 2 - 340 * 600 - 600 * 600 + 2 * 2000 * 200
    assert areas(mesh) == [
        [600 * 600, 2 * 1200 * 80, 0, outside / 2],
        [340 * 600, 2 * 940 * 50, 0, outside / 2],
    ]
    whole = areas_cast_m2(flats_of(mesh), kind=ModelKind.FORM, show_direction=DOWN)
    assert sum(whole.values()) == pytest.approx(float(flats_of(mesh).area_m2.sum()))


def test_holes_for_bolts_are_no_cavities():
    bolt = plug((40, 40, 150), (60, 60, 201))
    cavities = cavities_of(flats_of(form(BOX, bolt)), DOWN)
    assert (len(cavities.meshes), cavities.left_out) == (1, 1)


def test_boards_that_meet_are_one_form():
    boards = readable.united(
        plug((0, 0, 0), (1036, 636, 18)),
        plug((0, 0, 18), (18, 636, 68)),
        plug((1018, 0, 18), (1036, 636, 68)),
        plug((18, 0, 18), (1018, 18, 68)),
        plug((18, 618, 18), (1018, 636, 68)),
    )
    assert areas(mend_body(boards))[0][:3] == [1000 * 600, 2 * 1600 * 50, 0]


def test_a_rounded_floor_is_cast_with_it():
    mesh = form(readable.plug(1000, 600, 81, 20, (100, 100, 201)))
    show_face, returns, uprights, _ = areas(mesh)[0]
    slab = classify_castings(
        mend_body(readable.eased(1000, 600, 80, 20)), kind=ModelKind.PIECE, show_direction=-DOWN
    )[0].area_m2
    assert show_face == pytest.approx(slab[SurfaceClass.SHOW_FACE] / MM**2, rel=1e-4)
    assert returns == pytest.approx(slab[SurfaceClass.RETURN] / MM**2, rel=1e-4)
    assert uprights == 0


@pytest.mark.parametrize(
    ("mesh", "message"),
    [
        (form(plug((100, -1, 120), (1100, 801, 201))), "open at an end or has a hole"),
        (form(plug((100, 100, -1), (1100, 700, 201))), "nothing hollow that opens"),
        (form(BOX, plug((500, 300, -1), (520, 320, 130))), "hangs together with the outside"),
        (mend_body(readable.block((0, 0, 0), (1200, 800, 200))), "has nothing hollow"),
        (
            mend_body(
                readable.united(
                    readable.cut(readable.block((0, 0, 0), (1200, 800, 200)), BOX),
                    plug((400, 300, 100), (500, 400, 260)),
                )
            ),
            "something stands above its rim",
        ),
        (
            mend_body(
                readable.cut(
                    readable.hull(
                        [
                            (x, y, z)
                            for x, top in ((0, 180), (1200, 260))
                            for y in (0, 800)
                            for z in (0, top)
                        ]
                    ),
                    plug((100, 100, 120), (1100, 700, 300)),
                )
            ),
            "no flat rim square to the show direction",
        ),
    ],
    ids=["open ends", "tube", "hole in the floor", "block", "above the rim", "sloping rim"],
)
def test_a_form_whose_cavity_cannot_be_told_from_its_outside_is_refused(mesh, message):
    with pytest.raises(SurfaceError, match=message) as refused:
        classify_castings(mesh, kind=ModelKind.FORM, show_direction=DOWN)
    assert "--kind open" in str(refused.value)


def test_two_halves_of_a_form_that_meet_are_refused():
    lower = readable.cut(readable.block((0, 0, 0), (1200, 800, 200)), BOX)
    whole = readable.united(lower, plug((0, 0, 200), (1200, 800, 300)))
    with pytest.raises(SurfaceError, match="it is one part of several"):
        classify_castings(mend_body(whole), kind=ModelKind.FORM, show_direction=DOWN)
