"""Material takeoff for thin-shell glass-fibre concrete, from STL and DXF drawings.

>>> import takeoff
>>> sheet = takeoff.weigh("backer-poured", volume="18 L", scale="10 g")
>>> sheet.rows()[0]["ingredient"]
'water'
"""

from __future__ import annotations

from importlib import import_module
from types import FunctionType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from takeoff.errors import TakeoffError
    from takeoff.facade.checking import Check, check
    from takeoff.files.mix_file import read_mix
    from takeoff.geometry.mesh import Mesh
    from takeoff.job.bidding import bid
    from takeoff.job.day_plan import DayPlan
    from takeoff.job.pour_planning import plan
    from takeoff.job.result import Bid
    from takeoff.job.weighing_out import WeighSheet, weigh
    from takeoff.measuring.examining import Examination, examine
    from takeoff.measuring.measurement import Measurement
    from takeoff.measuring.taking import measure
    from takeoff.mix.mixes import Mix
    from takeoff.notes import Note, NoteCode
    from takeoff.piece.mesh_layers import layer_volumes

__version__ = "0.1.0"

_HOMES = {
    "Bid": "takeoff.job.result",
    "Check": "takeoff.facade.checking",
    "DayPlan": "takeoff.job.day_plan",
    "Examination": "takeoff.measuring.examining",
    "Measurement": "takeoff.measuring.measurement",
    "Mesh": "takeoff.geometry.mesh",
    "Mix": "takeoff.mix.mixes",
    "Note": "takeoff.notes",
    "NoteCode": "takeoff.notes",
    "TakeoffError": "takeoff.errors",
    "WeighSheet": "takeoff.job.weighing_out",
    "bid": "takeoff.job.bidding",
    "check": "takeoff.facade.checking",
    "examine": "takeoff.measuring.examining",
    "layer_volumes": "takeoff.piece.mesh_layers",
    "measure": "takeoff.measuring.taking",
    "plan": "takeoff.job.pour_planning",
    "read_mix": "takeoff.files.mix_file",
    "weigh": "takeoff.job.weighing_out",
}

__all__ = [
    "Bid",
    "Check",
    "DayPlan",
    "Examination",
    "Measurement",
    "Mesh",
    "Mix",
    "Note",
    "NoteCode",
    "TakeoffError",
    "WeighSheet",
    "__version__",
    "bid",
    "check",
    "examine",
    "layer_volumes",
    "measure",
    "plan",
    "read_mix",
    "weigh",
]


def __getattr__(name: str) -> object:
    """Load a public name from the module that defines it, on first use."""
    if name not in _HOMES:
        raise AttributeError(f"module 'takeoff' has no attribute {name!r}")
    value = getattr(import_module(_HOMES[name]), name)
    if isinstance(value, FunctionType):
        from takeoff.argument_types import refusing_wrong_types

        value = refusing_wrong_types(value)
        value.__module__ = __name__  # other processes find it by its public name
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted(__all__)
