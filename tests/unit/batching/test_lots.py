import pytest

from takeoff.batching.lots import Bound, split_equally
from takeoff.batching.mixers import Mixer, PotLife
from takeoff.errors import BatchError

DENSITY_KG_M3 = 2000.0


def split(gross_kg, *, capacity_m3=0.050, residue_kg=0.0, **options):
    mixer = Mixer("pan", capacity_m3, residue_kg)
    return split_equally(gross_kg, density_kg_m3=DENSITY_KG_M3, mixer=mixer, **options)


@pytest.mark.parametrize(
    ("gross_kg", "count", "bound"),
    [
        pytest.param(60.0, 1, Bound.DEMAND, id="one batch does"),
        pytest.param(100.0, 1, Bound.DEMAND, id="the mixer exactly full"),
        pytest.param(100.1, 2, Bound.MIXER, id="just too much for one"),
        pytest.param(250.0, 3, Bound.MIXER, id="three"),
    ],
)
def test_the_mixer_bounds_the_batches(gross_kg, count, bound):
    lot = split(gross_kg)
    assert (lot.batch_count, lot.bound) == (count, bound)
    assert lot.batch_kg == pytest.approx(gross_kg / count)


def test_the_residue_takes_room_and_is_weighed_each_time():
    lot = split(100.0, residue_kg=1.0)
    assert lot.batch_count == 2
    assert lot.batch_kg == pytest.approx(51.0)


def test_the_pot_life_bounds_the_batches():
    # (25 min less 20 %, less 1 min) x 2 kg/min x 1 pair of hands = 38 kg
    pot_life = PotLife(1500.0, 0.2, 60.0, 2.0 / 60.0, hands=1)
    lot = split(100.0, pot_life=pot_life)
    assert (lot.batch_count, lot.bound) == (3, Bound.POT_LIFE)


def test_batches_are_rounded_up_to_the_scale_and_what_is_over_is_said():
    lot = split(100.1, division_kg=0.5)
    assert lot.batch_kg == pytest.approx(50.5)
    assert lot.leftover_kg == pytest.approx(0.9)


def test_rounding_up_never_overfills_the_mixer():
    # 33.33 L of room hold 66.66 kg; with a 1 kg scale only 66 kg of it can be weighed.
    lot = split(133.0, capacity_m3=0.03333, division_kg=1.0)
    assert lot.batch_count == 3
    assert lot.batch_kg <= 66.66


def test_a_mixer_full_of_residue_is_refused():
    with pytest.raises(BatchError, match="no more than the 120 kg left in it"):
        split(10.0, residue_kg=120.0)


def test_a_pot_life_spent_on_carrying_is_refused():
    with pytest.raises(BatchError, match=r"leaves no time after 10 min .* data sheet"):
        split(10.0, pot_life=PotLife(600.0, 0.2, 600.0, 0.05, hands=1))
