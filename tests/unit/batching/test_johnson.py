from itertools import permutations
from random import Random

import pytest

from takeoff.batching.johnson import flow_ticks, johnson_order


@pytest.mark.parametrize("seed", range(30))
def test_no_other_order_is_shorter(seed):
    random = Random(seed)
    count = random.randint(1, 6)
    first = [random.randint(1, 12) for _ in range(count)]
    second = [random.randint(1, 12) for _ in range(count)]
    order = johnson_order(first, second)
    assert sorted(order) == list(range(count))
    shortest = min(flow_ticks(first, second, one) for one in permutations(range(count)))
    assert flow_ticks(first, second, order) == shortest


def test_the_textbook_order_mixes_and_places_when_the_hand_says():
    # Order 2, 4, 3, 5, 1; mixed at 1, 4, 13, 23, 28; placed at 7, 15, 22, 27, 30.
    first, second = [5, 1, 9, 3, 10], [2, 6, 7, 8, 4]
    order = johnson_order(first, second)
    assert [job + 1 for job in order] == [2, 4, 3, 5, 1]
    ends = [flow_ticks(first, second, order[: count + 1]) for count in range(5)]
    assert ends == [7, 15, 22, 27, 30]
