"""The figures behind weights and forces, and the cautions of a bid, each with its source."""

from __future__ import annotations

import pytest

from takeoff.files.mix_file import read_mix
from takeoff.files.shipped import (
    shipped_bid_cautions,
    shipped_cautions,
    shipped_sources,
    shipped_toml,
)
from takeoff.files.shipped_handling import shipped_handling
from takeoff.mix.cautions import cautions_for
from takeoff.units import mass_kg


def test_kilograms_and_pounds_of_the_load_constant_agree_as_far_as_they_are_printed():
    load = shipped_handling().load_constant
    assert load.most_kg == pytest.approx(load.most_lb * mass_kg("1 lb"), abs=0.5 * mass_kg("1 lb"))


def test_every_caution_of_a_bid_cites_a_known_source():
    rows = shipped_toml("bid_cautions.toml").tables["caution"]
    assert {row["source"] for row in rows} <= set(shipped_sources())
    assert all(row.get("seen", True) == shipped_sources()[row["source"]].seen for row in rows)


def test_every_caution_of_a_bid_ends_in_who_decides():
    for caution in shipped_bid_cautions().cautions:
        assert caution.text.endswith(": local code and licensed practice")


@pytest.mark.parametrize(
    "words",
    [
        "Lifting points, suction when a piece leaves its form, and early strength are not computed",
        "Anchors, bonding pads and frames are neither designed nor weighed",
        "Cladding is not checked",
        "At a hearth or stove, clearance to whatever burns",
        "Whether a sealer may touch food is not checked",
    ],
)
def test_a_bid_cautions_of_what_is_not_computed(words):
    shipped, bid = shipped_cautions(), shipped_bid_cautions()
    sentences = cautions_for(
        [read_mix("backer-poured")], (*shipped.cautions, *bid.cautions), closing=bid.closing
    )
    assert any(sentence.startswith(words) for sentence in sentences)
    assert sentences[-1].endswith("follow the safety data sheets and local rules.")
    assert sentences[0] == shipped.cautions[0].sentence
