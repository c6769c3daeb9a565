import numpy as np
import pytest

from takeoff.files.dxf_placing import (
    cell_steps,
    is_similarity,
    moved,
    object_axes,
    reference_matrix,
    stretched_runs,
)
from takeoff.files.dxf_tags import Record
from takeoff.geometry.arcs import run_area_m2
from takeoff.geometry.outline_rules import OutlineRules


def record(*pairs):
    return Record("INSERT", [(code, str(value).encode()) for code, value in pairs], 1)


def extruded(*normal):
    return record(*zip((210, 220, 230), normal, strict=True))


@pytest.mark.parametrize(
    ("normal", "x_axis"),
    [
        ((0, 0, 1), (1, 0, 0)),
        ((0, 0, -1), (-1, 0, 0)),
        ((0, 0, 5), (1, 0, 0)),
        ((1, 0, 0), (0, 1, 0)),
        ((0, -1, 0), (1, 0, 0)),
        ((0, 0, 0), (1, 0, 0)),
    ],
)
def test_object_axes_follow_the_arbitrary_axis_rule(normal, x_axis):
    axes = object_axes(extruded(*normal))
    assert axes[:3, 0] == pytest.approx(x_axis)
    assert np.linalg.det(axes) == pytest.approx(1.0)


def test_a_reference_scales_then_turns_then_shifts_about_its_base():
    placed = reference_matrix(
        record((10, 100), (20, 50), (41, 2), (42, 3), (50, 90)), np.array([1.0, 1.0, 0.0])
    )
    assert moved(np.array([[2.0, 1.0, 0.0]]), placed)[0] == pytest.approx([100, 52, 0])
    assert moved(np.array([[1.0, 2.0, 0.0]]), placed)[0] == pytest.approx([97, 50, 0])


def test_a_scale_of_zero_in_height_is_taken_for_one():
    placed = reference_matrix(record((10, 0), (20, 0), (43, 0)), np.zeros(3))
    assert np.linalg.det(placed) == pytest.approx(1.0)


def test_cells_of_an_array_follow_its_turn_but_not_its_scale():
    array = record((41, 5), (44, 10), (45, 20), (50, 180))
    across, up = cell_steps(array)
    assert across + 2 * up == pytest.approx([-10, -40, 0])


@pytest.mark.parametrize(
    ("plan", "round_stays_round"),
    [
        (np.eye(2), True),
        (np.array([[0.0, -3.0], [3.0, 0.0]]), True),
        (np.diag([1.0, -1.0]), True),
        (np.diag([1.0, 1.001]), False),
        (np.array([[1.0, 0.5], [0.0, 1.0]]), False),
    ],
)
def test_only_turning_mirroring_and_even_scaling_keep_circles(plan, round_stays_round):
    assert is_similarity(plan) is round_stays_round


def test_a_stretched_half_circle_is_half_an_ellipse():
    points = np.array([[-1.0, 0.0], [1.0, 0.0], [-1.0, 0.0]])
    runs = stretched_runs(points, np.array([1.0, 0.0]), np.diag([2.0, 0.5]), OutlineRules())
    assert [bool(bulges.any()) for _, bulges in runs] == [True, False]
    points_m = np.concatenate([runs[0][0], runs[1][0][1:]])
    bulges = np.concatenate([runs[0][1], runs[1][1]])
    assert run_area_m2(points_m, bulges) == pytest.approx(np.pi / 2, rel=1e-5)
