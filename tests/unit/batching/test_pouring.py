"""Pours that cannot be planned are told why, and the least change that would do does."""

from dataclasses import replace

import pytest

from takeoff.batching.cases import Case, with_placing
from takeoff.batching.demand import Casting, ClassMass, Coat
from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import DayRules, PlacingRules
from takeoff.batching.planning import SearchRules
from takeoff.batching.pour_rules import Measure, Rule
from takeoff.batching.pouring import plan_or_findings
from takeoff.batching.reasons import reasons
from takeoff.batching.remedies import cures
from takeoff.batching.remedy_kinds import RemedyRules, kinds_of
from takeoff.batching.steps import FreshMix, Split, Step
from takeoff.batching.workshops import Workshop
from tests.unit.batching.pours_made import (
    MIN_S,
    PAN,
    backer_step,
    face_mix,
    face_steps,
    panel,
    twelve_panels,
)

GREEDY = SearchRules(solver=False)
NO_RESERVE = PlacingRules(window_reserve_share=0.0)


def remedies(case, **more):
    """Give the findings of what would do."""
    return [cure.finding for cure in cures(case, **more)]


def casting(step, mass_kg, piece="slab"):
    return Casting(piece, 1, (Coat(step, (ClassMass("show_face", mass_kg),)),))


def findings(castings, shop):
    outcome = plan_or_findings(castings, shop, search=GREEDY)
    assert outcome.plan is None
    return {finding.rule: finding for finding in outcome.findings}


def test_a_mix_that_no_mixer_suits():
    shop = Workshop((replace(PAN, suits=("other",)),))
    finding = findings([casting(backer_step(), 20.0)], shop)[Rule.SUITS]
    assert finding.fix == "add backer to the suits of [[mixer]] 'pan' in the shop file"


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
    # 25 kg of 2050 kg/m3 are 12.195 L, told upwards.
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
    assert finding.fix == "2 pour days, or 2 pairs of hands"


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
    found = {one.rule: one for one in remedies(Case((slab,), shop), search=GREEDY)}
    waited = found[Rule.LONGEST_WAIT]
    assert waited.limit_count == 15.0 * MIN_S
    again = tight_chain(waited.value_count)
    assert plan_or_findings([again], shop, search=GREEDY).plan is not None
    # It is told in whole minutes.
    sooner = tight_chain(waited.value_count - MIN_S)
    assert plan_or_findings([sooner], shop, search=GREEDY).plan is None
    minutes = waited.value_count / MIN_S
    told = f"a longest wait of {minutes:g} min (longest_wait in [backer])"
    assert waited.fix == f"{told}, if a trial shows that it bonds"


def test_what_is_told_of_a_warm_mix_is_what_was_told():
    # Waits of half those that are told: the finding says what to tell, not what comes of it.
    slab, shop = tight_chain(15.0 * MIN_S), Workshop((PAN,), hands=1, rules=NO_RESERVE)
    face, cover = slab.coats
    warm = replace(slab, coats=(face, replace(cover, step=replace(cover.step, wait_ratio=0.5))))
    plain, halved = (
        {one.rule: one for one in remedies(Case((one,), shop), search=GREEDY)}[Rule.LONGEST_WAIT]
        for one in (slab, warm)
    )
    assert halved.limit_count == 2.0 * plain.limit_count
    assert halved.value_count == pytest.approx(2.0 * plain.value_count, abs=2.0 * MIN_S)


def test_no_remedy_is_a_chemical():
    slab, shop = tight_chain(15.0 * MIN_S), Workshop((PAN,), hands=1, rules=NO_RESERVE)
    for finding in remedies(Case((slab,), shop), search=GREEDY):
        for word in ("retard", "accelerat", "admixture", "dose"):
            assert word not in finding.fix


def test_a_day_too_short_for_one_piece_asks_for_a_longer_one():
    shop = Workshop((PAN,), hands=1, day=DayRules(day_s=15.0 * MIN_S))
    found = findings([casting(backer_step(), 60.0)], shop)
    # 6 min of mixing, 1 of carrying and 12 of placing
    assert found[Rule.DAY].value_count == pytest.approx(19.0 * MIN_S, rel=0.06)
    assert found[Rule.DAY].value_count >= 19.0 * MIN_S


