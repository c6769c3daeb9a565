"""Every JSON document the package writes, key by key; no other module names a key.

Within a schema number keys are only added, never renamed or taken away. Lengths, areas,
volumes, masses and times are SI, with the unit in the key; money is a decimal string.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal, TypeAlias

from typing_extensions import TypedDict  # the one that schemas can be made of on Python 3.11

from takeoff.bid_documents import (
    AssumptionRow,
    CastRow,
    FormWorkRow,
    LineRow,
    MaterialRow,
    MoneyRangeRow,
    PortionRow,
)
from takeoff.measure_documents import (
    AreaRow,
    ExactRow,
    LayerRow,
    LayerVolumeRow,
    OpeningRow,
    SurfaceRow,
    WallRow,
)
from takeoff.pour_documents import (
    CastWallRow,
    DefaultRow,
    DemandRow,
    FindingRow,
    MixCautionsRow,
    MoreHandsRow,
    PouredDayRow,
    PouringMixerRow,
    PouringRuleRow,
    RiskRow,
)
from takeoff.start_documents import StartedDrawingRow, StartEditRow
from takeoff.way_documents import WallWayRow
from takeoff.weigh_documents import (
    BagRow,
    CoatRow,
    DryingRow,
    IngredientRow,
    MixHeatRow,
    MixingRow,
    SprayRow,
)

SettingValue: TypeAlias = object


class NoteRow(TypedDict):
    """A doubt a person must see."""

    code: str
    text: str
    where: str


class ErrorRow(TypedDict):
    """A refusal."""

    kind: str
    text: str
    file: str | None
    where: str


class Head(TypedDict):
    """What every document begins with, refused ones too."""

    schema: str
    version: str
    settings: Mapping[str, SettingValue]
    notes: Sequence[NoteRow]
    errors: Sequence[ErrorRow]


class UnitRow(TypedDict):
    """The unit of a drawing and who said so."""

    name: str
    metres_per_unit: float
    source: Literal["told", "declared"]


class EdgeRow(TypedDict):
    """One side of an outline; ``opening`` counts the openings of the piece from 1."""

    id: str
    length_m: float
    side: str
    curved: bool
    opening: int | None
    start_m: Sequence[float]
    end_m: Sequence[float]


class CheckedPieceRow(TypedDict):
    """Raw geometry of one piece of a drawing."""

    name: str
    form: Literal["mesh", "outline"]
    area_m2: float
    volume_m3: float | None
    bounds_m: Sequence[Sequence[float]]
    closed: bool
    triangles: int | None
    openings: int
    perimeter_m: float | None
    opening_perimeter_m: float | None
    layer: str | None
    edges: Sequence[EdgeRow]


class SkippedRow(TypedDict):
    """Entities left out."""

    what: str
    count: int
    why: str


class MendedRow(TypedDict):
    """Defects put right."""

    what: str
    count: int


class FileErrorRow(TypedDict):
    """Why one file of several could not be used."""

    kind: str
    text: str


class DrawnLayerRow(TypedDict):
    """What one drawing layer holds when it is measured alone; no area where outlines cross."""

    layer: str
    outlines: int
    pieces: int
    area_m2: float | None


class CheckedFileRow(TypedDict):
    """One drawing as ``check`` sees it."""

    file: str
    sha256: str | None
    unit: UnitRow | None
    pieces: Sequence[CheckedPieceRow]
    layers: Sequence[DrawnLayerRow]
    skipped: Sequence[SkippedRow]
    mended: Sequence[MendedRow]
    notes: Sequence[NoteRow]
    error: FileErrorRow | None


class CheckDocument(Head):
    """``takeoff check``: are the drawings sound, and how large are they."""

    files: Sequence[CheckedFileRow]


class MeasuredPieceRow(TypedDict):
    """One piece: surfaces by class, and the layers laid on them."""

    name: str
    file: str
    sha256: str
    unit: str
    kind: str
    show_direction: Sequence[float]
    direction_source: Literal["told", "found"]
    surfaces: Sequence[SurfaceRow]
    openings: Sequence[OpeningRow]
    area_m2: AreaRow
    opening_wall_m2: float
    bare_wall_m2: float
    undercut_m2: float
    arris_m: float
    sharp_arris_m: float
    rounded_arris_m: float
    inside_corner_m: float
    sharp_inside_corner_m: float
    rounded_inside_corner_m: float
    min_radius_m: float | None
    form_area_m2: float
    layers: Sequence[LayerRow]
    layer_volume_m3: LayerVolumeRow
    flat_volume_m3: LayerVolumeRow
    volume_uncertainty_share: float
    exact: ExactRow | None
    solid_volume_m3: float | None
    inner_form_m2: float
    filled_m3: float
    walls: Sequence[WallRow]
    notes: Sequence[NoteRow]


class MeasureDocument(Head):
    """``takeoff measure``: surfaces and layers of the pieces of a drawing."""

    pieces: Sequence[MeasuredPieceRow]
    skipped: Sequence[SkippedRow]


class WeighDocument(Head):
    """``takeoff weigh``: what goes into the mixer, in order."""

    mix: str
    volume_m3: float | None
    density_kg_m3: float | None
    air_share: float | None
    mass_kg: float | None
    mixer_kg: float | None
    water_total_kg: float | None
    water_to_add_kg: float | None
    water_cement_ratio: float | None
    water_binder_ratio: float | None
    pot_life_s: float | None
    wait_s: float | None
    bag: BagRow | None
    ingredients: Sequence[IngredientRow]
    mixing: Sequence[MixingRow]
    coat: CoatRow | None
    heat: MixHeatRow | None
    drying: DryingRow | None
    spray: SprayRow | None
    cautions: Sequence[str]


class MixerRow(TypedDict):
    """The mixer a lot is made in."""

    name: str
    capacity_m3: float
    residue_kg: float


class BatchIngredientRow(TypedDict):
    """What is weighed for one batch."""

    name: str
    mass_kg: float
    when: str
    after_rest: bool


class LotRow(TypedDict):
    """Batches of one mix that match: equal in mass, one after the other."""

    mix: str
    layer: str
    mixer: str
    bound: str
    batch_count: int
    mass_kg: float
    volume_m3: float
    placed_kg: float
    loss_kg: float
    residue_kg: float
    leftover_kg: float
    pot_life_s: float | None
    ingredients: Sequence[BatchIngredientRow]
    mixing: Sequence[MixingRow]


class BatchPart(TypedDict):
    """The batches inside a bid."""

    batch_count: int
    mixers: Sequence[MixerRow]
    lots: Sequence[LotRow]


class BidPieceRow(MeasuredPieceRow):
    """A measured piece with its count, its forms, its weights and the ways to cast its walls."""

    count: int
    forms: int
    portions: Sequence[PortionRow]
    wet_kg: float
    cured_kg: float
    cured_basis: str
    handling_kg: float
    handling_note: str | None
    items_kg: float
    core_kg: float
    centre_of_gravity_m: Sequence[float] | None
    ways: Mapping[str, str]
    wall_ways: Sequence[WallWayRow]


class BidDocument(Head):
    """``takeoff bid``: the whole job, materials priced."""

    job: str
    date: str | None
    currency: str
    pieces: Sequence[BidPieceRow]
    skipped: Sequence[SkippedRow]
    materials: Sequence[MaterialRow]
    form_work: FormWorkRow | None
    batch: BatchPart | None
    pour_day: BatchDocument | None
    lines: Sequence[LineRow]
    material_total: str | None
    total: str | None
    total_range: MoneyRangeRow | None
    cast_besides: Sequence[CastRow]
    assumptions: Sequence[AssumptionRow]
    cautions: Sequence[str]
    mix_cautions: Sequence[MixCautionsRow]


class BatchDocument(Head):
    """``takeoff batch``: the pour day; ``proven`` says that no plan has fewer batches."""

    job: str
    date: str | None
    feasible: bool
    findings: Sequence[FindingRow]
    batch_count: int
    batch_bound: int | None
    proven: bool
    method: str | None
    hands: int | None
    working_day_s: float | None
    mixers: Sequence[PouringMixerRow]
    rules: Sequence[PouringRuleRow]
    demand: Sequence[DemandRow]
    walls: Sequence[CastWallRow]
    days: Sequence[PouredDayRow]
    risk: RiskRow | None
    more_hands: MoreHandsRow | None
    defaults: Sequence[DefaultRow]
    cautions: Sequence[str]
    mix_cautions: Sequence[MixCautionsRow]


class StartDocument(Head):
    """``takeoff start``: files of a job, what was found in its drawings, what is left to edit."""

    files: Sequence[str]
    pieces: Sequence[StartedDrawingRow]
    edits: Sequence[StartEditRow]


class RuleRow(TypedDict):
    """One default: what it is, why, and what tells it otherwise; None where nothing does."""

    subject: str
    name: str
    value: float | int | bool | str | None
    unit: str | None
    reason: str
    source: str
    told_by: str | None


class DefaultsDocument(Head):
    """``takeoff defaults``: every default in force."""

    rules: Sequence[RuleRow]


SCHEMAS: Mapping[str, type] = {
    "takeoff.start/1": StartDocument,
    "takeoff.check/1": CheckDocument,
    "takeoff.measure/1": MeasureDocument,
    "takeoff.weigh/1": WeighDocument,
    "takeoff.bid/1": BidDocument,
    "takeoff.batch/1": BatchDocument,
    "takeoff.defaults/1": DefaultsDocument,
}
