"""What must hold of any outline, however it is drawn."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.geometry.chaining import chained
from takeoff.geometry.nesting import nested
from takeoff.geometry.outlines import (
    bounds_m,
    loop_area_m2,
    opening_perimeter_m,
    outline_area_m2,
    perimeter_m,
    side_length_m,
)
from takeoff.geometry.sides import outline_of
from takeoff.geometry.strokes import Stroke


@st.composite
def rings(draw, *, radius=1.0, centre=(0.0, 0.0)):
    """Points and bulges of a loop about a centre, which it keeps 0.35 of its radius away from."""
    count = draw(st.integers(5, 12))
    spread = st.floats(-0.3, 0.3)
    turns = 2 * np.pi * (np.arange(count) + draw(st.lists(spread, min_size=count, max_size=count)))
    reach = draw(st.lists(st.floats(0.8, 1.0), min_size=count, max_size=count))
    spokes = radius * np.array(reach)[:, None]
    points = spokes * np.column_stack([np.cos(turns / count), np.sin(turns / count)]) + centre
    bulges = draw(st.lists(st.sampled_from([0.0, 0.1, -0.05]), min_size=count, max_size=count))
    return points, np.array(bulges)


def single_strokes(points, bulges, first=0):
    """Draw a loop as one line or arc at a time."""
    ends = np.roll(points, -1, axis=0)
    return [
        Stroke(np.array([start, end]), np.array([bulge]), first + number)
        for number, (start, end, bulge) in enumerate(zip(points, ends, bulges, strict=True))
    ]


def one_stroke(points, bulges, source=0):
    """Draw a loop in one go."""
    return Stroke(np.concatenate([points, points[:1]]), bulges, source)


def outline(strokes):
    """Make the one outline that strokes draw."""
    loops = chained(strokes).loops
    [region] = nested(loops).regions
    return outline_of(loops, region)


def corners(found):
    """Give the sides with their first corners, to compare."""
    return [(side.id, *side.points_m[0].round(9).tolist()) for side in found.outer]


@given(rings(), st.randoms(use_true_random=False))
def test_order_and_direction_of_the_strokes_change_nothing(ring, random):
    strokes = single_strokes(*ring)
    random.shuffle(strokes)
    turned = [
        Stroke(stroke.points_m[::-1], -stroke.bulges, stroke.source)
        if random.random() < 0.5
        else stroke
        for stroke in strokes
    ]
    plain, other = outline([one_stroke(*ring)]), outline(turned)
    assert corners(plain) == corners(other)
    assert outline_area_m2(other) == pytest.approx(outline_area_m2(plain), rel=1e-12)


@given(rings(), st.floats(0.1, 50.0))
def test_areas_grow_with_the_square_and_lengths_with_the_size(ring, scale):
    points, bulges = ring
    plain, larger = outline([one_stroke(*ring)]), outline([one_stroke(scale * points, bulges)])
    assert outline_area_m2(larger) == pytest.approx(scale**2 * outline_area_m2(plain))
    assert perimeter_m(larger) == pytest.approx(scale * perimeter_m(plain))
    assert len(larger.outer) == len(plain.outer)


@given(rings(), st.floats(-3.2, 3.2), st.booleans(), st.floats(-1e5, 1e5))
def test_turning_mirroring_and_shifting_change_no_measure(ring, turn, mirrored, shift):
    points, bulges = ring
    cos, sin = np.cos(turn), np.sin(turn)
    matrix = np.array([[cos, -sin], [sin, cos]]) @ np.diag([-1.0 if mirrored else 1.0, 1.0])
    handed = -1.0 if mirrored else 1.0
    moved = outline([one_stroke(points @ matrix.T + shift, handed * bulges)])
    plain = outline([one_stroke(*ring)])
    assert outline_area_m2(moved) == pytest.approx(outline_area_m2(plain), rel=1e-7)
    lengths = sorted(side_length_m(side) for side in plain.outer)
    assert sorted(side_length_m(side) for side in moved.outer) == pytest.approx(lengths, rel=1e-6)


@given(rings(), rings(radius=0.3))
def test_a_hole_takes_off_what_it_holds(ring, hole):
    whole = outline([one_stroke(*ring)])
    cut = outline([one_stroke(*hole, source=1), one_stroke(*ring)])
    area_m2 = outline_area_m2(whole) - loop_area_m2(cut.holes[0])
    assert outline_area_m2(cut) == pytest.approx(area_m2)
    assert perimeter_m(cut) == pytest.approx(perimeter_m(whole))
    assert opening_perimeter_m(cut) == pytest.approx(perimeter_m(outline([one_stroke(*hole)])))


@given(rings())
def test_the_sides_together_are_the_loop(ring):
    found = outline([one_stroke(*ring)])
    assert sum(side_length_m(side) for side in found.outer) == pytest.approx(perimeter_m(found))
    for side, after in zip(found.outer, [*found.outer[1:], found.outer[0]], strict=True):
        assert side.points_m[-1].tolist() == after.points_m[0].tolist()
    (left_m, low_m), (right_m, high_m) = bounds_m(found)
    assert outline_area_m2(found) <= (right_m - left_m) * (high_m - low_m)


@given(rings(), st.integers(1, 4))
def test_drawing_it_again_changes_nothing(ring, times):
    strokes = single_strokes(*ring) * times
    found = chained(strokes)
    assert found.repeats == (times - 1) * len(ring[1])
    assert corners(outline(strokes)) == corners(outline([one_stroke(*ring)]))
