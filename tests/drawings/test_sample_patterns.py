"""Every surface of every sample lies in the plane at its true size."""

from pathlib import Path

import pytest
import shapely

import takeoff
from takeoff.piece.developing import Development, patterns_of

SAMPLES = Path(__file__).parents[2] / "samples" / "ferry-hall"


@pytest.mark.parametrize(
    ("drawing", "asked", "largest_m"),
    [
        ("ticket-counter.stl", {"unit": "mm", "kind": "open", "show": "up"}, (2.4, 0.65)),
        ("hearth-surround.stl", {"unit": "in", "show": "front"}, (1.2192, 1.0668)),
        ("wall-panel.dxf", {"edge_depth": "60 mm"}, (1.2, 2.7)),
    ],
)
def test_the_patterns_of_the_samples_have_the_areas_measured(drawing, asked, largest_m):
    [piece] = takeoff.measure(str(SAMPLES / drawing), **asked).pieces
    patterns = patterns_of(piece.surfaces)
    assert [one.id for one in patterns] == [one.id for one in piece.surfaces.surfaces]
    for pattern in patterns:
        polygons = [
            shapely.Polygon(sheet.outer_m, [hole.points_m for hole in sheet.holes])
            for sheet in pattern.sheets
        ]
        assert pattern.development is Development.FLAT
        assert sum(one.area for one in polygons) == pytest.approx(pattern.area_m2, rel=1e-6)
    low_x, low_y, high_x, high_y = shapely.Polygon(patterns[0].sheets[0].outer_m).bounds
    assert (high_x - low_x, high_y - low_y) == pytest.approx(largest_m, rel=1e-6)
