import pytest

from takeoff.batching.heat import setting_ratio


@pytest.mark.parametrize(
    ("mix_c", "ratio"),
    [
        pytest.param(20.0, 1.0, id="the reference"),
        # the exponential of 4811 times the difference of the reciprocals, 303.15 and 283.15 K
        pytest.param(30.0, 0.582, id="ten degrees warmer"),
        pytest.param(10.0, 1.785, id="ten degrees colder"),
    ],
)
def test_setting_follows_temperature(mix_c, ratio):
    assert setting_ratio(mix_c) == pytest.approx(ratio, abs=0.0015)
