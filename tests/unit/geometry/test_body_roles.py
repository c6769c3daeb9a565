"""Solids, cavities and bodies inside out."""

import numpy as np
import pytest

from takeoff.geometry.bodies import Bodies
from takeoff.geometry.body_relations import BodyRelations
from takeoff.geometry.body_roles import body_roles
from takeoff.geometry.mending import mend
from tests.unit.geometry.meshes_made import box, inverted, together


def roles(volumes, inside, crossing=(), closed=None):
    count = len(volumes)
    bodies = Bodies(
        closed=np.ones(count, dtype=bool) if closed is None else np.array(closed),
        area_m2=np.ones(count),
        volume_m3=np.array(volumes, dtype=float),
        low_m=np.zeros((count, 3)),
        high_m=np.ones((count, 3)),
    )
    rows = (np.array(pairs, dtype=np.int64).reshape(-1, 2) for pairs in (crossing, inside))
    return body_roles(bodies, BodyRelations(*rows))


NESTS = {
    # volumes, pairs inside, cavities, inside out, owners, overlapping
    "two apart": ([1, 2], [], [], [], [0, 1], ()),
    "cavity": ([9, -1], [(1, 0)], [1], [], [0, 0], ()),
    "cavity, all inside out": ([-9, 1], [(1, 0)], [1], [0, 1], [0, 0], ()),
    "solid in solid": ([9, 1], [(1, 0)], [], [], [0, 1], ((0, 1),)),
    "solid in solid, all inside out": ([-9, -1], [(1, 0)], [], [0, 1], [0, 1], ((0, 1),)),
    "solid in cavity": ([9, -4, 1], [(1, 0), (2, 0), (2, 1)], [1], [], [0, 0, 2], ()),
    "inside out in cavity": ([9, -4, -1], [(1, 0), (2, 0), (2, 1)], [1], [2], [0, 0, 2], ()),
    "alone and inside out": ([1, -2], [], [], [1], [0, 1], ()),
    "cavities of two": ([9, 8, -1, -2], [(2, 0), (3, 1)], [2, 3], [], [0, 1, 0, 1], ()),
}


@pytest.mark.parametrize("nest", NESTS.values(), ids=NESTS.keys())
def test_bodies_are_told_by_how_they_lie(nest):
    volumes, inside, cavities, inside_out, owners, overlapping = nest
    found = roles(volumes, inside)
    assert np.flatnonzero(found.cavity).tolist() == cavities
    assert np.flatnonzero(found.inside_out).tolist() == inside_out
    assert found.owner.tolist() == owners
    assert found.overlapping == overlapping


def test_bodies_that_cross_overlap():
    assert roles([1, 2], [], crossing=[(0, 1)]).overlapping == ((0, 1),)


def test_an_open_surface_is_never_inside_out():
    assert not roles([-1.0], [], closed=[False]).inside_out.any()


@pytest.mark.parametrize("turn", [lambda mesh: mesh, inverted])
def test_a_hollow_solid_is_mended_either_way_round(turn):
    hollow = turn(together(box(high=(3, 3, 3)), inverted(box((1, 1, 1), (2, 2, 2)))))
    mended = mend(hollow)
    assert mended.bodies.volume_m3.tolist() == pytest.approx([27.0, -1.0])
    assert mended.roles.cavity.tolist() == [False, True]
