"""Bag and bucket tell the fibre of a spray station, and weight tells the thickness of a coat."""

from __future__ import annotations

import pytest

from takeoff.errors import MixError
from takeoff.mix.spraying import SprayStation, coat_mass_kg_m2, glass_for_kg_s


@pytest.mark.parametrize("fibre_share", [0.0, 0.03, 0.05, 0.1])
def test_the_glass_for_a_share_gives_that_share(fibre_share):
    glass_kg_s = glass_for_kg_s(slurry_kg_s=0.16, fibre_share=fibre_share)
    assert SprayStation(glass_kg_s, 0.16).fibre_share == pytest.approx(fibre_share)


@pytest.mark.parametrize(
    ("glass_kg_s", "slurry_kg_s"), [(0.01, 0.0), (-0.01, 0.1), (0.01, float("nan"))]
)
def test_no_slurry_is_no_spray(glass_kg_s, slurry_kg_s):
    with pytest.raises(MixError, match="are no spray"):
        SprayStation(glass_kg_s, slurry_kg_s)


@pytest.mark.parametrize(("slurry_kg_s", "fibre_share"), [(0.0, 0.05), (0.1, 1.0), (0.1, -0.1)])
def test_a_share_that_cannot_be_sprayed_is_refused(slurry_kg_s, fibre_share):
    with pytest.raises(MixError, match="is no spray"):
        glass_for_kg_s(slurry_kg_s=slurry_kg_s, fibre_share=fibre_share)


def test_common_practice_no_source_of_a_face_coat_on_the_scale():
    # Face coat 1/8 to 1/4 in, aimed at about 3/16 in; at 2080 kg/m3.
    masses_kg_m2 = [
        coat_mass_kg_m2(density_kg_m3=2080.0, thickness_m=sixteenths * 0.0254 / 16.0)
        for sixteenths in (2, 3, 4)
    ]
    assert masses_kg_m2 == pytest.approx([6.604, 9.906, 13.208])


@pytest.mark.parametrize(("density_kg_m3", "thickness_m"), [(0.0, 0.004), (2000.0, 0.0)])
def test_nothing_is_no_coat(density_kg_m3, thickness_m):
    with pytest.raises(MixError, match="is no coat"):
        coat_mass_kg_m2(density_kg_m3=density_kg_m3, thickness_m=thickness_m)
