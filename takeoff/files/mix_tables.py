"""The tables of a mix file, from ingredients or from the bag, and the mix they make."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from takeoff.errors import MixError, QuantityError
from takeoff.files.ingredient_tables import DescribedIngredient, IngredientTable, SourcedTable
from takeoff.files.shipped import shipped_ingredients
from takeoff.files.toml_faults import nearest
from takeoff.files.toml_quantities import Duration, Mass, Share, Volume
from takeoff.files.toml_tables import Fault, Table
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Bag, Basis, Dose, Mix, Mixing, MixLayer, Placing, Use
from takeoff.mix.moisture import Moisture, on_stock
from takeoff.mix.volumes import bagged_density_kg_m3
from takeoff.notes import Note, NoteCode
from takeoff.units import mass_kg, share, volume_m3

Known = Mapping[str, DescribedIngredient]


def tap_water() -> Ingredient:
    """Give the water that every mix is made with.

    Returns
    -------
    Ingredient
        The shipped water.

    Examples
    --------
    >>> tap_water().name
    'water'
    """
    return shipped_ingredients()["water"].ingredient


def _water_kg(value: object) -> float:
    """Read an amount of water as a mass or as a volume."""
    if not isinstance(value, str):
        raise QuantityError(f'must be text with a unit, like "3 L" or "3 kg", found {value}')
    try:
        return mass_kg(value)
    except QuantityError:
        return volume_m3(value) * tap_water().density_kg_m3


def _signed_share(value: object) -> float:
    """Read a share that may be below 0, as that of sand drier than saturated."""
    if not isinstance(value, str):
        raise QuantityError(f'must be text with a unit, like "4 %" or "-0.5 %", found {value}')
    plain = value.strip()
    return -share(plain[1:]) if plain.startswith("-") else share(plain)


class _MoistureTable(SourcedTable):
    free: Annotated[float, BeforeValidator(_signed_share)] | None = None
    absorption: Share | None = None

    def build(self) -> Moisture:
        return Moisture(self.free, self.absorption)


class _MixingTable(SourcedTable):
    mix: Annotated[Duration, Field(gt=0.0)]
    rest: Duration = 0.0
    again: Duration = 0.0

    def build(self) -> Mixing:
        return Mixing(self.mix, self.rest, self.again)


class _WaterTable(SourcedTable):
    w_c: float | None = Field(default=None, gt=0.0, allow_inf_nan=False)
    share: Annotated[Share, Field(gt=0.0)] | None = None
    basis: Basis | None = None

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        if (self.w_c is None) == (self.share is None) or (self.share is None) != (
            self.basis is None
        ):
            raise ValueError(
                "give either w_c = 0.33, or share and basis, as in "
                'share = "16 %", basis = "of_dry"; all water counts, that in liquids too'
            )
        return self

    def build(self) -> Dose:
        if self.w_c is not None:
            return Dose(tap_water(), self.w_c, Basis.OF_CEMENT)
        return Dose(tap_water(), self.share or 0.0, self.basis or Basis.OF_CEMENT)


class _AirTable(SourcedTable):
    share: Annotated[Share, Field(lt=1.0)]


class _DoseTable(SourcedTable):
    ingredient: str = Field(min_length=1)
    share: Annotated[Share, Field(gt=0.0)] | None = None
    solids: Annotated[Share, Field(gt=0.0)] | None = None
    basis: Basis
    at_gun: bool = False

    @model_validator(mode="after")
    def _one_share(self) -> Self:
        if (self.share is None) == (self.solids is None):
            raise ValueError(
                "give either share, as weighed, or solids, without the water of a liquid"
            )
        return self

    def build(self, known: Known) -> Dose:
        ingredient = known[self.ingredient].ingredient
        as_weighed_share = self.share or (self.solids or 0.0) / ingredient.solids_share
        return Dose(ingredient, as_weighed_share, self.basis, at_gun=self.at_gun)


class _BagTable(SourcedTable):
    name: str = Field(min_length=1)
    mass: Annotated[Mass, Field(gt=0.0)]
    yields: Annotated[Volume, Field(gt=0.0)] = Field(alias="yield")
    water: Annotated[float, Field(gt=0.0), BeforeValidator(_water_kg)]
    cement: Annotated[Share, Field(gt=0.0, le=1.0)] | None = None

    def build(self, air_share: float) -> tuple[Bag, Ingredient]:
        bag = Bag(self.mass, self.yields)
        density_kg_m3 = bagged_density_kg_m3(
            bag,
            water_kg=self.water,
            water_density_kg_m3=tap_water().density_kg_m3,
            air_share=air_share,
        )
        return bag, Ingredient(self.name, Role.PREMIX, density_kg_m3, cement_share=self.cement)


class _MixTables(Table):
    name: str = Field(min_length=1)
    layer: MixLayer
    placing: Placing
    use: Use = Use.OTHER
    pot_life: Annotated[Duration, Field(gt=0.0)] | None = None
    wait: Annotated[Duration, Field(gt=0.0)] | None = None
    held_back: Annotated[Share, Field(lt=1.0)] | None = None
    mixing: _MixingTable | None = None
    moisture: dict[str, _MoistureTable] = Field(default_factory=dict)
    ingredient: dict[str, IngredientTable] = Field(default_factory=dict)
    dose: tuple[_DoseTable, ...] = ()

    def dose_faults(self, known: Known) -> Iterator[Fault]:
        """Find doses that make no mix, whatever their shares."""
        earlier: set[str] = set()
        for number, dose in enumerate(self.dose):
            role = known[dose.ingredient].ingredient.role if dose.ingredient in known else None
            if dose.ingredient in earlier:
                text = f'"{dose.ingredient}" is dosed twice; add the two up'
                yield Fault(("dose", number, "ingredient"), text)
            earlier.add(dose.ingredient)
            if role is Role.WATER:
                text = "water is not a dose; give it under [water], or at the bag"
                yield Fault(("dose", number, "ingredient"), text)
            if dose.at_gun and role not in {Role.FIBRE, None}:
                yield Fault(("dose", number, "at_gun"), f"is for fibre, not for {role}")
            if dose.at_gun and self.placing is not Placing.SPRAYED:
                text = f'is for placing = "sprayed", not "{self.placing}"'
                yield Fault(("dose", number, "at_gun"), text)
        yield from self._moisture_faults(known)
        yield from self._basis_faults(known)

    def _moisture_faults(self, known: Known) -> Iterator[Fault]:
        """Find moistures that are of no sand of the mix."""
        sands = [
            dose.ingredient
            for dose in self.dose
            if dose.ingredient in known and known[dose.ingredient].ingredient.role is Role.SAND
        ]
        for name, table in self.moisture.items():
            if name not in sands:
                offer = nearest(name, sands) or "it has none"
                yield Fault(("moisture", name), f"is of no sand of this mix; {offer}")
            try:
                table.build()
            except MixError as error:
                yield Fault(("moisture", name), error.text)

    def _finished(self, mix: Mix, memory: Iterable[str]) -> Mix:
        """Give the mix what both kinds of file say alike."""
        figures = [*memory, *(() if self.mixing is None else _unseen("mixing times", self.mixing))]
        whole = replace(
            mix,
            pot_life_s=self.pot_life,
            use=self.use,
            mixing=None if self.mixing is None else self.mixing.build(),
            wait_s=self.wait,
            held_back_share=self.held_back,
            notes=(*mix.notes, *_memory_notes(self.name, figures)),
        )
        return on_stock(whole, {name: table.build() for name, table in self.moisture.items()})

    def _basis_faults(self, known: Known) -> Iterator[Fault]:  # noqa: ARG002
        """Find doses whose basis cannot be had."""
        return iter(())


class MixFromIngredients(_MixTables):
    """A mix file that lists every ingredient."""

    kind: Literal["ingredients", "premix"] = "ingredients"
    water: _WaterTable
    air: _AirTable
    dose: tuple[_DoseTable, ...] = Field(min_length=1)

    def build(self, known: Known) -> Mix:
        """Make the mix.

        Parameters
        ----------
        known : mapping of str to DescribedIngredient
            Every ingredient that a dose may name.

        Returns
        -------
        Mix
            The mix, with a note on figures known from memory.

        Examples
        --------
        >>> from takeoff.files.shipped import shipped_toml
        >>> from takeoff.files.toml_tables import check_tables
        >>> file = shipped_toml("mixes", "backer-poured.toml")
        >>> check_tables(file, MixFromIngredients).build(shipped_ingredients()).air_share
        0.06
        """
        mix = Mix(
            self.name,
            self.layer,
            self.placing,
            doses=tuple(dose.build(known) for dose in self.dose),
            water=self.water.build(),
            air_share=self.air.share,
        )
        return self._finished(
            mix,
            [
                *_unseen("water", self.water),
                *_unseen("air", self.air),
                *_doses_from_memory(self.dose, known),
            ],
        )


class MixFromBag(_MixTables):
    """A mix file of a dry premix, with what is dosed beside it."""

    kind: Literal["ingredients", "premix"] = "premix"
    bag: _BagTable
    air: _AirTable | None = None

    def _basis_faults(self, known: Known) -> Iterator[Fault]:
        """Find doses counted on what a bag does not tell."""
        for number, dose in enumerate(self.dose):
            ingredient = known[dose.ingredient].ingredient if dose.ingredient in known else None
            if ingredient is not None and ingredient.is_dry and dose.basis is not Basis.OF_DRY:
                text = 'must be "of_dry" for a dry ingredient beside a premix'
                yield Fault(("dose", number, "basis"), text)
            elif dose.basis is Basis.OF_CEMENT and self.bag.cement is None:
                text = (
                    "the bag does not say its cement; add cement under [bag], or dose it "
                    '"of_dry" or "of_total"'
                )
                yield Fault(("dose", number, "basis"), text)

    def build(self, known: Known) -> Mix:
        r"""Make the mix.

        Parameters
        ----------
        known : mapping of str to DescribedIngredient
            Every ingredient that a dose may name.

        Returns
        -------
        Mix
            The mix; the premix is what other dry doses leave of the dry mass.

        Raises
        ------
        MixError
            If the bag has no room for its powder, or the dry doses leave nothing of it.

        Examples
        --------
        >>> from takeoff.files.toml_tables import check_tables, parse_toml
        >>> text = ("name = 'grey'\nlayer = 'backer'\nplacing = 'packed'\n"
        ...         "bag = {name = 'grey', mass = '25 kg', yield = '13.5 L', water = '3.5 L'}")
        >>> tables = check_tables(parse_toml(text, name="grey.toml"), MixFromBag)
        >>> tables.build(shipped_ingredients()).bag.yield_m3
        0.0135
        """
        bag, premix = self.bag.build(self.air.share if self.air else 0.0)
        doses = tuple(dose.build(known) for dose in self.dose)
        premix_share = 1.0 - sum(dose.share for dose in doses if dose.ingredient.is_dry)
        if premix_share <= 0.0:
            raise MixError("the dry doses beside the premix leave nothing of it")
        mix = Mix(
            self.name,
            self.layer,
            self.placing,
            doses=(Dose(premix, premix_share, Basis.OF_DRY), *doses),
            water=Dose(tap_water(), premix_share * self.bag.water / bag.mass_kg, Basis.OF_DRY),
            air_share=self.air.share if self.air else 0.0,
            bag=bag,
            notes=self._air_notes(),
        )
        return self._finished(
            mix, [*_unseen("bag", self.bag), *_doses_from_memory(self.dose, known)]
        )

    def _air_notes(self) -> tuple[Note, ...]:
        """Say that the air is not known apart, where it is not given."""
        if self.air is not None:
            return ()
        text = "no [air] given: the yield of the bag is taken to hold its air, shown as 0 %"
        return (Note(NoteCode.DEFAULT_USED, text, where=self.name),)


def _unseen(what: str, table: SourcedTable) -> tuple[str, ...]:
    """Name a figure whose source was not read."""
    return () if table.seen else (what,)


def _doses_from_memory(doses: tuple[_DoseTable, ...], known: Known) -> Iterator[str]:
    """Name the doses, and the figures of their ingredients, whose source was not read."""
    for dose in doses:
        yield from _unseen(f"dose of {dose.ingredient}", dose)
        yield from known[dose.ingredient].from_memory


def _memory_notes(name: str, figures: list[str]) -> tuple[Note, ...]:
    """Note the figures that stand on a source not read."""
    if not figures:
        return ()
    text = f"figures from memory, not read again in their source: {', '.join(figures)}"
    return (Note(NoteCode.FROM_MEMORY, text, where=name),)
