import numpy as np
import pytest

from takeoff.geometry.lattice import Cells


@pytest.mark.parametrize("slope", [(0.0, 0.0), (0.031, 0.017), (0.05, 0.05)])
def test_one_point_to_a_cell_counts_a_thin_layer_within_a_third_of_a_percent(slope):
    number = np.stack(np.meshgrid(*(np.arange(n) for n in (80, 80, 14)), indexing="ij"), axis=-1)
    cells = Cells(number.reshape(-1, 3), np.zeros(3), 1.0)
    for lattice in range(4):
        x, y, z = cells.strewn_m(lattice).T
        height = z - 2.3 - slope[0] * x - slope[1] * y
        assert ((height > 0.0) & (height < 1.2)).sum() == pytest.approx(80 * 80 * 1.2, rel=3.3e-3)


def test_where_a_point_lies_does_not_depend_on_the_other_cells():
    number = np.array([[5, 7, 9], [1, 2, 3]])
    both = Cells(number, np.zeros(3), 0.5).strewn_m(1)
    assert np.array_equal(both[1:], Cells(number[1:], np.zeros(3), 0.5).strewn_m(1))
