"""Repairs added up."""

from takeoff.geometry.repairs import Defect, Repair, summed


def test_repairs_of_a_kind_are_added_in_the_order_they_came():
    done = [Repair(Defect.SEAM, 1), Repair(Defect.GAP, 2), Repair(Defect.SEAM, 3)]
    assert summed(done) == (Repair(Defect.SEAM, 4), Repair(Defect.GAP, 2))


def test_nothing_repaired_is_nothing():
    assert summed([]) == ()
