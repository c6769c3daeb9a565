import pytest

from takeoff.report.bid_words import place_words
from takeoff.report.figures import System


@pytest.mark.parametrize(
    ("place_m", "metric", "us"),
    [
        ((-1.453e-5, 0.0, 0.0004), "0 mm / 0 mm / 0 mm", "0 in / 0 in / 0 in"),
        ((1.3026, -0.01375, 12.3456), "1303 mm / -14 mm / 12.35 m", None),
        ((0.6477, -0.0047, 0.0016), "648 mm / -5 mm / 2 mm", "2 ft 1 1/2 in / -3/16 in / 1/16 in"),
    ],
)
def test_a_place_is_written_to_the_millimetre_or_a_sixteenth(place_m, metric, us):
    assert place_words(place_m, System.METRIC) == metric
    if us is not None:
        assert place_words(place_m, System.US) == us


def test_a_place_that_is_not_known_is_a_dash():
    assert place_words(None, System.METRIC) == "-"
