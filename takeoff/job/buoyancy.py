"""How hard fresh mix presses at its foot and lifts a core, as numbers only."""

from __future__ import annotations

from takeoff.errors import LayerVolumeError
from takeoff.files.shipped_handling import shipped_handling
from takeoff.notes import Note, NoteCode
from takeoff.report.figures import (
    System,
    written_density,
    written_length,
    written_mass,
    written_volume,
)
from takeoff.units import area_m2, mass_kg

NO_FORM_DESIGN = "not a formwork design, form and bracing by a competent person"
"""What stands behind every head and every hold-down force."""


def hold_down_n(volume_m3: float, density_kg_m3: float, mix_kg_m3: float) -> float:
    r"""Force that keeps a core down once fresh mix covers it.

    .. math:: F = \max(0, (\rho_{mix} - \rho_{core}) \, g \, V)

    Parameters
    ----------
    volume_m3 : float
        Volume of the core, at least 0. [m³]
    density_kg_m3 : float
        Density of the core, at least 0. [kg/m³]
    mix_kg_m3 : float
        Fresh density of the mix, at least 0. [kg/m³]

    Returns
    -------
    float
        The force, 0 for a core that sinks. [N]

    Raises
    ------
    LayerVolumeError
        If a figure is below 0 or no number.

    Notes
    -----
    The mix is taken as a liquid that gets under the core, which is the most it can lift. What
    holds the core down, and a reserve, are for the one who builds the form.

    References
    ----------
    ``cgpm-1901`` for gravity; the law is that of Archimedes.

    Examples
    --------
    >>> round(hold_down_n(0.002, 30.0, 2100.0), 2), hold_down_n(0.002, 2700.0, 2100.0)
    (40.6, 0.0)
    """
    _refuse_no_figure(volume_m3, density_kg_m3, mix_kg_m3)
    lifted_kg = max(0.0, mix_kg_m3 - density_kg_m3) * volume_m3
    return lifted_kg * shipped_handling().gravity_m_s2


def head_pa(head_m: float, mix_kg_m3: float) -> float:
    r"""Pressure of fresh mix at the foot of its full head.

    .. math:: p = \rho \, g \, h

    Parameters
    ----------
    head_m : float
        Height of fresh mix above the foot, such as the depth of a wall; at least 0. [m]
    mix_kg_m3 : float
        Fresh density of the mix, at least 0. [kg/m³]

    Returns
    -------
    float
        The pressure. [Pa]

    Raises
    ------
    LayerVolumeError
        If a figure is below 0 or no number.

    Notes
    -----
    Taken as a liquid, without the stiffening that published wall pressures allow for: a
    self-levelling mix is softer than those are meant for. Never print it without
    `NO_FORM_DESIGN`.

    References
    ----------
    ``aci-347-04``: above a slump of 7 in the full head, p = w h, is recommended.

    Examples
    --------
    >>> round(head_pa(0.86, 2100.0), 1)
    17710.8
    """
    _refuse_no_figure(head_m, mix_kg_m3)
    return mix_kg_m3 * shipped_handling().gravity_m_s2 * head_m


def hold_down_note(
    core: str,
    *,
    volume_m3: float,
    density_kg_m3: float,
    mix_kg_m3: float,
    count: int = 1,
    where: str = "",
    system: System = System.METRIC,
) -> Note | None:
    """Note the force that lifts a core.

    Parameters
    ----------
    core : str
        Its name.
    volume_m3 : float
        Volume of one. [m³]
    density_kg_m3 : float
        Its density. [kg/m³]
    mix_kg_m3 : float
        Fresh density of the mix round it. [kg/m³]
    count : int, default 1
        How many such cores there are in the piece.
    where : str, default ""
        The piece.
    system : System, optional
        Which units to write.

    Returns
    -------
    Note or None
        The note; None where the core sinks.

    Examples
    --------
    >>> print(hold_down_note("foam", volume_m3=0.002, density_kg_m3=30.0,
    ...                      mix_kg_m3=2100.0).text)  # doctest: +NORMALIZE_WHITESPACE
    core foam (2 L, 30 kg/m³): fresh mix round it lifts it with 40.6 N, as much as 4.14 kg weigh;
    hold it down; not a formwork design, form and bracing by a competent person
    """
    each_n = hold_down_n(volume_m3, density_kg_m3, mix_kg_m3)
    if each_n <= 0.0:
        return None
    lifted = written_mass(each_n / shipped_handling().gravity_m_s2, system)
    told = f"{written_volume(volume_m3, system)}, {written_density(density_kg_m3, system)}"
    several = f"; {count} of them, {_short(count * each_n)} N in all" if count > 1 else ""
    return Note(
        NoteCode.HOLD_DOWN,
        f"core {core} ({told}): fresh mix round it lifts it with {_short(each_n)} N, as much as "
        f"{lifted} weigh{several}; hold it down; {NO_FORM_DESIGN}",
        where=where,
    )


def head_note(
    surface: str,
    head_m: float,
    mix_kg_m3: float,
    *,
    where: str = "",
    system: System = System.METRIC,
) -> Note:
    """Note the head at the foot of a wall.

    Parameters
    ----------
    surface : str
        Id of the wall.
    head_m : float
        Height of fresh mix above its foot. [m]
    mix_kg_m3 : float
        Fresh density of the mix. [kg/m³]
    where : str, default ""
        The piece.
    system : System, optional
        Which units to write; the pressure stands in kPa either way.

    Returns
    -------
    Note
        The note.

    Examples
    --------
    >>> print(head_note("U1", 0.86, 2100.0).text)  # doctest: +NORMALIZE_WHITESPACE
    U1: 860 mm of fresh mix press with 17.71 kPa at their foot, as a liquid would; a number only,
    not a formwork design, form and bracing by a competent person
    """
    return Note(
        NoteCode.HEAD,
        f"{surface}: {written_length(head_m, system)} of fresh mix press with "
        f"{_written_pressure(head_m, mix_kg_m3, system)} at their foot, as a liquid would; "
        f"a number only, {NO_FORM_DESIGN}",
        where=where,
    )


def _written_pressure(head_m: float, mix_kg_m3: float, system: System) -> str:
    """Kilopascals, and pounds a square foot beside them where those are used."""
    written = f"{_short(head_pa(head_m, mix_kg_m3) / 1e3)} kPa"
    if system is System.METRIC:
        return written
    pounds = head_m * mix_kg_m3 / (mass_kg("1 lb") / area_m2("1 sq ft"))
    return f"{written} ({_short(pounds)} lb/sq ft)"


def _short(number: float) -> str:
    """Four significant figures, plainly, a whole part never cut short."""
    return f"{number:.0f}" if number >= 1e3 else f"{number:.4g}"


def _refuse_no_figure(*figures: float) -> None:
    for figure in figures:
        if not 0.0 <= figure < float("inf"):
            raise LayerVolumeError(
                f"{figure:g} is no height, volume or density; it must be at least 0"
            )
