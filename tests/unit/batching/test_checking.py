"""The checker finds every rule that a plan breaks: a good plan is damaged, one rule at a time."""

from dataclasses import replace

import pytest

from takeoff.batching.checking import breaches_of, checked
from takeoff.batching.mixers import Mixer
from takeoff.batching.planning import SearchRules, plan_pour
from takeoff.batching.pour_rules import Rule
from takeoff.batching.steps import FreshMix, Split
from takeoff.batching.workshops import Workshop
from takeoff.errors import BatchError
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


@pytest.fixture(scope="module")
def good():
    """Three panels, two passes and a backer, two of it in one stream; one colour of its own."""
    white, grey = (
        (*face_steps(face_mix(colour=colour), gun_count=1, hopper_kg=6.0), backer_step())
        for colour in ("white", "grey")
    )
    castings = [
        panel("panel", 1, 1.6, white),
        panel("panel", 2, 1.5, white),
        panel("bench", 1, 0.6, grey),
        # 100 kg of face coat and 90 kg of room: two batches, and a joint.
        panel("slab", 1, 30.0, white[:1]),
    ]
    shop = Workshop((PAN,), hands=2, guns=1, division_kg=0.01, tables=4, day_count=1)
    return plan_pour(castings, shop, rules=GREEDY)


def on_day(plan, change):
    """Change the batches of the first day."""
    day = plan.days[0]
    return replace(plan, days=(replace(day, batches=tuple(change(list(day.batches)))),))


def one_batch(plan, wanted, change):
    """Change the first batch that is wanted."""

    def changed(batches):
        at = next(number for number, one in enumerate(batches) if wanted(one))
        batches[at] = change(batches[at])
        return batches

    return on_day(plan, changed)


def of_batch(**changes):
    return lambda poured: replace(poured, batch=replace(poured.batch, **changes))


def first(poured):
    return True


def moved(poured, by_s, *names):
    return replace(poured, **{name: getattr(poured, name) + by_s for name in names})


ALL_TIMES = (
    "mix_start_s",
    "mix_end_s",
    "place_start_s",
    "place_end_s",
    "brush_end_s",
    "use_by_s",
)


def in_layer(layer, number=None):
    def wanted(poured):
        step = poured.batch.step
        return step.layer == layer and number in {None, step.pass_number}

    return wanted


def with_steps(plan, **changes):
    """Tell other figures for every step of what is cast, and of what is poured."""
    castings = tuple(
        replace(
            cast,
            coats=tuple(replace(coat, step=replace(coat.step, **changes)) for coat in cast.coats),
        )
        for cast in plan.castings
    )

    def changed(batches):
        return [
            replace(one, batch=replace(one.batch, step=replace(one.batch.step, **changes)))
            for one in batches
        ]

    return on_day(replace(plan, castings=castings), changed)


def in_shop(plan, **changes):
    return replace(plan, shop=replace(plan.shop, **changes))


def _first_face_in_halves(batches):
    at = next(
        number
        for number, one in enumerate(batches)
        if in_layer("face_coat")(one) and len(one.batch.parts) == 1 and one.batch.gross_kg < 10.0
    )
    [part] = batches[at].batch.parts
    middle_kg = (part.start_kg + part.end_kg) / 2.0
    halves = (
        replace(part, end_kg=middle_kg, gross_kg=part.gross_kg / 2.0),
        replace(part, start_kg=middle_kg, gross_kg=part.gross_kg / 2.0),
    )
    batches[at : at + 1] = [of_batch(parts=(half,))(batches[at]) for half in halves]
    return batches


def _late_slab(plan):
    """Place the second batch of the slab long after its first."""

    def changed(batches):
        last = max(
            number
            for number, one in enumerate(batches)
            if any(plan.castings[part.casting].piece == "slab" for part in one.batch.parts)
        )
        batches[last] = moved(batches[last], 1800.0, *ALL_TIMES)
        return batches

    return on_day(plan, changed)


def _long_brush(plan):
    """Brush the first pass until long after the second has begun."""

    def changed(batches):
        return [
            moved(one, 1200.0, "brush_end_s") if in_layer("face_coat", 1)(one) else one
            for one in batches
        ]

    return on_day(plan, changed)


