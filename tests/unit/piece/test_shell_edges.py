import numpy as np
import pytest

from takeoff.piece.surfaces import SurfaceClass
from tests.unit.piece.pieces_made import BACK, UP, areas_mm2, prism, told, turned_section
from tests.unit.piece.test_curving import arc


def vault(radius, thickness, half_deg, ease=0.0, steps=96):
    """Section of a barrel vault, both long edges square to it, all four arrises eased."""
    half = np.radians(half_deg)
    outer, inner = (
        np.degrees(np.arcsin(ease / abs(r))) for r in (radius - ease, radius - thickness + ease)
    )
    large = arc((0, 0), radius, -(half_deg - outer), half_deg - outer, steps)
    small = arc((0, 0), radius - thickness, half_deg - inner, -(half_deg - inner), steps)
    if not ease:
        return [*large[::-1], *small[::-1]][::-1]
    right = []
    for reach, turn, first, last in (
        (radius - ease, outer, half_deg - outer, half_deg + 90),
        (radius - thickness + ease, inner, half_deg + 90, half_deg - inner + 180),
    ):
        angle = half - np.radians(turn)
        right += arc((reach * np.sin(angle), reach * np.cos(angle)), ease, first, last, 8)
    left = [[-x, y] for x, y in right[::-1]]
    return [*large[1:-1], *right, *small[1:-1], *left]


@pytest.mark.parametrize("half_deg", [30, 50, 60, 75, 80, 90])
def test_every_edge_of_a_vault_is_a_return(half_deg):
    mesh = prism(vault(400, 25, half_deg), 800)
    step = np.sin(np.radians(half_deg) / 96) / (np.radians(half_deg) / 96)
    angle = 2 * np.radians(half_deg)
    ring = angle * (400**2 - 375**2) / 2 * np.sin(angle / 96) / (angle / 96)
    wanted = [angle * 400 * 800 * step, 2 * ring + 2 * 25 * 800, 0, angle * 375 * 800 * step]
    assert areas_mm2(mesh, show=BACK) == pytest.approx(wanted, abs=sum(wanted) / 1000)


@pytest.mark.parametrize("half_deg", [60, 80])
def test_an_eased_edge_is_a_return_too(half_deg):
    mesh = prism(vault(800, 25, half_deg, ease=3.0), 800)
    edges = 2 * 2 * np.radians(half_deg) * (800**2 - 775**2) / 2 + 2 * 25 * 800
    areas = areas_mm2(mesh, show=BACK)
    assert areas[1] == pytest.approx(edges, rel=0.06)
    assert areas[2] == 0.0


def test_the_rim_of_a_dome_is_a_return():
    section = [*arc((0, 0), 575, 0, 90, 24), *arc((0, 0), 600, 90, 0, 24)]
    dome = turned_section(section)
    rims = [s for s in told(dome, show=UP).surfaces if s.surface_class is SurfaceClass.RETURN]
    assert sum(rim.area_m2 for rim in rims) == pytest.approx(np.pi * (0.6**2 - 0.575**2), rel=0.002)
    assert [rim.depth_m for rim in rims] == pytest.approx([0.025] * len(rims), rel=0.03)


def test_what_is_thicker_than_a_shell_has_no_such_edge():
    _, returns, uprights, back = areas_mm2(prism(vault(400, 90, 60), 800), show=BACK)
    ends = 2 * 2 * np.radians(60) * (400**2 - 310**2) / 2
    assert returns + uprights == pytest.approx(ends, rel=0.002)
    assert uprights > 0
    assert back == pytest.approx(2 * np.radians(60) * 310 * 800 + 2 * 90 * 800, rel=0.002)


def test_the_rim_of_a_flat_shell_is_back():
    shell = [[0, 0], [20, 0], [20, 60], [380, 60], [380, 0], [400, 0], [400, 80], [0, 80]]
    areas = areas_mm2(prism(shell, 300), show=BACK)
    assert areas[3] == pytest.approx(300 * (2 * 20 + 2 * 60 + 360))
