"""The rows of a measured piece, key by key; they belong to ``documents``."""

from __future__ import annotations

from collections.abc import Sequence

from typing_extensions import TypedDict  # the one that schemas can be made of on Python 3.11


class NeighbourRow(TypedDict):
    """A surface beside another, and how far they meet."""

    id: str
    length_m: float


class OpeningRow(TypedDict):
    """A cut-out; its wall is among the surfaces."""

    id: str
    wall_area_m2: float
    width_m: float
    depth_m: float
    bare: bool


class RangeRow(TypedDict):
    """Least, aimed and most of what is given as a range."""

    low: float
    aimed: float
    high: float


class WallRow(TypedDict):
    """What a return or upright takes, by the way it is cast: an even layer, or filled."""

    id: str
    layer_m3: float
    inner_form_m2: float
    filled_m3: float


class ExactRow(TypedDict):
    """Volume of both layers by a slow, independent method."""

    method: str
    volume_m3: float


# "class" is a word of the language, so the rows that carry it are spelt as calls.
SurfaceRow = TypedDict(
    "SurfaceRow",
    {
        "id": str,
        "class": str,
        "found_class": str,
        "area_m2": float,
        "depth_m": float,
        "mean_depth_m": float,
        "draft_deg": float | None,
        "undercut_m2": float,
        "opening": str | None,
        "neighbours": Sequence[NeighbourRow],
        "why": str,
    },
)
LayerRow = TypedDict(
    "LayerRow",
    {
        "layer": str,
        "class": str,
        "thickness_m": float,
        "thickness_range_m": RangeRow | None,
        "area_m2": float,
        "volume_m3": float,
        "volume_range_m3": RangeRow | None,
        "centroid_m": Sequence[float] | None,
    },
)
AreaRow = TypedDict(
    "AreaRow", {"show_face": float, "return": float, "upright": float, "back": float}
)


class LayerVolumeRow(TypedDict):
    """Volume of each layer."""

    face_coat: float
    backer: float


def surface_row(
    surface_id: str,
    surface_class: str,
    *,
    found_class: str,
    area_m2: float,
    depth_m: float,
    mean_depth_m: float,
    draft_deg: float | None,
    undercut_m2: float,
    opening: str | None,
    neighbours: Sequence[NeighbourRow],
    why: str,
) -> SurfaceRow:
    """Give one surface its keys.

    Parameters
    ----------
    surface_id : str
        ``F1``, ``R2`` ...
    surface_class, found_class : str
        Class in words of the trade, and that before the job corrected it.
    area_m2 : float
        Area. [m²]
    depth_m, mean_depth_m : float
        Largest and mean depth behind the show face. [m]
    draft_deg : float or None
        Worst draft; None for surfaces that have none. [°]
    undercut_m2 : float
        Area that leans in. [m²]
    opening : str or None
        The opening it is the wall of.
    neighbours : sequence of NeighbourRow
        Surfaces beside it.
    why : str
        Why it is of this class.

    Returns
    -------
    SurfaceRow
        The row.

    Examples
    --------
    >>> row = surface_row("F1", "show_face", found_class="show_face", area_m2=1.0, depth_m=0.0,
    ...                   mean_depth_m=0.0, draft_deg=None, undercut_m2=0.0, opening=None,
    ...                   neighbours=[], why="faces the show direction")
    >>> row["class"]
    'show_face'
    """
    return {
        "id": surface_id,
        "class": surface_class,
        "found_class": found_class,
        "area_m2": area_m2,
        "depth_m": depth_m,
        "mean_depth_m": mean_depth_m,
        "draft_deg": draft_deg,
        "undercut_m2": undercut_m2,
        "opening": opening,
        "neighbours": neighbours,
        "why": why,
    }


def layer_row(
    layer: str,
    surface_class: str,
    *,
    thickness_m: float,
    area_m2: float,
    volume_m3: float,
    centroid_m: Sequence[float] | None = None,
    thickness_range_m: tuple[float, float] | None = None,
    volume_range_m3: tuple[float, float] | None = None,
) -> LayerRow:
    """Give one layer on one class of surface its keys.

    Parameters
    ----------
    layer : str
        ``face_coat`` or ``backer``.
    surface_class : str
        Class in words of the trade.
    thickness_m : float
        Thickness. [m]
    area_m2 : float
        Area covered. [m²]
    volume_m3 : float
        True volume. [m³]
    centroid_m : sequence of float, optional
        Its centroid. [m]
    thickness_range_m, volume_range_m3 : tuple of float, optional
        Least and most, where a range is given. [m], [m³]

    Returns
    -------
    LayerRow
        The row.

    Examples
    --------
    >>> layer_row("backer", "return", thickness_m=0.02, area_m2=1.0, volume_m3=0.019)["class"]
    'return'
    """
    return {
        "layer": layer,
        "class": surface_class,
        "thickness_m": thickness_m,
        "thickness_range_m": range_row(thickness_range_m, thickness_m),
        "area_m2": area_m2,
        "volume_m3": volume_m3,
        "volume_range_m3": range_row(volume_range_m3, volume_m3),
        "centroid_m": None if centroid_m is None else list(centroid_m),
    }


def range_row(ends: tuple[float, float] | None, aimed: float) -> RangeRow | None:
    """Give a range its keys.

    Parameters
    ----------
    ends : tuple of float or None
        Least and most; None where there is no range.
    aimed : float
        What is aimed at.

    Returns
    -------
    RangeRow or None
        The range.

    Examples
    --------
    >>> range_row((3.0, 5.0), 4.0)
    {'low': 3.0, 'aimed': 4.0, 'high': 5.0}
    """
    return None if ends is None else RangeRow(low=ends[0], aimed=aimed, high=ends[1])
