"""What the walk through a DXF file gathers: strokes, faces, texts, and what it left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import UnreadableError
from takeoff.files.dxf_placing import is_similarity, moved, stretched_runs
from takeoff.files.dxf_rules import DxfRules
from takeoff.files.dxf_walk import Placed
from takeoff.geometry.chaining import Chain
from takeoff.geometry.curves import Run
from takeoff.geometry.strokes import Stroke

Array = NDArray[np.float64]

FILL = "a fill, no outline"
NOT_FLAT = "does not lie flat in the plan; turn the outline into the xy plane in CAD"


@dataclass(frozen=True, slots=True)
class Source:
    """The entity that a stroke came from, for messages.

    Parameters
    ----------
    kind : str
        ``"LINE"`` ...
    layer : str
        Layer that it shows on.
    place : str
        Kind, line, layer and block in words.
    """

    kind: str
    layer: str
    place: str


@dataclass(frozen=True, slots=True)
class DrawnText:
    """A text of the drawing.

    Parameters
    ----------
    text : str
        What it says, on one line.
    at_m : tuple of float
        Where it stands in the plan. [m]
    height_m : float
        Height of its letters. [m]
    """

    text: str
    at_m: tuple[float, float]
    height_m: float


@dataclass(frozen=True, slots=True, eq=False)
class DrawnFaces:
    """Faces in space that one entity draws.

    Parameters
    ----------
    points_m : ndarray of float, shape (n, 3)
        Corners. [m]
    faces : tuple of tuple of int
        Corner numbers of each face, three or more.
    layer : str
        Layer that they show on.
    """

    points_m: Array
    faces: tuple[tuple[int, ...], ...]
    layer: str


@dataclass(frozen=True, slots=True, eq=False)
class DrawnFill:
    """A filled triangle or four-sided area.

    Parameters
    ----------
    kind : str
        ``"SOLID"`` or ``"TRACE"``.
    points_m : ndarray of float, shape (4, 3)
        Its corners in turn; the last two are one where it is a triangle. [m]
    thickness_m : float
        How far it reaches out of its plane. [m]
    layer : str
        Layer that it shows on.
    source : int
        Number of the entity.
    """

    kind: str
    points_m: Array
    thickness_m: float
    layer: str
    source: int


@dataclass(slots=True)
class Gathered:
    """Everything read so far.

    Parameters
    ----------
    metres_per_unit : float
        Factor from the unit of the drawing. [m]
    codec : str
        How texts are encoded.
    rules : DxfRules
        Limits and tolerances.
    skipped : Counter
        How often each thing was left out, by what it is and why.
    strokes : list of Stroke
        Lines, arcs and curves that may be outlines.
    hatches : list of Chain
        Loops that bound hatches.
    sources : list of Source
        Entities that strokes came from, by their numbers.
    faces : list of DrawnFaces
        Faces in space.
    fills : list of DrawnFill
        Filled areas.
    texts : list of DrawnText
        Texts.
    heights_m : list of float
        Height above the plan of each entity that lies flat. [m]
    widths_m, thicknesses_m : list of float
        Widths and thicknesses that lines are drawn with. [m]
    chord_errors_m : list of float
        How far the chords of each fitted curve lie from it. [m]
    """

    metres_per_unit: float
    codec: str
    rules: DxfRules
    skipped: Counter[tuple[str, str]]
    strokes: list[Stroke] = field(default_factory=list)
    hatches: list[Chain] = field(default_factory=list)
    sources: list[Source] = field(default_factory=list)
    faces: list[DrawnFaces] = field(default_factory=list)
    fills: list[DrawnFill] = field(default_factory=list)
    texts: list[DrawnText] = field(default_factory=list)
    heights_m: list[float] = field(default_factory=list)
    widths_m: list[float] = field(default_factory=list)
    thicknesses_m: list[float] = field(default_factory=list)
    chord_errors_m: list[float] = field(default_factory=list)
    _latest: Placed | None = None
    _fitted: dict[tuple[bytes, ...], list[Run]] = field(default_factory=dict)

    def new_source(self, here: Placed) -> int:
        """Take down the entity that is being read, once, and give its number."""
        if self._latest is not here:
            self.sources.append(Source(here.entity.record.kind, here.layer, here.place))
            self._latest = here
        return len(self.sources) - 1

    def skip(self, here: Placed, why: str) -> None:
        """Count an entity that is left out."""
        self.skipped[here.entity.record.kind, why] += 1

    def plan_m(self, points: Array, matrix: Array, here: Placed) -> Array | None:
        """Give points in the plan in metres; None, and counted, where they do not lie flat.

        Parameters
        ----------
        points : ndarray of float, shape (n, 3)
            Points as drawn, in the unit of the drawing.
        matrix : ndarray of float, shape (4, 4)
            From there to the drawing. [-]
        here : Placed
            The entity, for the count.

        Returns
        -------
        ndarray of float, shape (n, 2), or None
            The points in the plan. [m]

        Raises
        ------
        UnreadableError
            If a coordinate is further out than anything on earth.
        """
        with np.errstate(over="ignore", invalid="ignore"):
            points_m = moved(points, matrix) * self.metres_per_unit
        if not (np.abs(points_m) <= self.rules.meshes.farthest_m).all():
            raise UnreadableError(
                f"{here.place} has a coordinate beyond "
                f"{self.rules.meshes.farthest_m / 1000.0:g} km; the file is damaged, or its unit "
                "is not the one told"
            )
        heights_m = points_m[:, 2]
        if len(heights_m) and np.ptp(heights_m) > self.rules.outlines.join_m:
            self.skip(here, NOT_FLAT)
            return None
        self.heights_m += heights_m[:1].tolist()
        return np.ascontiguousarray(points_m[:, :2])

    def add_run(
        self, points: Array, bulges: Array, matrix: Array, here: Placed, *, curve: bool = False
    ) -> None:
        """Take up a run of lines and arcs drawn in one plane.

        Parameters
        ----------
        points : ndarray of float, shape (k + 1, 3)
            Points as drawn, in the unit of the drawing.
        bulges : ndarray of float, shape (k,)
            Bulge between each two points. [-]
        matrix : ndarray of float, shape (4, 4)
            From there to the drawing. [-]
        here : Placed
            The entity.
        curve : bool, default False
            True where the whole run stands for one smooth curve.
        """
        plan_m = self.plan_m(points, matrix, here)
        if plan_m is None or len(plan_m) < 2:
            return
        source = self.new_source(here)
        bulges = self._sane_bulges(plan_m, bulges, here)
        if not bulges.any():
            self.strokes.append(Stroke(plan_m, bulges, source, curve))
            return
        if not self.lies_level(matrix, points):
            self.skip(here, NOT_FLAT)
            return
        plan = matrix[:2, :2]
        if is_similarity(plan):
            handed = float(np.sign(np.linalg.det(plan)))
            self.strokes.append(Stroke(plan_m, handed * bulges, source, curve))
            return
        origin_m = matrix[:2, 3] * self.metres_per_unit + (
            points[0, 2] * matrix[:2, 2] * self.metres_per_unit
        )
        plan_m = plan * self.metres_per_unit
        runs = self.fitted_once(
            (points, bulges, plan_m),
            lambda: stretched_runs(points[:, :2], bulges, plan_m, self.rules.outlines),
        )
        for run_m, run_bulges in runs:
            curve = bool(run_bulges.any())
            self.strokes.append(Stroke(run_m + origin_m, run_bulges, source, curve))

    def _sane_bulges(self, plan_m: Array, bulges: Array, here: Placed) -> Array:
        """Take arcs that rise by nothing for lines; refuse those that reach beyond all sense."""
        if not bulges.any():
            return bulges
        rise_m = 0.5 * np.abs(bulges) * np.hypot(*np.diff(plan_m, axis=0).T)
        if (rise_m > self.rules.meshes.farthest_m).any() or (
            np.abs(bulges) > self.rules.largest_bulge_ratio
        ).any():
            raise UnreadableError(
                f"{here.place} has an arc with a bulge of {np.abs(bulges).max():.4g}; the file is "
                "damaged: export the drawing again"
            )
        return np.where(rise_m > self.rules.meshes.sliver_m, bulges, 0.0)

    def add_curve(self, run: Run, here: Placed) -> None:
        """Take up a run, in metres in the plan, that stands for one smooth curve."""
        self.strokes.append(Stroke(*run, self.new_source(here), curve=True))

    def fitted_once(self, figures: Sequence[Array], fit: Callable[[], list[Run]]) -> list[Run]:
        """Give the runs fitted to a curve, found once for all cells of an array of blocks.

        Parameters
        ----------
        figures : sequence of ndarray
            All that the fit depends on.
        fit : callable
            Finds the runs.

        Returns
        -------
        list of Run
            The runs, those found before where the figures are the same. [m]
        """
        key = tuple(figure.tobytes() for figure in figures)
        if key not in self._fitted:
            self._fitted[key] = fit()
        return self._fitted[key]

    def lies_level(self, matrix: Array, points: Array) -> bool:
        """Tell whether a plane under a matrix is level as far as the points reach."""
        reach = float(np.ptp(points[:, :2], axis=0).max()) if len(points) else 0.0
        tilt_m = float(np.hypot(*matrix[2, :2])) * reach * self.metres_per_unit
        return tilt_m <= self.rules.outlines.join_m
