import pytest
import trimesh

import takeoff
from takeoff.errors import MeshError
from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"


def test_a_closed_solid_is_counted_and_measured():
    found = takeoff.examine(SAMPLES / "hearth-surround.stl", "in")
    assert isinstance(found, takeoff.Examination)
    assert (found.triangles, found.edges, found.bodies, found.closed) == (28, 42, 1, True)
    assert found.patches == 10
    assert found.volume_m3 == pytest.approx(1056 * 6 * 0.0254**3)
    assert found.area_m2 == pytest.approx((2 * 1056 + 1440) * 0.0254**2)


def test_an_open_surface_has_no_volume():
    found = takeoff.examine(SAMPLES / "ticket-counter.stl", unit="mm")
    assert (found.closed, found.volume_m3) == (False, None)
    assert found.pieces[0].report.through_holes == 1


def test_area_and_volume_agree_with_trimesh(tmp_path):
    solid = trimesh.creation.annulus(0.2, 0.5, 0.1)
    path = tmp_path / "ring.stl"
    solid.export(path)
    plain = trimesh.load_mesh(path)
    found = takeoff.examine(path, unit="m")
    assert found.area_m2 == pytest.approx(plain.area, rel=1e-9)
    assert found.volume_m3 == pytest.approx(plain.volume, rel=1e-9)


def test_outlines_are_no_meshes():
    with pytest.raises(MeshError, match="is an outline, no mesh; takeoff check"):
        takeoff.examine(SAMPLES / "wall-panel.dxf")
