"""Thickness of a layer as it is written: one value, a range, or `fill`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from takeoff.errors import LayerVolumeError
from takeoff.units import length_m

FILL = "fill"
_RANGE = re.compile(r"\s*([\d.,/]+)\s*-\s*([\d.,/]+)\s*-\s*([\d.,/]+)\s*([a-z\"]+)\s*")


@dataclass(frozen=True, slots=True)
class Thickness:
    """Thickness of a layer.

    Parameters
    ----------
    aimed_m : float
        What is aimed at; 0 for no layer. [m]
    low_m, high_m : float or None
        The least and the most it may come out at; None where no range is given. [m]
    fill : bool, default False
        True where the layer fills a solid piece to its modelled back.
    """

    aimed_m: float
    low_m: float | None = None
    high_m: float | None = None
    fill: bool = False

    @property
    def ends_m(self) -> tuple[float, float]:
        """Low and high end of the range, both as aimed where there is none, in [m]."""
        low_m = self.aimed_m if self.low_m is None else self.low_m
        high_m = self.aimed_m if self.high_m is None else self.high_m
        return low_m, high_m

    @property
    def ranged(self) -> bool:
        """True where a range is given."""
        return self.low_m is not None


NO_LAYER = Thickness(0.0)


def read_thickness(text: str) -> Thickness:
    """Read a written thickness.

    Parameters
    ----------
    text : str
        A length like ``"4 mm"``, a range low-aimed-high like ``"3-4-5 mm"``, or ``"fill"``.

    Returns
    -------
    Thickness
        The thickness in SI.

    Raises
    ------
    QuantityError
        If a length cannot be read.
    LayerVolumeError
        If it is 0, or a range is out of order.

    Examples
    --------
    >>> read_thickness("3/16 in").aimed_m
    0.0047625
    >>> read_thickness("3-4-5 mm")
    Thickness(aimed_m=0.004, low_m=0.003, high_m=0.005, fill=False)
    >>> read_thickness("fill").fill
    True
    """
    if text.strip().lower() == FILL:
        return Thickness(0.0, fill=True)
    parts = _RANGE.fullmatch(text)
    if parts is None:
        return Thickness(_some_m(text, text))
    *numbers, unit = parts.groups()
    low_m, aimed_m, high_m = (_some_m(f"{number} {unit}", text) for number in numbers)
    if not low_m <= aimed_m <= high_m:
        raise LayerVolumeError(
            f"the range {text} is out of order; write least, aimed and most, like 3-4-5 mm"
        )
    return Thickness(aimed_m, low_m, high_m)


def _some_m(text: str, whole: str) -> float:
    """Read a length that is more than nothing."""
    thickness_m = length_m(text)
    if thickness_m <= 0.0:
        raise LayerVolumeError(f"a layer of {whole} is no layer; leave it out to have none")
    return thickness_m


@dataclass(frozen=True, slots=True)
class ClassThickness:
    """Thickness of a layer on show face, returns and uprights.

    Parameters
    ----------
    show_face, on_return, upright : Thickness
        One for each class of surface.
    """

    show_face: Thickness = NO_LAYER
    on_return: Thickness = NO_LAYER
    upright: Thickness = NO_LAYER

    @property
    def all(self) -> tuple[Thickness, Thickness, Thickness]:
        """The three, in the order of the classes."""
        return self.show_face, self.on_return, self.upright

    @property
    def fill(self) -> bool:
        """True where the layer fills the piece."""
        return self.show_face.fill

    @property
    def ranged(self) -> bool:
        """True where any of the three is a range."""
        return any(thickness.ranged for thickness in self.all)

    @property
    def none(self) -> bool:
        """True where there is no such layer at all."""
        return not self.fill and all(thickness.aimed_m == 0.0 for thickness in self.all)

    def row(self) -> dict[str, object]:
        """Give the thickness for the settings of a document.

        Returns
        -------
        dict
            One value by class; ``"fill"`` or a range where it is one.

        Examples
        --------
        >>> everywhere(0.004).row()["return"]
        0.004
        """
        return {
            name: _written(thickness) for name, thickness in zip(CLASS_NAMES, self.all, strict=True)
        }


CLASS_NAMES = ("show_face", "return", "upright")


def everywhere(thickness_m: float) -> ClassThickness:
    """Give one thickness to all classes.

    Parameters
    ----------
    thickness_m : float
        The thickness. [m]

    Returns
    -------
    ClassThickness
        The same on all of them.

    Raises
    ------
    LayerVolumeError
        If it is below 0.

    Examples
    --------
    >>> everywhere(0.004).upright.aimed_m
    0.004
    """
    if thickness_m < 0.0:
        raise LayerVolumeError("a layer cannot be thinner than 0; give a thickness like 4 mm")
    return ClassThickness(*(Thickness(thickness_m),) * 3)


def read_class_thickness(
    told: str | Mapping[str, str] | None,
    *,
    on_return: str | None = None,
    upright: str | None = None,
) -> ClassThickness:
    """Read the thickness of a layer, on all surfaces or by class.

    Parameters
    ----------
    told : str, mapping of str to str, or None
        One thickness; or thicknesses by ``"show_face"``, ``"return"`` and ``"upright"``, of
        which those left out are as on the show face; None for no such layer.
    on_return, upright : str, optional
        Thickness on these, instead.

    Returns
    -------
    ClassThickness
        The thickness on each class.

    Raises
    ------
    QuantityError
        If a length cannot be read.
    LayerVolumeError
        If a class is not known, the show face is left out, or one class alone is to be filled.

    Examples
    --------
    >>> read_class_thickness({"show_face": "20 mm", "upright": "15 mm"}).row()
    {'show_face': 0.02, 'return': 0.02, 'upright': 0.015}
    """
    walls = dict(zip(CLASS_NAMES[1:], (on_return, upright), strict=True))
    given = {name: text for name, text in walls.items() if text is not None}
    if told is None and not given:
        return ClassThickness()
    if not isinstance(told, Mapping):
        told = {} if told is None else {CLASS_NAMES[0]: told}
    told = {**told, **given}
    unknown = [name for name in told if name not in CLASS_NAMES]
    if unknown:
        raise LayerVolumeError(
            f"{unknown[0]!r} is no class of surface; give thicknesses of {', '.join(CLASS_NAMES)}"
        )
    if "show_face" not in told:
        raise LayerVolumeError(
            f"a thickness is given on the {next(iter(told), 'walls')} alone; give that on the "
            "show face too"
        )
    read = [read_thickness(told.get(name, told["show_face"])) for name in CLASS_NAMES]
    if any(thickness.fill for thickness in read) and len(set(read)) > 1:
        raise LayerVolumeError("a piece is filled whole or not at all; give fill for all classes")
    return ClassThickness(*read)


def _written(thickness: Thickness) -> object:
    if thickness.fill:
        return FILL
    if thickness.ranged:
        low_m, high_m = thickness.ends_m
        return {"low": low_m, "aimed": thickness.aimed_m, "high": high_m}
    return thickness.aimed_m


def thickened(told: ClassThickness, more_m: float) -> ClassThickness:
    """Make a layer thicker on the show face alone.

    Parameters
    ----------
    told : ClassThickness
        The layer.
    more_m : float
        What to put on. [m]

    Returns
    -------
    ClassThickness
        The layer, thicker on the show face; a layer that fills stays as it is.

    Examples
    --------
    >>> thickened(everywhere(0.004), 0.001).row()
    {'show_face': 0.005, 'return': 0.004, 'upright': 0.004}
    """
    face = told.show_face
    if more_m == 0.0 or face.fill:
        return told
    low_m = None if face.low_m is None else face.low_m + more_m
    high_m = None if face.high_m is None else face.high_m + more_m
    return replace(told, show_face=Thickness(face.aimed_m + more_m, low_m, high_m))
