"""Ranges cut into pieces."""

import numpy as np
import pytest

from takeoff.geometry.blocks import blocks


@pytest.mark.parametrize("count", [0, 1, 6, 7, 8])
def test_every_row_comes_once_and_in_order(count):
    rows = np.arange(count)
    pieces = [rows[piece] for piece in blocks(count, 7)]
    assert np.array_equal(np.concatenate([rows[:0], *pieces]), rows)
    assert all(0 < len(piece) <= 7 for piece in pieces)
