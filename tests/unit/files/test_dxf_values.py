import pytest

from takeoff.errors import UnreadableError
from takeoff.files.dxf_tags import Record
from takeoff.files.dxf_values import (
    number_of,
    numbers_of,
    point_of,
    points_of,
    vertices_of,
    whole_of,
)


def record(*pairs):
    return Record("SPLINE", [(code, str(value).encode()) for code, value in pairs], 12)


def test_a_missing_number_takes_the_default_or_is_refused():
    assert number_of(record(), 40, 2.5) == 2.5
    with pytest.raises(UnreadableError, match="SPLINE at line 12 lacks group code 40"):
        number_of(record(), 40)


def test_a_number_that_cannot_be_read_is_refused_with_its_code():
    with pytest.raises(UnreadableError, match=r"line 12: 'wide' at group code 40 is no number"):
        number_of(record((40, "wide")), 40)


def test_whole_numbers_may_be_written_with_a_point():
    assert whole_of(record((70, "129.0")), 70) == 129
    assert whole_of(record(), 70, 7) == 7


def test_a_point_lacks_its_height_at_most():
    assert point_of(record((10, 1), (20, 2)), 10).tolist() == [1.0, 2.0, 0.0]
    assert point_of(record(), 210, (0.0, 0.0, 1.0)).tolist() == [0.0, 0.0, 1.0]
    with pytest.raises(UnreadableError, match="lacks group code 20"):
        point_of(record((10, 1)), 10)


def test_points_may_come_in_any_order_of_coordinates():
    pairs = (10, 1), (10, 3), (20, 2), (20, 4)
    assert points_of(record(*pairs), 10).tolist() == [[1, 2, 0], [3, 4, 0]]


@pytest.mark.parametrize("pairs", [[(10, 1)], [(10, 1), (20, 1), (10, 2), (20, 2), (30, 0)]])
def test_points_with_coordinates_missing_are_refused(pairs):
    with pytest.raises(UnreadableError, match="coordinates at group code 10"):
        points_of(record(*pairs), 10)


def test_numbers_come_in_order():
    assert numbers_of(record((40, 0), (10, 5), (40, 1)), 40).tolist() == [0.0, 1.0]
    assert numbers_of(record(), 40).tolist() == []


def test_corners_keep_their_bulges_and_the_largest_width():
    drawn = record((43, 2), (10, 0), (20, 0), (42, 0.5), (10, 1), (20, 0), (40, 3), (41, 1))
    vertices = vertices_of(drawn, drawn.tags)
    assert vertices.points.tolist() == [[0, 0], [1, 0]]
    assert vertices.bulges.tolist() == [0.5, 0.0]
    assert vertices.widest == 3.0


def test_a_corner_without_y_is_refused():
    drawn = record((10, 0), (20, 0), (10, 1))
    with pytest.raises(UnreadableError, match="2 x and 1 y coordinates"):
        vertices_of(drawn, drawn.tags)
