import numpy as np
import pytest

from tests.unit.piece.pieces_made import BACK, areas_mm2, prism


def areas_of(section):
    """Areas of a prism 1000 long, its two ends left out."""
    areas = np.array(areas_mm2(prism(section, 1000), show=BACK))
    shallow = np.array(areas_mm2(prism(section, 2000), show=BACK)) - areas
    return shallow.round(3).tolist()


def test_the_wall_goes_on_below_a_groove():
    section = [[0, 0], [600, 0], [600, 100], [0, 100], [0, 60], [20, 60], [20, 40], [0, 40]]
    assert areas_of(section) == [600000, 200000 + 0, 0, 600000 + 2 * 20000]


def test_so_it_does_below_several():
    grooves = []
    for top in (160, 110, 60):
        grooves += [[0, top], [15, top], [15, top - 20], [0, top - 20]]
    section = [[0, 0], [600, 0], [600, 200], [0, 200], *grooves]
    show, returns, uprights, _ = areas_of(section)
    assert (show, returns, uprights) == (600000, 200000, 200000)


def test_a_rebate_of_the_back_edge_is_back():
    section = [[0, 20], [20, 20], [20, 0], [600, 0], [600, 80], [0, 80]]
    assert areas_of(section) == [600000, 60000 + 80000, 0, 20000 + 20000 + 580000]


def test_the_inside_of_a_lip_is_back():
    section = [[0, 0], [45, 0], [45, 15], [20, 15], [20, 80], [580, 80], [580, 0], [600, 0]]
    assert areas_of([*section, [600, 100], [0, 100]])[:3] == [600000, 200000, 0]


def test_a_recess_deeper_than_relief_is_no_groove():
    section = [[0, 0], [600, 0], [600, 100], [0, 100], [0, 70], [80, 70], [80, 30], [0, 30]]
    assert areas_of(section)[1] == 100000 + 30000


def test_a_drip_groove_is_back():
    section = [[0, 0], [20, 0], [20, 10], [30, 10], [30, 0], [600, 0], [600, 50], [0, 50]]
    assert areas_of(section) == [600000, 100000, 0, 600000 + 20000]


@pytest.mark.parametrize("depth", [10, 29])
def test_grooves_in_the_show_face_are_show_face(depth):
    top = 100
    section = [[0, 0], [600, 0], [600, top], [340, top], [340, top - depth]]
    section += [[300, top - depth], [300, top], [0, top]]
    assert areas_of(section) == [1000 * (600 + 2 * depth), 200000, 0, 600000]
