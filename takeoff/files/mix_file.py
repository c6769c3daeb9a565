"""A mix by the name of a shipped one, or from a shop's own mix.toml."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from takeoff.errors import MixError, ShopFileError
from takeoff.files.ingredient_tables import DescribedIngredient
from takeoff.files.mix_slips import plain_slips
from takeoff.files.mix_tables import Known, MixFromBag, MixFromIngredients
from takeoff.files.shipped import shipped_ingredients, shipped_mix_names, shipped_toml
from takeoff.files.toml_faults import nearest
from takeoff.files.toml_lines import KeyPath
from takeoff.files.toml_tables import Fault, TomlFile, check_tables, load_toml
from takeoff.mix.checking import MixFault, mix_faults
from takeoff.mix.mixes import Mix

_MixTables = MixFromIngredients | MixFromBag

_KINDS: Mapping[str, type[_MixTables]] = {"ingredients": MixFromIngredients, "premix": MixFromBag}


def read_mix(name_or_path: str | Path) -> Mix:
    """Read a shipped mix by its name, or a shop's own from its file.

    Parameters
    ----------
    name_or_path : str or Path
        ``"backer-poured"``, or ``"mixes/our-backer.toml"``.

    Returns
    -------
    Mix
        The mix, checked for doses that can only be slips.

    Raises
    ------
    ShopFileError
        If there is no such mix, or its file has wrong, missing, unknown or absurd entries, all
        of which are listed at their line.

    Examples
    --------
    >>> read_mix("face-coat-sprayed").layer.value
    'face_coat'
    """
    file = _toml_of(name_or_path)
    tables = check_tables(file, _model_for(file), also=plain_slips(file.tables))
    known, faults = _known_ingredients(tables)
    faults.extend(_name_faults(tables, known))
    faults.extend(tables.dose_faults(known))
    if faults:
        raise file.refusal(faults)
    try:
        mix = tables.build(known)
    except MixError as error:
        path = ("bag",) if isinstance(tables, MixFromBag) else ()
        raise file.refusal([Fault(path, error.text)]) from None
    found = mix_faults(mix)
    if found:
        raise file.refusal(_located(found, tables))
    return mix


def _toml_of(name_or_path: str | Path) -> TomlFile:
    """Find the mix on the disk, or among those shipped."""
    name = str(name_or_path)
    shipped = shipped_mix_names()
    if name in shipped:
        return shipped_toml("mixes", f"{name}.toml")
    path = Path(name_or_path)
    if not path.suffix and path.name == name:
        offer = nearest(name, shipped)
        raise ShopFileError(f"is neither a shipped mix nor a mix file; {offer}", where=name)
    return load_toml(path)


def _model_for(file: TomlFile) -> type[_MixTables]:
    """Choose by the kind that the file names; where that is none, by whether it has a bag."""
    by_bag = "premix" if "bag" in file.tables else "ingredients"
    kind = file.tables.get("kind", by_bag)
    return _KINDS[kind if isinstance(kind, str) and kind in _KINDS else by_bag]


def _known_ingredients(
    tables: _MixTables,
) -> tuple[dict[str, DescribedIngredient], list[Fault]]:
    """Put the file's own ingredients beside, and before, those shipped."""
    known, faults = dict(shipped_ingredients()), []
    for name, table in tables.ingredient.items():
        try:
            known[name] = table.build(name)
        except MixError as error:
            faults.append(Fault(("ingredient", name), error.text))
    return known, faults


def _name_faults(tables: _MixTables, known: Known) -> Iterator[Fault]:
    """Find doses of ingredients that nobody describes."""
    for number, dose in enumerate(tables.dose):
        if dose.ingredient not in known and dose.ingredient not in tables.ingredient:
            offer = nearest(dose.ingredient, tuple(known))
            text = (
                f'"{dose.ingredient}" is not described here or among the shipped ingredients; '
                f"{offer}; or add [ingredient.{dose.ingredient}] with role and density"
            )
            yield Fault(("dose", number, "ingredient"), text)


def _located(found: Iterable[MixFault], tables: _MixTables) -> Iterator[Fault]:
    """Put absurd figures at the dose, the water or the head of the file."""
    paths: dict[str, KeyPath] = {"air": ("air",), "water": ("water",)}
    if isinstance(tables, MixFromBag):
        paths |= {"water": ("bag", "water"), tables.bag.name: ("bag",)}
    paths |= {dose.ingredient: ("dose", number) for number, dose in enumerate(tables.dose)}
    for fault in found:
        yield Fault(paths.get(fault.about, ()), fault.text)
