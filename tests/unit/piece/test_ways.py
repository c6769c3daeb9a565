import pytest

from takeoff.mix.mixes import Placing
from takeoff.piece.ways import WayRules, stands


@pytest.mark.parametrize(
    ("depth_m", "beside_m", "placing", "stand"),
    [
        (0.040, 0.020, Placing.POURED, False),
        (0.020, 0.020, Placing.POURED, True),
        (0.015, 0.020, Placing.POURED, True),
        (0.0200005, 0.020, Placing.POURED, True),
        (0.020002, 0.020, Placing.POURED, False),
        (0.860, 0.020, Placing.PACKED, True),
        (0.860, 0.020, Placing.SPRAYED, True),
    ],
)
def test_only_a_poured_backer_needs_layers_beside_a_wall_as_thick_as_it_is_deep(
    depth_m, beside_m, placing, stand
):
    assert stands(depth_m, beside_m, placing) is stand


def test_the_tie_is_a_rule():
    assert stands(0.021, 0.020, Placing.POURED, rules=WayRules(depth_tie_m=0.001))
