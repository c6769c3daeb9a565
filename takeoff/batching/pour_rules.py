"""The rules of a pour by name: what a plan must keep, and why there may be none."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Rule(StrEnum):
    """One rule of a pour."""

    DEMAND = "everything is placed once"
    CAPACITY = "mixer capacity"
    LEAST_FILL = "mixer least fill"
    SCALE = "whole bags or scale divisions"
    SUITS = "mixer suits the mix"
    ONE_MIX = "one mix and colour in a batch"
    WHOLE_FACE = "a show face is split only where it must be"
    SINGLE_BATCH = "one batch per face does not fit"
    SINGLE = "one batch per face"
    EVEN = "batches of one face are equal"
    MIXING = "mixing time"
    HAUL = "carrying time"
    RATE = "placing rate"
    POT_LIFE = "pot life"
    POT_LIFE_LEAST_FILL = "pot life shorter than the smallest mix"
    CLEANING = "cleaning and washing between batches"
    HANDS = "hands"
    GUNS = "guns"
    ORDER = "layers in order"
    LEAST_WAIT = "least wait"
    LONGEST_WAIT = "longest wait"
    FACE_WINDOW = "face takes longer than its window"
    WET_EDGE = "wet edge"
    DAY = "working day"
    ONE_DAY = "a piece is finished on the day it is begun"
    TABLES = "tables"
    FORMS = "forms"
    DAYS = "days to pour"
    MIXER_HOURS = "mixer hours"
    HAND_HOURS = "hand hours"


class Measure(StrEnum):
    """What a value and its limit are counted in."""

    SECONDS = "s"
    KILOGRAMS = "kg"
    CUBIC_METRES = "m3"
    COUNT = "count"


@dataclass(frozen=True, slots=True)
class Finding:
    """Why there is no plan: a rule, what it would take, and the least change that would do.

    Parameters
    ----------
    rule : Rule
        The rule.
    where : str
        Piece, layer or mixer.
    value_count, limit_count : float
        What it would take, and what may be, counted in `measure`. [-]
    measure : Measure
        What both are counted in.
    fix : str
        The least change that would do.
    enough : bool, default True
        Whether that change alone makes a plan possible; otherwise those of the other findings are
        needed too.
    """

    rule: Rule
    where: str
    value_count: float
    limit_count: float
    measure: Measure
    fix: str
    enough: bool = True


@dataclass(frozen=True, slots=True)
class Breach:
    """A rule that a plan breaks.

    Parameters
    ----------
    rule : Rule
        The rule.
    where : str
        Day, batch or piece.
    text : str
        What was found.
    """

    rule: Rule
    where: str
    text: str
