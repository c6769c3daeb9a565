"""Pours that cannot be planned are told why, and the least change that would do does."""

from dataclasses import replace

import pytest

from takeoff.batching.demand import Casting, ClassMass, Coat
from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import DayRules, PlacingRules
from takeoff.batching.planning import SearchRules
from takeoff.batching.pour_rules import Measure, Rule
from takeoff.batching.pouring import plan_or_findings
from takeoff.batching.remedies import RemedyRules, day_remedies, remedies
from takeoff.batching.steps import FreshMix, Split, Step
from takeoff.batching.workshops import Workshop
from tests.unit.batching.pours_made import MIN_S, PAN, backer_step, face_mix, panel, twelve_panels

GREEDY = SearchRules(solver=False)
NO_RESERVE = PlacingRules(window_reserve_share=0.0)


def casting(step, mass_kg, piece="slab"):
    return Casting(piece, 1, (Coat(step, (ClassMass("show_face", mass_kg),)),))


def findings(castings, shop):
    outcome = plan_or_findings(castings, shop, search=GREEDY)
    assert outcome.plan is None
    return {finding.rule: finding for finding in outcome.findings}


def test_a_mix_that_no_mixer_suits():
    shop = Workshop((replace(PAN, suits=("other",)),))
    finding = findings([casting(backer_step(), 20.0)], shop)[Rule.SUITS]
    assert finding.fix == "add backer to the suits of a [[mixer]] in the shop file"


def test_more_who_place_than_there_are():
    finding = findings([casting(backer_step(workers=3), 20.0)], Workshop((PAN,), hands=2))[
        Rule.HANDS
    ]
    assert (finding.value_count, finding.limit_count) == (3.0, 2.0)


def test_a_pot_life_spent_on_carrying():
    shop = Workshop((PAN,), rules=PlacingRules(haul_s=1800.0))
    finding = findings([casting(backer_step(pot_life=30.0), 20.0)], shop)[Rule.POT_LIFE]
    assert finding.measure is Measure.SECONDS
    assert "data sheet" in finding.fix


def test_a_bag_that_no_mixer_holds():
    shop = Workshop((Mixer("pail", 0.01, 0.0),))
    finding = findings([casting(backer_step(bag_kg=25.0), 20.0)], shop)[Rule.CAPACITY]
    # 25 kg of 2050 kg/m3 are 12.2 L.
    assert finding.fix == "a mixer of more than 12.2 L"


def test_one_batch_that_goes_off_before_it_is_placed():
    step = backer_step(pot_life=10.0)
    slab = casting(replace(step, split=Split.SINGLE), 60.0)
    finding = findings([slab], Workshop((PAN,), hands=4))[Rule.SINGLE_BATCH]
    # (10 min less 20 % less 1 min) x 5 kg/min = 35 kg: two place 70 kg.
    assert "2 placing workers" in finding.fix


def test_too_few_forms_for_the_days():
    castings, shop = twelve_panels(day_count=4)
    finding = findings(castings, shop)[Rule.FORMS]
    assert finding.fix == "6 pour days, or 3 forms"


def test_more_work_than_hands():
    step = Step("backer", FreshMix("b", 2000.0, 7200.0), rate_kg_s=1.0 / MIN_S)
    castings = [casting(step, 80.0, f"slab {number}") for number in range(8)]
    finding = findings(castings, Workshop((PAN,), day_count=1))[Rule.HAND_HOURS]
    # 640 min of placing and 8 x 6 min of mixing in a day of 480 min.
    assert finding.value_count == pytest.approx(688.0 * MIN_S)
    assert finding.fix == "2 days, or 2 pairs of hands"


def tight_chain(max_wait_s):
    """A face coat and a backer of two batches that one person can only just cover in time."""
    face = replace(
        backer_step(), layer="face_coat", mix=face_mix(), min_wait_s=0.0, max_wait_s=None
    )
    cover = backer_step(min_wait_s=0.0, max_wait_s=max_wait_s)
    masses = (ClassMass("show_face", 60.0),)
    return Casting("slab", 1, (Coat(face, masses), Coat(cover, masses)))


def test_the_least_longest_wait_is_found_by_halving():
    # Placing 12 min; the wash of 10 min before and 6 min of mixing overlap it, and 1 min of
    # carrying: the cover starts 29 min after the face did only where two can work.
    slab, shop = tight_chain(15.0 * MIN_S), Workshop((PAN,), hands=1, rules=NO_RESERVE)
    found = {one.rule: one for one in remedies(slab, shop, search=GREEDY)}
    waited = found[Rule.LONGEST_WAIT]
    assert waited.limit_count == 15.0 * MIN_S
    again = tight_chain(waited.value_count)
    assert plan_or_findings([again], shop, search=GREEDY).plan is not None
    # The halvings end within 3/64 of what was told.
    sooner = tight_chain(waited.value_count - 4.0 * 15.0 * MIN_S / 64.0)
    assert plan_or_findings([sooner], shop, search=GREEDY).plan is None
    assert "if a trial shows that it bonds" in waited.fix


def test_no_remedy_is_a_chemical():
    slab, shop = tight_chain(15.0 * MIN_S), Workshop((PAN,), hands=1, rules=NO_RESERVE)
    for finding in remedies(slab, shop, search=GREEDY):
        for word in ("retard", "accelerat", "admixture", "dose"):
            assert word not in finding.fix


def test_a_day_too_short_for_one_piece_asks_for_a_longer_one():
    shop = Workshop((PAN,), hands=1, day=DayRules(day_s=15.0 * MIN_S))
    found = findings([casting(backer_step(), 60.0)], shop)
    # 6 min of mixing, 1 of carrying and 12 of placing
    assert found[Rule.DAY].value_count == pytest.approx(19.0 * MIN_S, rel=0.06)
    assert found[Rule.DAY].value_count >= 19.0 * MIN_S


def test_what_no_single_change_mends_is_said():
    shop = Workshop((PAN,), hands=1, day=DayRules(day_s=60.0))
    [finding] = remedies(
        casting(backer_step(), 60.0), shop, search=GREEDY, rules=RemedyRules(more_hands_count=1)
    )
    assert finding.fix.startswith("no single change does")


def test_the_days_needed_come_first():
    castings, shop = twelve_panels(day_count=5)
    [days, *_] = day_remedies(castings[:2], replace(shop, day_count=1), 2)
    assert (days.rule, days.fix) == (Rule.DAYS, "2 days")


def test_a_piece_is_told_once_however_often_it_is_cast():
    thick = [
        panel("panel", copy, 5.0, [replace(backer_step(pot_life=10.0), split=Split.SINGLE)])
        for copy in (1, 2, 3)
    ]
    outcome = plan_or_findings(thick, Workshop((PAN,), hands=2), search=GREEDY)
    assert [finding.rule for finding in outcome.findings] == [Rule.SINGLE_BATCH]
