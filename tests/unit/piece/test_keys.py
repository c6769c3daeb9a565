import numpy as np
import pytest

from takeoff.piece.keys import by_group, numbered, renumbered, sorted_runs

NOTHING = np.empty(0, dtype=np.int64)


@pytest.mark.parametrize("scale", [1, 10**6, 2**57])
def test_keys_of_any_size_are_sorted_and_numbered(scale):
    key = np.random.default_rng(3).integers(0, 20, 200) * np.int64(scale)
    order, first = sorted_runs(key)
    number, place = numbered(key)
    used, first_place, inverse = np.unique(key, return_index=True, return_inverse=True)
    assert order.tolist() == np.argsort(key, kind="stable").tolist()
    assert key[order[first]].tolist() == used.tolist()
    assert number.tolist() == inverse.tolist()
    assert place.tolist() == first_place.tolist()


def test_labels_are_numbered_in_their_order():
    label = np.array([9, 4, 4, 0, 9])
    number, count = renumbered(label)
    assert number.tolist() == [2, 1, 1, 0, 2]
    assert count == 3


def test_nothing_is_numbered_as_nothing():
    assert [len(part) for part in (*sorted_runs(NOTHING), *numbered(NOTHING))] == [0, 0, 0, 0]
    assert renumbered(NOTHING)[1] == 0


@pytest.mark.parametrize("count", [3, 70_000])
def test_members_of_a_group_stay_as_they_stand(count):
    group = np.array([2, 0, count - 1, 0, 2])
    order = by_group(group, count)
    assert order.tolist() == np.argsort(group, kind="stable").tolist()
