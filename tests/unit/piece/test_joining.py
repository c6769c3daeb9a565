import numpy as np

from takeoff.piece.joining import joined, lists_of


def test_nothing_paired_leaves_everyone_alone():
    nobody = np.empty(0, dtype=np.int64)
    assert joined(3, nobody, nobody).tolist() == [0, 1, 2]


def test_a_chain_is_one_group():
    group = joined(6, np.array([0, 1, 4]), np.array([1, 2, 5]))
    assert len(set(group[:3])) == 1
    assert group[4] == group[5]
    assert len(set(group.tolist())) == 3


def test_every_group_is_listed_even_an_empty_one():
    assert [one.tolist() for one in lists_of(np.array([2, 0, 2]), 4)] == [[1], [], [0, 2], []]
