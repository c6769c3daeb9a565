"""The job file: pieces, layers and mixes of one job, as a shop writes them in TOML."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from takeoff import units
from takeoff.files.clock_tables import LayerClockTable
from takeoff.files.order import Order, OrderedLayer, OrderedPiece
from takeoff.files.shop_file import read_shop
from takeoff.files.toml_quantities import Duration, Length, Name, Share
from takeoff.files.toml_tables import Fault, Table, TomlFile, check_tables, load_toml
from takeoff.piece.surfaces import SurfaceClass
from takeoff.piece.thickness import ClassThickness, Thickness, read_thickness


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


class _WallTable(Table):
    thickness: LayerThickness


class _LayerTable(LayerClockTable):
    thickness: LayerThickness
    on_return: _WallTable | None = Field(default=None, alias="return")
    upright: _WallTable | None = None
    mix: str = Field(min_length=1)
    overspray: Share = 0.0
    pot_life: Duration | None = None
    rate: Rate | None = None

    def build(self, folder: Path) -> OrderedLayer:
        own = self.mix.endswith(".toml")
        return OrderedLayer(
            thickness=ClassThickness(
                self.thickness,
                self.on_return.thickness if self.on_return else self.thickness,
                self.upright.thickness if self.upright else self.thickness,
            ),
            mix=str(folder / self.mix) if own else self.mix,
            overspray_share=self.overspray,
            pot_life_s=self.pot_life,
            rate_kg_s=self.rate,
            clock=self.clock(),
        )


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
        )


class _JobTables(Table):
    job: _JobTable
    face_coat: _LayerTable | None = None
    backer: _LayerTable | None = None
    piece: tuple[_PieceTable, ...] = Field(min_length=1)

    def build(self, file: TomlFile, folder: Path) -> Order:
        return Order(
            name=self.job.name,
            date=self.job.date,
            currency=self.job.currency,
            show_units=self.job.show_units,
            face_coat=self.face_coat.build(folder) if self.face_coat else None,
            backer=self.backer.build(folder) if self.backer else None,
            pieces=tuple(
                piece.build(folder, file.place("piece", number))
                for number, piece in enumerate(self.piece)
            ),
            shop=read_shop(folder / self.job.shop),
            days=self.job.days,
        )


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
    return tables.build(file, Path(path).parent)


def _layer_faults(tables: _JobTables) -> list[Fault]:
    """Name layers of no thickness, shares that leave nothing, and a job without a layer."""
    faults = []
    layers = {"face_coat": tables.face_coat, "backer": tables.backer}
    if not any(layers.values()):
        text = "needs [face_coat] or [backer], each with thickness and mix"
        faults.append(Fault(("job",), text))
    for name, layer in layers.items():
        if layer is None:
            continue
        if layer.thickness.aimed_m <= 0.0 and not layer.thickness.fill:
            faults.append(Fault((name, "thickness"), "must be above 0; leave the table out"))
        if not 0.0 <= layer.overspray < 1.0:
            text = "must be from 0 % to below 100 %"
            faults.append(Fault((name, "overspray"), text))
        if layer.pot_life is not None and layer.pot_life <= 0.0:
            faults.append(Fault((name, "pot_life"), "must be above 0"))
        faults += layer.clock_faults(name)
    return faults
