import numpy as np
import pytest

from takeoff.geometry.arcs import flattened_run_m, run_area_m2, run_lengths_m
from takeoff.geometry.runs import areas_of_runs_m2, flattened_runs_m, lengths_of_runs_m, runs_of

SQUARE = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0], [0.0, 0.0]]) + np.array(
    [4e6, 8e6]
)
DISC = np.array([[5.0, 0.0], [7.0, 0.0], [5.0, 0.0]])
DROP = np.array([[0.0, 0.0], [1.0, 1.0], [-1.0, 1.0], [0.0, 0.0]])
POINTS = [SQUARE, DISC, DROP]
BULGES = [np.zeros(4), np.ones(2), np.array([0.0, 0.8, 0.0])]


@pytest.mark.parametrize("order", [(0, 1, 2), (2, 0, 1), (1,)])
def test_runs_measured_together_are_those_measured_alone(order):
    points, bulges = [POINTS[k] for k in order], [BULGES[k] for k in order]
    runs = runs_of(points, bulges)
    alone = list(zip(points, bulges, strict=True))
    lengths_m = [run_lengths_m(*run).sum() for run in alone]
    assert lengths_of_runs_m(runs) == pytest.approx(lengths_m, rel=1e-9)
    assert areas_of_runs_m2(runs) == pytest.approx([run_area_m2(*run) for run in alone], rel=1e-9)


def test_runs_flattened_together_are_those_flattened_alone():
    flat_m, counts = flattened_runs_m(runs_of(POINTS, BULGES), chord_m=0.01)
    parted = np.split(flat_m, np.cumsum(counts)[:-1])
    for found, points, bulges in zip(parted, POINTS, BULGES, strict=True):
        assert found == pytest.approx(flattened_run_m(points, bulges, chord_m=0.01), abs=1e-12)


def test_a_circle_of_any_size_has_a_bounded_number_of_chords():
    flat_m = flattened_run_m(1e6 * DISC, np.ones(2), chord_m=0.00005)
    assert 3000 < len(flat_m) < 3200
