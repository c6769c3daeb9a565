import numpy as np
import pytest

from takeoff.piece.joining import joined, lists_of


def test_nothing_paired_leaves_everyone_alone():
    nobody = np.empty(0, dtype=np.int64)
    assert joined(3, nobody, nobody).tolist() == [0, 1, 2]


def test_a_chain_is_one_group():
    group = joined(6, np.array([0, 1, 4]), np.array([1, 2, 5]))
    assert len(set(group[:3])) == 1
    assert group[4] == group[5]
    assert len(set(group.tolist())) == 3


def test_only_pairs_that_count_join():
    first, second = np.array([0, 1, 3]), np.array([1, 2, 4])
    counting = np.array([True, False, True])
    assert joined(5, first, second, linked=counting).tolist() == [0, 0, 2, 1, 1]
    assert joined(5, first, second, linked=~counting | True).tolist() == [0, 0, 0, 1, 1]
    assert joined(5, first, second, linked=counting & False).tolist() == [0, 1, 2, 3, 4]


@pytest.mark.parametrize("count", [8, 800])
def test_few_pairs_are_numbered_like_many(count):
    first, second = np.array([5, 0, 6]), np.array([2, 7, 5])
    group = joined(count, first, second)
    assert group[:8].tolist() == [0, 2, 1, 3, 4, 1, 1, 0]
    assert sorted(set(group.tolist())) == list(range(count - 3))


def test_every_group_is_listed_even_an_empty_one():
    assert [one.tolist() for one in lists_of(np.array([2, 0, 2]), 4)] == [[1], [], [0, 2], []]
