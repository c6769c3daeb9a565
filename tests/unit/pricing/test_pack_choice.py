from decimal import Decimal

import pytest

from takeoff.errors import PriceError
from takeoff.pricing.pack_choice import least_cost_packs
from takeoff.pricing.packs import Pack, packs_needed


def sold(*rows):
    return tuple(Pack("cement", kg, f"{kg} kg", Decimal(price)) for kg, price in rows)


@pytest.mark.parametrize(
    ("order_kg", "packs", "counts"),
    [
        pytest.param(61.0, [(25.0, "10"), (10.0, "5")], (1, 4), id="30.00, least left over"),
        pytest.param(60.0, [(25.0, "10"), (10.0, "5")], (2, 1), id="two large and one small"),
        pytest.param(70.0, [(25.0, "10"), (10.0, "9")], (3, 0), id="a large one for the rest"),
        pytest.param(0.001, [(25.0, "10"), (5.0, "4")], (0, 1), id="1 g"),
        pytest.param(0.001, [(25.0, "4"), (5.0, "4")], (0, 1), id="least left over"),
        pytest.param(0.001, [(25.0, "3.99"), (5.0, "4")], (1, 0), id="a cent goes before waste"),
        pytest.param(100.0, [(20.0, "8"), (25.0, "10"), (50.0, "20")], (0, 0, 2), id="fewest"),
        pytest.param(25.0, [(25.0, "9"), (25.0, "9")], (1, 0), id="as written"),
        pytest.param(75.0, [(25.0, "9"), (25.0, "8.99")], (0, 3), id="the cheaper of two alike"),
        pytest.param(70.0, [(40.0, "0"), (25.0, "0")], (0, 3), id="free: least left over"),
        pytest.param(70.0, [(40.0, "0"), (25.0, "9.50")], (2, 0), id="one size free"),
        pytest.param(0.0, [(25.0, "10"), (10.0, "5")], (0, 0), id="no order"),
        pytest.param(0.0, [(25.0, "0"), (10.0, "0")], (0, 0), id="no order, free"),
    ],
)
def test_packs_of_several_sizes_by_hand(order_kg, packs, counts):
    assert least_cost_packs(order_kg, sold(*packs)) == counts


@pytest.mark.parametrize("order_kg", [0.0, 1e-12, 0.001, 25.0, 25.0 + 1e-6, 249_999.9, 250_000.0])
def test_one_size_needs_no_solver(order_kg, monkeypatch):
    monkeypatch.setattr("scipy.optimize.milp", None)
    assert least_cost_packs(order_kg, sold((25.0, "9.50"))) == (packs_needed(order_kg, 25.0),)


@pytest.mark.parametrize(
    ("order_kg", "counts"),
    [
        (250_000.0, (10_000, 0)),
        (250_000.1, (9_999, 3)),
        (250_001.0, (9_999, 3)),
        (250_013.0, (9_999, 4)),
        (0.1 + 0.2, (0, 1)),
    ],
)
def test_ten_thousand_bags_are_counted_to_the_last(order_kg, counts):
    assert least_cost_packs(order_kg, sold((25.0, "9.50"), (10.0, "4.10"))) == counts


@pytest.mark.parametrize(
    ("more_kg", "counts"), [(0.0, (2, 2)), (1e-12, (2, 2)), (1e-6, (3, 0)), (-1e-6, (2, 2))]
)
def test_a_sum_of_packs_covers_itself_and_nothing_above(more_kg, counts):
    packs = sold((25.0, "10"), (10.0, "4.10"))
    assert least_cost_packs(70.0 + more_kg, packs) == counts


@pytest.mark.parametrize("more_kg", [1e-7, 1e-6, 1e-5, 1e-4, 1e-3])
def test_pounds_beside_kilograms_are_not_rounded_into_each_other(more_kg):
    pounds = 42.63768278
    packs = sold((pounds, "18"), (25.0, "11"), (0.5, "1.50"))
    assert least_cost_packs(2 * pounds, packs) == (2, 0, 0)
    assert least_cost_packs(2 * pounds + more_kg, packs) == (2, 0, 1)


def test_an_order_ten_micrograms_above_two_packs_takes_the_cheaper_third():
    packs = sold((0.001, "1047.86"), (0.45359237, "9.99"))
    assert least_cost_packs(0.90718475, packs) == (0, 3)


def test_packs_that_have_no_common_measure_are_chosen_among_too():
    packs = sold((0.45359237 / 3, "1.20"), (1000.0, "2000"), (25.0, "60"))
    assert least_cost_packs(1050.2, packs) == (2, 1, 2)


def test_an_answer_that_falls_short_is_replaced_by_the_best_that_does_not(monkeypatch):
    from scipy import optimize

    packs = sold((25.0, "10"), (10.0, "5"))
    solve = optimize.milp
    asked = []

    def short(*args, **kwargs):
        answer = solve(*args, **kwargs)
        asked.append(answer)
        if len(asked) <= 2:
            answer.x = [1.0, 0.0]
        return answer

    monkeypatch.setattr(optimize, "milp", short)
    assert least_cost_packs(61.0, packs) == (1, 4)
    assert len(asked) > 2


@pytest.mark.parametrize("status", [1, 2, 3, 4])
def test_a_solver_that_does_not_finish_is_no_answer(status, monkeypatch):
    from scipy import optimize

    monkeypatch.setattr(optimize, "milp", lambda *_, **__: optimize.OptimizeResult(status=status))
    with pytest.raises(PriceError, match="the packs of cement of least cost could not be told"):
        least_cost_packs(61.0, sold((25.0, "10"), (10.0, "5")))


def test_a_solver_that_always_falls_short_is_no_answer(monkeypatch):
    from scipy import optimize

    nothing = optimize.OptimizeResult(status=0, x=[0.0, 0.0])
    monkeypatch.setattr(optimize, "milp", lambda *_, **__: nothing)
    with pytest.raises(PriceError, match=r"among 25.0 kg at 10, 10.0 kg at 5; leave out sizes"):
        least_cost_packs(61.0, sold((25.0, "10"), (10.0, "5")))
