import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.notes import NoteCode
from takeoff.piece.surfaces import ModelKind
from tests.unit.piece.pieces_made import UP, beside, moved, told, turned, turned_section, without
from tests.unit.piece.test_curving import arc


def ring(inner, outer, height, sections=64):
    return turned_section(
        [[inner, 0], [outer, 0], [outer, height], [inner, height], [inner, 0]], sections
    )


def test_the_wall_of_an_opening_is_listed_apart_and_counted_too():
    surfaces = told(ring(200, 500, 80))
    (opening,) = surfaces.openings
    assert opening.wall_area_m2 == pytest.approx(2 * np.pi * 0.2 * 0.08, rel=0.01)
    assert surfaces.opening_wall_m2 == opening.wall_area_m2
    assert opening.width_m == pytest.approx(0.4, rel=0.01)
    assert (opening.id, opening.depth_m, opening.bare) == ("O1", pytest.approx(0.08), False)
    walls = {s.opening: s.area_m2 for s in surfaces.surfaces if s.surface_class == "return"}
    assert walls["O1"] == pytest.approx(opening.wall_area_m2)
    assert walls[None] == pytest.approx(2 * np.pi * 0.5 * 0.08, rel=0.01)


@pytest.mark.parametrize(("height", "surface_class"), [(80, "return"), (150, "upright")])
def test_depth_decides_what_the_wall_is(height, surface_class):
    (wall,) = [s for s in told(ring(200, 500, height)).surfaces if s.opening]
    assert wall.surface_class == surface_class
    assert wall.why.startswith(f"wall of opening O1 {height} mm behind the show face")


def test_openings_are_numbered_by_the_area_of_their_walls():
    small, large = ring(50, 300, 60), ring(90, 300, 60)
    shifted = moved(large, (1000, 0, 0))
    openings = told(beside(small, shifted)).openings
    assert [opening.id for opening in openings] == ["O1", "O2"]
    assert [round(opening.width_m, 2) for opening in openings] == [0.18, 0.1]


def test_a_narrow_opening_is_bare_and_noted():
    surfaces = told(ring(17.5, 300, 40))
    assert surfaces.openings[0].bare
    (note,) = [note for note in surfaces.notes if note.code is NoteCode.OPENING_BARE]
    assert note.text.startswith("opening O1 is 35 mm wide, narrower than 75 mm")
    assert note.where == "O1"
    assert not told(ring(17.5, 300, 40), narrow_opening_m=0.03).openings[0].bare


def test_the_least_width_counts():
    slot = trimesh.creation.box((0.4, 0.06, 0.2))
    panel = trimesh.creation.box((1.0, 0.5, 0.05))
    body = trimesh.boolean.difference([panel, slot])
    mesh = Mesh(np.array(body.vertices), np.array(body.faces, dtype=np.int32))
    (opening,) = told(mesh).openings
    assert opening.width_m == pytest.approx(0.06)


def test_a_splay_is_as_wide_as_its_narrow_end():
    section = [[150, 0], [500, 0], [500, 60], [200, 60], [150, 0]]
    (opening,) = told(turned_section(section)).openings
    assert opening.width_m == pytest.approx(0.3, rel=0.01)


def test_the_eased_arris_of_an_opening_belongs_to_it():
    round_ = arc((210, 50), 10, -90, 0, 8)
    section = [[200, 0], [500, 0], [500, 60], *round_[::-1], [200, 0]]
    surfaces = told(turned_section(section))
    wall = 2 * np.pi * 0.2 * (0.05 + 0.01 * np.pi / 4)
    assert surfaces.opening_wall_m2 == pytest.approx(wall, rel=0.01)
    assert surfaces.openings[0].depth_m == pytest.approx(0.06, rel=0.02)


def test_a_basin_is_no_opening_but_its_waste_is():
    section = [[25, 0], [400, 0], [400, 160], [250, 160], [250, 40], [25, 40], [25, 0]]
    (opening,) = told(turned_section(section)).openings
    assert opening.width_m == pytest.approx(0.05, rel=0.01)
    assert opening.depth_m == pytest.approx(0.04)


def test_a_bay_in_the_outline_is_no_opening():
    box = trimesh.creation.box((1.0, 0.5, 0.05))
    bay = trimesh.creation.box((0.4, 0.3, 0.2))
    bay.apply_translation((0.0, 0.25, 0.0))
    body = trimesh.boolean.difference([box, bay])
    mesh = Mesh(np.array(body.vertices), np.array(body.faces, dtype=np.int32))
    assert told(mesh).openings == ()


def test_an_open_surface_has_its_openings_too():
    sheet = without(ring(200, 500, 80), (0, 0, -1))
    (opening,) = told(sheet, kind=ModelKind.OPEN).openings
    assert opening.wall_area_m2 == pytest.approx(2 * np.pi * 0.2 * 0.08, rel=0.01)


def test_openings_are_found_however_the_piece_lies():
    mesh, show = turned(ring(200, 500, 80), UP)
    (opening,) = told(mesh, show=show).openings
    assert opening.width_m == pytest.approx(0.4, rel=0.01)


def test_a_skylight_in_a_dome_is_an_opening():
    section = [*arc((0, 0), 575, 90, 10, 24), *arc((0, 0), 600, 10, 90, 24)]
    section.append(section[0])
    surfaces = told(turned_section(section))
    (opening,) = surfaces.openings
    assert opening.wall_area_m2 == pytest.approx(
        2 * np.pi * 0.5875 * np.sin(np.radians(10)) * 0.025, rel=0.02
    )
