import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.batching.streams import cut_equally


@given(st.lists(st.floats(0.1, 500.0), min_size=1, max_size=12), st.integers(1, 9))
def test_batches_are_equal_and_nothing_is_lost(masses_kg, count):
    batches = cut_equally(masses_kg, count)
    total_kg = sum(masses_kg)
    loads = [sum(cut.end_kg - cut.start_kg for cut in batch) for batch in batches]
    assert len(batches) == count
    assert loads == pytest.approx([total_kg / count] * count, rel=1e-6)
    ends = dict.fromkeys(range(len(masses_kg)), 0.0)
    for batch in batches:
        for cut in batch:
            assert cut.start_kg == ends[cut.item]
            ends[cut.item] = cut.end_kg
    assert list(ends.values()) == pytest.approx(masses_kg)


def test_items_keep_their_order():
    batches = cut_equally([10.0, 20.0, 30.0], 4)
    assert [cut.item for batch in batches for cut in batch] == [0, 1, 1, 2, 2]
