"""The job file: pieces, layers and mixes of one job, as a shop writes them in TOML."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from takeoff import units
from takeoff.batching.placing_rules import UntoldRules
from takeoff.files.casting_tables import (
    AdditionTable,
    BoardTable,
    CoreTable,
    FinishTable,
    ItemTable,
    SampleTable,
    SpareTable,
    body_faults,
    namesake_faults,
)
from takeoff.files.clock_tables import LayerClockTable
from takeoff.files.order import Order, OrderedLayer, OrderedPiece
from takeoff.files.shop_file import read_shop
from takeoff.files.toml_faults import misplaced
from takeoff.files.toml_lines import KeyPath
from takeoff.files.toml_quantities import Duration, Length, Mass, Name, Share
from takeoff.files.toml_tables import Fault, Table, TomlFile, check_tables, load_toml
from takeoff.piece.layers import Layer
from takeoff.piece.surfaces import SurfaceClass
from takeoff.piece.thickness import ClassThickness, Thickness, read_thickness
from takeoff.piece.ways import Way

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


def _rate(value: object) -> float:
    """Read a placing rate such as ``3 kg/min``."""
    mass, slash, time = str(value).partition("/")
    if not isinstance(value, str) or not slash:
        raise ValueError(f'cannot read {value!r} as a placing rate; write it like "3 kg/min"')
    rate_kg_s = units.mass_kg(mass) / units.duration_s(f"1 {time.strip()}")
    if rate_kg_s <= 0.0:
        raise ValueError(f'a placing rate of {value!r} places nothing; write it like "3 kg/min"')
    return rate_kg_s


def _depth(value: object) -> float:
    """Read an edge depth; a plain 0 is a bare edge."""
    if value == 0 and not isinstance(value, bool):
        return 0.0
    if isinstance(value, str):
        return units.length_m(value)
    raise ValueError(f'{value!r} has no unit; write it like "40 mm", or 0 for a bare edge')


def _thickness(value: object) -> Thickness:
    """Read a thickness: a length, a range or ``fill``."""
    if isinstance(value, str):
        return read_thickness(value)
    raise ValueError(f'{value!r} has no unit; write it like "4 mm", "3-4-5 mm" or "fill"')


Rate = Annotated[float, BeforeValidator(_rate)]
Depth = Annotated[float, BeforeValidator(_depth)]
LayerThickness = Annotated[Thickness, BeforeValidator(_thickness)]


class _JobTable(Table):
    name: Name
    date: Name | None = None
    currency: Annotated[Name, Field(max_length=8)]
    show_units: Literal["metric", "us"] = "metric"
    shop: str = "shop.toml"
    days: int | None = Field(default=None, ge=1, le=1000)


class _MixedTable(LayerClockTable):
    """What is mixed and placed by itself."""

    mix: str = Field(min_length=1)
    overspray: Share = UntoldRules().overspray_share
    pot_life: Duration | None = None
    rate: Rate | None = None

    def built(
        self, folder: Path, spare: SpareTable | None, thickness: ClassThickness
    ) -> OrderedLayer:
        own = self.mix.endswith(".toml")
        return OrderedLayer(
            thickness=thickness,
            mix=str(folder / self.mix) if own else self.mix,
            overspray_share=self.overspray,
            pot_life_s=self.pot_life,
            rate_kg_s=self.rate,
            clock=self.clock(),
            spare_share=spare.share if spare else 0.0,
            ways=self.ways(),
        )

    def ways(self) -> dict[str, Way]:
        return {}


class _FaceWallTable(Table):
    thickness: LayerThickness


class _FaceCoatTable(_MixedTable):
    thickness: LayerThickness
    on_return: _FaceWallTable | None = Field(default=None, alias="return")
    upright: _FaceWallTable | None = None

    def build(self, folder: Path, spare: SpareTable | None) -> OrderedLayer:
        walls = (self.on_return, self.upright)
        told = [wall.thickness if wall else self.thickness for wall in walls]
        return self.built(folder, spare, ClassThickness(self.thickness, *told))


class _BackerWallTable(Table):
    thickness: LayerThickness | None = None
    way: Way | None = None


class _BackerTable(_MixedTable):
    thickness: LayerThickness
    on_return: _BackerWallTable = Field(default=_BackerWallTable(), alias="return")
    upright: _BackerWallTable = _BackerWallTable()
    way: Way | None = None

    def build(self, folder: Path, spare: SpareTable | None) -> OrderedLayer:
        walls = (self.on_return, self.upright)
        told = [wall.thickness or self.thickness for wall in walls]
        return self.built(folder, spare, ClassThickness(self.thickness, *told))

    def ways(self) -> dict[str, Way]:
        told = {
            SurfaceClass.RETURN: self.on_return.way or self.way,
            SurfaceClass.UPRIGHT: self.upright.way or self.way,
        }
        return {kind.value: way for kind, way in told.items() if way is not None}


class _WallBackerTable(_MixedTable):
    def build(self, folder: Path, spare: SpareTable | None) -> OrderedLayer:
        return self.built(folder, spare, ClassThickness())


class _PieceTable(Table):
    name: Name | None = None
    drawing: str = Field(min_length=1)
    unit: str | None = None
    kind: Literal["piece", "form", "open"] | None = None
    show: str | None = None
    edge_depth: Depth | None = None
    edge: dict[str, Depth] = Field(default_factory=dict)
    surface: dict[str, SurfaceClass] = Field(default_factory=dict)
    opening: dict[str, Literal["bare", "coated"]] = Field(default_factory=dict)
    sha256: Annotated[str, Field(pattern="^[0-9a-fA-F]{12,64}$")] | None = None
    return_limit: Length | None = None
    layer: tuple[str, ...] = ()
    count: int = Field(default=1, ge=1, le=100_000)
    forms: int | None = Field(default=None, ge=1, le=100_000)
    wall: dict[str, Way] = Field(default_factory=dict)
    add: tuple[AdditionTable, ...] = ()
    core: tuple[CoreTable, ...] = ()
    item: tuple[ItemTable, ...] = ()
    finish: FinishTable | None = None
    turned: bool = False
    form_mass: Annotated[Mass, Field(gt=0.0)] | None = None

    def build(self, folder: Path, place: str) -> OrderedPiece:
        return OrderedPiece(
            name=self.name,
            drawing=folder / self.drawing,
            unit=self.unit,
            kind=self.kind,
            show=self.show,
            edge_depth_m=self.edge_depth,
            edges_m=self.edge,
            surfaces=self.surface,
            openings=self.opening,
            sha256=self.sha256,
            return_limit_m=self.return_limit,
            layers=self.layer,
            count=self.count,
            place=place,
            forms=self.forms,
            walls=self.wall,
            additions=tuple(one.build() for one in self.add),
            cores=tuple(one.build() for one in self.core),
            items=tuple(one.build() for one in self.item),
            removed_m=self.finish.removed if self.finish else 0.0,
            turned=self.turned,
            form_kg=self.form_mass,
        )


class _JobTables(Table):
    job: _JobTable
    face_coat: _FaceCoatTable | None = None
    backer: _BackerTable | None = None
    wall_backer: _WallBackerTable | None = None
    piece: tuple[_PieceTable, ...] = Field(min_length=1)
    spare: SpareTable | None = None
    sample: tuple[SampleTable, ...] = ()
    qc: BoardTable | None = None

    def build(self, file: TomlFile, folder: Path) -> Order:
        return Order(
            name=self.job.name,
            date=self.job.date,
            currency=self.job.currency,
            show_units=self.job.show_units,
            face_coat=self._layer("face_coat", file, folder),
            backer=self._layer("backer", file, folder),
            wall_backer=self._layer("wall_backer", file, folder),
            pieces=tuple(
                piece.build(folder, file.place("piece", number))
                for number, piece in enumerate(self.piece)
            ),
            shop=read_shop(folder / self.job.shop),
            days=self.job.days,
            samples=tuple(one.build() for one in self.sample),
            boards=self.qc.build() if self.qc else None,
        )

    def _layer(self, name: str, file: TomlFile, folder: Path) -> OrderedLayer | None:
        told = {
            "face_coat": self.face_coat,
            "backer": self.backer,
            "wall_backer": self.wall_backer,
        }[name]
        if told is None:
            return None
        return replace(told.build(folder, self.spare), place=file.place(name))


def read_order(path: str | Path) -> Order:
    """Read a job, and the shop file it names.

    Parameters
    ----------
    path : str or Path
        The job file. Drawings, mixes and the shop file are found beside it.

    Returns
    -------
    Order
        The job as written.

    Raises
    ------
    ShopFileError
        If a file cannot be read, or has wrong, missing or unknown entries; all are listed.

    Examples
    --------
    >>> read_order("no-such-job.toml")
    Traceback (most recent call last):
    takeoff.errors.ShopFileError: no-such-job.toml: there is no such file
    """
    file = load_toml(path)
    tables = check_tables(file, _JobTables)
    faults = _layer_faults(tables)
    if faults:
        raise file.refusal(faults)
    order = tables.build(file, Path(path).parent)
    if _undated(order):
        text = (
            f"{order.date!r} cannot be held against the use_by of stock in the shop file; write it "
            "like 2026-11-25"
        )
        raise file.refusal([Fault(("job", "date"), text)])
    return order


def _undated(order: Order) -> bool:
    """Tell whether stock is to be used by a day and the job has a date that is none."""
    dated = order.date is None or _DAY.fullmatch(order.date) is not None
    return not dated and any(one.use_by is not None for one in order.shop.stock)


def _layer_faults(tables: _JobTables) -> list[Fault]:
    """Name layers of no thickness, shares that leave nothing, and a job without a layer."""
    faults = []
    layers = {"face_coat": tables.face_coat, "backer": tables.backer}
    if not any(layers.values()):
        text = "needs [face_coat] or [backer], each with thickness and mix"
        faults.append(Fault(("job",), text))
    for name, layer in layers.items():
        if layer is not None and layer.thickness.aimed_m <= 0.0 and not layer.thickness.fill:
            faults.append(Fault((name, "thickness"), "must be above 0; leave the table out"))
    for name, mixed in {**layers, "wall_backer": tables.wall_backer}.items():
        if mixed is not None:
            faults += _mixed_faults(name, mixed)
    if tables.wall_backer is not None and tables.backer is None:
        faults.append(Fault(("wall_backer",), "stands beside a [backer]; there is none"))
    faults += [*_date_faults(tables.job), *_filling_faults(tables), *_item_faults(tables.piece)]
    faults += namesake_faults(("sample",), [one.name for one in tables.sample])
    faults += namesake_faults(("piece",), [piece.name for piece in tables.piece])
    return faults + _piece_faults(tables)


def _date_faults(job: _JobTable) -> Iterator[Fault]:
    """Name a date that looks like one of the calendar, and is none."""
    if job.date is not None and _DAY.fullmatch(job.date):
        try:
            date.fromisoformat(job.date)
        except ValueError:
            yield Fault(("job", "date"), f"{job.date!r} is not in the calendar")


def _filling_faults(tables: _JobTables) -> Iterator[Fault]:
    """Name what needs a thickness, or a way to cast walls, beside a backer that fills."""
    if tables.backer is None or not tables.backer.thickness.fill:
        return
    for number, _ in enumerate(tables.sample):
        text = (
            'has no thickness of backer, which is "fill"; cast it as two [[piece.add]], one for '
            "each layer"
        )
        yield Fault(("sample", number), text)
    walls = {"return": tables.backer.on_return.way, "upright": tables.backer.upright.way}
    told: list[tuple[str | int, ...]] = [("way",)] if tables.backer.way else []
    told += [(kind, "way") for kind, way in walls.items() if way]
    text = "is not needed beside a backer that fills the piece; leave it out"
    for path in told:
        yield Fault(("backer", *path), text)
    for number, piece in enumerate(tables.piece):
        if piece.wall:
            yield Fault(("piece", number, "wall"), text)


def _item_faults(pieces: tuple[_PieceTable, ...]) -> Iterator[Fault]:
    """Name items of one name at two prices."""
    prices: dict[str, Decimal | None] = {}
    for number, piece in enumerate(pieces):
        for at, item in enumerate(piece.item):
            first = prices.setdefault(item.name.casefold(), item.price)
            if first != item.price:
                text = f"{item.name!r} has another price before; give each its own name"
                yield Fault(("piece", number, "item", at, "price"), text)


def _mixed_faults(name: str, mixed: _MixedTable) -> list[Fault]:
    """Name shares and times that leave nothing."""
    faults = []
    if not 0.0 <= mixed.overspray < 1.0:
        faults.append(Fault((name, "overspray"), "must be from 0 % to below 100 %"))
    if mixed.pot_life is not None and mixed.pot_life <= 0.0:
        faults.append(Fault((name, "pot_life"), "must be above 0"))
    return faults + mixed.clock_faults(name)


def _slipped_faults(place: KeyPath, piece: _PieceTable) -> Iterator[Fault]:
    """Name keys of a piece that stand among the ids in one of its tables."""
    for table in ("edge", "surface", "opening", "wall"):
        for path in ((*place, table, key) for key in getattr(piece, table)):
            text = misplaced(_JobTables, path)
            if text:
                yield Fault(path, text)


def _piece_faults(tables: _JobTables) -> list[Fault]:
    """Name bodies of no size, and parts of layers that the job does not have."""
    faults: list[Fault] = []
    for number, piece in enumerate(tables.piece):
        place = ("piece", number)
        faults += _slipped_faults(place, piece)
        faults += body_faults((*place, "add"), piece.add)
        faults += body_faults((*place, "core"), piece.core)
        for kind, named in (("add", piece.add), ("core", piece.core), ("item", piece.item)):
            names = [one.name for one in named]
            faults += namesake_faults((*place, kind), names, instead="tell its count, or ")
        if piece.forms is not None and piece.forms > piece.count:
            text = f"{piece.forms} forms are more than the {piece.count} that are cast in them"
            faults.append(Fault((*place, "forms"), text))
        if piece.form_mass is not None and not piece.turned:
            text = "is for a piece that is turned over in its form; add turned = true"
            faults.append(Fault((*place, "form_mass"), text))
        lacking = {layer for layer in Layer if getattr(tables, layer.value) is None}
        faults += [
            Fault((*place, "add", at, "layer"), f"there is no [{added.layer}] in this job")
            for at, added in enumerate(piece.add)
            if Layer(added.layer) in lacking
        ]
        if piece.core and Layer.BACKER in lacking:
            text = "takes the place of backer; there is no [backer] in this job"
            faults.append(Fault((*place, "core"), text))
        if piece.finish and Layer.FACE_COAT in lacking:
            text = "is taken off the face coat; there is no [face_coat] in this job"
            faults.append(Fault((*place, "finish", "removed"), text))
    return faults
