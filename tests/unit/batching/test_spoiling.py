import pytest

from takeoff.batching.spoiling import gone_off_share, reserve_share


@pytest.mark.parametrize(
    ("reserve", "spread", "percent"),
    [
        # 1 - F((ln(1 / (1 - reserve)) + s^2 / 2) / s), s^2 = ln(1 + spread^2), F the normal law
        (0.20, 0.10, 1.1),
        (0.20, 0.15, 5.7),
        (0.20, 0.20, 11.0),
        (0.30, 0.15, 0.6),
    ],
)
def test_the_chance_of_a_batch_planned_to_its_reserve(reserve, spread, percent):
    chance = gone_off_share(1.0 - reserve, 1.0, spread_share=spread)
    assert 100.0 * chance == pytest.approx(percent, abs=0.15)


@pytest.mark.parametrize("spread", [0.05, 0.1, 0.2, 0.3])
@pytest.mark.parametrize("chance", [0.001, 0.01, 0.1])
def test_the_reserve_gives_the_chance_back(spread, chance):
    reserve = reserve_share(chance, spread_share=spread)
    assert gone_off_share(1.0 - reserve, 1.0, spread_share=spread) == pytest.approx(chance)


def test_without_spread_only_a_plan_past_the_pot_life_fails():
    assert gone_off_share(10.0, 10.0, spread_share=0.0) == 0.0
    assert gone_off_share(10.1, 10.0, spread_share=0.0) == 1.0
    assert gone_off_share(1.0, 0.0, spread_share=0.1) == 1.0
