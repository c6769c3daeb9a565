"""The judgements and limits that DXF files are read by."""

from __future__ import annotations

from dataclasses import dataclass, field

from takeoff.geometry.mesh_rules import MeshRules
from takeoff.geometry.outline_rules import OutlineRules


@dataclass(frozen=True, slots=True)
class DxfRules:
    """Limits for reading, and the rules for what is read.

    Parameters
    ----------
    outlines : OutlineRules, optional
        How outlines are chained, nested and parted into sides.
    meshes : MeshRules, optional
        How 3-D faces are mended.
    file_bytes : int, default 64 000 000
        Largest file that is opened: it takes some twenty times its size in memory, and a shop
        drawing has a tenth of this. [byte]
    placed_count : int, default 100 000
        Most entities of model space; more is a city-wide drawing. [-]
    unfolded_count : int, default 10 000
        Most entities that block references and their arrays unfold into: a few damaged figures
        could else keep the reader busy for hours. [-]
    nesting_count : int, default 40
        Deepest nesting of blocks; drawings seldom go beyond five. [-]
    largest_bulge_ratio : float, default 1 000 000
        Largest bulge of an arc: it would lack a four-thousandth of a degree to a full turn. [-]
    full_turn_deg : float, default 0.01
        An arc that ends no further than this beyond its start, a full turn on, is a full circle:
        angles are written with four digits or more. [deg]
    name_count : int, default 60
        Longest text, in characters, that is taken for the name of a piece; longer ones are
        remarks. [-]
    """

    outlines: OutlineRules = field(default_factory=OutlineRules)
    meshes: MeshRules = field(default_factory=MeshRules)
    file_bytes: int = 64_000_000
    placed_count: int = 100_000
    unfolded_count: int = 10_000
    nesting_count: int = 40
    largest_bulge_ratio: float = 1e6
    full_turn_deg: float = 0.01
    name_count: int = 60
