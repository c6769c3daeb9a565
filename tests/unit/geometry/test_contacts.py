"""Bodies that touch are joined."""

import numpy as np
import pytest

from takeoff.geometry import contacts
from takeoff.geometry.mending import mend
from takeoff.geometry.repairs import Defect
from takeoff.geometry.solids import examine_mesh
from tests.unit.geometry.meshes_made import box, skewed, together

TRAY = together(  # a floor with four walls on it, each a board
    box((0, 0, 0), (3, 3, 0.02)),
    box((0, 0, 0.02), (3, 0.02, 0.2)),
    box((0, 2.98, 0.02), (3, 3, 0.2)),
    box((0, 0.02, 0.02), (0.02, 2.98, 0.2)),
    box((2.98, 0.02, 0.02), (3, 2.98, 0.2)),
)
TRAY_AREA_M2 = 9 + 4 * 3 * 0.2 + (9 - 2.96**2) + 2.96**2 + 4 * 2.96 * 0.18
TRAY_VOLUME_M3 = 9 * 0.02 + (9 - 2.96**2) * 0.18

CASES = {
    "in the middle": (together(box(high=(3, 3, 1)), box((1, 1, 1), (2, 2, 2))), 34.0, 10.0, 1),
    "in a corner": (together(box(high=(3, 3, 1)), box((0, 0, 1), (1, 1, 2))), 34.0, 10.0, 1),
    "over the edge": (together(box(high=(3, 3, 1)), box((2, 1, 1), (4, 2, 2))), 38.0, 11.0, 1),
    "like bricks": (together(box(high=(2, 1, 1)), box((1, 1, 0), (3, 2, 1))), 18.0, 4.0, 1),
    "a tray of boards": (TRAY, TRAY_AREA_M2, TRAY_VOLUME_M3, 8),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
@pytest.mark.parametrize("turn", [lambda mesh: mesh, skewed])
def test_touching_bodies_become_one(case, turn):
    mesh, area_m2, volume_m3, count = case
    report = examine_mesh(mend(turn(mesh)))
    assert (report.bodies, report.closed) == (1, True)
    assert report.area_m2 == pytest.approx(area_m2, rel=1e-9)
    assert report.volume_m3 == pytest.approx(volume_m3, rel=1e-9)
    shared = [repair.count for repair in report.repairs if repair.what is Defect.CONTACT]
    assert shared == [count]


@pytest.mark.parametrize(
    "other",
    [
        pytest.param(box((1.5, 0, 0), (2, 1, 1)), id="apart"),
        pytest.param(box((1, 1, 0), (2, 2, 1)), id="on an edge"),
        pytest.param(box((1, 1, 1), (2, 2, 2)), id="on a corner"),
    ],
)
def test_bodies_that_share_no_face_stay_two(other):
    report = examine_mesh(mend(together(box(), other)))
    assert (report.bodies, report.repairs) == (2, ())
    assert report.volume_m3 == pytest.approx(1.0 + np.ptp(other.points_m, axis=0).prod())


def test_a_gap_of_a_few_micrometres_is_a_contact():
    report = examine_mesh(mend(together(box(), box((1 + 4e-6, 0.25, 0.25), (2, 0.75, 0.75)))))
    assert report.bodies == 1
    assert report.area_m2 == pytest.approx(6.0 + 4 * 0.5, rel=1e-5)


def test_too_many_pairs_are_not_looked_at_and_give_no_volume(monkeypatch):
    monkeypatch.setattr(contacts, "_MOST_WORK", 1)
    report = examine_mesh(mend(CASES["in the middle"][0]))
    assert (report.bodies, report.unexamined, report.volume_m3) == (2, 1, None)
