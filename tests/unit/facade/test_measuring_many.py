import pytest

from takeoff.facade.measuring_many import measure_all
from takeoff.measuring.request import MeasureRequest
from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"
PANELS = MeasureRequest(edge_depth_m=0.060)


def test_what_cannot_be_measured_stands_beside_what_can(tmp_path):
    files = [SAMPLES / "wall-panel.dxf", "no-such.dxf", SAMPLES / "ticket-counter.stl"]
    measured = measure_all(files, PANELS)
    document = measured.to_dict()
    assert [piece["name"] for piece in document["pieces"]] == ["WALL PANEL"]
    assert [row["kind"] for row in document["errors"]] == ["unreadable", "unit-missing"]
    assert {path.name for path in measured.write(tmp_path)} == {"measure.json", "surfaces.csv"}


def test_areas_add_up_over_drawings():
    panel = SAMPLES / "wall-panel.dxf"
    both = measure_all([panel, panel], PANELS).measurement
    assert both.area_m2["show_face"] == pytest.approx(2 * 2.7)
