"""Defects put right, each kind counted."""

import numpy as np
import pytest

from takeoff.errors import MeshError
from takeoff.geometry.mending import mend
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.mesh_rules import MeshRules
from takeoff.geometry.repairs import Defect
from takeoff.geometry.solids import examine_mesh
from tests.unit.geometry.meshes_made import (
    TOP,
    band,
    box,
    inverted,
    plate,
    sheet,
    skewed,
    soup,
    together,
    with_facets,
    without,
)


def shaken(mesh, by_m):
    random = np.random.default_rng(11)
    moved = mesh.points_m + random.uniform(-by_m, by_m, mesh.points_m.shape)
    return Mesh(moved, mesh.triangles)


def with_fine_lid():
    lid = sheet(width=3.0, depth=3.0, steps=3)
    return together(
        without(box(high=(3, 3, 1)), TOP), Mesh(lid.points_m + np.array([0, 0, 1]), lid.triangles)
    )


PLATE_AREA_M2, PLATE_VOLUME_M3 = 2 * 8 + 12 + 4, 8.0
BOX_AREA_M2, BOX_VOLUME_M3 = 2 * 9 + 4 * 3, 9.0
DAMAGED = {
    "unwelded": (soup(plate()), {}),
    "points off by a tenth of a micrometre": (shaken(soup(plate()), 1e-7), {Defect.GAP: 160}),
    "points off by four micrometres": (shaken(soup(plate()), 2e-6), {Defect.GAP: 160}),
    "some facets turned": (inverted(plate(), [0, 9, 10, 40]), {Defect.WINDING: 4}),
    "inside out": (inverted(plate()), {Defect.INSIDE_OUT: 64}),
    "most facets turned": (
        inverted(plate(), slice(3, None)),
        {Defect.WINDING: 3, Defect.INSIDE_OUT: 64},
    ),
    "facets drawn again": (
        with_facets(plate(), [plate().triangles[i] for i in (3, 3, 8)]),
        {Defect.DUPLICATE: 3},
    ),
    "all drawn twice": (together(plate(), plate()), {Defect.DUPLICATE: 64}),
    "facets without area": (
        with_facets(plate(), [[0, 0, 1], [4, 4, 4]]),
        {Defect.NO_AREA: 2},
    ),
}


@pytest.mark.parametrize("damage", DAMAGED.values(), ids=DAMAGED.keys())
@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed])
def test_the_plate_comes_out_whole(damage, turn):
    drawn, repairs = damage
    mended = mend(turn(drawn))
    report = examine_mesh(mended)
    assert {repair.what: repair.count for repair in mended.repairs} == repairs
    assert (report.closed, report.consistent, report.bodies) == (True, True, 1)
    assert (report.triangles, report.points, report.through_holes) == (64, 32, 1)
    assert report.area_m2 == pytest.approx(PLATE_AREA_M2, rel=1e-5)
    assert report.volume_m3 == pytest.approx(PLATE_VOLUME_M3, rel=1e-5)


def test_a_clean_mesh_passes_untouched():
    mesh = plate()
    mended = mend(mesh, welded=True)
    assert mended.repairs == ()
    assert mended.mesh is mesh


def test_a_lid_divided_finer_than_the_walls_is_closed():
    report = examine_mesh(mend(skewed(with_fine_lid())))
    assert [repair.what for repair in report.repairs] == [Defect.SEAM]
    assert report.area_m2 == pytest.approx(BOX_AREA_M2, rel=1e-12)
    assert report.volume_m3 == pytest.approx(BOX_VOLUME_M3, rel=1e-12)


def test_facets_lower_than_the_rounding_of_the_file_are_bridged():
    mesh = box()
    middle = np.array([[0.5, 2e-8, 1.0]])  # on the front arris of the top, but for rounding
    points = np.concatenate([mesh.points_m, middle])
    facets = [facet for facet in mesh.triangles.tolist() if facet not in ([0, 5, 4], [4, 5, 7])]
    facets += [[0, 5, 8], [0, 8, 4], [4, 5, 7], [4, 8, 5]]  # the last one has hardly any area
    drawn = Mesh(points, np.array(facets, dtype=np.int32))
    assert examine_mesh(mend(drawn)).triangles == 14
    report = examine_mesh(mend(drawn, resolution_m=1e-7))
    assert {repair.what for repair in report.repairs} == {Defect.NO_AREA, Defect.SEAM}
    assert (report.closed, report.triangles) == (True, 14)
    assert report.area_m2 == pytest.approx(6.0, rel=1e-7)


def test_a_one_sided_band_is_reported():
    report = examine_mesh(mend(band(twists=1)))
    assert (report.oriented, report.consistent, report.volume_m3) == (False, False, None)


@pytest.mark.parametrize(
    "nothing",
    [
        pytest.param(Mesh(np.eye(3), np.array([[0, 1, 1]], dtype=np.int32)), id="pinched"),
        pytest.param(Mesh(np.eye(3)[[0, 0, 0]], np.array([[0, 1, 2]], dtype=np.int32)), id="point"),
        pytest.param(
            Mesh(np.array([[0, 0, 0], [1, 1, 1], [2, 2, 2]], float), np.array([[0, 1, 2]])),
            id="line",
        ),
        pytest.param(Mesh(np.eye(3), np.empty((0, 3), dtype=np.int32)), id="empty"),
    ],
)
def test_a_mesh_without_area_is_refused(nothing):
    with pytest.raises(MeshError, match="no facet of it has any area"):
        mend(nothing)


def test_lengths_of_the_rules_are_used():
    gaping = shaken(soup(plate()), 1e-4)
    assert examine_mesh(mend(gaping)).bodies == 64
    wide = MeshRules(weld_m=1e-3, widest_weld_m=1e-3)
    assert examine_mesh(mend(gaping, rules=wide), rules=wide).bodies == 1


def test_mending_twice_changes_nothing():
    for drawn, _ in DAMAGED.values():
        once = mend(drawn)
        again = mend(once.mesh)
        assert again.repairs == ()
        assert np.array_equal(again.mesh.triangles, once.mesh.triangles)
