"""Pours checked by hand: minutes, kilograms and litres, the arithmetic beside each."""

from __future__ import annotations

from dataclasses import dataclass, field

from takeoff.batching.demand import Casting, ClassMass, Coat
from takeoff.batching.heat import setting_ratio
from takeoff.batching.mixers import Mixer
from takeoff.batching.placing_rules import PlacingRules
from takeoff.batching.pour_rules import Rule
from takeoff.batching.steps import FreshMix, Split, Step
from takeoff.batching.workshops import Workshop

MIN_S = 60.0
DENSITY_KG_M3 = 2000.0


@dataclass(frozen=True)
class Laid:
    """One layer of a piece."""

    kg: float
    rate: float
    mix: str = "F"
    workers: int = 1
    split: Split = Split.STREAM
    overspray: float = 0.0
    min_wait: float = 0.0
    max_wait: float | None = None


@dataclass(frozen=True)
class Pan:
    """A mixer."""

    name: str = "M25"
    litres: float = 25.0
    least_litres: float = 0.0
    residue_kg: float = 0.0


@dataclass(frozen=True)
class Told:
    """What the hand says of the plan; None where it says nothing."""

    masses: tuple[float, ...] = ()
    leftover: float | None = None
    makespan: float | None = None
    bound: int | None = None
    limited_by: str | None = None
    mixer: str | None = None
    parts: tuple[tuple[tuple[str, float], ...], ...] | None = None
    rule: Rule | None = None
    fix: str = ""


@dataclass(frozen=True)
class Case:
    """A pour, and what comes out by hand."""

    name: str
    hand: str
    pieces: dict[str, tuple[Laid, ...]]
    told: Told
    mixers: tuple[Pan, ...] = (Pan(),)
    pot_life: float = 30.0
    pot_reserve: float = 0.2
    bag_kg: float | None = None
    colours: dict[str, str] = field(default_factory=dict)
    mix_c: float | None = None
    hands: int = 4
    haul: float = 1.0
    wet_edge: float = 10.0
    tables: int | None = None

    def castings(self) -> tuple[Casting, ...]:
        """Give the pieces as they are cast."""
        return tuple(
            Casting(piece, 1, tuple(self._coat(laid) for laid in layers))
            for piece, layers in self.pieces.items()
        )

    def shop(self) -> Workshop:
        """Give the shop: every batch is mixed in 6 min, scraped off in 2, washed out in 10."""
        rules = PlacingRules(
            pot_reserve_share=self.pot_reserve,
            window_reserve_share=0.0,
            haul_s=self.haul * MIN_S,
            wash_s=10.0 * MIN_S,
        )
        mixers = tuple(
            Mixer(
                pan.name,
                pan.litres / 1e3,
                pan.residue_kg,
                least_fill_m3=pan.least_litres / 1e3,
                mix_s=6.0 * MIN_S,
                clean_s=2.0 * MIN_S,
            )
            for pan in self.mixers
        )
        return Workshop(
            mixers,
            hands=self.hands,
            tables=self.tables,
            day_count=1,
            division_kg=0.01,
            rules=rules,
        )

    def _coat(self, laid: Laid) -> Coat:
        warm = 1.0 if self.mix_c is None else min(1.0, setting_ratio(self.mix_c))
        mix = FreshMix(
            laid.mix,
            DENSITY_KG_M3,
            self.pot_life * MIN_S * warm,
            colour=self.colours.get(laid.mix, ""),
            bag_kg=self.bag_kg,
        )
        step = Step(
            "layer",
            mix,
            laid.rate / MIN_S,
            laid.workers,
            split=laid.split,
            overspray_share=laid.overspray,
            wet_edge_s=self.wet_edge * MIN_S,
            min_wait_s=laid.min_wait * MIN_S,
            max_wait_s=None if laid.max_wait is None else laid.max_wait * MIN_S,
        )
        return Coat(step, (ClassMass("show_face", laid.kg),))


