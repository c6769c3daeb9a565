"""The walk through model space: block references unfolded, hidden layers left out and named."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import UnreadableError
from takeoff.files.dxf_document import Block, Document, Entity, text_in
from takeoff.files.dxf_placing import cell_steps, reference_matrix
from takeoff.files.dxf_rules import DxfRules
from takeoff.files.dxf_set_aside import handle_of
from takeoff.files.dxf_values import number_of, whole_of

NOT_ASKED = "the layer was not asked for"
PAPER_SPACE = "in paper space; only model space is measured"
_NEVER_PLOTTED = "defpoints"


@dataclass(frozen=True, slots=True, eq=False)
class Placed:
    """An entity of model space, with where the block references about it put it.

    Parameters
    ----------
    entity : Entity
        The entity.
    matrix : ndarray of float, shape (4, 4)
        From the coordinates it is drawn in to the drawing. [-]
    layer : str
        Layer that it shows on.
    blocks : tuple of str
        Names of the blocks it lies in, outermost first.
    """

    entity: Entity
    matrix: NDArray[np.float64]
    layer: str
    blocks: tuple[str, ...]

    @property
    def place(self) -> str:
        """Give the entity in words: kind, line, layer and block."""
        block = f", in block {self.blocks[-1]}" if self.blocks else ""
        return f"{self.entity.record.place}, on layer {self.layer}{block}"


@dataclass(slots=True)
class Walk:
    """A walk through one document, and what it left out on the way.

    Parameters
    ----------
    document : Document
        The document.
    chosen : frozenset of str
        Layers asked for, in lower case; all that show where it is empty.
    rules : DxfRules
        Limits.
    skipped : Counter
        How often each thing was left out, by what it is and why.
    asked_hidden : set of str
        Layers that do not show and were read since they were asked for.
    layers_met : set of str
        Layers that entities lie on.
    """

    document: Document
    chosen: frozenset[str]
    rules: DxfRules
    skipped: Counter[tuple[str, str]] = field(default_factory=Counter)
    asked_hidden: set[str] = field(default_factory=set)
    layers_met: set[str] = field(default_factory=set)
    _placed: int = 0
    _unfolded_so_far: int = 0
    _names: dict[str, str] = field(default_factory=dict)

    def placed(self) -> Iterator[Placed]:
        """Give the entities of model space that show, those inside blocks included.

        Raises
        ------
        UnreadableError
            If blocks hold themselves, or hold too many or too deep.
        """
        yield from self._within(self.document.entities, np.eye(4), None, ())
        held = self.document.blocks.get("*model_space")
        if held is not None:
            yield from self._within(held.entities, np.eye(4), None, ())

    def _within(
        self,
        entities: Sequence[Entity],
        matrix: NDArray[np.float64],
        owner_layer: str | None,
        blocks: tuple[str, ...],
    ) -> Iterator[Placed]:
        for entity in entities:
            self._count_one(inside=bool(blocks))
            kind = entity.record.kind
            if whole_of(entity.record, 67) == 1 and not blocks:
                self.skipped[kind, PAPER_SPACE] += 1
                continue
            if whole_of(entity.record, 60) == 1:
                self.skipped[kind, "set invisible"] += 1
                continue
            why = self.document.set_aside.get(handle_of(entity.record))
            if why is not None:
                self.skipped[kind, why] += 1
                continue
            layer = entity.layer
            if layer == "0" and owner_layer is not None:
                layer = owner_layer
            layer = self._as_first_written(layer)
            here = Placed(entity, matrix, layer, blocks)
            if kind == "INSERT":
                yield from self._unfolded(here)
            elif self._shows(kind, layer):
                yield here

    def _as_first_written(self, layer: str) -> str:
        """Give the name of a layer as its table has it, or else as it was met first."""
        state = self.document.layers.get(layer.casefold())
        return self._names.setdefault(layer.casefold(), state.name if state else layer)

    def _count_one(self, *, inside: bool) -> None:
        """Count an entity of model space or inside a block; refuse one too many."""
        self._placed += not inside
        self._unfolded_so_far += inside
        if self._placed > self.rules.placed_count:
            raise UnreadableError(
                f"model space holds more than {self.rules.placed_count} entities; save the piece "
                "alone"
            )
        if self._unfolded_so_far > self.rules.unfolded_count:
            raise UnreadableError(
                f"its blocks unfold into more than {self.rules.unfolded_count} entities; save the "
                "piece alone, or explode its blocks"
            )

    def _shows(self, kind: str, layer: str) -> bool:
        """Tell whether entities on a layer are read; count those that are not."""
        why = self.why_hidden(layer)
        self.layers_met.add(layer)
        if self.chosen:
            if layer.casefold() in self.chosen:
                if why:
                    self.asked_hidden.add(layer)
                return True
            self.skipped[f"{kind} on layer {layer}", NOT_ASKED] += 1
            return False
        if why:
            self.skipped[f"{kind} on layer {layer}", f"the layer is {why}"] += 1
        return not why

    def why_hidden(self, layer: str) -> str:
        """Tell why a layer does not show; empty where it does."""
        if layer.casefold() == _NEVER_PLOTTED:
            return "never plotted"
        state = self.document.layers.get(layer.casefold())
        return state.hidden if state else ""

    def _unfolded(self, here: Placed) -> Iterator[Placed]:
        """Give what a block reference places, cell by cell of its array."""
        record = here.entity.record
        for attribute in here.entity.parts:
            attribute_layer = text_in(attribute, 8, self.document.codec, "0") or "0"
            layer = here.layer if attribute_layer == "0" else attribute_layer
            layer = self._as_first_written(layer)
            if self._shows(attribute.kind, layer):
                yield Placed(Entity(attribute, (), layer), here.matrix, layer, here.blocks)
        block = self._block_of(here)
        if block is None:
            return
        columns, rows = max(whole_of(record, 70, 1), 1), max(whole_of(record, 71, 1), 1)
        if columns * rows > self.rules.unfolded_count:
            raise UnreadableError(
                f"{here.place}: an array of {columns} by {rows} blocks is more than the "
                f"{self.rules.unfolded_count} entities that are read"
            )
        first = here.matrix @ reference_matrix(record, block.base)
        steps = [here.matrix[:3, :3] @ step for step in cell_steps(record)]
        names = (*here.blocks, block.name)
        for row in range(rows):
            for column in range(columns):
                matrix = first.copy()
                matrix[:3, 3] += column * steps[0] + row * steps[1]
                yield from self._within(block.entities, matrix, here.layer, names)

    def _block_of(self, here: Placed) -> Block | None:
        """Find the block of a reference; count the reference where there is nothing to place."""
        record = here.entity.record
        name = text_in(record, 2, self.document.codec)
        if name.casefold() in {block.casefold() for block in here.blocks}:
            raise UnreadableError(f"{here.place}: the block {name} holds itself; explode it in CAD")
        if len(here.blocks) >= self.rules.nesting_count:
            raise UnreadableError(
                f"{here.place}: blocks are nested more than {self.rules.nesting_count} deep; "
                "explode them in CAD"
            )
        block = self.document.blocks.get(name.casefold())
        why = ""
        asked = here.layer.casefold() in self.chosen
        if self.why_hidden(here.layer) == "frozen" and not asked:
            why = f"its layer {here.layer} is frozen"
        elif block is None:
            why = "the block is not in the file"
        elif block.external:
            why = "an external reference: its drawing is another file; bind it in CAD"
        elif not (number_of(record, 41, 1.0) and number_of(record, 42, 1.0)):
            why = "scaled to nothing"
        if why:
            self.skipped[f"INSERT of block {name}", why] += 1
            return None
        return block
