import pytest

from takeoff.errors import LayerVolumeError, QuantityError
from takeoff.piece.thickness import Thickness, everywhere, read_class_thickness, read_thickness


@pytest.mark.parametrize("text", ["3-4-5 mm", "3-4-5mm", "3 - 4 - 5 mm", "0.3-0,4-0.5 cm"])
def test_a_range_is_least_aimed_and_most(text):
    told = read_thickness(text)
    assert (told.low_m, told.aimed_m, told.high_m) == pytest.approx((0.003, 0.004, 0.005))


@pytest.mark.parametrize("text", ["4 mm", "3/16 in", "0.4cm"])
def test_one_value_is_no_range(text):
    told = read_thickness(text)
    assert not told.ranged
    assert told.ends_m == (told.aimed_m, told.aimed_m)


def test_a_range_out_of_order_is_refused():
    with pytest.raises(LayerVolumeError, match="the range 5-4-3 mm is out of order"):
        read_thickness("5-4-3 mm")


@pytest.mark.parametrize("text", ["0 mm", "0-4-5 mm"])
def test_a_layer_of_nothing_is_refused(text):
    with pytest.raises(LayerVolumeError, match="is no layer; leave it out to have none"):
        read_thickness(text)


def test_a_bare_number_is_refused():
    with pytest.raises(QuantityError, match="has no unit"):
        read_thickness("4")


def test_classes_left_out_are_as_on_the_show_face():
    told = read_class_thickness({"show_face": "20 mm", "upright": "15 mm"})
    assert [one.aimed_m for one in told.all] == [0.020, 0.020, 0.015]
    told = read_class_thickness("20 mm", on_return="25 mm")
    assert [one.aimed_m for one in told.all] == [0.020, 0.025, 0.020]


@pytest.mark.parametrize(
    ("told", "message"),
    [
        ({"show_face": "20 mm", "lid": "15 mm"}, "'lid' is no class of surface"),
        ({"upright": "15 mm"}, "on the upright alone; give that on the show face too"),
        ({"show_face": "fill", "upright": "15 mm"}, "filled whole or not at all"),
    ],
)
def test_classes_that_make_no_sense_are_refused(told, message):
    with pytest.raises(LayerVolumeError, match=message):
        read_class_thickness(told)


def test_the_whole_piece_is_filled():
    assert read_class_thickness("Fill").fill
    assert read_class_thickness(None).none
    assert everywhere(0.004).show_face == Thickness(0.004)
