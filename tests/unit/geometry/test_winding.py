"""Facets wound alike."""

import numpy as np
import pytest

from takeoff.geometry.edges import edge_table
from takeoff.geometry.winding import consistent_winding, turned
from tests.unit.geometry.meshes_made import band, box, inverted, plate, together


@pytest.mark.parametrize("seed", range(5))
def test_any_mix_of_turned_facets_is_undone(seed):
    mesh = plate(holes=2)
    facets = np.random.default_rng(seed).random(len(mesh.triangles)) < 0.3
    mixed = inverted(mesh, facets)
    winding = consistent_winding(len(mesh.triangles), edge_table(mixed))
    assert np.array_equal(winding.turned, facets)
    assert edge_table(turned(mixed, winding.turned)).sound


def test_of_each_part_the_fewer_facets_are_turned():
    mixed = inverted(together(box(), box((3, 0, 0), (4, 1, 1))), [*range(9), 12, 13])
    winding = consistent_winding(24, edge_table(mixed))
    assert np.flatnonzero(winding.turned).tolist() == [9, 10, 11, 12, 13]


def test_a_band_with_one_twist_is_one_sided():
    moebius = band(twists=1)
    winding = consistent_winding(len(moebius.triangles), edge_table(moebius))
    assert winding.one_sided.all()
    assert not winding.turned.any()


def test_a_band_with_two_twists_has_two_sides():
    ring = inverted(band(twists=2), [3])
    winding = consistent_winding(len(ring.triangles), edge_table(ring))
    assert not winding.one_sided.any()
    assert np.flatnonzero(winding.turned).tolist() == [3]
