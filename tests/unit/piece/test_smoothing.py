import numpy as np
import pytest

from takeoff.errors import SurfaceError
from takeoff.geometry.facets import facets_of
from takeoff.notes import NoteCode
from takeoff.piece.flats import flats_of
from takeoff.piece.smoothing import smooth_scan
from tests.unit.piece.pieces_made import UP, areas_mm2, told
from tests.unit.piece.scans_made import fine_box, shaken, sheet

SLAB = fine_box((1200, 600, 60), 20)


@pytest.mark.parametrize("noise_mm", [0.2, 0.5, 1.0])
@pytest.mark.parametrize("size_mm", [(1200, 600, 60), (800, 400, 300)])
def test_a_scanned_piece_comes_out_within_the_error_stated(size_mm, noise_mm):
    drawn = fine_box(size_mm, 15)
    wanted = np.array(areas_mm2(drawn))
    found = told(shaken(drawn, noise_mm))
    (note,) = [note for note in found.notes if note.code is NoteCode.SCAN]
    assert "areas and volumes may be off by about 2%" in note.text
    off = np.array([area / 1e-6 for area in found.area_m2.values()]) - wanted
    assert np.abs(off).max() < 0.002 * wanted.sum()


def test_smoothing_takes_off_the_area_that_noise_adds():
    drawn_m2 = facets_of(SLAB).area_m2.sum()
    scan = shaken(SLAB, 1.5)
    smooth = smooth_scan(flats_of(scan))
    assert facets_of(scan).area_m2.sum() / drawn_m2 > 1.01
    assert facets_of(smooth.mesh).area_m2.sum() / drawn_m2 == pytest.approx(1.0, abs=1e-3)


def test_smoothing_keeps_the_arrises():
    smooth = smooth_scan(flats_of(shaken(SLAB, 0.5))).mesh
    corners_m = smooth.points_m[[np.argmin(smooth.points_m @ w) for w in np.array([[1, 1, 1]])]]
    assert corners_m == pytest.approx(np.zeros((1, 3)), abs=2e-3)


def test_a_curve_keeps_its_area():
    drawn = sheet(lambda x, y: np.sqrt(800**2 - (x - 450) ** 2), (900, 600), 12)
    smooth = smooth_scan(flats_of(shaken(drawn, 0.5))).mesh
    assert facets_of(smooth).area_m2.sum() == pytest.approx(
        facets_of(drawn).area_m2.sum(), rel=0.003
    )


def test_a_scan_that_is_mostly_noise_is_refused():
    with pytest.raises(SurfaceError, match=r"a scan whose noise adds \d+% to its area, too much"):
        told(shaken(fine_box((600, 300, 60), 8), 2.5), show=UP)
