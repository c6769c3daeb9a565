"""Outlines made of the strokes of a DXF file, or the refusal that says where they fail."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import OutlineError
from takeoff.files.drawing import DrawingUnit, DrawnLayer, Tally
from takeoff.files.dxf_gathered import FILL, Gathered
from takeoff.files.dxf_readers import MARK
from takeoff.geometry.chaining import Chain, Chained, chained, scaled_rules
from takeoff.geometry.enclosing import enclosed_by
from takeoff.geometry.leftovers import Leftovers, judged
from takeoff.geometry.nesting import Nested, nested, region_areas_m2
from takeoff.geometry.outline_rules import OutlineRules
from takeoff.geometry.outlines import Outline
from takeoff.geometry.overlaid import overlaid_at_m
from takeoff.geometry.sides import outline_of
from takeoff.notes import Note, NoteCode

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class FoundOutline:
    """An outline with what the drawing says about it.

    Parameters
    ----------
    outline : Outline
        The outline.
    layer : str
        Layer of its outer loop.
    depth : int
        How many loops lie about it.
    """

    outline: Outline
    layer: str
    depth: int


@dataclass(frozen=True, slots=True, eq=False)
class FoundOutlines:
    """All outlines of a drawing.

    Parameters
    ----------
    outlines : tuple of FoundOutline
        Largest first.
    mended : tuple of Tally
        Defects put right.
    skipped : tuple of Tally
        Lines left out.
    notes : tuple of Note
        Doubts.
    layers : tuple of DrawnLayer
        What each layer holds.
    """

    outlines: tuple[FoundOutline, ...]
    mended: tuple[Tally, ...]
    skipped: tuple[Tally, ...]
    notes: tuple[Note, ...]
    layers: tuple[DrawnLayer, ...]


def outlines_in(gathered: Gathered, unit: DrawingUnit, *, where: str) -> FoundOutlines:
    """Chain and nest what was gathered into outlines.

    Parameters
    ----------
    gathered : Gathered
        What the walk gathered.
    unit : DrawingUnit
        Unit of the drawing, for coordinates in messages.
    where : str
        The file.

    Returns
    -------
    FoundOutlines
        The outlines; none where nothing closes.

    Raises
    ------
    OutlineError
        If an outline is open, branches, or crosses itself or another.

    Notes
    -----
    Hatches are read only where no stroke closes: else they repeat the outlines.

    Examples
    --------
    >>> from takeoff.files.dxf_gathered import Source
    >>> from takeoff.files.dxf_rules import DxfRules
    >>> from takeoff.geometry.strokes import Stroke
    >>> square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0], [0.0, 0.0]])
    >>> gathered = Gathered(0.001, "utf-8", DxfRules(), Counter())
    >>> gathered.sources.append(Source("LWPOLYLINE", "TOP", "LWPOLYLINE at line 7"))
    >>> gathered.strokes.append(Stroke(square, np.zeros(4), 0))
    >>> found = outlines_in(gathered, DrawingUnit("mm", 0.001, "told"), where="top.dxf")
    >>> [outline.layer for outline in found.outlines]
    ['TOP']
    """
    rules = scaled_rules(gathered.strokes or gathered.hatches, gathered.rules.outlines)
    teller = _Teller(gathered, unit, where, rules)
    found = chained(gathered.strokes, rules=rules)
    left = judged(found.open_chains, found.loops, rules=rules)
    if found.branches_m:
        raise teller.branching(found)
    if left.gaps:
        raise teller.open_outline(left)
    notes = list(teller.gap_notes(found))
    loops = found.loops
    if not loops and gathered.hatches:
        loops = tuple(gathered.hatches)
        notes.append(teller.hatch_note())
    elif gathered.hatches:
        gathered.skipped["HATCH", FILL] += len(teller.hatch_sources())
    result = nested(loops, rules=rules)
    if result.crossings:
        raise teller.crossing(result, loops)
    if not found.loops:
        teller.refuse_overlaid(loops, result)
    outlines = tuple(
        FoundOutline(
            outline_of(loops, region, rules=rules),
            teller.layer_of(loops[region.outer].sources),
            region.depth,
        )
        for region in result.regions
    )
    layers = teller.layers(loops, result)
    notes += [*teller.layer_notes(layers, outlines), *teller.mark_notes(left, loops)]
    return FoundOutlines(
        outlines, _mended(found, left, result), teller.marks(left), tuple(notes), layers
    )


def _mended(found: Chained, left: Leftovers, result: Nested) -> tuple[Tally, ...]:
    """Count the defects put right."""
    counts = {
        "gaps closed": found.gaps,
        "repeated lines or arcs dropped": found.repeats + len(left.repeats),
        "overlapping lines or arcs cut back": found.overlaps,
        "repeated outlines dropped": len(result.repeats),
        "outlines without area dropped": len(result.empty),
        "lines without length dropped": found.empty,
    }
    return tuple(Tally(what, count) for what, count in counts.items() if count)


@dataclass(frozen=True, slots=True, eq=False)
class _Teller:
    """Puts findings into words, with coordinates in the unit of the drawing."""

    gathered: Gathered
    unit: DrawingUnit
    where: str
    rules: OutlineRules

    def number(self, length_m: float) -> str:
        """Give a length or coordinate in the unit of the drawing, to a ten-thousandth of it."""
        return f"{round(float(length_m) / self.unit.metres_per_unit, 4) + 0.0:.12g}"

    def at(self, point_m: Array) -> str:
        """Give a point in the unit of the drawing."""
        return f"({self.number(point_m[0])}, {self.number(point_m[1])})"

    def places(self, sources: Iterable[int]) -> str:
        """Give the entities concerned in words, the first few of them."""
        places = [self.gathered.sources[source].place for source in sources]
        more = f" and {len(places) - 2} more" if len(places) > 2 else ""
        return " and ".join(places[:2]) + more

    def layer_of(self, sources: Iterable[int]) -> str:
        """Give the layer that most of some entities are on."""
        counts = Counter(self.gathered.sources[source].layer for source in sources)
        return min(counts, key=lambda layer: (-counts[layer], layer))

    def advice(self) -> str:
        """Say that layers may be chosen, where there are several."""
        layers = sorted({source.layer for source in self.gathered.sources})
        if len(layers) < 2:
            return ""
        shown = ", ".join(layers[:12]) + (" ..." if len(layers) > 12 else "")
        return f", or choose the layer of the piece with --layer (here: {shown})"

    def branching(self, found: Chained) -> OutlineError:
        """Say where lines branch."""
        count = len(found.branches_m)
        more = f" (the first of {count} such points)" if count > 1 else ""
        return OutlineError(
            f"three or more lines meet at {self.at(found.branches_m[0])}{more}, so that the "
            "outline cannot be told; draw it alone as one closed polyline" + self.advice(),
            where=self.where,
        )

    def open_outline(self, left: Leftovers) -> OutlineError:
        """Say where an outline is open, the widest gap first."""
        gap = left.gaps[0]
        more = f", the widest of {len(left.gaps)} gaps" if len(left.gaps) > 1 else ""
        return OutlineError(
            f"open outline: a gap of {self.number(gap.width_m)} {self.unit.name} between "
            f"{self.at(gap.ends_m[0])} and {self.at(gap.ends_m[1])} "
            f"({self.places(gap.sources)}){more}; close it in CAD" + self.advice(),
            where=self.where,
        )

    def crossing(self, result: Nested, loops: Sequence[Chain]) -> OutlineError:
        """Say where an outline crosses itself or another."""
        first = result.crossings[0]
        at, chains = self.at(first.at_m), [loops[number] for number in first.loops]
        more = len(result.crossings) - 1
        told = f", the first of {more + 1} or more crossings" if more else ""
        if len(chains) == 1:
            text = (
                f"the outline crosses itself at {at}, or runs along itself there "
                f"({self.places(chains[0].sources)})"
            )
        else:
            text = (
                f"two outlines cross at {at} ({self.places(chains[0].sources[:1])}, and "
                f"{self.places(chains[1].sources[:1])})"
            )
        return OutlineError(f"{text}{told}; correct it in CAD{self.advice()}", where=self.where)

    def gap_notes(self, found: Chained) -> Iterable[Note]:
        """Say which gaps were closed."""
        if found.gaps:
            text = (
                f"gaps in outlines closed: {found.gaps}, the widest "
                f"{self.number(found.largest_gap_m)} {self.unit.name} at {self.at(found.gap_at_m)}"
            )
            yield Note(NoteCode.GAP_BRIDGED, text, self.where)

    def hatch_sources(self) -> list[int]:
        """Give the hatches that bound something, by their numbers."""
        return sorted({source for loop in self.gathered.hatches for source in loop.sources})

    def hatch_kinds(self) -> str:
        """Give the kinds of entity that bound something in place of outlines."""
        kinds = {self.gathered.sources[source].kind for source in self.hatch_sources()}
        return " and ".join(f"a {kind}" for kind in sorted(kinds))

    def hatch_note(self) -> Note:
        """Say that a hatch was measured."""
        text = (
            f"no outline is drawn: the area is taken from the boundary of {self.hatch_kinds()} "
            f"({self.places(self.hatch_sources())}); check that it is the piece"
        )
        return Note(NoteCode.HATCH_MEASURED, text, self.where)

    def refuse_overlaid(self, loops: Sequence[Chain], result: Nested) -> None:
        """Refuse hatches that lie over one another."""
        at_m = overlaid_at_m(loops, result.regions, rules=self.rules)
        if at_m is not None:
            raise OutlineError(
                f"no outline is drawn, and at {self.at(at_m)} several fills lie over one another "
                f"({self.places(self.hatch_sources())}), so that an opening cannot be told from an "
                "inlay; draw the outline as a closed polyline" + self.advice(),
                where=self.where,
            )

    def layers(self, loops: Sequence[Chain], result: Nested) -> tuple[DrawnLayer, ...]:
        """Measure each layer alone."""
        by_layer: dict[str, list[Chain]] = {}
        for loop in loops:
            by_layer.setdefault(self.layer_of(loop.sources), []).append(loop)
        return tuple(
            self._alone(layer, own, nested(own, rules=self.rules) if len(by_layer) > 1 else result)
            for layer, own in sorted(by_layer.items())
        )

    def _alone(self, layer: str, loops: Sequence[Chain], alone: Nested) -> DrawnLayer:
        """Add up what one layer holds."""
        if alone.crossings:
            return DrawnLayer(layer, len(loops), 0, None)
        area_m2 = float(region_areas_m2(loops, alone.regions).sum())
        return DrawnLayer(layer, len(loops), len(alone.regions), area_m2)

    def layer_notes(
        self, layers: Sequence[DrawnLayer], outlines: Sequence[FoundOutline]
    ) -> Iterable[Note]:
        """Doubt the choice of layers, where outlines lie on several or in one another."""
        if len(layers) > 1:
            areas = ", ".join(
                f"{layer.name} (crossing)"
                if layer.area_m2 is None
                else f"{layer.name} {layer.area_m2:.4g} m²"
                for layer in layers
            )
            text = (
                "outlines lie on several layers, each with this area when measured alone: "
                f"{areas}; if one holds a sheet frame or another piece, choose the layer of the "
                "piece with --layer"
            )
            yield Note(NoteCode.LAYER_CHOICE, text, self.where)
        elif any(found.depth for found in outlines) and len(outlines[0].outline.outer) == 4:
            text = (
                "an outline lies inside an opening of another; if the outer one is a sheet frame, "
                "put the piece on a layer of its own and choose it with --layer"
            )
            yield Note(NoteCode.LAYER_CHOICE, text, self.where)

    def mark_notes(self, left: Leftovers, loops: Sequence[Chain]) -> Iterable[Note]:
        """Doubt lines that were taken for marks and enclose something."""
        if len(left.marks) > self.rules.marks_count:
            text = (
                f"{len(left.marks)} open lines are taken for marks or a hatch; if some of them "
                "bound the piece or a cut-out, draw these as one closed polyline"
            )
            yield Note(NoteCode.SKIPPED, text, self.where)
            return
        found = enclosed_by(left.marks, loops, rules=self.rules)
        if found is not None:
            text = (
                f"open lines that meet along their length enclose {found.area_m2:.4g} m² about "
                f"{self.at(found.at_m)} and are taken for marks; if they bound the piece or a "
                "cut-out, trim them to where they meet"
            )
            yield Note(NoteCode.SKIPPED, text, self.where)

    def marks(self, left: Leftovers) -> tuple[Tally, ...]:
        """Count the lines that are no outline, by kind and layer."""
        counts: Counter[tuple[str, str]] = Counter()
        for chain in left.marks:
            straight = len(chain.bulges) == 1 and not chain.bulges.any()
            for source in chain.sources:
                entity = self.gathered.sources[source]
                why = MARK if straight else "bent, but open: taken for a mark, no outline"
                counts[f"{entity.kind} on layer {entity.layer}", why] += 1
        return tuple(Tally(what, counts[what, why], why) for what, why in sorted(counts))
