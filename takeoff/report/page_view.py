"""The 3-D view of a piece on a page: one trace a surface, coloured by class, ids written on it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from importlib.util import find_spec
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.geometry.facets import Facets, bounds_m, facets_of
from takeoff.measure_documents import SurfaceRow
from takeoff.piece.surfaces import ModelKind, Surface, SurfaceClass, Surfaces
from takeoff.report.bid_words import trade_word
from takeoff.report.display_mesh import DisplayMesh, border_lines_m, display_mesh
from takeoff.report.figures import System, written_area, written_length
from takeoff.report.painting import PALETTE
from takeoff.report.picture import eye_beside

if TYPE_CHECKING:
    from plotly.graph_objects import Figure, Mesh3d, Scatter3d, layout

FloatArray = NDArray[np.float64]

_MOST_FACETS = 150_000  # above, the browsers of phones and old computers stall
_MOST_IDS = 60  # above, ids hide the piece; all of them are told on pointing
_LIFT_SHARE = 0.004  # how far an id stands off its surface, of the size of the piece
_ROOM_SHARE = 0.01  # room round the piece for its ids, likewise
_EYE_RATIO = 1.7
_LINE_SIGNS = 44


@dataclass(frozen=True, slots=True)
class PageView:
    """A 3-D view, ready for a page.

    Parameters
    ----------
    figure : str
        Traces and layout as JSON.
    shown_count, whole_count : int
        How many facets are shown, and how many there are.
    """

    figure: str
    shown_count: int
    whole_count: int

    @property
    def thinned(self) -> bool:
        """True where fewer facets are shown than were measured."""
        return self.shown_count < self.whole_count


def views_can_be_made() -> bool:
    """Tell whether the library is installed that draws 3-D views.

    Returns
    -------
    bool
        False where the extra ``[report]`` is missing.

    Examples
    --------
    >>> views_can_be_made() in {True, False}
    True
    """
    return find_spec("plotly") is not None


def page_view(
    surfaces: Surfaces, rows: Sequence[SurfaceRow], *, system: System = System.METRIC
) -> PageView:
    """Set up the 3-D view of a piece.

    Parameters
    ----------
    surfaces : Surfaces
        The classified piece.
    rows : sequence of SurfaceRow
        What the document says of its surfaces.
    system : System, optional
        Units of the text.

    Returns
    -------
    PageView
        A trace a surface and one with the borders, ids written on; what is pointed at tells id,
        class, area, depth and why.

    Notes
    -----
    Needs the extra ``[report]``. Above 150,000 facets the shape is thinned out for display;
    the figures are those of the document.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.surfaces import ModelKind
    >>> slab = Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m")
    >>> told = classify(slab, kind=ModelKind.PIECE, show_direction=np.array([0.0, 0.0, 1.0]))
    >>> page_view(told, []).shown_count
    12
    """
    from plotly.graph_objects import Figure

    said = {row["id"]: _said(row, system) for row in rows}
    shown = display_mesh(surfaces.mesh, most_count=_MOST_FACETS)
    number = _surface_numbers(surfaces)[shown.facet]
    traces = [*_faces(surfaces, shown, number, said), _borders(shown, number)]
    figure = Figure(data=traces, layout=_layout(surfaces))
    whole = len(surfaces.mesh.triangles)
    return PageView(_json(figure), len(shown.facet), whole)


def _json(figure: Figure) -> str:
    return str(figure.to_json(engine="json", remove_uids=True))


def _surface_numbers(surfaces: Surfaces) -> NDArray[np.int64]:
    """Give the number of the surface that each facet belongs to; -1 where to none."""
    number = np.full(len(surfaces.mesh.triangles), -1, dtype=np.int64)
    for place, surface in enumerate(surfaces.surfaces):
        number[surface.facets] = place
    return number


def _said(row: SurfaceRow, system: System) -> str:
    """Say what a surface is, for whoever points at it."""
    depth = f", {written_length(row['depth_m'], system)} deep" if row["depth_m"] > 0.0 else ""
    opening = f" of opening {row['opening']}" if row["opening"] else ""
    lines = [
        f"<b>{escape(row['id'])}</b> {trade_word(row['class'])}{escape(opening)}",
        f"{written_area(row['area_m2'], system)}{depth}",
        *(escape(line) for line in textwrap.wrap(row["why"], _LINE_SIGNS)),
    ]
    return "<br>".join(lines)


def _faces(
    surfaces: Surfaces, shown: DisplayMesh, number: NDArray[np.int64], said: Mapping[str, str]
) -> Iterator[Mesh3d]:
    """Make a trace of each surface, its points its own, so that colours end at its borders."""
    from plotly.graph_objects import Mesh3d

    for place, surface in enumerate(surfaces.surfaces):
        own = shown.mesh.triangles[number == place]
        used, corners = np.unique(own, return_inverse=True)
        x, y, z = shown.mesh.points_m[used].astype(np.float32).T
        i, j, k = corners.reshape(-1, 3).astype(np.int32).T
        yield Mesh3d(
            **dict(zip("xyzijk", (x, y, z, i, j, k), strict=True)),
            name=surface.id,
            meta=[surface.surface_class.value, *_facing(surfaces, surface)],
            color=_colour(surface.surface_class),
            flatshading=True,
            hoverinfo="text",
            hovertext=said.get(surface.id, surface.id),
            lighting={"ambient": 0.75, "diffuse": 0.35, "specular": 0.0, "fresnel": 0.0},
            showlegend=False,
        )


def _facing(surfaces: Surfaces, surface: Surface) -> list[float]:
    """Say which way a surface looks; nothing where it is seen from either side."""
    if surfaces.kind is ModelKind.OPEN or not surface.normal.any():
        return []
    return [round(float(along), 4) for along in surface.normal]


def _borders(shown: DisplayMesh, number: NDArray[np.int64]) -> Scatter3d:
    """Make one trace of all edges at which surfaces meet or end."""
    from plotly.graph_objects import Scatter3d

    lines_m = border_lines_m(shown.mesh, number)
    gaps_m = np.full((len(lines_m), 1, 3), np.nan)
    x, y, z = np.concatenate([lines_m, gaps_m], axis=1).reshape(-1, 3).astype(np.float32).T
    return Scatter3d(
        x=x,
        y=y,
        z=z,
        mode="lines",
        name="borders",
        line={"color": "#1a1a1a", "width": 3},
        hoverinfo="skip",
        showlegend=False,
    )


def _ids(surfaces: Surfaces) -> Iterator[layout.scene.Annotation]:
    """Write the ids on, those of the largest surfaces where they are many."""
    from plotly.graph_objects import layout

    facets = facets_of(surfaces.mesh)
    largest = sorted(surfaces.surfaces, key=lambda surface: -surface.area_m2)[:_MOST_IDS]
    for surface in largest:
        place = map(float, _id_place_m(surfaces, surface, facets).astype(np.float32))
        yield layout.scene.Annotation(
            **dict(zip("xyz", place, strict=True)),
            text=surface.id,
            showarrow=False,
            bgcolor="#ffffff",
            bordercolor=_colour(surface.surface_class),
            borderpad=2,
            borderwidth=2,
            font={"color": "#1a1a1a", "size": 13},
        )


def _id_place_m(surfaces: Surfaces, surface: Surface, facets: Facets) -> FloatArray:
    """Find the facet of a surface next to its middle, and stand a little off it."""
    corners_m = surfaces.mesh.points_m[surfaces.mesh.triangles[surface.facets]]
    middles_m = corners_m.mean(axis=1)
    share = facets.area_m2[surface.facets]
    middle_m = np.average(middles_m, axis=0, weights=share if share.sum() > 0.0 else None)
    nearest = int(np.argmin(np.linalg.norm(middles_m - middle_m, axis=1)))
    low_m, high_m = bounds_m(surfaces.mesh)
    lift_m = _LIFT_SHARE * float(np.linalg.norm(high_m - low_m))
    place_m: FloatArray = middles_m[nearest] + lift_m * facets.normals[surface.facets[nearest]]
    return place_m


def _colour(surface_class: SurfaceClass) -> str:
    return "#{:02x}{:02x}{:02x}".format(*PALETTE[surface_class])


def _layout(surfaces: Surfaces) -> dict[str, object]:
    """Set up the scene: no axes, true proportions, whole, seen as the still picture is."""
    eye = eye_beside(surfaces.show_direction) * _EYE_RATIO
    low_m, high_m = bounds_m(surfaces.mesh)
    around_m = float(np.linalg.norm(high_m - low_m))
    # Ids stand off their surfaces, and a scene shows nothing that lies outside its axes.
    low_m, high_m = low_m - _ROOM_SHARE * around_m, high_m + _ROOM_SHARE * around_m
    # A frame is two of these units high, so that the piece fits into it however it is turned.
    ratios = 2.0 * (high_m - low_m) / np.linalg.norm(high_m - low_m)
    axes = {
        f"{axis}axis": {"visible": False, "showspikes": False, "range": [low, high]}
        for axis, low, high in zip("xyz", low_m.tolist(), high_m.tolist(), strict=True)
    }
    return {
        "scene": {
            **axes,
            "aspectmode": "manual",
            "aspectratio": dict(zip("xyz", ratios.tolist(), strict=True)),
            "dragmode": "turntable",
            "annotations": list(_ids(surfaces)),
            "camera": {
                "eye": dict(zip("xyz", map(float, eye), strict=True)),
                "projection": {"type": "orthographic"},
            },
        },
        "margin": {"l": 0, "r": 0, "t": 0, "b": 0},
        "showlegend": False,
        "paper_bgcolor": "#ffffff",
        "hoverlabel": {
            "align": "left",
            "bgcolor": "#ffffff",
            "bordercolor": "#1a1a1a",
            "font": {"color": "#1a1a1a", "size": 14},
        },
        "template": {},
    }
