import numpy as np
import pytest

from takeoff.errors import OutlineError
from takeoff.geometry.arcs import run_area_m2, run_lengths_m, turns_deg
from takeoff.geometry.curves import ellipse_run_m, fitted_run_m, spline_run_m, spline_through
from takeoff.geometry.outline_rules import OutlineRules

RULES = OutlineRules()


def ellipse_length(a, b):
    """Length of an ellipse by its complete elliptic integral."""
    from scipy.special import ellipe

    return 4 * a * ellipe(1 - (b / a) ** 2)


@pytest.mark.parametrize(("a", "b"), [(0.9, 0.45), (0.2, 0.19), (3.0, 0.1), (0.02, 0.01)])
def test_area_and_length_of_an_ellipse_agree_to_a_hundred_thousandth(a, b):
    run = ellipse_run_m(np.array([5.0, -7.0]), np.array([[a, 0.0], [0.0, b]]), 0.0, 360.0)
    assert run_area_m2(*run) == pytest.approx(np.pi * a * b, rel=1e-5)
    assert run_lengths_m(*run).sum() == pytest.approx(ellipse_length(a, b), rel=1e-5)


def test_arcs_keep_within_the_distance_told():
    axes = np.array([[0.9, 0.0], [0.0, 0.3]])
    points, bulges = ellipse_run_m(np.zeros(2), axes, 0.0, 360.0)
    from takeoff.geometry.arcs import flattened_run_m

    flat = flattened_run_m(points, bulges, chord_m=1e-9)
    t = np.linspace(0.0, 2 * np.pi, 200_001)
    from scipy.spatial import cKDTree

    on_curve = np.column_stack([0.9 * np.cos(t), 0.3 * np.sin(t)])
    assert cKDTree(on_curve).query(flat)[0].max() <= RULES.chord_m + 1e-5
    assert np.abs(turns_deg(bulges)).max() <= RULES.arc_turn_deg + 1e-9


@pytest.mark.parametrize("handed", [1.0, -1.0])
def test_a_stretch_of_a_circle_stays_a_circle(handed):
    axes = np.array([[2.0, 0.0], [0.0, 2.0 * handed]])
    points, bulges = ellipse_run_m(np.zeros(2), axes, 10.0, 200.0)
    assert len(bulges) == 3
    assert run_lengths_m(points, bulges).sum() == pytest.approx(2.0 * np.radians(190.0))
    assert np.sign(bulges).tolist() == [handed] * 3


def test_an_ellipse_run_backwards_ends_where_it_should():
    points, _ = ellipse_run_m(np.zeros(2), np.diag([2.0, 1.0]), 90.0, -90.0)
    assert points[0] == pytest.approx([0.0, 1.0], abs=1e-12)
    assert points[-1] == pytest.approx([0.0, -1.0], abs=1e-12)


def test_oblique_axes_are_taken_as_they_are():
    axes = np.array([[1.0, 0.0], [1.0, 1.0]])  # a sheared circle: its area is the determinant
    run = ellipse_run_m(np.zeros(2), axes, 0.0, 360.0)
    assert run_area_m2(*run) == pytest.approx(np.pi, rel=1e-5)


def test_weights_make_a_quadratic_spline_a_circle():
    half = np.sqrt(0.5)
    corners = np.array([[1, 0], [1, 1], [0, 1], [-1, 1], [-1, 0], [-1, -1], [0, -1], [1, -1]])
    controls = np.vstack([corners, corners[:1]]).astype(float)
    knots = np.array([0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4], dtype=float)
    weights = np.array([1, half] * 4 + [1])
    rational = spline_run_m(2, knots, controls, weights)
    plain = spline_run_m(2, knots, controls)
    assert run_area_m2(*rational) == pytest.approx(np.pi, rel=1e-9)
    assert run_area_m2(*plain) == pytest.approx(10 / 3, rel=1e-5)


def test_a_spline_of_degree_one_is_a_polyline():
    controls = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0]])
    points, bulges = spline_run_m(1, np.array([0.0, 0, 1, 2, 2]), controls)
    assert points.tolist() == controls.tolist()
    assert not bulges.any()


@pytest.mark.parametrize(
    ("degree", "knots", "weights", "says"),
    [
        (3, [0, 0, 0, 1, 1, 1], None, "3 control points and 6 knots"),
        (2, [0, 0, 0, 1, 1], None, "needs more than 2 control points and 6 knots"),
        (0, [0, 0, 0, 1], None, "degree 0"),
        (2, [0, 0, 1, 0, 1, 1], None, "knots of a spline fall"),
        (2, [0, 0, 0, 0, 0, 0], None, "do not rise"),
        (2, [0, 0, 0, 1, 1, 1], [1, 0, 1], "weight"),
        (2, [0, 0, 0, 1, 1, 1], [1, 1], "too few weights"),
    ],
)
def test_a_spline_whose_figures_contradict_each_other_is_refused(degree, knots, weights, says):
    controls = np.array([[0.0, 0.0], [1.0, 1.0], [2.0, 0.0]])
    told = None if weights is None else np.array(weights, dtype=float)
    with pytest.raises(OutlineError, match=says):
        spline_run_m(degree, np.array(knots, dtype=float), controls, told)


def test_a_curve_that_needs_too_many_arcs_is_refused():
    def crumpled(t):
        return np.column_stack([t, np.sin(3000.0 * t)])

    with pytest.raises(OutlineError, match="more than 500 arcs"):
        fitted_run_m(crumpled, np.array([0.0, 10.0]), rules=OutlineRules(curve_arcs_count=500))


def test_a_cusp_ends_the_halving():
    def cusp(t):
        return np.column_stack([t**2, t**3])

    points, _ = fitted_run_m(cusp, np.array([-1.0, 1.0]))
    assert len(points) < 2000


def test_a_spline_through_points_runs_through_them():
    through = np.array([[0.0, 0.0], [1.0, 0.3], [1.5, 1.2], [0.8, 2.0]])
    knots, controls = spline_through(through)
    points, _ = spline_run_m(3, knots, controls)
    for point in through:
        assert np.hypot(*(points - point).T).min() < 1e-12


def test_a_closed_spline_through_points_is_smooth_at_its_seam():
    corners = np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]])
    knots, controls = spline_through(corners, closed=True)
    points, _ = spline_run_m(3, knots, controls)
    first, last = points[1] - points[0], points[-1] - points[-2]
    cross = first[0] * last[1] - first[1] * last[0]
    assert points[0] == pytest.approx(points[-1])
    assert abs(cross) < 0.2 * np.hypot(*first) * np.hypot(*last)  # the turn of one arc


def test_told_directions_are_kept_at_the_ends():
    through = np.array([[0.0, 0.0], [1.0, 0.5], [2.0, 0.0]])
    up = np.array([0.0, 1.0])
    _, controls = spline_through(through, start_direction=up, end_direction=-up)
    assert controls[1, 0] == pytest.approx(0.0, abs=1e-12)
    assert controls[-2, 0] == pytest.approx(2.0)


@pytest.mark.parametrize("through", [[[0.0, 0.0]], [[0.0, 0.0], [0.0, 0.0]]])
def test_a_spline_through_too_few_points_is_refused(through):
    with pytest.raises(OutlineError, match="two or more points apart"):
        spline_through(np.array(through))
