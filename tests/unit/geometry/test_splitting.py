"""Solids split apart."""

import numpy as np
import pytest

from takeoff.geometry.edges import edge_table
from takeoff.geometry.mending import mend
from takeoff.geometry.solids import examine_mesh
from takeoff.geometry.splitting import split_solids
from tests.unit.geometry.meshes_made import TOP, box, inverted, plate, together, without


def test_each_solid_takes_its_cavities():
    drawn = together(
        inverted(box((1, 1, 1), (2, 2, 2))),
        box((9, 0, 0), (11, 1, 1)),
        box(high=(3, 3, 3)),
    )
    solids = split_solids(mend(drawn))
    reports = [examine_mesh(solid) for solid in solids]
    assert [report.volume_m3 for report in reports] == pytest.approx([2.0, 26.0])
    assert [report.cavities for report in reports] == [0, 1]
    assert [report.bodies for report in reports] == [1, 2]


def test_a_part_has_the_tables_of_its_own_mesh():
    whole = mend(together(plate(), box((20, 0, 0), (21, 1, 1))))
    for part in split_solids(whole):
        alone = mend(part.mesh)
        assert np.array_equal(part.facets.normals, alone.facets.normals)
        assert np.array_equal(part.edges.left, edge_table(part.mesh).left)
        assert np.array_equal(part.parts.patch, alone.parts.patch)
        assert part.bodies.volume_m3 == pytest.approx(alone.bodies.volume_m3)
        assert examine_mesh(part).through_holes == examine_mesh(alone).through_holes


def test_solids_that_touch_along_an_edge_are_sound_apart():
    for part in split_solids(mend(together(box(), box((1, 1, 0), (2, 2, 1))))):
        assert part.edges.sound
        assert len(part.mesh.points_m) == 8


@pytest.mark.parametrize(
    "drawn",
    [
        pytest.param(box(), id="one solid"),
        pytest.param(together(box(), without(box((3, 0, 0), (4, 1, 1)), TOP)), id="one open"),
        pytest.param(together(box(), box((0.5, 0, 0), (4, 1, 1))), id="overlapping"),
    ],
)
def test_what_is_no_set_of_solids_stays_whole(drawn):
    whole = mend(drawn)
    assert split_solids(whole) == (whole,)
