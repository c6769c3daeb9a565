"""The data that come with the package: sources, ingredients, mixes, heats, limits, cautions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from pydantic import Field, RootModel

from takeoff.files.ingredient_tables import (
    DescribedIngredient,
    ShippedIngredientTable,
    SourcedTable,
)
from takeoff.files.toml_quantities import Length, Share
from takeoff.files.toml_tables import Table, TomlFile, check_tables, parse_toml
from takeoff.mix.cautions import Caution
from takeoff.mix.evaporation import DryingLimits
from takeoff.mix.ingredients import FibreKind, Role
from takeoff.mix.limits import Figure, Limit, ThicknessTolerance
from takeoff.mix.mixes import Placing, Use
from takeoff.mix.temperature import Heats


@dataclass(frozen=True, slots=True)
class Source:
    """Where a figure comes from.

    Parameters
    ----------
    key : str
        The word that figures name it by.
    title : str
        Title, edition and part.
    publisher : str
        Who published it; empty for what was not published.
    address : str
        Where it was read; empty where there is no stable address.
    seen : bool
        Whether it was read; False for one known from memory.
    """

    key: str
    title: str
    publisher: str
    address: str
    seen: bool


class _SourceTable(Table):
    title: str = Field(min_length=1)
    publisher: str = ""
    address: str = ""
    seen: bool

    def build(self, key: str) -> Source:
        return Source(key, self.title, self.publisher, self.address, self.seen)


class _CautionTable(SourcedTable):
    text: str = Field(min_length=1)
    source: str = Field(min_length=1)
    where: str = Field(min_length=1)
    roles: frozenset[Role] = frozenset()
    placings: frozenset[Placing] = frozenset()
    fibres: frozenset[FibreKind] = frozenset()

    def build(self) -> Caution:
        return Caution(self.text, self.where, self.seen, self.roles, self.placings, self.fibres)


class _HeatTable(SourcedTable):
    kj_kg_k: float = Field(gt=0.0)


class _MeltingTable(SourcedTable):
    kj_kg: float = Field(gt=0.0)


class _RateTable(SourcedTable):
    kg_m2_h: float = Field(gt=0.0)


class _MostTable(SourcedTable):
    most: Share


class _DryingTables(Table):
    plain: _RateTable
    sensitive: _RateTable


class _HeatTables(Table):
    solids: _HeatTable
    water: _HeatTable
    ice: _HeatTable
    melting: _MeltingTable
    drying: _DryingTables
    ice_share: _MostTable
    ice_trusted: _MostTable

    def build(self) -> ShippedHeat:
        return ShippedHeat(
            heats=Heats(
                solids_j_kg_k=1000.0 * self.solids.kj_kg_k,
                water_j_kg_k=1000.0 * self.water.kj_kg_k,
                ice_j_kg_k=1000.0 * self.ice.kj_kg_k,
                melting_kj_kg=self.melting.kj_kg,
            ),
            drying=DryingLimits(
                plain_kg_m2_h=self.drying.plain.kg_m2_h,
                sensitive_kg_m2_h=self.drying.sensitive.kg_m2_h,
            ),
            most_ice_share=self.ice_share.most,
            trusted_ice_share=self.ice_trusted.most,
        )


class _LimitTable(SourcedTable):
    figure: Figure
    least: float | Share | None = None
    most: float | Share | None = None
    placings: frozenset[Placing] = frozenset()
    use: Use | None = None
    cited: str = Field(min_length=1)

    def build(self) -> Limit:
        return Limit(
            self.figure, self.least, self.most, self.cited, self.seen, self.placings, self.use
        )


class _ThicknessTable(SourcedTable):
    over: Length
    under: Length
    use: Use
    cited: str = Field(min_length=1)

    def build(self) -> ThicknessTolerance:
        return ThicknessTolerance(self.over, self.under, self.cited, self.use)


class _LimitTables(Table):
    limit: tuple[_LimitTable, ...] = Field(min_length=1)
    thickness: _ThicknessTable


class _SourceTables(RootModel[dict[str, _SourceTable]]):
    pass


class _IngredientTables(RootModel[dict[str, ShippedIngredientTable]]):
    pass


class _CautionTables(Table):
    closing: str = Field(min_length=1)
    caution: tuple[_CautionTable, ...] = Field(min_length=1)


@dataclass(frozen=True, slots=True)
class ShippedCautions:
    """All cautions and the sentence that ends them.

    Parameters
    ----------
    cautions : tuple of Caution
        The cautions in the order to show them.
    closing : str
        The last sentence.
    """

    cautions: tuple[Caution, ...]
    closing: str


@dataclass(frozen=True, slots=True)
class ShippedHeat:
    """What is known of the heat of a mix, and of how it dries.

    Parameters
    ----------
    heats : Heats
        Specific heats, and the heat of melting.
    drying : DryingLimits
        Rates from which on a fresh surface must be watched.
    most_ice_share : float
        Most of the water that may be ice. [-]
    trusted_ice_share : float
        Share of the water up to which the balance is trusted. [-]
    """

    heats: Heats
    drying: DryingLimits
    most_ice_share: float
    trusted_ice_share: float


@dataclass(frozen=True, slots=True)
class ShippedLimits:
    """Published ranges.

    Parameters
    ----------
    limits : tuple of Limit
        Ranges of the figures of a mix.
    thickness : ThicknessTolerance
        How far a layer may be off.
    """

    limits: tuple[Limit, ...]
    thickness: ThicknessTolerance


def shipped_toml(*path: str) -> TomlFile:
    """Read one of the TOML files that come with the package.

    Parameters
    ----------
    *path : str
        Folders and file name below ``takeoff/data``.

    Returns
    -------
    TomlFile
        Its tables.

    Raises
    ------
    ShopFileError
        If it is not TOML.

    Examples
    --------
    >>> shipped_toml("mixes", "backer-poured.toml").tables["layer"]
    'backer'
    """
    text = files("takeoff").joinpath("data", *path).read_text(encoding="utf-8")
    return parse_toml(text, name="/".join(("takeoff", "data", *path)))


@cache
def shipped_mix_names() -> tuple[str, ...]:
    """Name the mixes that come with the package.

    Returns
    -------
    tuple of str
        Names in alphabetical order.

    Examples
    --------
    >>> shipped_mix_names()  # doctest: +ELLIPSIS
    ('backer-packed', 'backer-poured', ..., 'face-coat-sprayed')
    """
    entries = files("takeoff").joinpath("data", "mixes").iterdir()
    return tuple(
        sorted(entry.name.removesuffix(".toml") for entry in entries if ".toml" in entry.name)
    )


@cache
def shipped_sources() -> Mapping[str, Source]:
    """Give every source that a shipped figure names.

    Returns
    -------
    mapping of str to Source
        Sources by key.

    Examples
    --------
    >>> shipped_sources()["niosh-94-110"].seen
    True
    """
    tables = check_tables(shipped_toml("sources.toml"), _SourceTables)
    return {key: table.build(key) for key, table in tables.root.items()}


@cache
def shipped_ingredients() -> Mapping[str, DescribedIngredient]:
    """Give every ingredient that comes with the package.

    Returns
    -------
    mapping of str to DescribedIngredient
        Ingredients by name.

    Examples
    --------
    >>> shipped_ingredients()["silica-sand"].ingredient.density_kg_m3
    2650.0
    """
    tables = check_tables(shipped_toml("ingredients.toml"), _IngredientTables)
    return {name: table.build(name) for name, table in tables.root.items()}


@cache
def shipped_cautions() -> ShippedCautions:
    """Give the cautions of a weigh sheet.

    Returns
    -------
    ShippedCautions
        The cautions, and the sentence that ends them.

    Examples
    --------
    >>> shipped_cautions().closing
    'Follow the safety data sheets and local rules.'
    """
    tables = check_tables(shipped_toml("cautions.toml"), _CautionTables)
    return ShippedCautions(tuple(table.build() for table in tables.caution), tables.closing)


@cache
def shipped_bid_cautions() -> ShippedCautions:
    """Give the cautions of a bid beside those of the weigh sheet: what is not computed.

    Returns
    -------
    ShippedCautions
        The cautions, and the sentence that ends the whole list of a bid.

    Examples
    --------
    >>> print(shipped_bid_cautions().cautions[3].sentence)  # doctest: +ELLIPSIS
    At a hearth or stove, clearance ... local code and licensed practice (IRC R1001.11).
    """
    tables = check_tables(shipped_toml("bid_cautions.toml"), _CautionTables)
    return ShippedCautions(tuple(table.build() for table in tables.caution), tables.closing)


@cache
def shipped_heat() -> ShippedHeat:
    """Give the specific heats, the heat of melting and the rates of drying.

    Returns
    -------
    ShippedHeat
        The figures.

    Examples
    --------
    >>> shipped_heat().heats.melting_kj_kg
    333.43
    """
    return check_tables(shipped_toml("heat.toml"), _HeatTables).build()


@cache
def shipped_limits() -> ShippedLimits:
    """Give the published ranges that a mix is held against.

    Returns
    -------
    ShippedLimits
        The ranges, and the tolerance of a thickness.

    Examples
    --------
    >>> shipped_limits().limits[0].said
    'published: 0.3 to 0.4 (GRCA specification, from memory)'
    """
    tables = check_tables(shipped_toml("limits.toml"), _LimitTables)
    return ShippedLimits(tuple(table.build() for table in tables.limit), tables.thickness.build())
