from dataclasses import replace

import pytest

from takeoff.batching.batches import make_batches
from takeoff.batching.bounds import least_batches
from takeoff.batching.demand import Casting, ClassMass, Coat
from takeoff.batching.lots import Bound
from takeoff.batching.mixers import Mixer
from takeoff.batching.steps import Split
from takeoff.batching.workshops import Workshop
from takeoff.errors import BatchError
from tests.unit.batching.pours_made import PAN, backer_step, face_mix, face_steps


def cast(step, *masses_kg):
    return [
        Casting(f"piece {number}", 1, (Coat(step, (ClassMass("show_face", mass_kg),)),))
        for number, mass_kg in enumerate(masses_kg)
    ]


def batches(castings, shop):
    return make_batches(castings, [range(len(castings))], shop)


def test_batches_of_a_lot_are_of_one_mass_and_the_rest_is_left_over():
    face = replace(backer_step(), split=Split.WHOLE)
    made = batches(cast(face, 60.0, 40.0, 30.0), Workshop((PAN,)))
    assert [round(batch.gross_kg, 6) for batch in made] == [60.0, 70.0]
    assert {batch.mass_kg for batch in made} == {70.3}
    assert [round(batch.leftover_kg, 6) for batch in made] == [10.0, 0.0]


def test_a_face_larger_than_a_batch_is_cut_by_itself():
    face = replace(backer_step(), split=Split.WHOLE)
    made = batches(cast(face, 150.0, 20.0), Workshop((PAN,)))
    assert [[part.casting for part in batch.parts] for batch in made] == [[0], [0], [1]]


def test_overspray_leaves_the_bucket_and_not_the_piece():
    gun, _ = face_steps(face_mix())
    [made] = batches(cast(gun, 45.0), Workshop((PAN,)))
    [part] = made.parts
    assert made.gross_kg == pytest.approx(50.0)
    assert part.end_kg - part.start_kg == pytest.approx(45.0)


@pytest.mark.parametrize(
    ("change", "bound"),
    [
        ({}, Bound.DEMAND),
        ({"masses": (300.0,)}, Bound.MIXER),
        ({"pot_life": 10.0}, Bound.POT_LIFE),
        ({"bag_kg": 20.0, "masses": (200.0,)}, Bound.BAGS),
        ({"masses": (2.0,)}, Bound.LEAST_FILL),
    ],
)
def test_what_bound_a_batch_is_said(change, bound):
    step = backer_step(pot_life=change.get("pot_life", 45.0), bag_kg=change.get("bag_kg"))
    made = batches(cast(step, *change.get("masses", (60.0,))), Workshop((PAN,)))
    assert {batch.bound for batch in made} == {bound}


def test_of_mixers_that_need_as_many_batches_the_least_wasteful_is_taken():
    small = Mixer("pail", 0.01, 0.1, least_fill_m3=0.001)
    large = replace(PAN, least_fill_m3=0.02)
    [made] = batches(cast(backer_step(), 12.0), Workshop((large, small)))
    assert made.mixer is small


def test_a_step_that_no_mixer_makes_is_refused():
    shop = Workshop((replace(PAN, suits=("other",)),))
    with pytest.raises(BatchError, match="no mixer suits backer"):
        batches(cast(backer_step(), 12.0), shop)
    with pytest.raises(BatchError, match="no mixer suits backer"):
        least_batches(cast(backer_step(), 12.0), shop)


def test_a_least_fill_that_goes_off_is_refused():
    slow = replace(backer_step(pot_life=10.0), rate_kg_s=1.0 / 60.0)
    shop = Workshop((replace(PAN, least_fill_m3=0.01),))
    with pytest.raises(BatchError, match=r"least fill of pan .* give a smaller mixer"):
        batches(cast(slow, 12.0), shop)


def test_a_pot_life_spent_on_carrying_is_refused():
    with pytest.raises(BatchError, match="see the product's data sheet"):
        batches(cast(backer_step(pot_life=1.0), 12.0), Workshop((PAN,)))


def test_the_bound_counts_masses_of_one_mix_together_and_faces_unbroken():
    first, second = face_steps(face_mix())
    masses = (ClassMass("show_face", 36.0),)  # 40 kg with its overspray
    castings = [Casting("panel", copy, (Coat(first, masses), Coat(second, masses)))
                for copy in (1, 2)]  # fmt: skip
    # 160 kg at 89.7 kg to a batch are two; each pass alone would take one.
    assert least_batches(castings, Workshop((PAN,))) == 2
    face = replace(backer_step(), split=Split.WHOLE)
    # No two faces of 50 kg go into one batch, though the mass of three would into two.
    assert least_batches(cast(face, 50.0, 50.0, 50.0), Workshop((PAN,))) == 3
