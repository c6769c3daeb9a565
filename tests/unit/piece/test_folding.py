import numpy as np
import pytest

from takeoff.errors import OutlineError, SurfaceError
from takeoff.geometry.edges import edge_table
from takeoff.geometry.facets import facets_of
from takeoff.geometry.outlines import Outline, Side, rectangle
from takeoff.notes import NoteCode
from takeoff.piece.folding import fold


def loop_of(corners, *, first=1):
    """Make a loop of straight sides from its corners."""
    ring = np.array([*corners, corners[0]], dtype=float)
    return tuple(Side(f"E{first + k}", ring[k : k + 2], np.zeros(1)) for k in range(len(corners)))


def area_m2(mesh, *, facing):
    """Area of the facets that face a direction."""
    facets = facets_of(mesh)
    return float(facets.area_m2[facets.normals @ np.array(facing, dtype=float) > 0.999].sum())


def test_every_edge_gets_its_wall_facing_out():
    mesh = fold(rectangle(2.0, 1.0), edge_depth_m=0.04).mesh
    assert area_m2(mesh, facing=(0, 0, 1)) == pytest.approx(2.0)
    for facing, length_m in (((0, -1, 0), 2), ((0, 1, 0), 2), ((1, 0, 0), 1), ((-1, 0, 0), 1)):
        assert area_m2(mesh, facing=facing) == pytest.approx(0.04 * length_m)
    assert not edge_table(mesh).same_way.any()


def test_a_flat_slab_has_no_walls():
    mesh = fold(rectangle(2.0, 1.0), edge_depth_m=0.0).mesh
    assert facets_of(mesh).area_m2.sum() == pytest.approx(2.0)


def test_walls_of_unequal_depth_share_the_edge_they_both_reach():
    folded = fold(rectangle(2.0, 1.0), edge_depth_m=0.04, depths_m={"E2": 0.3, "E3": 0.0})
    facets = facets_of(folded.mesh)
    walls_m2 = 2 * 0.04 + 1 * 0.3 + 1 * 0.04
    assert facets.area_m2.sum() == pytest.approx(2.0 + walls_m2)
    edges = edge_table(folded.mesh)
    lone = np.linalg.norm(
        folded.mesh.points_m[edges.open_start] - folded.mesh.points_m[edges.open_end], axis=1
    )
    # Feet of the walls, the bare edge, and where a deep wall goes on beside a shallow or bare one.
    assert lone.sum() == pytest.approx(2 + 1 + 1 + 2 + (0.3 - 0.04) + 0.3 + 0.04)


def test_an_opening_gets_its_wall_facing_into_it():
    hole = loop_of([(0.5, 0.3), (0.5, 0.7), (1.0, 0.7), (1.0, 0.3)], first=5)
    folded = fold(Outline(rectangle(2.0, 1.0).outer, (hole,)), edge_depth_m=0.06)
    assert area_m2(folded.mesh, facing=(1, 0, 0)) == pytest.approx((1.0 + 0.4) * 0.06)
    assert folded.notes == ()


def test_a_narrow_opening_is_left_bare_and_noted():
    hole = loop_of([(0.5, 0.3), (0.5, 0.35), (1.0, 0.35), (1.0, 0.3)], first=5)
    outline = Outline(rectangle(2.0, 1.0).outer, (hole,))
    folded = fold(outline, edge_depth_m=0.06)
    assert [folded.depth_m[f"E{k}"] for k in range(5, 9)] == [0.0] * 4
    [note] = folded.notes
    assert note.code is NoteCode.OPENING_BARE
    assert "the opening at E5 is 50 mm wide, narrower than 75 mm" in note.text
    told = fold(outline, edge_depth_m=0.06, depths_m={f"E{k}": 0.06 for k in range(5, 9)})
    assert told.depth_m["E5"] == 0.06


def test_arcs_are_followed_within_the_chord():
    half = Side("E1", np.array([[0.0, 0.0], [1.0, 0.0]]), np.array([1.0]))
    chord = Side("E2", np.array([[1.0, 0.0], [0.0, 0.0]]), np.array([0.0]))
    mesh = fold(Outline((half, chord), ()), edge_depth_m=0.1, depths_m={"E2": 0.0}).mesh
    walls_m2 = facets_of(mesh).area_m2.sum() - area_m2(mesh, facing=(0, 0, 1))
    assert walls_m2 == pytest.approx(np.pi / 2 * 0.1, rel=1e-4)


def test_an_opening_on_the_edge_is_refused():
    notch = loop_of([(0.5, 0.0), (0.5, 0.4), (1.0, 0.4), (1.0, 0.0)], first=5)
    with pytest.raises(OutlineError, match="draw a notch as part of the outline"):
        fold(Outline(rectangle(2.0, 1.0).outer, (notch,)), edge_depth_m=0.06)


def test_a_wall_deeper_than_the_outline_is_doubted():
    [note] = fold(rectangle(2.0, 1.0), edge_depth_m=0.06, depths_m={"E2": 60.0}).notes
    assert (note.code, note.where) == (NoteCode.SIZE_ABSURD, "E2")


@pytest.mark.parametrize(
    ("depth_m", "depths_m", "message"),
    [
        (0.04, {"E9": 0.0}, "there is no edge E9; the outline has E1 to E4"),
        (-0.04, {}, r"the depth of the edges is -0.04 m; give 0 or more"),
        (0.04, {"E2": float("nan")}, "the depth of E2 is nan"),
    ],
)
def test_a_wrong_depth_is_refused(depth_m, depths_m, message):
    with pytest.raises(SurfaceError, match=message):
        fold(rectangle(2.0, 1.0), edge_depth_m=depth_m, depths_m=depths_m)
