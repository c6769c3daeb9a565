"""Every default that a result may rest on, with the reason its rules class gives for it."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import Field, fields, is_dataclass
from typing import Any

from takeoff.batching.heat import HeatRules
from takeoff.batching.placing_rules import DayRules, OddRules, PlacingRules, UntoldRules, WaitRules
from takeoff.batching.planning import SearchRules
from takeoff.batching.remedy_kinds import RemedyRules
from takeoff.batching.risk import RiskRules
from takeoff.documents import DefaultsDocument, RuleRow
from takeoff.facade.rule_keys import TOLD_BY
from takeoff.files.drawing_unit import SizeRules
from takeoff.files.dxf_rules import DxfRules
from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.exact_rules import ExactRules
from takeoff.geometry.mesh_rules import MeshRules
from takeoff.geometry.offset_rules import OffsetRules
from takeoff.geometry.outline_rules import OutlineRules
from takeoff.measuring.rows import head_of
from takeoff.mix.mix_rules import MixRules, WarmthRules, WeighRules
from takeoff.mix.spraying import SprayRules
from takeoff.piece.cavity_rules import CavityRules
from takeoff.piece.layer_rules import LayerRules
from takeoff.piece.noise_rules import NoiseRules
from takeoff.piece.pattern_rules import PatternRules
from takeoff.piece.reading_rules import ReadingRules
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.ways import WayRules

SUBJECTS: Sequence[tuple[str, type]] = (
    ("clock", PlacingRules),
    ("waits", WaitRules),
    ("days", DayRules),
    ("what nobody tells", UntoldRules),
    ("odd batches", OddRules),
    ("heat", HeatRules),
    ("search for a plan", SearchRules),
    ("what would do", RemedyRules),
    ("replays", RiskRules),
    ("weighing", WeighRules),
    ("temperature", WarmthRules),
    ("mixes", MixRules),
    ("spray station", SprayRules),
    ("surfaces", SurfaceRules),
    ("show direction", ReadingRules),
    ("forms", CavityRules),
    ("scans", NoiseRules),
    ("layers", LayerRules),
    ("ways to cast walls", WayRules),
    ("flat patterns", PatternRules),
    ("layers by edges", OffsetRules),
    ("layers by distance", BandRules),
    ("slow check of layers", ExactRules),
    ("meshes", MeshRules),
    ("outlines", OutlineRules),
    ("DXF", DxfRules),
    ("size of drawings", SizeRules),
)
"""What the rules are about, those that a shop is likeliest to tell first."""

COMMON = "common practice"
_ENTRY = re.compile(r"((?:^\w+(?:, \w+)* : .*\n)+)((?:^ {4}.*\n?)+)", re.MULTILINE)
_UNITS = re.compile(r"\s*(\[[^\]]+\](?:, \[[^\]]+\])*)$")


def rules_in_force() -> DefaultsDocument:
    """List every default in force.

    Returns
    -------
    DefaultsDocument
        Subject by subject: name, value, unit, reason and source.

    Examples
    --------
    >>> rows = rules_in_force()["rules"]
    >>> [row["value"] for row in rows if row["name"] == "return_limit_m"]
    [0.11]
    """
    rows = [row for subject, rules in SUBJECTS for row in _rows(subject, rules)]
    return DefaultsDocument(**head_of("takeoff.defaults/1", settings={}), rules=rows)


def _rows(subject: str, rules: type) -> Iterator[RuleRow]:
    """One row for each field of a rules class."""
    text = inspect.getdoc(rules) or ""
    common = COMMON in text.partition("Parameters\n")[0]
    told = dict(_told(text))
    standard = rules()
    for one in fields(rules):
        if is_dataclass(getattr(standard, one.name)):
            continue  # rules of a subject of their own
        reason, unit = told[one.name]
        unsourced = common or COMMON in reason
        yield RuleRow(
            subject=subject,
            name=one.name,
            value=_plain(getattr(standard, one.name), one),
            unit=unit,
            reason=reason,
            source="common practice, no source" if unsourced else "judgement, no source",
            told_by=TOLD_BY.get((subject, one.name)),
        )


def _told(text: str) -> Iterator[tuple[str, tuple[str, str | None]]]:
    """Reason and unit of each field; those one under the other share their reason."""
    for heads, below in _ENTRY.findall(text):
        names = [name for head in heads.splitlines() for name in head.split(" : ")[0].split(", ")]
        reason = " ".join(below.split())
        found = _UNITS.search(reason)
        units = re.findall(r"\[([^\]]+)\]", found[1]) if found else [None]
        for place, name in enumerate(names):
            yield name, (_UNITS.sub("", reason), units[min(place, len(units) - 1)])


def _plain(value: object, one: Field[Any]) -> float | int | bool | str | None:
    """Give a value as a document can hold it."""
    if value is None or isinstance(value, bool | int | float | str):
        return value
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {part}" for key, part in value.items())
    if isinstance(value, tuple | list | set | frozenset):
        return ", ".join(str(part) for part in sorted(value, key=str))
    raise TypeError(f"{one.name} holds a {type(value).__name__}, which no document can")
