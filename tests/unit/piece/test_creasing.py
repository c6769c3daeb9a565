import numpy as np
import pytest

from takeoff.piece.surfaces import ModelKind
from tests.unit.piece.pieces_made import BACK, UP, box, prism, subdivided, told, turned, without
from tests.unit.piece.test_curving import arc, eased_slab

ANGLE = [[0, 0], [400, 0], [400, 40], [40, 40], [40, 300], [0, 300]]


def test_the_arrises_of_a_slab_are_its_top_and_its_corners():
    surfaces = told(box((0, 0, 0), (1000, 600, 50)))
    assert surfaces.arris_m == pytest.approx(3.2 + 4 * 0.05)
    assert surfaces.inside_corner_m == 0.0


def test_the_back_edge_does_not_count():
    tray = without(box((0, 0, 0), (1000, 600, 50)), (0, 0, -1))
    assert told(tray, kind=ModelKind.OPEN).arris_m == pytest.approx(3.2 + 4 * 0.05)


def test_inside_corners_are_counted_apart():
    surfaces = told(prism(ANGLE, 1000), show=BACK)
    assert surfaces.inside_corner_m == pytest.approx(1.0)
    assert surfaces.arris_m == pytest.approx(
        3 * 1.0 + 2 * 0.4 + 2 * 0.3 + 2 * 0.26 - 2 * 0.26 + 0.6
    )


@pytest.mark.parametrize("steps", [4, 8, 32])
@pytest.mark.parametrize("radius", [3, 10, 15])
def test_a_round_counts_like_the_sharp_arris_it_eases(radius, steps):
    sharp = told(prism([[0, 0], [600, 0], [600, 200], [0, 200]], 1500), show=BACK).arris_m
    eased = told(eased_slab(radius, steps), show=BACK).arris_m
    assert eased == pytest.approx(sharp, abs=0.06)


def test_a_wide_curve_is_no_arris():
    sharp = told(prism([[0, 0], [600, 0], [600, 200], [0, 200]], 1500), show=BACK).arris_m
    assert told(eased_slab(100, 16), show=BACK).arris_m == pytest.approx(sharp - 1.5, abs=0.1)


def test_neither_turning_nor_subdividing_changes_the_lengths():
    plain = told(eased_slab(10, 8), show=BACK)
    for way in (turned, subdivided):
        mesh, show = way(eased_slab(10, 8), BACK)
        other = told(mesh, show=show)
        assert other.arris_m == pytest.approx(plain.arris_m)
        assert other.inside_corner_m == pytest.approx(plain.inside_corner_m)


def test_a_chamfer_counts_as_one_arris():
    section = [[0, 0], [600, 0], [600, 190], [590, 200], [0, 200]]
    sharp = told(prism([[0, 0], [600, 0], [600, 200], [0, 200]], 1500), show=BACK).arris_m
    assert told(prism(section, 1500), show=BACK).arris_m == pytest.approx(sharp, abs=0.02)


def test_the_direction_decides_what_is_cast():
    slab = box((0, 0, 0), (1000, 600, 50))
    assert told(slab, show=UP).arris_m == pytest.approx(told(slab, show=-UP).arris_m)
    on_edge = told(slab, show=np.array([1.0, 0.0, 0.0]))
    assert on_edge.arris_m == pytest.approx(2 * (0.6 + 0.05) + 4 * 1.0)


def test_sharp_and_rounded_edges_are_told_apart():
    round_ = arc((575, 175), 25, 0, 90, 8)
    inside = arc((50, 160), 10, 180, 270, 8)
    section = [[0, 0], [600, 0], *round_[::-1], [200, 200], [200, 150], *inside, [40, 200]]
    lengths = told(prism([*section, [0, 200]], 1500), show=BACK).edge_lengths
    assert lengths.rounded_arris_m == pytest.approx(1.5, abs=0.05)
    assert lengths.rounded_inside_corner_m == pytest.approx(1.5, abs=0.05)
    assert lengths.sharp_inside_corner_m == pytest.approx(1.5, abs=0.05)


def test_the_edges_of_a_chamfer_are_sharp():
    section = [[0, 0], [600, 0], [600, 190], [590, 200], [0, 200]]
    lengths = told(prism(section, 1500), show=BACK).edge_lengths
    assert lengths.rounded_arris_m == lengths.rounded_inside_corner_m == 0.0
    assert lengths.sharp_arris_m > 3.0


@pytest.mark.parametrize(("radius", "rounded"), [(40, True), (58, True), (62, False)])
def test_an_arris_is_rounded_up_to_where_curves_are_faces(radius, rounded):
    lengths = told(eased_slab(radius, 16), show=BACK).edge_lengths
    assert (lengths.rounded_arris_m > 1.0) == rounded
