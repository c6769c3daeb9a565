import numpy as np
import pytest
import shapely

import takeoff
from takeoff.geometry.border_edges import open_border
from takeoff.geometry.skin_borders import dammed_ends
from takeoff.geometry.skin_edges import skin_edges
from tests.drawings.layers import shapes


def v_grooves(count, *, pitch=60.0, margin=30.0):
    line = [(0.0, 0.0)]
    for k in range(count):
        at = margin + pitch * k
        line += [(at - 5.0, 0.0), (at, -10.0), (at + 5.0, 0.0)]
    return [*line, (2 * margin + pitch * (count - 1), 0.0)]


def flutes(count, *, pitch=60.0, margin=30.0):
    line = [(0.0, 0.0)]
    for k in range(count):
        line += shapes.arc((margin + pitch * k, 0.0), 12.0, (np.pi, 2 * np.pi), 16).tolist()
    return [*line, (2 * margin + pitch * (count - 1), 0.0)]


def layer_mm2(line, thickness):
    """Area within a thickness below a section, cut off at the upright planes at its ends."""
    (left, _), (right, _) = line[0], line[-1]
    below = shapely.Polygon([*line, (right, -500.0), (left, -500.0)])
    return shapely.LineString(line).buffer(thickness, quad_segs=64).intersection(below).area


def total_mm3(line, length, least):
    mesh = shapes.mesh_of(shapes.divided(shapes.extrude(line, length), least))
    laid = takeoff.layer_volumes(mesh, face_coat="4 mm", backer="20 mm")
    return sum(laid.volume_m3.values()) * 1e9


@pytest.mark.parametrize("least", [5_000, 20_000, 80_000])
def test_layers_behind_grooves_end_square_at_their_open_ends(least):
    line = v_grooves(8)
    exact = 100.0 * layer_mm2(line, 24.0)
    assert total_mm3(line, 100.0, least) == pytest.approx(exact, rel=1e-3)


@pytest.mark.parametrize("margin", [14.0, 30.0])
@pytest.mark.parametrize("least", [0, 5_000])
def test_layers_behind_flutes_do_not_pass_the_plane_of_a_border_beside_them(margin, least):
    line = flutes(8, margin=margin)
    exact = 600.0 * layer_mm2(line, 24.0)
    assert total_mm3(line, 600.0, least) == pytest.approx(exact, rel=3e-3)


def dams_of(part):
    skin = skin_edges(shapes.mesh_of(part))
    ends = open_border(skin.edges)
    return skin, ends, dammed_ends(skin, ends)


def test_a_panel_is_dammed_all_round_and_a_tray_has_a_rim():
    assert dams_of(shapes.extrude(v_grooves(2), 300.0))[2].all()
    assert not dams_of(shapes.tray(600, 400, 50))[2].any()


def test_a_trough_is_dammed_at_its_ends_alone():
    skin, ends, dams = dams_of(shapes.extrude([(0, -60), (0, 0), (200, 0), (200, -60)], 900.0))
    along_m = skin.mesh.points_m[ends.end] - skin.mesh.points_m[ends.start]
    assert dams.tolist() == (along_m[:, 1] == 0.0).tolist()


def test_a_tube_has_rims_alone():
    assert not dams_of(shapes.revolve([(100, 0), (100, 300)], 24))[2].any()