CASES = (
    Case(
        "equal_split",
        (
            "63 L show face, 25 L mixer: ceil(63/25)=3; 63/3=21 L = 42 kg; place 42/10=4.2 "
            "-> 4.5 min; one mixer: starts 0,8,16; last place 23..27.5"
        ),
        {"A": (Laid(126.0, 5.0, workers=2, split=Split.WHOLE),)},
        Told(masses=(42.0,) * 3, leftover=0.0, makespan=27.5, bound=3),
    ),
    Case(
        "residue",
        (
            "residue 2 kg stays in mixer/bucket every batch: useful 48 kg; ceil(100/48)=3 "
            "(not 2); 100/3+2=35.333 -> 35.34; left 3*35.34-6-100=0.02"
        ),
        {"A": (Laid(100.0, 5.0, workers=2, split=Split.WHOLE),)},
        Told(masses=(35.34,) * 3, leftover=0.02),
        mixers=(Pan(residue_kg=2.0),),
    ),
    Case(
        "pot_life_limits",
        (
            "big mixer, slow placing: 20*0.75=15, -1 haul =14 min; *3 kg/min=42 kg; "
            "ceil(120/42)=3; 40 kg each; one placing takes 13.33 -> 13.5"
        ),
        {"A": (Laid(120.0, 3.0),)},
        Told(masses=(40.0,) * 3, leftover=0.0, limited_by="pot_life"),
        mixers=(Pan(litres=100.0),),
        pot_life=20.0,
        pot_reserve=0.25,
    ),
    Case(
        "pot_life_hot",
        (
            "big mixer, slow placing, mix at 30 C: k=exp(4811*(1/303.15-1/293.15))=0.582; "
            "20*0.582*0.75-1=7.73 -> 7.5 min; 22.5 kg; ceil(120/22.5)=6; 20 kg"
        ),
        {"A": (Laid(120.0, 3.0),)},
        Told(masses=(20.0,) * 6, leftover=0.0, limited_by="pot_life"),
        mixers=(Pan(litres=100.0),),
        pot_life=20.0,
        pot_reserve=0.25,
        mix_c=30.0,
    ),
    Case(
        "whole_bags",
        ("premix bag makes 28 kg of mix: 50//28=1 bag per batch; ceil(100/28)=4; left 4*28-100=12"),
        {"A": (Laid(100.0, 10.0),)},
        Told(masses=(28.0,) * 4, leftover=12.0),
        bag_kg=28.0,
    ),
    Case(
        "weigh_out",
        "100 kg weighed out: 100/50=2",
        {"A": (Laid(100.0, 10.0),)},
        Told(masses=(50.0,) * 2, leftover=0.0),
    ),
    Case(
        "faces_not_split",
        (
            "three 30 kg show faces, 50 kg mixer: no face is split although 90/50 -> 2: two"
            " faces = 60 > 50, so 3 batches of 30"
        ),
        {
            "A": (Laid(30.0, 10.0, split=Split.WHOLE),),
            "B": (Laid(30.0, 10.0, split=Split.WHOLE),),
            "C": (Laid(30.0, 10.0, split=Split.WHOLE),),
        },
        Told(masses=(30.0,) * 3, leftover=0.0, bound=3),
    ),
    Case(
        "faces_packed",
        "faces 30,30,20,20 in 50 kg batches: 30+20 twice, even",
        {
            "A": (Laid(30.0, 10.0, split=Split.WHOLE),),
            "B": (Laid(30.0, 10.0, split=Split.WHOLE),),
            "C": (Laid(20.0, 10.0, split=Split.WHOLE),),
            "D": (Laid(20.0, 10.0, split=Split.WHOLE),),
        },
        Told(masses=(50.0,) * 2, leftover=0.0, bound=2),
    ),
    Case(
        "backer_stream",
        (
            "three 40 kg backers, 60 kg batches: the cut falls inside B: 120/60=2; A40+B20 "
            "| B20+C40; place 60/10=6; batch 2 mix 8..14, place 15..21"
        ),
        {"A": (Laid(40.0, 10.0),), "B": (Laid(40.0, 10.0),), "C": (Laid(40.0, 10.0),)},
        Told(
            masses=(60.0,) * 2,
            leftover=0.0,
            makespan=21.0,
            parts=((("A", 40.0), ("B", 20.0)), (("B", 20.0), ("C", 40.0))),
        ),
        mixers=(Pan(litres=30.0),),
    ),
    Case(
        "mixer_minimum",
        "6 kg job, mixer minimum 5 L = 10 kg: lifted to 10; left 4",
        {"A": (Laid(6.0, 5.0),)},
        Told(masses=(10.0,), leftover=4.0),
        mixers=(Pan(least_litres=5.0),),
    ),
    Case(
        "smaller_mixer_chosen",
        ("6 kg with a 2..10 L mixer beside: both need 1 batch; waste 0 against 4 -> small mixer"),
        {"A": (Laid(6.0, 5.0),)},
        Told(masses=(6.0,), leftover=0.0, mixer="M10"),
        mixers=(
            Pan(least_litres=5.0),
            Pan("M10", litres=10.0, least_litres=2.0),
        ),
    ),
    Case(
        "overspray",
        "45 kg net, 10 % overspray: 45/0.9=50 = one full mixer; (45.1 would need two)",
        {"A": (Laid(45.0, 10.0, split=Split.WHOLE, overspray=0.1),)},
        Told(masses=(50.0,), leftover=0.0),
    ),
    Case(
        "face_then_backer",
        "stiffening wait sets the day: 6+1+10 place, 30 wait, 20 place = 67",
        {
            "A": (
                Laid(30.0, 3.0, split=Split.WHOLE),
                Laid(40.0, 2.0, mix="B", min_wait=30.0, max_wait=60.0),
            )
        },
        Told(masses=(30.0, 40.0), leftover=0.0, makespan=67.0),
    ),
    Case(
        "colour_change",
        ("two colours, one batch each: mix 0..6, wash 10, mix 16..22, haul 0, place 5 -> 27"),
        {
            "A": (Laid(25.0, 5.0, split=Split.WHOLE),),
            "B": (Laid(25.0, 5.0, mix="G", split=Split.WHOLE),),
        },
        Told(masses=(25.0,) * 2, leftover=0.0, makespan=27.0),
        colours={"F": "white", "G": "black"},
        haul=0.0,
    ),
    Case(
        "bad_single_batch",
        "one batch per face asked, 63 L in 25 L: 126 kg > 50 kg",
        {"A": (Laid(126.0, 5.0, workers=2, split=Split.SINGLE),)},
        Told(rule=Rule.SINGLE_BATCH, fix="63.0 L"),
    ),
    Case(
        "bad_wet_edge_one_worker",
        "one person mixes and places: gap = mix 6 + haul 1 = 7 > 5",
        {"A": (Laid(126.0, 5.0, split=Split.WHOLE),)},
        Told(rule=Rule.WET_EDGE, fix="worker who mixes"),
        hands=1,
        wet_edge=5.0,
    ),
    Case(
        "ok_wet_edge_two_workers",
        "second worker mixes ahead: cycle 8 <= place 8.5 -> gap 0; 7+3*8.5=32.5",
        {"A": (Laid(126.0, 5.0, split=Split.WHOLE),)},
        Told(masses=(42.0,) * 3, leftover=0.0, makespan=32.5),
        hands=2,
        wet_edge=5.0,
    ),
    Case(
        "bad_face_window",
        "face takes 60 min, window 60-20=40: 120/2=60 > 40; ceil(60/40)=2 workers",
        {
            "A": (
                Laid(120.0, 2.0, split=Split.WHOLE),
                Laid(40.0, 10.0, min_wait=20.0, max_wait=60.0),
            )
        },
        Told(rule=Rule.FACE_WINDOW, fix="2 placing workers"),
    ),
    Case(
        "bad_pot_life_minimum",
        ("placing too slow for the smallest mix: 10*0.8-1=7 min * 1 kg/min = 7 kg < 10 kg"),
        {"A": (Laid(30.0, 1.0),)},
        Told(rule=Rule.POT_LIFE_LEAST_FILL, fix="smaller mixer"),
        mixers=(Pan(least_litres=5.0),),
        pot_life=10.0,
    ),
    Case(
        "bad_tables",
        "five pieces, three tables: ceil(5/3)=2 days",
        {
            "A": (Laid(5.0, 5.0),),
            "B": (Laid(5.0, 5.0),),
            "C": (Laid(5.0, 5.0),),
            "D": (Laid(5.0, 5.0),),
            "E": (Laid(5.0, 5.0),),
        },
        Told(rule=Rule.TABLES, fix="2 pour days"),
        tables=3,
    ),
    Case(
        "bad_day_length",
        "80 full batches in one day: 4000/50=80 batches * 8 min = 640 > 480",
        {f"A{number}": (Laid(400.0, 10.0, workers=2),) for number in range(10)},
        Told(rule=Rule.MIXER_HOURS, fix="2 mixers or days"),
    ),
)
