import numpy as np
import pytest

from takeoff.geometry.enclosing import enclosed_by
from tests.unit.geometry.strokes_drawn import loop, open_chain, rectangle

PANEL = loop(rectangle(0, 0, 2, 1))


def crossed(x, y, width, height, over):
    """Draw four lines that run on past the corners of a rectangle."""
    across = [[(x - over, y + up), (x + width + over, y + up)] for up in (0, height)]
    upward = [[(x + on, y - over), (x + on, y + height + over)] for on in (0, width)]
    return [open_chain(points) for points in (*across, *upward)]


def test_lines_that_run_on_past_their_corners_enclose_an_area():
    found = enclosed_by(crossed(5, 5, 0.6, 0.4, 0.5), [PANEL])
    assert found.area_m2 == pytest.approx(0.24)
    assert (np.abs(found.at_m - [5.3, 5.2]) < [0.3, 0.2]).all()


def test_an_opening_drawn_with_crossing_lines_is_found():
    assert enclosed_by(crossed(0.5, 0.3, 0.6, 0.4, 0.1), [PANEL]).area_m2 == pytest.approx(0.24)


def test_lines_that_end_on_an_outline_enclose_an_area_beside_it():
    step = open_chain([(2, 0.2), (2.5, 0.2), (2.5, 0.8), (2, 0.8)])
    assert enclosed_by([step], [PANEL]).area_m2 == pytest.approx(0.3)


@pytest.mark.parametrize("short_m", [1e-4, -1e-4])
def test_ends_that_all_but_meet_a_line_meet_it(short_m):
    x = 2 + short_m
    step = open_chain([(x, 0.2), (2.5, 0.2), (2.5, 0.8), (x, 0.8)])
    assert enclosed_by([step], [PANEL]).area_m2 == pytest.approx(0.3, rel=1e-3)


def test_a_line_across_an_outline_and_a_cross_enclose_nothing():
    fold, axis = open_chain([(1, -1), (1, 2)]), open_chain([(-1, 0.5), (3, 0.5)])
    assert enclosed_by([fold, axis], [PANEL]) is None


def test_no_marks_enclose_nothing():
    assert enclosed_by([], [PANEL]) is None
