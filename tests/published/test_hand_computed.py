"""Three weigh sheets computed by hand, with air and liquid polymer, against the whole program.

The arithmetic is ours, written out so that it can be followed with a pocket calculator. Densities
are those of ``takeoff/data/ingredients.toml``: cement 3.15, sand 2.65, dispersion 1.06 (48 % of it
solids), glass fibre 2.70, water 0.9982 kg/L.
"""

from __future__ import annotations

import pytest

import takeoff

BAG = """\
name = "grey-bag"
layer = "backer"
placing = "packed"
bag = { name = "grey-premix", mass = "25 kg", yield = "13.5 L", water = "3.5 L" }
air = { share = "4 %" }

[[dose]]
ingredient = "acrylic-dispersion"
share = "8 %"
basis = "of_dry"

[[dose]]
ingredient = "ar-glass-fibre"
share = "2.5 %"
basis = "of_total"
"""


def masses_of(sheet: takeoff.WeighSheet) -> dict[str, float]:
    """Give the masses by the names on the sheet."""
    return {row["name"]: row["mass_kg"] for row in sheet.to_dict()["ingredients"]}


def test_a_sprayed_face_coat_of_twenty_litres_on_a_scale_of_ten_grams():
    # For 1 kg of cement: sand 1, dispersion 0.06/0.48 = 0.125 with 0.065 of water, water 0.33 in
    # all, 0.33 - 0.065 = 0.265 to add. Litres: 1/3.15 = 0.317460, 1/2.65 = 0.377358,
    # 0.125/1.06 = 0.117925, 0.265/0.9982 = 0.265478, together 1.078221; with 6 % of air
    # 1.078221/0.94 = 1.147044. For 20 L times 20/1.147044 = 17.436122:
    # cement and sand 17.44, dispersion 2.18, water 4.6206 -> 4.62; a tenth of it is held back,
    # 0.46, and 4.16 goes in first. In all 41.68 kg.
    sheet = takeoff.weigh("face-coat-sprayed", volume="20 L", scale="10 g")
    assert masses_of(sheet) == {
        "water": 4.16,
        "acrylic-dispersion": 2.18,
        "white-cement": 17.44,
        "silica-sand": 17.44,
        "held-back water": 0.46,
    }
    document = sheet.to_dict()
    assert document["mass_kg"] == pytest.approx(41.68, abs=1e-9)
    # 5.536508 + 6.581132 + 2.056604 + 4.628331 = 18.802575, over 0.94: 20.002739 L.
    assert document["volume_m3"] == pytest.approx(0.020002739, abs=5e-10)
    # 4.62 + 0.52 x 2.18 = 5.7536 of water; over 17.44: 0.32991.
    assert document["water_total_kg"] == pytest.approx(5.7536, abs=1e-9)
    assert document["water_cement_ratio"] == pytest.approx(0.32991, abs=5e-6)


def test_a_sprayed_backer_of_fifty_kilograms():
    # Fibre 5 % of 50 = 2.5. The other 47.5 kg are 1 + 1 + 0.125 + 0.265 = 2.39 parts: cement and
    # sand 47.5/2.39 = 19.874477, dispersion 2.484310, water to add 5.266736: 4.740063 first and
    # 0.526674 held back. Litres: 6.309358 + 7.499803 + 2.343689 + 5.276233 + 0.925926
    # = 22.355009; with 7 % of air over 0.93: 24.037644.
    sheet = takeoff.weigh("backer-sprayed", mass="50 kg")
    assert masses_of(sheet) == pytest.approx(
        {
            "water": 4.740063,
            "acrylic-dispersion": 2.484310,
            "white-cement": 19.874477,
            "silica-sand": 19.874477,
            "held-back water": 0.526674,
            "ar-glass-fibre": 2.5,
        },
        abs=1e-6,
    )
    document = sheet.to_dict()
    assert document["volume_m3"] == pytest.approx(0.024037644, abs=1e-9)
    assert document["mixer_kg"] == pytest.approx(47.5, abs=1e-9)
    fibre = document["ingredients"][-1]
    # 2.5 of 39.748954 dry and of 19.874477 cement.
    assert fibre["shares"]["of_dry"] == pytest.approx(0.062895, abs=5e-7)
    assert fibre["shares"]["of_cement"] == pytest.approx(0.125789, abs=5e-7)
    assert fibre["shares"]["of_total"] == pytest.approx(0.05, abs=1e-12)


def test_two_bags_with_dispersion_and_fibre(tmp_path):
    # Powder of a bag: 13.5 x 0.96 - 3.5 = 9.46 L. Two bags: premix 50 kg; dispersion 8 % of 50
    # = 4, 2.08 of it water; water 2 x 3.5 x 0.9982 = 6.9874 in all, 4.9074 to add. These
    # 58.9074 kg are 97.5 % of 60.417846; fibre is the rest, 1.510446. Litres: 18.92 + 3.773585
    # + 4.916249 + 0.559424 = 28.169258, over 0.96: 29.342977.
    path = tmp_path / "bag.toml"
    path.write_text(BAG, encoding="utf-8")
    plain = takeoff.weigh(path, bags=2)
    assert masses_of(plain) == pytest.approx(
        {
            "water": 0.9 * 4.9074,
            "acrylic-dispersion": 4.0,
            "grey-premix": 50.0,
            "held-back water": 0.1 * 4.9074,
            "ar-glass-fibre": 1.510446,
        },
        abs=1e-6,
    )
    assert plain.volume_m3 == pytest.approx(0.029342977, abs=1e-9)
    assert plain.to_dict()["water_cement_ratio"] is None
    # On a scale of 10 g: 4.91 of water, 0.49 of it held back; the bags are not weighed.
    assert masses_of(takeoff.weigh(path, bags=2, scale="10 g")) == pytest.approx(
        {
            "water": 4.42,
            "acrylic-dispersion": 4.0,
            "grey-premix": 50.0,
            "held-back water": 0.49,
            "ar-glass-fibre": 1.51,
        },
        abs=1e-12,
    )
