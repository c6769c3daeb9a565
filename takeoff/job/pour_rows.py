"""The pour day as its JSON document."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from takeoff.batching.crews import Crew, crews_of
from takeoff.batching.demand import Casting, Coat
from takeoff.batching.plans import Plan, PouredBatch, PouredDay
from takeoff.batching.pour_rules import Finding
from takeoff.batching.risk import Risk
from takeoff.batching.steps import Step
from takeoff.batching.workshops import Workshop
from takeoff.documents import BatchDocument
from takeoff.job.batch_weighing import key_of
from takeoff.job.day_plan import DayPlan
from takeoff.job.more_hands import MoreHands
from takeoff.job.pour_steps import Default
from takeoff.job.weigh_rows import mixing_rows
from takeoff.measuring.rows import head_of
from takeoff.mix.weigh_sheet import WeighedMix
from takeoff.pour_documents import (
    CastWallRow,
    DefaultRow,
    DemandRow,
    FindingRow,
    MixCautionsRow,
    MoreHandsRow,
    PouredBatchRow,
    PouredDayRow,
    PouredIngredientRow,
    PouredPartRow,
    PouringMixerRow,
    PouringRuleRow,
    RiskRow,
    cast_wall_row,
    demand_row,
    part_row,
    rule_row,
)

_SLACK = 1e-9


def batch_document(made: DayPlan) -> BatchDocument:
    """Give a pour day as its document.

    Parameters
    ----------
    made : DayPlan
        The pour day.

    Returns
    -------
    BatchDocument
        The document.

    Examples
    --------
    >>> from takeoff.job.pour_planning import plan
    >>> document = batch_document(plan("samples/ferry-hall/pour-day.toml"))
    >>> document["batch_count"] == sum(len(day["batches"]) for day in document["days"])
    True
    """
    plan, shop = made.plan, made.pour.shop
    castings = made.pour.castings if plan is None else plan.castings
    head = head_of("takeoff.batch/1", settings=made.settings, notes=made.notes)
    steps = dict.fromkeys(coat.step for casting in castings for coat in casting.coats)
    return BatchDocument(
        **head,
        job=made.order.name,
        date=made.order.date,
        feasible=made.feasible,
        findings=[_finding_row(finding) for finding in made.outcome.findings],
        batch_count=made.batch_count,
        batch_bound=None if plan is None else plan.batch_bound,
        proven=plan is not None and plan.proven,
        method=None if plan is None else plan.method.value,
        hands=shop.hands,
        working_day_s=shop.day.day_s,
        mixers=[_mixer_row(made, number) for number in range(len(shop.mixers))],
        rules=[_rule_row(step, shop) for step in steps],
        demand=[
            row
            for casting in castings
            for coat in casting.coats
            for row in _demand_rows(casting, coat)
        ],
        walls=list(_wall_rows(made)),
        days=[] if plan is None else [_day_row(made, plan, day) for day in plan.days],
        risk=None if made.risk is None else _risk_row(made.risk),
        more_hands=None if made.more_hands is None else _more_hands_row(made.more_hands),
        defaults=[_default_row(default) for default in made.pour.defaults],
        cautions=list(made.cautions),
        mix_cautions=[
            MixCautionsRow(mix=name, cautions=list(cautions))
            for name, cautions in made.mix_cautions.items()
        ],
    )


def _finding_row(finding: Finding) -> FindingRow:
    return FindingRow(
        rule=finding.rule.value,
        where=finding.where,
        value=finding.value_count,
        limit=finding.limit_count,
        unit=finding.measure.value,
        fix=finding.fix,
        enough=finding.enough,
    )


def _mixer_row(made: DayPlan, number: int) -> PouringMixerRow:
    mixer, rules = made.order.shop.mixers[number], made.pour.shop.rules
    return PouringMixerRow(
        name=mixer.name,
        capacity_m3=mixer.capacity_m3,
        least_fill_m3=mixer.least_fill_m3,
        residue_kg=mixer.residue_kg,
        mix_s=rules.mix_s if mixer.mix_s is None else mixer.mix_s,
        clean_s=rules.clean_s if mixer.clean_s is None else mixer.clean_s,
    )


def _rule_row(step: Step, shop: Workshop) -> PouringRuleRow:
    rules = shop.rules
    return rule_row(
        (step.mix.name, step.layer, step.pass_number, step.placing, step.split.value),
        pot_life_s=step.mix.pot_life_s,
        pot_reserve_share=rules.pot_reserve_share,
        wet_edge_s=step.wet_edge_s,
        window_reserve_share=rules.window_reserve_share,
        waits_s=(step.min_wait_s, step.max_wait_s, step.brush_s),
        haul_s=rules.haul_s,
        wash_s=rules.wash_s,
        rate_kg_s=step.rate_kg_s,
        crew=(step.workers, step.gun_count),
        hopper_kg=step.hopper_kg,
        overspray_share=step.overspray_share,
    )


def _demand_rows(casting: Casting, coat: Coat) -> Iterator[DemandRow]:
    for mass in coat.masses:
        yield demand_row(
            mass.along or casting.piece,
            mass.number if mass.along else casting.copy,
            coat.step.layer,
            pass_number=coat.step.pass_number,
            surface_class=mass.surface_class,
            mass_kg=mass.mass_kg,
        )


def _wall_rows(made: DayPlan) -> Iterator[CastWallRow]:
    """Give the walls whose way is told, piece by piece."""
    for piece in made.drawn:
        ways = made.ways.get(piece.name, {})
        for surface in piece.surfaces.surfaces:
            if surface.id in ways:
                yield cast_wall_row(
                    piece.name,
                    surface.id,
                    surface_class=surface.surface_class.value,
                    way=ways[surface.id].value,
                )


def _day_row(made: DayPlan, plan: Plan, day: PouredDay) -> PouredDayRow:
    crews = crews_of(day, plan.shop.hands)
    pairs = zip(day.batches, crews, strict=True)
    return PouredDayRow(
        day=day.number,
        makespan_s=day.makespan_s,
        makespan_bound_s=day.bound_s,
        proven=day.proven,
        method=day.method.value,
        batches=[
            _batch_row(made, plan, poured, crew, f"{day.number}.{number}")
            for number, (poured, crew) in enumerate(pairs, start=1)
        ],
    )


def _batch_row(
    made: DayPlan, plan: Plan, poured: PouredBatch, crew: Crew, batch_id: str
) -> PouredBatchRow:
    batch = poured.batch
    weighed = made.weighed[key_of(batch)]
    parts = list(_part_rows(plan, poured))
    net_kg = sum(part["mass_kg"] for part in parts)
    loss_kg = batch.gross_kg - net_kg
    return PouredBatchRow(
        id=batch_id,
        mixer=batch.mixer.name,
        mix=batch.step.mix.name,
        colour=batch.step.mix.colour,
        layer=batch.step.layer,
        placing=batch.step.placing,
        bound=batch.bound.value,
        mass_kg=weighed.mass_kg,
        volume_m3=weighed.volume_m3,
        loss_kg=loss_kg,
        residue_kg=batch.mixer.residue_kg,
        leftover_kg=weighed.mass_kg - net_kg - loss_kg - batch.mixer.residue_kg,
        mix_start_s=poured.mix_start_s,
        mix_end_s=poured.mix_end_s,
        place_start_s=poured.place_start_s,
        place_end_s=poured.place_end_s,
        brush_end_s=poured.brush_end_s,
        use_by_s=poured.use_by_s,
        workers=batch.step.workers,
        mixed_by=crew.mixes,
        placed_by=list(crew.places),
        parts=parts,
        ingredients=_ingredient_rows(weighed),
        mixing=mixing_rows(weighed.mix.mixing),
    )


def _part_rows(plan: Plan, poured: PouredBatch) -> Iterator[PouredPartRow]:
    """Give each part by the classes it covers, in the order they are placed."""
    batch = poured.batch
    rate = (poured.place_end_s - poured.place_start_s) / batch.gross_kg
    at_s = poured.place_start_s
    for part in batch.parts:
        casting = plan.castings[part.casting]
        per_net = rate * part.gross_kg / (part.end_kg - part.start_kg)
        before_kg = 0.0
        for row in _demand_rows(casting, casting.coats[part.coat]):
            start_kg = max(part.start_kg, before_kg)
            before_kg += row["mass_kg"]
            mass_kg = min(part.end_kg, before_kg) - start_kg
            if mass_kg > _SLACK:
                end_s = at_s + mass_kg * per_net
                yield part_row(row, mass_kg=mass_kg, start_s=at_s, end_s=end_s)
                at_s = end_s


def _ingredient_rows(weighed: WeighedMix) -> Sequence[PouredIngredientRow]:
    return [
        PouredIngredientRow(
            name=line.name, mass_kg=line.mass_kg, when=line.when, after_rest=line.is_last
        )
        for line in weighed.lines
    ]


def _risk_row(risk: Risk) -> RiskRow:
    rules = risk.rules
    return RiskRow(
        runs=rules.run_count,
        seed=rules.seed,
        placing_spread_share=rules.placing_spread_share,
        mixing_spread_share=rules.mixing_spread_share,
        gone_off_share=risk.gone_off_share,
        joint_share=risk.joint_share,
        cover_share=risk.cover_share,
        fullest_batch_share=risk.fullest_share,
        wanted_share=rules.wanted_share,
        reserve_share=risk.reserve_share,
    )


def _more_hands_row(more: MoreHands) -> MoreHandsRow:
    return MoreHandsRow(
        hands=more.hands,
        days=more.days,
        pouring_s=more.pouring_s,
        saved_days=more.saved_days,
        saved_s=more.saved_s,
    )


def _default_row(default: Default) -> DefaultRow:
    return DefaultRow(
        what=default.what,
        key=default.key,
        value=default.value_count,
        unit=default.unit,
        source="common practice, no source",
    )
