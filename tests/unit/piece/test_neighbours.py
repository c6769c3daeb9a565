import pytest

from tests.unit.piece.pieces_made import BACK, box, prism, shuffled, subdivided, told, turned
from tests.unit.piece.test_curving import eased_slab
from tests.unit.piece.test_openings import ring
from tests.unit.piece.test_walls import LEGS, WEDGE


def meets(surfaces):
    return {surface.id: surface.neighbours_m for surface in surfaces.surfaces}


def test_surfaces_meet_along_their_edges():
    found = meets(told(box((0, 0, 0), (2000, 600, 40))))
    lengths = sorted(found["F1"].values())
    assert lengths == pytest.approx([0.6, 0.6, 2.0, 2.0])
    assert "B1" not in found["F1"]
    assert sum(found["R1"].values()) == pytest.approx(2 * (2.0 + 0.04))


def test_it_is_mutual():
    found = meets(told(prism(LEGS, 300), show=BACK))
    for one, beside in found.items():
        assert one not in beside
        for other, length_m in beside.items():
            assert found[other][one] == length_m


def test_parts_of_a_flat_front_meet_at_an_upright_line():
    found = meets(told(prism(LEGS, 300), show=BACK))
    legs = {name: length for name, length in found["R1"].items() if name.startswith("U")}
    assert list(legs.values()) == pytest.approx([0.04, 0.04])
    wedge = meets(told(prism(WEDGE, 500), show=BACK))
    (side,) = [length for name, length in wedge["R1"].items() if name.startswith("U")]
    assert side == pytest.approx(0.11, rel=0.01)


@pytest.mark.parametrize("way", [turned, shuffled, subdivided])
def test_the_lengths_do_not_depend_on_how_the_piece_is_drawn(way):
    mesh, show = way(prism(LEGS, 300), BACK)
    plain = sorted(sum(row.values()) for row in meets(told(prism(LEGS, 300), show=BACK)).values())
    other = sorted(sum(row.values()) for row in meets(told(mesh, show=show)).values())
    assert other == pytest.approx(plain, rel=1e-6)


def test_an_eased_arris_is_a_border_like_a_sharp_one():
    found = meets(told(eased_slab(10, 8), show=BACK))
    assert max(found["F1"].values()) == pytest.approx(1.5)


def test_the_wall_of_an_opening_meets_the_face_round_it():
    surfaces = told(ring(200, 500, 80))
    wall = next(s for s in surfaces.surfaces if s.opening)
    assert set(wall.neighbours_m) == {"F1", "B1"}
    assert wall.neighbours_m["F1"] == pytest.approx(2 * 3.14159 * 0.2, rel=0.01)
