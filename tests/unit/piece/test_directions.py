import numpy as np
import pytest

from takeoff.errors import SurfaceError
from takeoff.piece.directions import DIRECTIONS, direction_text, reading_number, show_vector


@pytest.mark.parametrize(("word", "vector"), DIRECTIONS.items())
def test_words_are_directions_of_the_drawing(word, vector):
    assert show_vector(word).tolist() == list(vector)
    assert show_vector(f" {word.upper()} ").tolist() == list(vector)


@pytest.mark.parametrize("text", ["0,0,1", "0, 0, 5", " 0,0,1e-3"])
def test_numbers_are_scaled_to_a_unit_vector(text):
    assert show_vector(text).tolist() == [0.0, 0.0, 1.0]


@pytest.mark.parametrize(
    "text", ["", "top", "0,0", "0,0,0", "0,0,inf", "nan,0,1", "1,2,3,4", "a,b,c"]
)
def test_what_is_no_direction_is_refused(text):
    with pytest.raises(
        SurfaceError, match="as a show direction; write up, down, front, back, left"
    ):
        show_vector(text)


@pytest.mark.parametrize(("word", "vector"), DIRECTIONS.items())
def test_a_direction_along_an_axis_is_written_as_its_word(word, vector):
    assert direction_text(np.array(vector)) == word


def test_any_other_direction_is_written_so_that_it_reads_back():
    vector = np.array([0.3, -0.5, 0.8]) / np.linalg.norm([0.3, -0.5, 0.8])
    assert show_vector(direction_text(vector)) == pytest.approx(vector, abs=1e-6)
    assert direction_text(np.array([-0.0, 0.6, 0.8])).startswith("0.000000,")


@pytest.mark.parametrize(("text", "number"), [("S1", 1), (" s12 ", 12), ("S", None), ("S-1", None)])
def test_the_number_of_a_reading_is_read(text, number):
    assert reading_number(text) == number


@pytest.mark.parametrize("text", ["up", "0,0,1", "ss1", "1"])
def test_a_direction_is_no_number_of_a_reading(text):
    assert reading_number(text) is None
