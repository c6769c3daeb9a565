"""The points after which nothing more may be started: a face from a batch, a piece on a day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from takeoff.documents import BatchDocument
from takeoff.pour_documents import PouredBatchRow, PouredDayRow, PouredPartRow

Face = tuple[str, int, int]
"""Piece, copy and pass: what is placed in one go."""


@dataclass(frozen=True, slots=True)
class FaceStart:
    """When one face is started from a batch, and when at the latest.

    Parameters
    ----------
    face : tuple of str, int and int
        Piece, copy and pass.
    planned_s : float
        When the plan starts it. [s]
    latest_s : float
        After this, what the batch still holds would not be in the form by its use-by, or the coat
        under the face would be too old. [s]
    covers_too_late : bool
        Whether it is the coat under it that sets the limit.
    """

    face: Face
    planned_s: float
    latest_s: float
    covers_too_late: bool


def face_starts(
    batch: PouredBatchRow, day: PouredDayRow, document: BatchDocument
) -> list[FaceStart]:
    """Give, face by face, when a batch must start it at the latest.

    Parameters
    ----------
    batch : PouredBatchRow
        The batch.
    day : PouredDayRow
        Its day.
    document : BatchDocument
        The pour, with the rules of its layers.

    Returns
    -------
    list of FaceStart
        The faces in the order of placing. From the latest start on, the rest of the batch takes
        as long as planned, and ends just at its use-by; the coat under the face is then just as
        old as it may be, reserve included.

    Examples
    --------
    >>> face_starts({"parts": []}, {}, {})
    []
    """
    starts = []
    for face in _faces(batch["parts"]):
        planned_s = min(part["start_s"] for part in _parts_of(batch, face))
        use_by_s = batch["use_by_s"] - (batch["place_end_s"] - planned_s)
        cover_by_s = _cover_by_s(batch, face, day, document)
        latest_s = use_by_s if cover_by_s is None else min(use_by_s, cover_by_s)
        starts.append(FaceStart(face, planned_s, latest_s, latest_s < use_by_s))
    return starts


def piece_starts(day: PouredDayRow, *, working_day_s: float | None) -> Mapping[str, float]:
    """Give, piece by piece, when one must be begun at the latest to be finished on its day.

    Parameters
    ----------
    day : PouredDayRow
        The day.
    working_day_s : float or None
        How long it is; None where nobody said. [s]

    Returns
    -------
    mapping of str to float
        Latest start of the first coat from the start of the day, in the order of the plan; what
        follows takes as long as it does in the plan, for that of its castings that takes
        longest. [s]

    Examples
    --------
    >>> piece_starts({"batches": []}, working_day_s=28800.0)
    {}
    """
    if working_day_s is None:
        return {}
    spans_s: dict[tuple[str, int], tuple[float, float]] = {}
    for batch in day["batches"]:
        for part in batch["parts"]:
            key = (part["piece"], part["copy"])
            first_s, last_s = spans_s.get(key, (part["start_s"], 0.0))
            spans_s[key] = (min(first_s, part["start_s"]), max(last_s, batch["brush_end_s"]))
    latest_s: dict[str, float] = {}
    for (piece, _), (first_s, last_s) in spans_s.items():
        begun_by_s = working_day_s - (last_s - first_s)
        latest_s[piece] = min(begun_by_s, latest_s.get(piece, begun_by_s))
    return latest_s


def _faces(parts: Sequence[PouredPartRow]) -> list[Face]:
    return list(dict.fromkeys((part["piece"], part["copy"], part["pass"]) for part in parts))


def _parts_of(batch: PouredBatchRow, face: Face) -> list[PouredPartRow]:
    return [one for one in batch["parts"] if (one["piece"], one["copy"], one["pass"]) == face]


def _cover_by_s(
    batch: PouredBatchRow, face: Face, day: PouredDayRow, document: BatchDocument
) -> float | None:
    """Give when the coat under a face is as old as it may be; None where nothing is under it."""
    oldest_s = _longest_wait_s(batch, face[2], document)
    coats = _coats(face, day)
    own = coats[batch["mix"], batch["layer"], face[2]]
    under = [coat for coat in coats.values() if coat.first_s < own.first_s]
    if oldest_s is None or not under:
        return None
    covered = max(under, key=lambda coat: coat.first_s)
    planned_s = min(part["start_s"] for part in _parts_of(batch, face))
    by_its_end_s = covered.last_s + oldest_s - (own.last_s - planned_s)
    if planned_s > own.first_s:  # another batch has begun it
        return by_its_end_s
    return min(covered.first_s + oldest_s, by_its_end_s)


@dataclass(frozen=True, slots=True)
class _Coat:
    """When the first and the last of a coat are placed."""

    first_s: float
    last_s: float


def _coats(face: Face, day: PouredDayRow) -> Mapping[tuple[str, str, int], _Coat]:
    """Give the coats that one casting gets on a day, by mix, layer and pass."""
    coats: dict[tuple[str, str, int], _Coat] = {}
    for batch in day["batches"]:
        for part in batch["parts"]:
            if (part["piece"], part["copy"]) == face[:2]:
                key = (batch["mix"], part["layer"], part["pass"])
                old = coats.get(key, _Coat(part["start_s"], part["end_s"]))
                coats[key] = _Coat(
                    min(old.first_s, part["start_s"]), max(old.last_s, part["end_s"])
                )
    return coats


def _longest_wait_s(batch: PouredBatchRow, number: int, document: BatchDocument) -> float | None:
    for rule in document["rules"]:
        if (rule["mix"], rule["layer"], rule["pass"]) == (batch["mix"], batch["layer"], number):
            return rule["max_wait_s"]
    return None
