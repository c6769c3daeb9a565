"""What one piece takes of everything that is mixed and placed by itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from takeoff.errors import BatchError
from takeoff.files.order import OrderedPiece
from takeoff.files.order_parts import Core, Portion
from takeoff.job.way_mixes import PLACING_OF
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.mix.mixes import Mix, Placing
from takeoff.piece.layers import Layer, LayerVolume
from takeoff.piece.ways import Way

FILL = "fill"
ADDITION = "addition"
_APART = tuple(way for way, placing in PLACING_OF.items() if placing is not Placing.POURED)
"""Ways that need a mix of their own beside a poured backer."""


@dataclass(frozen=True, slots=True)
class PortionVolume:
    """What one piece takes of a portion on one class of surface.

    Parameters
    ----------
    portion : Portion
        What is mixed.
    surface_class : str
        Class of surface; ``"fill"`` for what fills walls, ``"addition"`` for ribs and pads,
        ``"sample"`` and ``"board"`` for what is cast by itself.
    volume_m3 : float
        Its volume. [m³]
    low_m3, high_m3 : float
        Its volume at the least and the most thickness. [m³]
    centroid_m : tuple of float or None
        Its centroid; None where it is not known. [m]
    """

    portion: Portion
    surface_class: str
    volume_m3: float
    low_m3: float
    high_m3: float
    centroid_m: tuple[float, float, float] | None = None

    def scaled(self, ratio: float) -> PortionVolume:
        """Give a part of it.

        Parameters
        ----------
        ratio : float
            Which part. [-]

        Returns
        -------
        PortionVolume
            The part.

        Examples
        --------
        >>> PortionVolume(Portion.BACKER, "return", 2.0, 1.0, 3.0).scaled(0.5).high_m3
        1.5
        """
        return replace(
            self,
            volume_m3=self.volume_m3 * ratio,
            low_m3=self.low_m3 * ratio,
            high_m3=self.high_m3 * ratio,
        )


def portion_volumes(
    piece: MeasuredPiece,
    ordered: OrderedPiece,
    ways: Mapping[str, Way | None],
    wall_mix: Mix | None = None,
) -> tuple[PortionVolume, ...]:
    """Give what one copy of a piece takes.

    Parameters
    ----------
    piece : MeasuredPiece
        The measured piece.
    ordered : OrderedPiece
        What the job says of it.
    ways : mapping of str to Way
        How its walls are cast, by id.
    wall_mix : Mix, optional
        The mix of walls that are packed or sprayed while the rest is poured.

    Returns
    -------
    tuple of PortionVolume
        Portion by portion in the order they are placed, class by class.

    Raises
    ------
    BatchError
        If a wall is packed or sprayed and no mix is told for it, or cores leave no backer.

    Notes
    -----
    Layers go with their portions; walls that are packed or sprayed take their share of the
    backer of their class with them. Filling goes to the deepest foot of the walls that are
    filled. Cores take the place of filling first, then of the backer evenly.

    Examples
    --------
    >>> from takeoff.files.job_file import read_order
    >>> from takeoff.job.ordered_pieces import measure_ordered
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> panel = order.pieces[2]
    >>> volumes = portion_volumes(measure_ordered(panel, order).pieces[0], panel, {})
    >>> [one.surface_class for one in volumes if one.portion is Portion.BACKER]
    ['show_face', 'return']
    """
    packed = {wall for wall, way in ways.items() if way in _APART}
    _refuse_unmixed(set(ways.values()), wall_mix, piece.name)
    backer = [
        part
        for row in piece.layers.rows
        if row.layer is Layer.BACKER
        for part in _backer_parts(row, piece, packed)
    ]
    filled_m3 = max(
        (wall.filled_m3 for wall in piece.layers.walls if ways.get(wall.surface) is Way.FILLED),
        default=0.0,
    )
    if filled_m3 > 0.0:
        backer.append(PortionVolume(Portion.BACKER, FILL, filled_m3, filled_m3, filled_m3))
    face = [
        _row_volume(row, Portion.FACE_COAT)
        for row in piece.layers.rows
        if row.layer is Layer.FACE_COAT
    ]
    added = [
        PortionVolume(Portion(one.layer.value), ADDITION, *(one.volume_m3 * one.count,) * 3)
        for one in ordered.additions
    ]
    _refuse_long_cores(piece, ordered.cores)
    core_m3 = sum(core.volume_m3 * core.count for core in ordered.cores)
    volumes = [*face, *_around(backer, core_m3, piece.name), *added]
    rank = list(Portion)
    return tuple(
        sorted(
            (one for one in volumes if one.volume_m3 > 0.0), key=lambda one: rank.index(one.portion)
        )
    )


def _refuse_unmixed(ways: set[Way | None], mix: Mix | None, name: str) -> None:
    """Refuse walls that are packed or sprayed without a mix that is."""
    for way in _APART:
        if way not in ways:
            continue
        if mix is None:
            raise BatchError(
                f"walls are {way.value} while the backer is poured; tell with what:\n"
                f'[wall_backer]\nmix = "backer-{way.value}"',
                where=name,
            )
        if mix.placing is not PLACING_OF[way]:
            raise BatchError(
                f"walls are {way.value}, and {mix.name} of [wall_backer] is {mix.placing.value}; "
                f"give a mix that is {way.value}, or another way",
                where=name,
            )


def _backer_parts(
    row: LayerVolume, piece: MeasuredPiece, packed: set[str]
) -> Iterator[PortionVolume]:
    """Split the backer of one class between what is poured and what its walls are packed with."""
    classes = {surface.id: surface.surface_class for surface in piece.surfaces.surfaces}
    walls = [wall for wall in piece.layers.walls if classes[wall.surface] is row.surface_class]
    whole_m3 = sum(wall.layer_m3 for wall in walls)
    apart_m3 = sum(wall.layer_m3 for wall in walls if wall.surface in packed)
    share = apart_m3 / whole_m3 if whole_m3 > 0.0 else 0.0
    if share > 0.0:
        yield _row_volume(row, Portion.WALL_BACKER).scaled(share)
    if share < 1.0:
        yield _row_volume(row, Portion.BACKER).scaled(1.0 - share)


def _row_volume(row: LayerVolume, portion: Portion) -> PortionVolume:
    low_m3, high_m3 = row.volume_range_m3 or (row.volume_m3, row.volume_m3)
    return PortionVolume(
        portion, row.surface_class.value, row.volume_m3, low_m3, high_m3, row.centroid_m
    )


def _refuse_long_cores(piece: MeasuredPiece, cores: Iterable[Core]) -> None:
    """Refuse cores longer than anything that lies within the piece."""
    points_m = piece.surfaces.mesh.points_m
    longest_m = float(np.linalg.norm(np.ptp(points_m, axis=0))) if len(points_m) else 0.0
    for core in cores:
        if core.sides_m is not None and max(core.sides_m) > longest_m:
            raise BatchError(
                f"core {core.name} is {max(core.sides_m) * 1e3:.4g} mm long, more than the piece, "
                f"{longest_m * 1e3:.4g} mm from corner to corner; look at the unit of its size",
                where=piece.name,
            )


def _around(backer: list[PortionVolume], core_m3: float, name: str) -> list[PortionVolume]:
    """Take cores out of the backer: of what fills first, then evenly."""
    poured_m3 = sum(one.low_m3 for one in backer if one.portion is Portion.BACKER)
    if core_m3 == 0.0:
        return backer
    if core_m3 >= poured_m3:
        raise BatchError(
            f"its cores take {core_m3 * 1e3:.3g} L, the backer around them only "
            f"{poured_m3 * 1e3:.3g} L; fill the walls they stand at, or take smaller cores",
            where=name,
        )
    fill_m3 = sum(one.volume_m3 for one in backer if one.surface_class == FILL)
    of_fill_m3 = min(core_m3, fill_m3)
    left_m3 = core_m3 - of_fill_m3
    rest_m3 = sum(
        one.volume_m3
        for one in backer
        if one.portion is Portion.BACKER and one.surface_class != FILL
    )
    around = []
    for one in backer:
        if one.surface_class == FILL:
            around.append(one.scaled(1.0 - of_fill_m3 / fill_m3))
        elif one.portion is Portion.BACKER and left_m3 > 0.0:
            around.append(_less(one, left_m3 * one.volume_m3 / rest_m3))
        else:
            around.append(one)
    return around


def _less(one: PortionVolume, taken_m3: float) -> PortionVolume:
    return replace(
        one,
        volume_m3=one.volume_m3 - taken_m3,
        low_m3=max(0.0, one.low_m3 - taken_m3),
        high_m3=one.high_m3 - taken_m3,
    )