def test_what_no_change_mends_is_said():
    shop = Workshop((PAN,), hands=1, day=DayRules(day_s=60.0))
    rules = RemedyRules(more_hands_count=1)
    case = Case((casting(backer_step(), 60.0),), shop)
    [finding] = remedies(case, search=GREEDY, rules=rules)
    assert "no change of hands, mixers, waits or hours does" in finding.fix
    assert not finding.enough


def test_the_days_needed_come_first():
    castings, shop = twelve_panels(forms={}, day_count=1, day=DayRules(day_s=90.0 * MIN_S))
    days, *others = reasons(Case(tuple(castings), shop), search=GREEDY)
    assert days.enough
    assert days.fix.split(", or ")[0] == f"{days_of(castings, shop)} pour days"
    assert all(one.enough for one in others)


def days_of(castings, shop):
    free = plan_or_findings(castings, replace(shop, day_count=None), search=GREEDY).plan
    return free.days[-1].number


def test_forms_and_tables_ask_for_the_same_days():
    castings, shop = twelve_panels(day_count=2, tables=4)
    found = findings(castings, shop)
    # Two forms: six days; four tables: three days, which are not enough.
    assert found[Rule.FORMS].fix == "6 pour days"
    assert found[Rule.TABLES].fix == "6 pour days"


def test_changes_needed_together_are_told_together():
    # One pair of hands cannot keep the joint wet, and with two the day is too short.
    step = backer_step(wet_edge_s=8.0 * MIN_S)
    slab = casting(step, 200.0)
    shop = Workshop((PAN,), hands=1, day=DayRules(day_s=45.0 * MIN_S))
    found = reasons(Case((slab,), shop), search=GREEDY)
    assert found[0].rule is Rule.WET_EDGE
    assert len(found) > 1
    assert not any(one.enough for one in found)


def test_placing_a_wide_face_in_time_asks_for_guns_too():
    sprayed = {"gun_count": 1, "hopper_kg": 1e6}
    face, second = face_steps(face_mix(pot_life=300.0), **sprayed)
    masses = (ClassMass("show_face", 180.0),)
    wide = Casting("wall", 1, (Coat(face, masses), Coat(second, masses)))
    shop = Workshop((Mixer("large", 0.2, 0.0),), hands=4, guns=1)
    finding = findings([wide], shop)[Rule.FACE_WINDOW]
    # 200 kg at 5 kg/min take 40 min, and the window is 45 less a fifth less 5 = 31 min.
    assert (finding.value_count, finding.limit_count) == (40.0 * MIN_S, 31.0 * MIN_S)
    assert finding.fix.startswith("2 placing workers, each with a gun (hands = 2 in [face_coat])")
    crewed = with_placing(["face_coat"], 2)(Case((wide,), shop))
    assert (crewed.shop.guns, crewed.steps[0].gun_count) == (2, 2)
    assert plan_or_findings(crewed.castings, crewed.shop, search=GREEDY).plan is not None


def test_every_change_that_is_enough_makes_a_plan():
    slab, shop = tight_chain(15.0 * MIN_S), Workshop((PAN,), hands=1, rules=NO_RESERVE)
    case = Case((slab,), shop)
    kinds = {kind.rule: kind for kind in kinds_of(case, RemedyRules())}
    for finding in remedies(case, search=GREEDY):
        if finding.rule in kinds:
            kind = kinds[finding.rule]
            units = round(finding.value_count / kind.unit_count)
            changed = kind.change(units)(case)
            assert plan_or_findings(changed.castings, changed.shop, search=GREEDY).plan


def test_more_batches_than_a_day_can_mix_are_told_at_once():
    # 0.15 kg in each batch, 480 of them: no clock is searched for them.
    slow = replace(backer_step(pot_life=2.0), rate_kg_s=0.3 / MIN_S)
    shop = Workshop((Mixer("pan", 0.045, 0.3),), hands=2)
    found = plan_or_findings([casting(slow, 72.0)], shop).findings
    assert found
    assert not found[0].fix.startswith("1 more")


def test_a_piece_is_told_once_however_often_it_is_cast():
    thick = [
        panel("panel", copy, 5.0, [replace(backer_step(pot_life=10.0), split=Split.SINGLE)])
        for copy in (1, 2, 3)
    ]
    outcome = plan_or_findings(thick, Workshop((PAN,), hands=2), search=GREEDY)
    assert [finding.rule for finding in outcome.findings] == [Rule.SINGLE_BATCH]
