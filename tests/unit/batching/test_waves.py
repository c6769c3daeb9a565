from itertools import combinations, pairwise
from random import Random

import pytest

from takeoff.batching.waves import cheapest_cuts, cheapest_waves


def every_cut(count):
    for size in range(count):
        for inner in combinations(range(1, count), size):
            places = (0, *inner, count)
            yield tuple(pairwise(places))


@pytest.mark.parametrize("seed", range(20))
def test_no_other_cuts_are_cheaper(seed):
    random = Random(seed)
    costs = {
        (a, b): (float(random.randint(1, 9)), float(random.randint(0, 3)))
        for b in range(1, 7)
        for a in range(b)
    }
    found = cheapest_cuts(6, lambda a, b: costs[a, b])

    def total(cuts):
        return tuple(sum(costs[cut][which] for cut in cuts) for which in (0, 1))

    assert total(found) == min(total(cuts) for cuts in every_cut(6))


def test_only_waves_on_the_best_path_are_tried():
    tried = []

    def can_pour(first, last):
        tried.append((first, last))
        return last - first <= 2

    cuts = cheapest_waves(4, lambda a, b: (1.0, 0.0), can_pour)
    assert cuts == ((0, 2), (2, 4))
    assert len(tried) < 10
    assert tried[0] == (0, 4)


def test_a_casting_that_cannot_be_poured_leaves_no_way():
    assert cheapest_waves(2, lambda a, b: (1.0, 0.0), lambda a, b: a != 1 or b != 2) == ((0, 2),)
    assert cheapest_waves(2, lambda a, b: (1.0, 0.0), lambda a, b: a == 0 and b == 1) is None
