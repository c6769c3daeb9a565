"""What is placed late is mixed late."""

from takeoff.batching.calendars import mixed_later
from takeoff.batching.clocks import Pour, Start, Task


def test_nothing_is_mixed_long_before_its_form_is_free():
    # The form is free after 30 min; mixing takes 6, carrying 1.
    task = Task("pan", ("b", ""), 12, 4, 9, 0, 96, workers=1, release=60)
    pour = Pour((task, task), (), 2, None, haul_ticks=2, wash_ticks=20, day_ticks=960)
    early = (Start(0, 60), Start(16, 70))
    first, second = mixed_later(pour, early)
    assert (first.place, second.place) == (60, 70)
    assert second.mix == 70 - 2 - 12
    # One mixer: the first ends its mixing a scraping before the second starts.
    assert first.mix == second.mix - 4 - 12
