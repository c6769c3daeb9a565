from dataclasses import replace
from itertools import pairwise

import pytest

from takeoff.batching.crews import crews_of
from takeoff.batching.demand import Casting, ClassMass, Coat
from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import PlacingRules
from takeoff.batching.planning import SearchRules, plan_pour
from takeoff.batching.risk import RiskRules, replayed
from takeoff.batching.steps import FreshMix, Step
from takeoff.batching.workshops import Workshop
from tests.unit.batching.pours_made import random_pour, twelve_panels

GREEDY = SearchRules(solver=False)


def full_batch(reserve):
    """One batch as large as the reserve allows: 30 min of pot life, one of them carrying."""
    usable_s = 1800.0 * (1.0 - reserve) - 60.0
    step = Step("backer", FreshMix("b", 2000.0, 1800.0), rate_kg_s=0.1)
    slab = Casting("slab", 1, (Coat(step, (ClassMass("show_face", 0.1 * usable_s),)),))
    shop = Workshop(
        (Mixer("vat", 1.0, 0.0),), hands=2, rules=PlacingRules(pot_reserve_share=reserve)
    )
    plan = plan_pour([slab], shop, rules=GREEDY)
    assert plan.batch_count == 1
    return plan


@pytest.mark.parametrize("reserve", [0.1, 0.2, 0.3])
@pytest.mark.parametrize("spread", [0.10, 0.15, 0.20])
def test_replays_of_one_batch_agree_with_the_formula(reserve, spread):
    rules = RiskRules(run_count=20_000, placing_spread_share=spread)
    risk = replayed(full_batch(reserve), rules=rules)
    # Four standard errors of a share of 20 000 replays, a quarter of one in a hundred at the least.
    chance = risk.fullest_share
    allowed = max(0.0025, 4.0 * (chance * (1.0 - chance) / 20_000) ** 0.5)
    assert risk.gone_off_share == pytest.approx(chance, abs=allowed)


@pytest.mark.parametrize("seed", [1, 4, 9])
def test_without_spread_nothing_goes_wrong(seed):
    castings, shop = random_pour(seed)
    plan = plan_pour(castings, shop, rules=GREEDY)
    still = RiskRules(run_count=1, placing_spread_share=0.0, mixing_spread_share=0.0)
    risk = replayed(plan, rules=still)
    assert (risk.gone_off_share, risk.joint_share, risk.cover_share) == (0.0, 0.0, 0.0)


def test_the_same_seed_says_the_same_and_more_spread_says_worse():
    plan = full_batch(0.1)
    calm, wild = (
        replayed(plan, rules=RiskRules(run_count=500, placing_spread_share=spread))
        for spread in (0.05, 0.3)
    )
    again = replayed(plan, rules=RiskRules(run_count=500, placing_spread_share=0.05))
    assert calm == again
    assert calm.gone_off_share < wild.gone_off_share


def test_joints_and_covers_without_reserve_are_at_risk():
    castings, shop = twelve_panels()
    tight = replace(shop, rules=replace(shop.rules, window_reserve_share=0.0))
    plan = plan_pour(castings, tight, rules=GREEDY)
    kept = plan_pour(castings, shop, rules=GREEDY)
    rules = RiskRules(run_count=300, placing_spread_share=0.3, mixing_spread_share=0.3)
    assert replayed(kept, rules=rules).cover_share <= replayed(plan, rules=rules).cover_share + 0.05


@pytest.mark.parametrize("seed", range(12))
def test_nobody_does_two_things_at_once(seed):
    castings, shop = random_pour(seed)
    plan = plan_pour(castings, shop, rules=GREEDY)
    for day in plan.days:
        busy = {}
        for poured, crew in zip(day.batches, crews_of(day, shop.hands), strict=True):
            assert len(set(crew.places)) == poured.batch.step.workers
            busy.setdefault(crew.mixes, []).append((poured.mix_start_s, poured.mix_end_s))
            for hand in crew.places:
                busy.setdefault(hand, []).append((poured.place_start_s, poured.brush_end_s))
        assert set(busy) <= set(range(1, shop.hands + 1))
        for spans in busy.values():
            spans.sort()
            for (_, end_s), (start_s, _) in pairwise(spans):
                assert end_s <= start_s
