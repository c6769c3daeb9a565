"""Textbook examples of sequencing, lot sizing and packing.

The data are known from memory, except where a place is named, and every optimum was confirmed by
enumeration or by a programme of its own. SCH-03 is a published answer that is wrong: the page
prints 26, which is where its first machine ends.
"""

from __future__ import annotations

from itertools import permutations

import pytest

from takeoff.batching.johnson import flow_ticks, johnson_order
from takeoff.batching.packing import evened, least_bins, packed
from takeoff.batching.waves import cheapest_cuts


@pytest.mark.parametrize(
    ("times", "printed_sequence", "printed_makespan"),
    [
        pytest.param(
            {"A": (5, 2), "B": (3, 6), "C": (8, 4), "D": (10, 7), "E": (7, 12)},
            "BEDCA",
            35,
            id="SCH-01 Heizer and Render, Operations Management: five jobs, two work centres",
        ),
        pytest.param(
            {"L": (10, 2), "M": (5, 4), "N": (7, 5), "O": (3, 6), "P": (1, 7)},
            "PONML",
            28,
            id="SCH-03 exercise in operations management; its sequence, with the right makespan",
        ),
    ],
)
def test_two_machines_in_a_row(times, printed_sequence, printed_makespan):
    names = list(times)
    first, second = zip(*times.values(), strict=True)
    order = johnson_order(first, second)
    assert "".join(names[job] for job in order) == printed_sequence
    assert flow_ticks(first, second, order) == printed_makespan
    shortest = min(flow_ticks(first, second, one) for one in permutations(range(len(names))))
    assert shortest == printed_makespan


@pytest.mark.parametrize("printed_makespan", [pytest.param(38, id="SCH-02 exercise C E D B A")])
def test_a_given_sequence(printed_makespan):
    times = {"A": (5, 2), "B": (9, 3), "C": (8, 7), "D": (5, 4), "E": (9, 6)}
    first, second = zip(*times.values(), strict=True)
    order = ["ABCDE".index(job) for job in "CEDBA"]
    assert flow_ticks(first, second, order) == printed_makespan


def lots(demand, setup, holding):
    """Cut a run of periods into lots, each ordered in its first period and held until used."""

    def cost_of(first, last):
        held = sum(amount * ahead for ahead, amount in enumerate(demand[first:last]))
        return setup[first] + holding * held, 0.0

    cuts = cheapest_cuts(len(demand), cost_of)
    return cuts, sum(cost_of(*cut)[0] for cut in cuts)


def test_lots_over_four_periods():
    """SCH-04: Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd ed., example 3.9."""
    demand = [90, 120, 80, 70]
    cuts, cost = lots(demand, [500] * 4, 2)
    assert cost == 1380
    assert [sum(demand[first:last]) for first, last in cuts] == [210, 150]


def test_lots_over_twelve_periods():
    """SCH-05: Wagner and Whitin 1958."""
    demand = [69, 29, 36, 61, 61, 26, 34, 67, 45, 67, 79, 56]
    setup = [85, 102, 102, 101, 98, 114, 105, 86, 119, 110, 98, 114]
    assert lots(demand, setup, 1)[1] == 864


def test_lots_of_aircraft():
    """SCH-06: Hillier and Lieberman; data as on the help page of the SCperf package."""
    assert lots([3, 2, 3, 2], [2] * 4, 0.2)[1] == pytest.approx(4.8)


@pytest.mark.parametrize("changed", [17, 16])
def test_a_smaller_item_takes_no_more_bins(changed):
    """SCH-07: the largest-first rule alone goes from 3 bins to 4 when 17 becomes 16."""
    items = [44, 24, 24, 22, 21, changed, 8, 8, 6, 6]
    assert len(packed(items, 60)) == 3


def test_eleven_items():
    """SCH-08: an example in the documentation of OR-Tools."""
    items = [48, 30, 19, 36, 36, 27, 42, 42, 36, 24, 30]
    assert len(packed(items, 100)) == 4
    assert least_bins(items, 100) == 4


@pytest.mark.parametrize(
    ("items", "count", "longest_first", "least"),
    [
        pytest.param([5, 5, 4, 4, 3, 3, 3], 3, 11, 9, id="SCH-09 Graham 1969, worst case"),
        pytest.param([8, 7, 6, 5, 4], 2, 17, 15, id="SCH-09 second example"),
    ],
)
def test_even_loads_are_never_worse_than_longest_first(items, count, longest_first, least):
    start = (*((item,) for item in range(count - 1)), tuple(range(count - 1, len(items))))
    groups = evened(items, start, capacity_kg=sum(items))
    assert least <= max(sum(items[item] for item in group) for group in groups) <= longest_first
