"""Long sums: values added up by number, and products of rows."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def summed(
    number: NDArray[np.integer], values: NDArray[np.float64], count: int
) -> NDArray[np.float64]:
    """Add up values that carry the same number.

    Parameters
    ----------
    number : ndarray of int, shape (k,)
        Number of each value, from 0 to below ``count``.
    values : ndarray of float, shape (k,)
        The values.
    count : int
        How many sums to give.

    Returns
    -------
    ndarray of float, shape (count,)
        The sums, 0 where no value carries the number.

    Examples
    --------
    >>> summed(np.array([0, 2, 0]), np.array([1.0, 2.0, 3.0]), 3).tolist()
    [4.0, 0.0, 2.0]
    """
    return np.bincount(number, values, minlength=count).astype(np.float64, copy=False)


def row_products(one: NDArray[np.float64], other: NDArray[np.float64]) -> NDArray[np.float64]:
    """Add up the products of long rows, each of one list with each of another.

    Parameters
    ----------
    one : ndarray of float, shape (c, n)
        Rows.
    other : ndarray of float, shape (d, n)
        Rows as long as these.

    Returns
    -------
    ndarray of float, shape (c, d)
        The sums.

    Notes
    -----
    The matrix product of numpy is left to a library with threads of its own. For few rows
    these take more time waiting than the sum does, and how they divide it, and so the last
    digit, goes by the number of processors.

    Examples
    --------
    >>> row_products(np.array([[1.0, 2.0]]), np.array([[3.0, 4.0], [1.0, 1.0]])).tolist()
    [[11.0, 3.0]]
    """
    return np.asarray(np.einsum("cn,dn->cd", one, other))


def dot(one: NDArray[np.float64], other: NDArray[np.float64]) -> float:
    """Add up the products of two long rows.

    Parameters
    ----------
    one, other : ndarray of float, shape (n,)
        The rows.

    Returns
    -------
    float
        The sum, by no threads either; see `row_products`.

    Examples
    --------
    >>> dot(np.array([1.0, 2.0]), np.array([3.0, 4.0]))
    11.0
    """
    return float(np.einsum("n,n->", one, other))
