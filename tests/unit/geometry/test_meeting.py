"""Pairs of boxes that meet."""

import numpy as np
import pytest

from takeoff.geometry.meeting import meeting_boxes


@pytest.mark.parametrize("axes", [2, 3])
@pytest.mark.parametrize("seed", range(4))
def test_pairs_are_those_found_one_by_one(axes, seed):
    random = np.random.default_rng(seed)
    low = random.integers(0, 12, (90, 3)).astype(float)
    high = low + random.integers(1, 5, (90, 3))
    expected = set()
    for one in range(90):
        for other in range(one + 1, 90):
            overlap = np.minimum(high[one], high[other]) - np.maximum(low[one], low[other])
            if (overlap >= -0.1).all() and (overlap > 0.1).sum() >= axes:
                expected.add((one, other))
    found = meeting_boxes(low, high, overlap_m=0.1, axes=axes)
    assert {(min(pair), max(pair)) for pair in found.tolist()} == expected
    assert len(found) == len(expected)
