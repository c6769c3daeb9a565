import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.piece.flats import flats_of
from takeoff.piece.noise import noise_of
from takeoff.piece.noise_rules import NoiseRules
from tests.benchmarks.trays import tray_mesh
from tests.unit.piece.pieces_made import MM, turned_section
from tests.unit.piece.scans_made import fine_box, shaken, sheet

SIZE = (900, 600)
DRAWN = {
    "slab": lambda: fine_box((1200, 600, 60), 20),
    "flutes": lambda: sheet(lambda x, y: 10 * np.abs(np.sin(np.pi * x / 60)), SIZE, 12),
    "waves": lambda: sheet(lambda x, y: 15 * np.sin(x / 40), SIZE, 12),
    "egg box": lambda: sheet(lambda x, y: 20 * np.sin(x / 33) * np.sin(y / 33), SIZE, 12),
    "shallow saddle": lambda: sheet(lambda x, y: x * y / 2000, SIZE, 12),
    "steep saddle": lambda: sheet(lambda x, y: x * y / 500, SIZE, 12),
    "coarse saddle": lambda: sheet(lambda x, y: x * y / 200, SIZE, 15),
    "dome": lambda: turned_section(
        [[600 * np.sin(a), 600 * np.cos(a)] for a in np.radians(range(0, 61, 2))] + [[0, 300]], 90
    ),
    "ring": lambda: Mesh.from_trimesh(trimesh.creation.torus(0.5, 0.2, 64, 48), unit="m"),
    "tray": lambda: Mesh(tray_mesh(60)[0] * MM, tray_mesh(60)[1].astype(np.int32)),
}


@pytest.mark.parametrize("name", DRAWN)
def test_no_drawing_is_a_scan(name):
    flats = flats_of(DRAWN[name]())
    assert len(flats.of_facet) > NoiseRules().least_facet_count
    assert not noise_of(flats).scan


@pytest.mark.parametrize("noise_mm", [0.2, 0.5, 1.0])
@pytest.mark.parametrize("name", ["slab", "shallow saddle", "dome", "tray", "waves"])
def test_a_shaken_one_is(name, noise_mm):
    noise = noise_of(flats_of(shaken(DRAWN[name](), noise_mm)))
    assert noise.scan
    assert noise.ragged_share > 0.25
    assert noise.unrest_ratio > 0.8


def test_a_coarse_mesh_is_never_a_scan():
    coarse = fine_box((600, 300, 60), 30)
    assert len(coarse.triangles) < 2000
    noise = noise_of(flats_of(shaken(coarse, 0.5)))
    assert (noise.ragged_share, noise.unrest_ratio, noise.scan) == (0.0, 0.0, False)


def test_a_saddle_turns_both_ways_but_is_at_rest():
    noise = noise_of(flats_of(DRAWN["steep saddle"]()))
    assert noise.ragged_share > 0.5
    assert noise.unrest_ratio < 0.1
