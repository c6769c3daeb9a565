"""Pours made up for tests: one of every kind of rule, and random ones."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from takeoff.batching.demand import Casting, ClassMass, Coat
from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import DayRules, PlacingRules
from takeoff.batching.steps import FreshMix, Split, Step
from takeoff.batching.workshops import Workshop

MIN_S = 60.0
PAN = Mixer("pan", 0.045, 0.3, least_fill_m3=0.005)


def face_mix(*, pot_life=30.0, colour=""):
    return FreshMix("face", 2000.0, pot_life * MIN_S, colour)


def face_steps(mix, *, workers=1, **options):
    """Two passes of a sprayed face coat, brushed between."""
    first = Step(
        "face_coat",
        mix,
        5.0 / MIN_S,
        workers,
        placing="sprayed",
        split=Split.WHOLE,
        overspray_share=0.1,
        brush_s=2.0 * MIN_S,
        **options,
    )
    second = replace(
        first, pass_number=2, brush_s=0.0, min_wait_s=5.0 * MIN_S, max_wait_s=45.0 * MIN_S
    )
    return first, second


def backer_step(*, pot_life=30.0, workers=1, **options):
    mix = FreshMix("backer", 2050.0, pot_life * MIN_S, bag_kg=options.pop("bag_kg", None))
    waits = {"min_wait_s": 20.0 * MIN_S, "max_wait_s": 90.0 * MIN_S} | options
    return Step("backer", mix, 5.0 / MIN_S, workers, placing="poured", **waits)


def panel(piece, copy, area_m2, steps):
    """A panel whose backer is ten times as thick as each pass of its face coat."""
    thin, thick = 3.0 * area_m2, 30.0 * area_m2
    coats = [
        Coat(
            step,
            (
                ClassMass("show_face", 0.8 * (thick if step.layer == "backer" else thin)),
                ClassMass("return", 0.2 * (thick if step.layer == "backer" else thin)),
            ),
        )
        for step in steps
    ]
    return Casting(piece, copy, tuple(coats))


def twelve_panels(**shop):
    """Twelve panels of one kind; two forms unless told otherwise."""
    steps = (*face_steps(face_mix()), backer_step())
    castings = [panel("panel", copy, 1.0, steps) for copy in range(1, 13)]
    told = {"hands": 2, "forms": {"panel": 2}, "division_kg": 0.01} | shop
    return castings, Workshop((PAN,), **told)


def random_pour(seed, count=None):
    """A job of 1 to 20 pieces with some of every rule."""
    random = Random(seed)
    count = random.randint(1, 20) if count is None else count
    hands = random.randint(1, 5)
    workers = random.randint(1, max(1, hands - 1))
    guns = random.choice([None, None, workers, workers + 1])
    spraying = (
        {} if guns is None else {"gun_count": workers, "hopper_kg": random.choice([6.0, 9.0])}
    )
    colours = random.choice([("",), ("",), ("white", "grey")])
    backer = backer_step(
        pot_life=random.choice([20.0, 30.0, 45.0]),
        workers=workers,
        bag_kg=random.choice([None, None, 18.0]),
    )
    chains = [
        (*face_steps(face_mix(colour=colour), workers=workers, **spraying), backer)
        for colour in colours
    ]
    if random.random() < 0.3:
        chains = [chain[1:] for chain in chains]
    castings, forms = [], {}
    while len(castings) < count:
        piece = f"piece {len(forms) + 1}"
        copies = min(random.choice([1, 1, 2, 4]), count - len(castings))
        area_m2 = random.uniform(0.2, 1.6)
        chain = random.choice(chains)
        castings += [panel(piece, copy, area_m2, chain) for copy in range(1, copies + 1)]
        forms[piece] = random.randint(1, copies)
    mixers = random.choice([(PAN,), (PAN, replace(PAN, name="other pan")), (PAN, SMALL)])
    return castings, Workshop(
        mixers,
        hands=hands,
        guns=guns,
        tables=random.choice([None, 3, 6]),
        forms=forms,
        division_kg=random.choice([None, 0.01, 0.1]),
        day=DayRules(day_s=random.choice([6.0, 8.0, 9.0]) * 3600.0),
        rules=PlacingRules(
            pot_reserve_share=random.choice([0.1, 0.2, 0.3]), haul_s=random.choice([0.0, 60.0])
        ),
    )


SMALL = Mixer("pail", 0.015, 0.1, suits=("face",), mix_s=180.0, clean_s=60.0)
