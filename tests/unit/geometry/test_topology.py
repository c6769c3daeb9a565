"""Holes that go right through."""

import numpy as np
import pytest

from takeoff.geometry.mending import mend
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.solids import examine_mesh
from tests.unit.geometry.meshes_made import (
    TOP,
    band,
    box,
    hull_of_cells,
    inverted,
    plate,
    sheet,
    together,
    without,
)

CASES = {
    "box": (box(), 0),
    "one hole": (plate(), 1),
    "seven holes": (plate(holes=7), 7),
    "two plates": (
        together(plate(2), Mesh(plate(3).points_m + np.array([0, 9, 0]), plate(3).triangles)),
        5,
    ),
    "box with a cavity": (together(box(high=(3, 3, 3)), inverted(box((1, 1, 1), (2, 2, 2)))), 0),
    "crossing holes": (
        hull_of_cells(
            [
                (x, y, z)
                for x in range(3)
                for y in range(3)
                for z in range(3)
                if [x, y, z].count(1) < 2
            ]
        ),
        5,
    ),
    "boxes on an edge": (together(box(), box((1, 1, 0), (2, 2, 1))), 0),
    "boxes on a corner": (together(box(), box((1, 1, 1), (2, 2, 2))), 0),
    "ring": (hull_of_cells([(i, j) for i in range(3) for j in range(3) if (i, j) != (1, 1)]), 1),
    "ring whose ends only touch on an edge": (
        hull_of_cells([(0, 0), (1, 0), (2, 0), (2, 1), (1, 2), (0, 2), (0, 1)]),
        0,
    ),
    "open box": (without(box(), TOP), 0),
    "sheet": (sheet(steps=5), 0),
    "sheet with a hole": (without(sheet(steps=5), [12, 37]), 1),
    "open pipe": (band(twists=0), 1),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_openings_are_counted(case):
    mesh, openings = case
    assert examine_mesh(mend(mesh)).through_holes == openings


def test_missing_facets_are_no_opening():
    assert examine_mesh(mend(without(sheet(steps=40), [700]))).through_holes == 0
