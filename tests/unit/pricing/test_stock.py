from datetime import date

import pytest

from takeoff.pricing.stock import Drawn, Stock, draw

DAY = date(2026, 11, 25)


def dated(mass_kg, use_by, lot=None, opened=None):
    return Stock("polymer", mass_kg, opened, use_by, lot)


def test_the_earliest_use_by_is_drawn_first_and_what_does_not_age_last():
    shelf = [
        dated(4.0, None, "no day"),
        dated(4.0, date(2027, 3, 1), "later"),
        dated(4.0, date(2026, 12, 1), "sooner"),
    ]
    drawn, passed_over = draw(shelf, 9.0, day=DAY, one_lot=False)
    assert drawn == (Drawn("sooner", 4.0), Drawn("later", 4.0), Drawn("no day", 1.0))
    assert passed_over == ()


def test_of_one_use_by_what_was_opened_first_is_drawn_first_then_as_written():
    shelf = [
        dated(1.0, None, "closed"),
        dated(1.0, None, "closed too"),
        dated(1.0, None, "new", date(2026, 11, 20)),
        dated(1.0, None, "old", date(2026, 10, 1)),
    ]
    drawn, _ = draw(shelf, 10.0, day=DAY, one_lot=False)
    assert [one.lot for one in drawn] == ["old", "new", "closed", "closed too"]


@pytest.mark.parametrize(
    ("use_by", "day", "why"),
    [
        (DAY, DAY, None),
        (date(2026, 11, 24), DAY, "past its use-by 2026-11-24 on 2026-11-25"),
        (
            date(2030, 1, 1),
            None,
            "no day is told to hold its use-by 2030-01-01 against; date the job",
        ),
        (None, None, None),
    ],
)
def test_stock_is_used_up_to_its_use_by_and_not_without_a_day(use_by, day, why):
    drawn, passed_over = draw([dated(5.0, use_by)], 2.0, day=day, one_lot=False)
    assert [one.why for one in passed_over] == ([] if why is None else [why])
    assert drawn == ((Drawn(None, 2.0),) if why is None else ())


def test_one_lot_may_stand_in_several_containers():
    shelf = [dated(3.0, None, "A"), dated(4.0, None, "B"), dated(3.0, None, "A")]
    drawn, passed_over = draw(shelf, 5.0, day=DAY, one_lot=True)
    assert drawn == (Drawn("A", 3.0), Drawn("A", 2.0))
    assert passed_over == (
        (shelf[1], "lot B holds 4 kg of the 5 kg that must all come from one lot"),
    )


def test_of_lots_that_cover_the_order_the_first_to_be_used_up_is_taken():
    shelf = [dated(9.0, date(2027, 3, 1), "later"), dated(8.0, date(2026, 12, 1), "sooner")]
    drawn, passed_over = draw(shelf, 5.0, day=DAY, one_lot=True)
    assert (drawn, passed_over) == ((Drawn("sooner", 5.0),), ())


def test_a_lot_does_not_count_what_is_past_its_use_by():
    shelf = [dated(3.0, date(2026, 1, 1), "A"), dated(3.0, None, "A")]
    drawn, passed_over = draw(shelf, 5.0, day=DAY, one_lot=True)
    assert drawn == ()
    assert [one.why[:10] for one in passed_over] == ["past its u", "lot A hold"]


def test_of_what_has_no_lot_nobody_knows_that_it_is_one():
    drawn, passed_over = draw([dated(50.0, None)], 5.0, day=DAY, one_lot=True)
    assert drawn == ()
    assert passed_over[0].why.startswith("its lot is not told, and all must come from one")


def test_a_lot_of_just_the_order_covers_it_whatever_floats_add_up_to():
    shelf = [dated(0.1, None, "A") for _ in range(3)]
    drawn, _ = draw(shelf, 0.1 * 3, day=DAY, one_lot=True)
    assert sum(one.mass_kg for one in drawn) == pytest.approx(0.3)
    assert draw([dated(0.0, None, "A")], 1.0, day=DAY, one_lot=True)[0] == ()


def test_nothing_is_drawn_for_no_order():
    assert draw([dated(5.0, None, "A")], 0.0, day=DAY, one_lot=False)[0] == ()
    assert draw([dated(5.0, None, "A")], 0.0, day=DAY, one_lot=True)[0] == ()
