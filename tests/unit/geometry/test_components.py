"""Connected parts of graphs."""

import numpy as np
import pytest
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from takeoff.geometry.components import component_labels


@pytest.mark.parametrize(
    ("count", "links"),
    [(200, 0), (200, 1), (200, 60), (200, 200), (200, 5000), (50_000, 30_000), (50_000, 45_000)],
)
@pytest.mark.parametrize("seed", range(4))
def test_parts_are_those_of_a_traversal(count, links, seed):
    random = np.random.default_rng(seed)
    first, second = random.integers(0, count, (2, links))
    graph = coo_array((np.ones(links), (first, second)), shape=(count, count))
    _, expected = connected_components(graph, directed=False)
    labels = component_labels(count, first, second)
    places = np.unique(labels, return_index=True)[1]
    assert (np.diff(places) > 0).all()
    assert np.array_equal(labels, rank_by_first(expected))


def rank_by_first(labels):
    """Labels in the order of their first nodes."""
    found, first, which = np.unique(labels, return_index=True, return_inverse=True)
    rank = np.empty(len(found), dtype=np.int64)
    rank[np.argsort(first)] = np.arange(len(found))
    return rank[which]


def test_a_long_chain_in_any_order_is_one_part():
    order = np.random.default_rng(0).permutation(40_000)
    assert component_labels(40_000, order[1:], order[:-1]).max() == 0


def test_a_graph_without_nodes_has_no_parts():
    nothing = np.empty(0, dtype=np.int64)
    assert component_labels(0, nothing, nothing).tolist() == []
