import numpy as np

from takeoff.piece.parts import Parts


def parts_of(flats):
    flat = np.array(flats)
    return Parts.plain(flat, 0, 0, np.ones(len(flat)))


def test_flats_of_one_part_each_share_none():
    assert not len(parts_of([2, 0, 1]).sharing())


def test_all_parts_of_a_flat_of_several_share_it():
    assert parts_of([2, 0, 2, 1]).sharing().tolist() == [0, 2]
