"""Bodies kept apart by a plane."""

import numpy as np
import pytest

from takeoff.geometry.mending import mend
from takeoff.geometry.standing_apart import not_apart
from tests.unit.geometry.meshes_made import box, skewed, together


def pairs_left(mesh, overlap_m):
    mended = mend(mesh)
    pairs = np.array([[0, 1], [1, 2], [0, 2]])
    kept = not_apart(mended.mesh, mended.facets, mended.parts, pairs, overlap_m=overlap_m)
    return [tuple(pair) for pair in kept.tolist()]


@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed])
def test_only_bodies_that_overlap_along_every_direction_are_left(turn):
    row = turn(together(box(), box((0.9, 0, 0), (2, 1, 1)), box((2.2, 0, 0), (3, 1, 1))))
    assert pairs_left(row, 0.0) == [(0, 1)]
    assert pairs_left(row, 0.15) == []
    assert pairs_left(row, -0.3) == [(0, 1), (1, 2)]


def test_no_pairs_need_no_directions():
    mended = mend(box())
    nothing = np.empty((0, 2), dtype=np.int64)
    found = not_apart(mended.mesh, mended.facets, mended.parts, nothing, overlap_m=0.0)
    assert found is nothing
