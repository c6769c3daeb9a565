"""Absurd figures of a mix file that show before the mix can be made, to be told with its faults."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from takeoff.errors import QuantityError
from takeoff.files.shipped import shipped_ingredients
from takeoff.files.toml_tables import Fault
from takeoff.mix.ingredients import Role
from takeoff.mix.mix_rules import MixRules
from takeoff.mix.mixes import Basis
from takeoff.units import share


def plain_slips(tables: Mapping[str, Any], *, rules: MixRules = MixRules()) -> Iterator[Fault]:
    """Find figures that are absurd by themselves, whatever else is in the file.

    Parameters
    ----------
    tables : mapping of str to object
        The file as it was parsed, faults and all.
    rules : MixRules, optional
        The limits.

    Yields
    ------
    Fault
        What is absurd. A dose counted on cement or dry mass can only be judged once the mix is
        whole, so it is not found here.

    Examples
    --------
    >>> dose = {"ingredient": "ar-glass-fibre", "share": "90 %", "basis": "of_total"}
    >>> [fault.path for fault in plain_slips({"dose": [dose]})]
    [('dose', 0)]
    """
    air_share = _share_in(tables.get("air"))
    if air_share is not None and rules.air_share < air_share < 1.0:
        most = f"at most {100.0 * rules.air_share:.4g} % is credible"
        yield Fault(("air",), f"air is {100.0 * air_share:.4g} % of the volume; {most}")
    water = tables.get("water")
    ratio = water.get("w_c") if isinstance(water, dict) else None
    if isinstance(ratio, int | float) and ratio > rules.water_cement_ratio:
        most = f"at most {rules.water_cement_ratio:g} is credible"
        yield Fault(("water",), f"water is {ratio:.4g} times the cement; {most}")
    yield from _dose_slips(tables, rules)


def _dose_slips(tables: Mapping[str, Any], rules: MixRules) -> Iterator[Fault]:
    """Find doses of the whole mass that are beyond what their role can have."""
    doses = tables.get("dose")
    for number, dose in enumerate(doses if isinstance(doses, list) else []):
        dose_share = _share_in(dose)
        if dose_share is None or dose.get("basis") != Basis.OF_TOTAL:
            continue
        role = _role_of(str(dose.get("ingredient")), tables)
        most_share = rules.role_limit_share(role)
        if dose_share > most_share:
            most = f"at most {100.0 * most_share:.4g} % is credible for a {role}"
            text = f"{100.0 * dose_share:.4g} % of the total mass; {most}"
            yield Fault(("dose", number), f"{dose.get('ingredient')} would be {text}")


def _share_in(table: object) -> float | None:
    """Read the share of a table, where there is one to read."""
    written = table.get("share") if isinstance(table, dict) else None
    try:
        return share(written) if isinstance(written, str) else None
    except QuantityError:
        return None


def _role_of(name: str, tables: Mapping[str, Any]) -> Role | None:
    """Give the role of an ingredient of the file, or of a shipped one."""
    own = tables.get("ingredient")
    table = own.get(name) if isinstance(own, dict) else None
    told = table.get("role") if isinstance(table, dict) else None
    if told in list(Role):
        return Role(told)
    known = shipped_ingredients().get(name)
    return None if known is None else known.ingredient.role
