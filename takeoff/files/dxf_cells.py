"""Strokes of one cell of an array of blocks taken over for the cells beside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from takeoff.files.dxf_gathered import Gathered
from takeoff.files.dxf_walk import Placed
from takeoff.geometry.strokes import Stroke

_Key = tuple[int, bytes]
_Lengths = tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Drawn:
    """What one entity added, and where it was put."""

    strokes: tuple[Stroke, ...]
    styles_m: tuple[tuple[float, ...], ...]
    at: NDArray[np.float64]


@dataclass(slots=True)
class Cells:
    """A memory of what entities of blocks add when they are only shifted.

    Parameters
    ----------
    gathered : Gathered
        What is read so far; added to.
    read : callable
        Reads one entity into it.

    Notes
    -----
    Only entities that add nothing but strokes are remembered: the walk keeps their records, so
    that the identity of a record stands for it.
    """

    gathered: Gathered
    read: Callable[[Placed, Gathered], None]
    _drawn: dict[_Key, _Drawn] = field(default_factory=dict)

    def take(self, here: Placed) -> None:
        """Read an entity, or take over the strokes of one that it only repeats further on.

        Parameters
        ----------
        here : Placed
            The entity and where it is put.
        """
        if not here.blocks:
            self.read(here, self.gathered)
            return
        key = id(here.entity.record), here.matrix[:3, :3].tobytes() + here.matrix[2].tobytes()
        known = self._drawn.get(key)
        if known is not None and self._shifted(known, here):
            return
        others, strokes = self._others(), len(self.gathered.strokes)
        styles = [len(style_m) for style_m in self._styles_m()]
        self.read(here, self.gathered)
        if others == self._others():
            self._drawn[key] = _Drawn(
                tuple(self.gathered.strokes[strokes:]),
                tuple(
                    tuple(style_m[count:])
                    for style_m, count in zip(self._styles_m(), styles, strict=True)
                ),
                here.matrix[:2, 3].copy(),
            )

    def _shifted(self, known: _Drawn, here: Placed) -> bool:
        """Add the strokes shifted, unless that takes them further out than anything on earth."""
        gathered = self.gathered
        by_m = (here.matrix[:2, 3] - known.at) * gathered.metres_per_unit
        moved = [stroke.points_m + by_m for stroke in known.strokes]
        farthest_m = gathered.rules.meshes.farthest_m
        if not all((np.abs(points_m) <= farthest_m).all() for points_m in moved):
            return False
        if known.strokes:
            source = gathered.new_source(here)
            gathered.strokes += [
                replace(stroke, points_m=points_m, source=source)
                for stroke, points_m in zip(known.strokes, moved, strict=True)
            ]
        for style_m, added_m in zip(self._styles_m(), known.styles_m, strict=True):
            style_m.extend(added_m)
        return True

    def _styles_m(self) -> tuple[list[float], ...]:
        """Give the lists that entities may add to beside their strokes."""
        gathered = self.gathered
        return (
            gathered.heights_m,
            gathered.widths_m,
            gathered.thicknesses_m,
            gathered.chord_errors_m,
        )

    def _others(self) -> _Lengths:
        """Count all else that an entity may add."""
        gathered = self.gathered
        lists = gathered.hatches, gathered.faces, gathered.fills, gathered.texts
        return (*(len(each) for each in lists), gathered.skipped.total())
