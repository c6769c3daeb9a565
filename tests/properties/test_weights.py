"""What must hold of the weights of any piece."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.job.handling import PartKind, PartMass, piece_weights

masses_kg = st.floats(0.01, 500.0)
places_m = st.tuples(*(st.floats(-5.0, 5.0) for _ in range(3)))


@st.composite
def parts(draw):
    kind = draw(st.sampled_from(PartKind))
    mass_kg = draw(masses_kg)
    over_kg = draw(st.none() | st.floats(0.0, 50.0))
    high_kg = None if over_kg is None else mass_kg + over_kg
    return PartMass(kind, mass_kg, draw(st.none() | places_m), high_kg)


pieces = st.lists(parts(), min_size=1, max_size=8)


@given(pieces, st.floats(0.0, 1.0), st.floats(0.0, 300.0))
def test_every_mass_is_counted_once(told, share, form_kg):
    whole_kg = sum(part.mass_kg for part in told)
    wet_kg = sum(part.mass_kg for part in told if part.kind is PartKind.MIX)
    weights = piece_weights(told, removed_kg=share * wet_kg, turned=True, form_kg=form_kg)
    assert weights.wet_kg + weights.core_kg + weights.items_kg == pytest.approx(whole_kg)
    assert weights.cured_kg + share * wet_kg == pytest.approx(whole_kg)
    assert weights.handling_kg - form_kg >= whole_kg - 1e-9
    assert (weights.note is None) == (weights.handling_kg <= 23.0 * (1.0 + 1e-9))


@given(pieces, places_m)
def test_the_centre_of_gravity_lies_among_the_parts_and_moves_with_them(told, shift_m):
    placed_m = [part.centroid_m for part in told if part.centroid_m is not None]
    centre_m = piece_weights(told).centre_of_gravity_m
    if not placed_m:
        assert centre_m is None
        return
    for along_m, all_m in zip(centre_m, zip(*placed_m, strict=True), strict=True):
        assert min(all_m) - 1e-9 <= along_m <= max(all_m) + 1e-9
    moved = [
        PartMass(one.kind, one.mass_kg, _moved(one.centroid_m, shift_m), one.high_kg)
        for one in told
    ]
    assert piece_weights(moved).centre_of_gravity_m == pytest.approx(
        _moved(centre_m, shift_m), abs=1e-9
    )


def _moved(point_m, shift_m):
    if point_m is None:
        return None
    return tuple(along_m + by_m for along_m, by_m in zip(point_m, shift_m, strict=True))
