"""What each return and upright takes, whichever way it is cast: dammed, cored, filled, packed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.layering import Layering
from takeoff.geometry.sums import summed
from takeoff.piece.cast_skin import CastSkin
from takeoff.piece.fillings import Fillings
from takeoff.piece.layers import CAST_CLASSES, LayerVolume, WallLayer
from takeoff.piece.surfaces import Surface, SurfaceClass, Surfaces

FloatArray = NDArray[np.float64]


def wall_layers(
    surfaces: Surfaces,
    cast: CastSkin,
    fillings: Fillings,
    laid: Layering,
    rows: Sequence[LayerVolume],
) -> tuple[WallLayer, ...]:
    """Give what each return and upright takes.

    Parameters
    ----------
    surfaces : Surfaces
        The classified piece.
    cast : CastSkin
        Its skin that carries layers.
    fillings : Fillings
        What filling takes, to any level.
    laid : Layering
        The layers, by class.
    rows : sequence of LayerVolume
        Their rows.

    Returns
    -------
    tuple of WallLayer
        One for each wall that carries layers, in the order of the surfaces.

    Notes
    -----
    Each wall has the layers behind its own facets; what lies behind facets that are part of
    one class and part of another is divided by the area of them. Where the layers are counted,
    those of a class are divided among its walls by area, and its inner face by what the layers
    of the show face leave of their depth.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.laying import lay
    >>> from takeoff.piece.surfaces import ModelKind
    >>> from takeoff.piece.thickness import everywhere
    >>> box = trimesh.creation.box((0.4, 0.3, 0.05))
    >>> box.update_faces(box.face_normals[:, 2] > -0.5)
    >>> tray = classify(Mesh.from_trimesh(box, unit="m"), kind=ModelKind.OPEN,
    ...                 show_direction=np.array([0.0, 0.0, 1.0]))
    >>> walls = lay(tray, backer=everywhere(0.02)).walls
    >>> round(sum(wall.inner_form_m2 for wall in walls), 6), round(walls[0].filled_m3, 6)
    (0.0372, 0.002808)
    """
    bare = {opening.id for opening in surfaces.openings if opening.bare}
    show_m = max(
        (
            sum(row.thickness_m for row in rows if row.surface_class is kind)
            for kind in (SurfaceClass.SHOW_FACE,)
        ),
        default=0.0,
    )
    found: list[WallLayer] = []
    for column, kind in enumerate(CAST_CLASSES):
        walls = [
            surface
            for surface in surfaces.surfaces
            if surface.surface_class is kind and surface.opening not in bare
        ]
        if kind is SurfaceClass.SHOW_FACE or not walls:
            continue
        layers_m3 = float(laid.first.volume_m3[column] + laid.second.volume_m3[column])
        inner_m2 = max(float(laid.inner_m2[column]), 0.0)
        by_facet = laid.by_facet
        if by_facet is None:
            area = _parts([wall.area_m2 for wall in walls])
            inner = _parts([_inner_m2(wall, show_m) for wall in walls])
        else:
            held = _Held.of(walls, cast, column, len(surfaces.mesh.triangles))
            area = _parts(held.sums(by_facet.volume_m3))
            inner = _parts(held.sums(by_facet.inner_m2))
        for wall, inner_share, area_share in zip(walls, inner, area, strict=True):
            found.append(
                WallLayer(
                    wall.id,
                    layers_m3 * area_share,
                    inner_m2 * inner_share,
                    fillings.to_foot_m3(wall.depth_m),
                )
            )
    return tuple(found)


@dataclass(frozen=True, slots=True, eq=False)
class _Held:
    """Which facets of the skin the walls of one class hold.

    The number of the wall stands for each facet, and that behind the last for those of none.
    """

    shares: FloatArray
    wall: NDArray[np.int32]
    lacking_share: list[float]

    @classmethod
    def of(cls, walls: Sequence[Surface], cast: CastSkin, column: int, facets: int) -> _Held:
        shares, count = cast.shares[:, column], len(walls)
        wall_of = np.full(facets, count, dtype=np.int32)
        for number, wall in enumerate(walls):
            wall_of[wall.facets] = number
        held = wall_of[cast.facets]
        own_m2 = summed(held, cast.skin.facets.area_m2 * shares, count + 1)
        area_m2 = np.array([wall.area_m2 for wall in walls])
        return cls(shares, held, _parts(np.maximum(area_m2 - own_m2[:count], 0.0).tolist()))

    def sums(self, values: FloatArray) -> list[float]:
        """Sum over each wall, and divide what no facet of theirs holds by the area they lack."""
        *own, rest = summed(self.wall, values * self.shares, len(self.lacking_share) + 1).tolist()
        return [
            max(one + rest * lacking, 0.0)
            for one, lacking in zip(own, self.lacking_share, strict=True)
        ]


def _inner_m2(wall: Surface, show_m: float) -> float:
    """Area of a wall below the layers of the show face."""
    depth_m = wall.mean_depth_m if wall.mean_depth_m > 0.0 else wall.depth_m
    return wall.area_m2 * max(0.0, 1.0 - show_m / depth_m) if depth_m > 0.0 else 0.0


def _parts(values_m2: list[float]) -> list[float]:
    """Shares of a total; equal ones where there is none."""
    total_m2 = sum(values_m2)
    if total_m2 <= 0.0:
        return [1.0 / len(values_m2)] * len(values_m2)
    return [value / total_m2 for value in values_m2]
