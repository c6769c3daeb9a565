import numpy as np
import pytest

from takeoff.geometry.strokes import stroke_lengths_m
from tests.unit.geometry.strokes_drawn import stroke


def test_the_way_from_one_stroke_to_the_next_does_not_count():
    drawn = [
        stroke([(0, 0), (2, 0), (2, 1)]),
        stroke([(100, 0), (102, 0)], bulges=[1.0]),
        stroke([(0, 50), (0, 51)]),
    ]
    assert stroke_lengths_m(drawn) == pytest.approx([3.0, np.pi, 1.0])
