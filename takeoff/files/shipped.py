"""The data that come with the package: sources, ingredients, mixes and cautions."""

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
from takeoff.files.toml_tables import Table, TomlFile, check_tables, parse_toml
from takeoff.mix.cautions import Caution
from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Placing


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

    def build(self) -> Caution:
        return Caution(self.text, self.where, self.seen, self.roles, self.placings)


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
    >>> shipped_mix_names()
    ('backer-poured', 'face-coat-sprayed')
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