def _last_batch_tomorrow(plan):
    day = plan.days[0]
    today = replace(day, batches=day.batches[:-1])
    return replace(plan, days=(today, replace(day, number=2, batches=day.batches[-1:])))


DAMAGES = {
    "a batch left out": (Rule.DEMAND, lambda plan: on_day(plan, lambda batches: batches[:-1])),
    "a batch poured twice": (
        Rule.DEMAND,
        lambda plan: on_day(plan, lambda batches: [*batches, batches[-1]]),
    ),
    "less weighed than placed": (
        Rule.DEMAND,
        lambda plan: one_batch(plan, first, lambda one: of_batch(mass_kg=one.batch.gross_kg)(one)),
    ),
    "overspray forgotten": (
        Rule.DEMAND,
        lambda plan: one_batch(
            plan,
            first,
            lambda one: of_batch(
                parts=tuple(
                    replace(part, gross_kg=part.end_kg - part.start_kg) for part in one.batch.parts
                )
            )(one),
        ),
    ),
    "an overfull mixer": (
        Rule.CAPACITY,
        lambda plan: one_batch(plan, first, of_batch(mass_kg=91.0)),
    ),
    "too little in the mixer": (
        Rule.LEAST_FILL,
        lambda plan: one_batch(plan, first, of_batch(mass_kg=9.0)),
    ),
    "finer than the scale": (
        Rule.SCALE,
        lambda plan: one_batch(plan, first, of_batch(mass_kg=80.005)),
    ),
    "a mixer kept for other mixes": (
        Rule.SUITS,
        lambda plan: one_batch(plan, first, of_batch(mixer=replace(PAN, suits=("other",)))),
    ),
    "a mixer that is not there": (
        Rule.SUITS,
        lambda plan: one_batch(plan, first, of_batch(mixer=Mixer("ghost", 0.045, 0.3))),
    ),
    "another colour": (
        Rule.ONE_MIX,
        lambda plan: one_batch(
            plan,
            first,
            lambda one: of_batch(step=replace(one.batch.step, mix=face_mix(colour="red")))(one),
        ),
    ),
    "a face in one batch asked for": (
        Rule.SINGLE,
        lambda plan: with_steps(plan, split=Split.SINGLE),
    ),
    "a face split that need not be": (
        Rule.WHOLE_FACE,
        lambda plan: on_day(plan, _first_face_in_halves),
    ),
    "uneven batches of a face": (
        Rule.EVEN,
        lambda plan: one_batch(
            plan,
            lambda one: (
                one.batch.step.layer == "face_coat"
                and any(plan.castings[part.casting].piece == "slab" for part in one.batch.parts)
            ),
            lambda one: of_batch(mass_kg=one.batch.mass_kg + 1.0)(one),
        ),
    ),
    "mixed too short": (
        Rule.MIXING,
        lambda plan: one_batch(plan, first, lambda one: moved(one, 30.0, "mix_start_s")),
    ),
    "no time to carry": (
        Rule.HAUL,
        lambda plan: one_batch(plan, first, lambda one: moved(one, -30.0, "place_start_s")),
    ),
    "placed too fast": (
        Rule.RATE,
        lambda plan: one_batch(plan, first, lambda one: moved(one, -60.0, "place_end_s")),
    ),
    "brushed before it is placed": (
        Rule.RATE,
        lambda plan: one_batch(
            plan, first, lambda one: replace(one, brush_end_s=one.place_end_s - 30.0)
        ),
    ),
    "placed when it is stiff": (
        Rule.POT_LIFE,
        lambda plan: one_batch(
            plan,
            first,
            lambda one: moved(one, 1800.0, "place_start_s", "place_end_s", "brush_end_s"),
        ),
    ),
    "a use-by that is too late": (
        Rule.POT_LIFE,
        lambda plan: one_batch(plan, first, lambda one: moved(one, 60.0, "use_by_s")),
    ),
    "no wash between colours": (
        Rule.CLEANING,
        lambda plan: in_shop(plan, rules=replace(plan.shop.rules, wash_s=9000.0)),
    ),
    "two batches in one mixer": (
        Rule.CLEANING,
        lambda plan: on_day(plan, lambda batches: [*batches, batches[0]]),
    ),
    "too few hands": (Rule.HANDS, lambda plan: in_shop(plan, hands=1)),
    "too few guns": (Rule.GUNS, lambda plan: in_shop(plan, guns=0)),
    "a day that is too short": (
        Rule.DAY,
        lambda plan: in_shop(plan, day=replace(plan.shop.day, day_s=3600.0)),
    ),
    "before the day starts": (
        Rule.DAY,
        lambda plan: one_batch(plan, first, lambda one: moved(one, -60.0, *ALL_TIMES)),
    ),
    "a backer before its face coat": (
        Rule.ORDER,
        lambda plan: one_batch(
            plan,
            in_layer("backer"),
            lambda one: moved(one, -one.mix_start_s, *ALL_TIMES),
        ),
    ),
    "a pass while the first is brushed": (Rule.ORDER, _long_brush),
    "a backer without its face coat": (
        Rule.ORDER,
        lambda plan: on_day(
            plan, lambda batches: [one for one in batches if one.batch.step.layer == "backer"]
        ),
    ),
    "a backer too early": (
        Rule.LEAST_WAIT,
        lambda plan: with_steps(plan, min_wait_s=3600.0, max_wait_s=None),
    ),
    "a backer too late": (Rule.LONGEST_WAIT, lambda plan: with_steps(plan, max_wait_s=1500.0)),
    "a dry joint": (Rule.WET_EDGE, _late_slab),
    "a piece on two days": (Rule.ONE_DAY, _last_batch_tomorrow),
    "more days than there are": (Rule.DAYS, _last_batch_tomorrow),
    "too few tables": (Rule.TABLES, lambda plan: in_shop(plan, tables=1)),
    "too few forms": (Rule.FORMS, lambda plan: in_shop(plan, forms={"panel": 1})),
}


