"""Every JSON document the package writes, key by key; no other module names a key.

Within a schema number keys are only added, never renamed or taken away. Lengths, areas,
volumes, masses and times are SI, with the unit in the key; money is a decimal string.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal, TypeAlias

from typing_extensions import TypedDict  # the one that schemas can be made of on Python 3.11

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
    """One side of an outline."""

    id: str
    length_m: float


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


class CheckedFileRow(TypedDict):
    """One drawing as ``check`` sees it."""

    file: str
    sha256: str | None
    unit: UnitRow | None
    pieces: Sequence[CheckedPieceRow]
    skipped: Sequence[SkippedRow]
    mended: Sequence[MendedRow]
    notes: Sequence[NoteRow]
    error: FileErrorRow | None


class CheckDocument(Head):
    """``takeoff check``: are the drawings sound, and how large are they."""

    files: Sequence[CheckedFileRow]


# "class" is a word of the language, so the rows that carry it are spelt as calls.
SurfaceRow = TypedDict(
    "SurfaceRow",
    {
        "id": str,
        "class": str,
        "area_m2": float,
        "depth_m": float,
        "draft_deg": float | None,
        "opening": str | None,
        "why": str,
    },
)
LayerRow = TypedDict(
    "LayerRow",
    {"layer": str, "class": str, "thickness_m": float, "area_m2": float, "volume_m3": float},
)
AreaRow = TypedDict(
    "AreaRow", {"show_face": float, "return": float, "upright": float, "back": float}
)


class LayerVolumeRow(TypedDict):
    """Volume of each layer."""

    face_coat: float
    backer: float


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
    area_m2: AreaRow
    opening_wall_m2: float
    undercut_m2: float
    arris_m: float
    inside_corner_m: float
    form_area_m2: float
    layers: Sequence[LayerRow]
    layer_volume_m3: LayerVolumeRow
    flat_volume_m3: LayerVolumeRow
    solid_volume_m3: float | None
    notes: Sequence[NoteRow]


class MeasureDocument(Head):
    """``takeoff measure``: surfaces and layers of the pieces of a drawing."""

    pieces: Sequence[MeasuredPieceRow]
    skipped: Sequence[SkippedRow]


class SharesRow(TypedDict):
    """The same dose on each basis."""

    of_dry: float
    of_cement: float | None
    of_total: float


class IngredientRow(TypedDict):
    """One line of a weigh sheet, in order of addition."""

    name: str
    role: str
    mass_kg: float
    density_kg_m3: float
    shares: SharesRow
    when: str


class WeighDocument(Head):
    """``takeoff weigh``: what goes into the mixer, in order."""

    mix: str
    volume_m3: float | None
    density_kg_m3: float | None
    air_share: float | None
    mass_kg: float | None
    water_total_kg: float | None
    water_to_add_kg: float | None
    ingredients: Sequence[IngredientRow]
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


class BatchPart(TypedDict):
    """The batches inside a bid."""

    batch_count: int
    mixers: Sequence[MixerRow]
    lots: Sequence[LotRow]


class BidPieceRow(MeasuredPieceRow):
    """A measured piece with its count and weight."""

    count: int
    wet_kg: float


class MaterialRow(TypedDict):
    """One ingredient over the whole job: needed, lost, ordered, packed, paid."""

    ingredient: str
    net_kg: float
    loss_kg: float
    order_kg: float
    pack: str | None
    packs: int | None
    cost: str | None


class FormWorkRow(TypedDict):
    """What the forms take."""

    form_m2: float
    bead_m: float


class LineRow(TypedDict):
    """One priced line."""

    what: str
    quantity: str
    unit: str
    price: str
    amount: str


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
    lines: Sequence[LineRow]
    material_total: str | None
    total: str | None
    cautions: Sequence[str]


SCHEMAS: Mapping[str, type] = {
    "takeoff.check/1": CheckDocument,
    "takeoff.measure/1": MeasureDocument,
    "takeoff.weigh/1": WeighDocument,
    "takeoff.bid/1": BidDocument,
}


def surface_row(
    surface_id: str,
    surface_class: str,
    *,
    area_m2: float,
    depth_m: float,
    draft_deg: float | None,
    opening: str | None,
    why: str,
) -> SurfaceRow:
    """Give one surface its keys.

    Parameters
    ----------
    surface_id : str
        ``F1``, ``R2`` ...
    surface_class : str
        Class in words of the trade.
    area_m2 : float
        Area. [m²]
    depth_m : float
        Largest depth behind the show face. [m]
    draft_deg : float or None
        Worst draft; None for surfaces that have none. [°]
    opening : str or None
        The opening it is the wall of.
    why : str
        Why it is of this class.

    Returns
    -------
    SurfaceRow
        The row.

    Examples
    --------
    >>> row = surface_row("F1", "show_face", area_m2=1.0, depth_m=0.0, draft_deg=None,
    ...                   opening=None, why="faces the show direction")
    >>> row["class"]
    'show_face'
    """
    return {
        "id": surface_id,
        "class": surface_class,
        "area_m2": area_m2,
        "depth_m": depth_m,
        "draft_deg": draft_deg,
        "opening": opening,
        "why": why,
    }


def layer_row(
    layer: str, surface_class: str, *, thickness_m: float, area_m2: float, volume_m3: float
) -> LayerRow:
    """Give one layer on one class of surface its keys.

    Parameters
    ----------
    layer : str
        ``face_coat`` or ``backer``.
    surface_class : str
        Class in words of the trade.
    thickness_m : float
        Thickness. [m]
    area_m2 : float
        Area covered. [m²]
    volume_m3 : float
        True volume. [m³]

    Returns
    -------
    LayerRow
        The row.

    Examples
    --------
    >>> layer_row("backer", "return", thickness_m=0.02, area_m2=1.0, volume_m3=0.019)["class"]
    'return'
    """
    return {
        "layer": layer,
        "class": surface_class,
        "thickness_m": thickness_m,
        "area_m2": area_m2,
        "volume_m3": volume_m3,
    }
