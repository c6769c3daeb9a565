import numpy as np
import pytest

from takeoff.geometry.nesting import nested
from takeoff.geometry.overlaid import overlaid_at_m
from tests.unit.geometry.strokes_drawn import loop, rectangle, ring

PANEL = loop(rectangle(0, 0, 2, 1), sources=(0,))
OPENING = rectangle(0.5, 0.2, 0.5, 0.5)


def found(*loops):
    return overlaid_at_m(loops, nested(loops).regions)


def test_one_entity_lies_over_nothing():
    assert found(PANEL, loop(OPENING, sources=(0,))) is None


@pytest.mark.parametrize(
    "other",
    [
        pytest.param(rectangle(0, 0, 2, 1), id="the same place"),
        pytest.param(rectangle(2, 0, 2, 1), id="side by side"),
        pytest.param(rectangle(5, 0, 2, 1), id="apart"),
        pytest.param(ring(64, 0.3, centre=(3, 3)), id="a circle of chords apart"),
    ],
)
def test_entities_that_fill_their_own_place_lie_over_nothing(other):
    assert found(PANEL, loop(other, sources=(1,))) is None


def test_an_island_in_an_opening_lies_over_nothing():
    island = loop(rectangle(0.6, 0.3, 0.1, 0.1), sources=(1,))
    assert found(PANEL, loop(OPENING, sources=(0,)), island) is None


def test_an_area_filled_twice_is_found():
    assert found(PANEL, loop(OPENING, sources=(1,))) == pytest.approx(np.array([0.75, 0.45]))


def test_an_opening_filled_by_another_entity_is_found():
    at_m = found(PANEL, loop(OPENING, sources=(0,)), loop(OPENING, sources=(1,)))
    assert at_m == pytest.approx(np.array([0.75, 0.45]))


def test_a_circle_filled_twice_is_found():
    half = [(0.9, 0.5), (1.1, 0.5)]
    at_m = found(PANEL, loop(half, bulges=[1.0, 1.0], sources=(1,)))
    assert at_m == pytest.approx(np.array([1.0, 0.5]), abs=0.1)
