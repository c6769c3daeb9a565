"""Which flats face the show direction, stand beside it or face away."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from takeoff.piece.flats import Flats
from takeoff.piece.plan_axes import cosines_ratio
from takeoff.piece.rules import SurfaceRules

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


class Zone(IntEnum):
    """How a flat lies to the show direction."""

    FACING = 0
    WALL = 1
    AWAY = 2


class Reason(IntEnum):
    """Why a surface is of its class."""

    FLAT = 0
    CURVED = 1
    RELIEF = 2
    EDGE = 3
    BASIN = 4
    STEP = 5
    SHELL_EDGE = 6
    LOOSE = 7
    INNER = 8
    BACK = 9
    HIDDEN = 10
    FILLED = 11
    EASED = 12


@dataclass(frozen=True, slots=True, eq=False)
class Zones:
    """Flats sorted by how they lie to the show direction.

    Parameters
    ----------
    flats : Flats
        The flats.
    show_direction : ndarray of float, shape (3,)
        Unit vector out of the finished show face. [-]
    tilt_deg : ndarray of float, shape (n,)
        Angle between normal and show direction. [°]
    zone : ndarray of int, shape (n,)
        A `Zone` for each flat.
    reason : ndarray of int, shape (n,)
        A `Reason` for each flat; that of walls is found later.
    """

    flats: Flats
    show_direction: FloatArray
    tilt_deg: FloatArray
    zone: NDArray[np.int8]
    reason: NDArray[np.int8]

    def are(self, zone: Zone) -> BoolArray:
        """Tell the flats of one zone."""
        chosen: BoolArray = self.zone == zone
        return chosen

    def moved(self, chosen: BoolArray, zone: Zone, reason: Reason) -> Zones:
        """Give the same zones with the chosen flats put into another."""
        return replace(
            self,
            zone=np.where(chosen, np.int8(zone), self.zone),
            reason=np.where(chosen, np.int8(reason), self.reason),
        )

    def on(self, flats: Flats, former: NDArray[np.integer]) -> Zones:
        """Give the same zones on flats taken apart, by the former flat of each."""
        return replace(
            self,
            flats=flats,
            tilt_deg=self.tilt_deg[former],
            zone=self.zone[former],
            reason=self.reason[former],
        )


def zones_of(
    flats: Flats, show_direction: FloatArray, *, rules: SurfaceRules = SurfaceRules()
) -> Zones:
    """Sort flats by their tilt from the show direction.

    Parameters
    ----------
    flats : Flats
        The flats.
    show_direction : ndarray of float, shape (3,)
        Unit vector. [-]
    rules : SurfaceRules, optional
        Where facing ends and facing away begins.

    Returns
    -------
    Zones
        The flats with their zones.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.flats import flats_of
    >>> box = flats_of(Mesh.from_trimesh(trimesh.creation.box((1.0, 2.0, 3.0)), unit="m"))
    >>> zones = zones_of(box, np.array([0.0, 0.0, 1.0]))
    >>> [int(zones.are(zone).sum()) for zone in Zone]
    [1, 4, 1]
    """
    cosine = np.clip(cosines_ratio(flats.normals, show_direction), -1.0, 1.0)
    tilt_deg = np.degrees(np.arccos(cosine))
    facing = tilt_deg <= rules.face_angle_deg + rules.tie_deg
    wall = ~facing & (tilt_deg <= rules.away_angle_deg + rules.tie_deg)
    zone = np.full(flats.count, Zone.AWAY, dtype=np.int8)
    reason = np.full(flats.count, Reason.BACK, dtype=np.int8)
    zone[facing], zone[wall] = Zone.FACING, Zone.WALL
    reason[facing], reason[wall] = Reason.FLAT, Reason.FILLED
    return Zones(flats, show_direction, tilt_deg, zone, reason)
