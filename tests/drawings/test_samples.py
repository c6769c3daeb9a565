"""The sample drawings against areas and volumes worked out by hand beside them."""

import importlib.util
import tomllib

import pytest

import takeoff
from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"
DRAWINGS = tomllib.loads((SAMPLES / "drawings.toml").read_text(encoding="utf-8"))["drawing"]


def measured(drawing):
    """Measure a sample as its entry says."""
    edges = {edge: f"{depth} mm" for edge, depth in drawing.get("edges", {}).items()}
    kind = drawing["kind"]
    return takeoff.measure(
        SAMPLES / drawing["file"],
        unit=drawing["unit"],
        kind=None if kind == "outline" else kind,
        show=drawing.get("show"),
        edge_depth=drawing.get("edge_depth"),
        edges=edges,
        face_coat="4 mm",
        backer="16 mm",
    )


@pytest.mark.parametrize("drawing", DRAWINGS, ids=[drawing["file"] for drawing in DRAWINGS])
def test_measured_as_worked_out_by_hand(drawing):
    measurement = measured(drawing)
    [piece] = measurement.to_dict()["pieces"]
    area_m2 = measurement.area_m2
    assert area_m2["show_face"] == pytest.approx(drawing["show_face_mm2"] / 1e6, rel=1e-6)
    assert area_m2["return"] == pytest.approx(drawing["return_mm2"] / 1e6, rel=1e-6)
    assert area_m2["upright"] == pytest.approx(drawing["upright_mm2"] / 1e6, rel=1e-6)
    assert piece["opening_wall_m2"] == pytest.approx(drawing["opening_wall_mm2"] / 1e6, rel=1e-6)
    assert piece["arris_m"] == pytest.approx(drawing["arris_mm"] / 1e3, rel=1e-6)
    assert piece["inside_corner_m"] == pytest.approx(drawing["inside_corner_mm"] / 1e3, rel=1e-6)
    volume_m3 = measurement.layer_volume_m3
    assert volume_m3["face_coat"] == pytest.approx(drawing["face_coat_mm3"] / 1e9, rel=1e-6)
    assert volume_m3["backer"] == pytest.approx(drawing["backer_mm3"] / 1e9, rel=1e-6)


def test_the_script_draws_the_drawings_that_are_there(tmp_path):
    spec = importlib.util.spec_from_file_location("make_drawings", SAMPLES / "make_drawings.py")
    script = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(script)
    script.main(tmp_path)
    for name in ("ticket-counter.stl", "hearth-surround.stl"):
        assert (tmp_path / name).read_bytes() == (SAMPLES / name).read_bytes()
    drawn, kept = (
        takeoff.check(folder / "wall-panel.dxf").to_dict()["files"][0]["pieces"]
        for folder in (tmp_path, SAMPLES)
    )
    assert drawn == kept
