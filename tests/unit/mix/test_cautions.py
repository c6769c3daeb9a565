"""A caution is shown where it concerns a mix, with its source behind it."""

from __future__ import annotations

from dataclasses import replace

from takeoff.mix.cautions import Caution, cautions_by_mix, cautions_for
from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Placing
from tests.unit.mix.making import FIBRE, OF_TOTAL, mortar

GUARD = Caution("Guard the mixer", "rule 1", seen=True)
GLASS = Caution("Mind the glass", "rule 2", seen=False, roles=frozenset({Role.FIBRE}))
MIST = Caution("Mind the mist", "rule 3", seen=True, placings=frozenset({Placing.SPRAYED}))
ALL = (GUARD, GLASS, MIST)

SPRAYED = mortar(placing=Placing.SPRAYED)
FIBRED = mortar((FIBRE, 0.03, OF_TOTAL), placing=Placing.PACKED)


def test_each_mix_has_its_own():
    assert cautions_for([SPRAYED], ALL, closing="The end.") == (
        "Guard the mixer (rule 1).",
        "Mind the mist (rule 3).",
        "The end.",
    )
    assert cautions_for([FIBRED], ALL, closing="The end.") == (
        "Guard the mixer (rule 1).",
        "Mind the glass (rule 2, from memory).",
        "The end.",
    )


def test_several_mixes_share_one_list():
    sentences = cautions_for([FIBRED, SPRAYED], ALL, closing="The end.")
    assert [sentence.split(" (")[0] for sentence in sentences] == [
        "Guard the mixer",
        "Mind the glass",
        "Mind the mist",
        "The end.",
    ]


def test_a_sheet_of_one_mix_has_those_of_that_mix_alone():
    told = cautions_by_mix(
        [replace(SPRAYED, name="coat"), replace(FIBRED, name="backer")], ALL, closing="The end."
    )
    assert told == {
        "coat": cautions_for([SPRAYED], ALL, closing="The end."),
        "backer": cautions_for([FIBRED], ALL, closing="The end."),
    }


def test_two_mixes_of_one_name_share_their_cautions():
    both = [replace(SPRAYED, name="mix"), replace(FIBRED, name="mix")]
    told = cautions_by_mix(both, ALL, closing="The end.")
    assert told == {"mix": cautions_for(both, ALL, closing="The end.")}
