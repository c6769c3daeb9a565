"""Two machines in a row: the shortest day for work that is first mixed, then placed."""

from __future__ import annotations

from collections.abc import Sequence


def johnson_order(first: Sequence[int], second: Sequence[int]) -> tuple[int, ...]:
    """Give an order of jobs that no other beats, where each runs first here, then there.

    Parameters
    ----------
    first, second : sequence of int
        Time of each job on the first and on the second machine.

    Returns
    -------
    tuple of int
        Numbers of the jobs in order.

    References
    ----------
    Johnson, Naval Research Logistics Quarterly 1, 1954 (from memory).

    Examples
    --------
    >>> johnson_order([5, 1, 9, 3, 10], [2, 6, 7, 8, 4])
    (1, 3, 2, 4, 0)
    """
    jobs = range(len(first))
    early = sorted((job for job in jobs if first[job] < second[job]), key=lambda job: first[job])
    late = sorted((job for job in jobs if first[job] >= second[job]), key=lambda job: -second[job])
    return (*early, *late)


def flow_ticks(first: Sequence[int], second: Sequence[int], order: Sequence[int]) -> int:
    """Give when the last job of an order is done on the second machine.

    Parameters
    ----------
    first, second : sequence of int
        Time of each job on the first and on the second machine.
    order : sequence of int
        Numbers of the jobs in order.

    Returns
    -------
    int
        The end.

    Examples
    --------
    >>> flow_ticks([5, 1, 9, 3, 10], [2, 6, 7, 8, 4], (1, 3, 2, 4, 0))
    30
    """
    mixed = placed = 0
    for job in order:
        mixed += first[job]
        placed = max(placed, mixed) + second[job]
    return placed
