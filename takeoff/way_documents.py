"""The rows of the ways to cast a wall, key by key; they belong to ``documents``."""

from __future__ import annotations

from typing_extensions import TypedDict  # the one that schemas can be made of on Python 3.11


class WallWayRow(TypedDict):
    """One way to cast one return or upright, that wall by itself.

    ``stands`` tells that even a poured backer stands on the wall. ``volume_m3`` and ``mass_kg``
    hold both layers and the filling, ``backer_m3`` the backer and the filling. ``head_m`` is None
    for what is not poured, and no formwork design. Batches, hours and money are those of the
    backer, since the face coat is the same in every way; they are None where the way is not
    feasible, and where the shop has not said what they take. Money is a decimal string.
    """

    surface: str
    depth_m: float
    stands: bool
    way: str
    feasible: bool
    why: str
    mix: str
    mix_told: bool
    volume_m3: float
    backer_m3: float
    inner_form_m2: float
    mass_kg: float
    head_m: float | None
    batches: int | None
    mixer: str | None
    hours_s: float | None
    material_money: str | None
    labour_money: str | None
    inner_form_money: str | None
    money: str | None
