from functools import cache
from random import Random

import pytest

from takeoff.batching.packing import evened, least_bins, packed


def fewest(weights, capacity):
    """Count by trying every subset as the next batch."""
    count = len(weights)
    fits = [
        sum(weights[item] for item in range(count) if group >> item & 1) <= capacity
        for group in range(1 << count)
    ]

    @cache
    def needed(left):
        if not left:
            return 0
        lowest, best, group = left & -left, count, left
        while group:
            if group & lowest and fits[group]:
                best = min(best, 1 + needed(left & ~group))
            group = (group - 1) & left
        return best

    return needed((1 << count) - 1)


def assert_packing(weights, bins, capacity):
    assert sorted(item for group in bins for item in group) == list(range(len(weights)))
    assert all(sum(weights[item] for item in group) <= capacity for group in bins)


@pytest.mark.parametrize("seed", range(60))
def test_no_packing_has_fewer_batches_and_the_bound_is_one(seed):
    random = Random(seed)
    weights = [random.randint(5, 60) for _ in range(random.randint(1, 9))]
    bins = packed(weights, 60)
    assert_packing(weights, bins, 60)
    assert len(bins) == fewest(weights, 60)
    assert least_bins(weights, 60) <= len(bins)


@pytest.mark.parametrize("seed", range(5))
def test_triplets_that_fill_every_batch_are_found_or_nearly(seed):
    random = Random(seed)
    weights = []
    for _ in range(8):
        one, other = random.randint(26, 40), random.randint(26, 34)
        weights += [one, other, 100 - one - other]
    random.shuffle(weights)
    bins = packed(weights, 100)
    assert_packing(weights, bins, 100)
    assert least_bins(weights, 100) == 8
    assert len(bins) in {8, 9}


@pytest.mark.parametrize("seed", range(20))
def test_evening_keeps_the_count_and_never_enlarges_the_largest(seed):
    random = Random(seed)
    weights = [random.randint(5, 60) for _ in range(12)]
    rough = tuple((item, item + 1) for item in range(0, 12, 2))
    before = max(weights[a] + weights[b] for a, b in rough)
    even = evened(weights, rough, 120)
    assert_packing(weights, even, 120)
    assert len(even) <= len(rough)
    assert max(sum(weights[item] for item in group) for group in even) <= before


def test_nothing_takes_no_batch():
    assert packed([], 50.0) == ()
    assert least_bins([], 50.0) == 0


def test_faces_alike_stay_together_in_their_order():
    assert packed([8.0] * 6, 25.0) == ((0, 1, 2), (3, 4, 5))
