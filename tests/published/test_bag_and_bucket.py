"""Bag and bucket of a spray station.

The method is that of the GRCA methods of testing and of PCI MNL-130, from memory: a bag held for
15 s, four times, a bucket for 30 s, twice. The numbers are ours.
"""

from __future__ import annotations

import pytest

from takeoff.job.weigh_words import read_rate_kg_s
from takeoff.mix.spraying import SprayStation


@pytest.mark.parametrize(
    ("bag", "bucket", "printed_glass_g_min", "printed_slurry_kg_min", "printed_percent"),
    [
        pytest.param(
            "125 g in 15 s", "4.75 kg in 30 s", 500.0, 9.5, 5.0, id="GRC-04 method from memory"
        )
    ],
)
def test_fibre_of_total(bag, bucket, printed_glass_g_min, printed_slurry_kg_min, printed_percent):
    station = SprayStation(read_rate_kg_s(bag), read_rate_kg_s(bucket))
    assert 60e3 * station.glass_kg_s == pytest.approx(printed_glass_g_min, abs=1e-9)
    assert 60.0 * station.slurry_kg_s == pytest.approx(printed_slurry_kg_min, abs=1e-9)
    assert 100.0 * station.fibre_share == pytest.approx(printed_percent, abs=1e-9)