def test_a_good_plan_breaks_no_rule(good):
    assert breaches_of(good) == ()
    assert checked(good) is good


@pytest.mark.parametrize("name", DAMAGES)
def test_a_damaged_plan_is_found_out(good, name):
    rule, damage = DAMAGES[name]
    assert rule in {breach.rule for breach in breaches_of(damage(good))}


def test_every_rule_that_is_checked_is_broken_once():
    # What only findings name, before there is a plan to be checked.
    told_before = {
        Rule.SINGLE_BATCH,
        Rule.POT_LIFE_LEAST_FILL,
        Rule.FACE_WINDOW,
        Rule.MIXER_HOURS,
        Rule.HAND_HOURS,
    }
    assert {rule for rule, _ in DAMAGES.values()} == set(Rule) - told_before


def test_whole_bags_are_held_to():
    castings = [panel("panel", 1, 1.6, [backer_step(bag_kg=18.0)])]
    plan = plan_pour(castings, Workshop((PAN,), hands=2), rules=GREEDY)
    assert breaches_of(plan) == ()
    damaged = one_batch(plan, first, lambda one: of_batch(mass_kg=one.batch.mass_kg - 1.0)(one))
    assert Rule.SCALE in {breach.rule for breach in breaches_of(damaged)}


def test_forms_free_again_are_told_from_forms_that_are_not():
    castings, shop = twelve_panels()
    plan = plan_pour(castings, shop, rules=GREEDY)
    assert breaches_of(plan) == ()
    longer = in_shop(plan, day=replace(shop.day, demould_s=30.0 * 3600.0))
    assert Rule.FORMS in {breach.rule for breach in breaches_of(longer)}


def test_a_plan_that_breaks_a_rule_is_not_given_out(good):
    with pytest.raises(BatchError, match=r"a fault in takeoff itself.*hands: 2 of 1 busy"):
        checked(in_shop(good, hands=1))


def test_a_mix_is_known_by_all_its_figures(good):
    other = FreshMix("face", 1900.0, 30.0 * MIN_S, "white")
    damaged = one_batch(
        good, first, lambda one: of_batch(step=replace(one.batch.step, mix=other))(one)
    )
    assert Rule.ONE_MIX in {breach.rule for breach in breaches_of(damaged)}
