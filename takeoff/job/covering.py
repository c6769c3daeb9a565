"""How old a face coat grows where walls are packed or sprayed before the rest is poured."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.batching.plans import Plan, PouredBatch, PouredDay
from takeoff.notes import Note, NoteCode
from takeoff.piece.layers import Layer


def covered_late(plan: Plan, longest_s: float) -> tuple[Note, ...]:
    """Note castings whose face coat is too old when the poured backer covers it.

    Parameters
    ----------
    plan : Plan
        The plan, which holds each step against the one before it.
    longest_s : float
        How old the face coat may be when it is covered. [s]

    Returns
    -------
    tuple of Note
        One for each casting with three layers of steps, where it is; ages are taken at the
        first and the last batch, so that they are rather too long.

    Examples
    --------
    >>> from takeoff.batching.workshops import Workshop
    >>> covered_late(Plan((), Workshop(()), (), 0), 5400.0)
    ()
    """
    kept_s = longest_s * (1.0 - plan.shop.rules.window_reserve_share)
    return tuple(
        Note(
            NoteCode.COVERED_LATE,
            f"day {day.number}: up to {age_s / 60:.0f} min old where the poured backer covers its "
            f"face coat, after its walls; {kept_s / 60:.0f} min of the longest wait are kept to "
            "elsewhere: pour before the walls, or tell more hands",
            where=plan.castings[casting].name,
        )
        for day in plan.days
        for casting, age_s in _ages(plan, day)
        if age_s > kept_s
    )


def _ages(plan: Plan, day: PouredDay) -> Iterator[tuple[int, float]]:
    """Give the age of the face coat under the poured backer of castings with walls between."""
    runs: dict[tuple[int, int], list[PouredBatch]] = {}
    for poured in day.batches:
        for key in {(part.casting, part.coat) for part in poured.batch.parts}:
            runs.setdefault(key, []).append(poured)
    for casting, coat in sorted(runs):
        steps = [one.step for one in plan.castings[casting].coats]
        faces = [k for k in range(coat) if steps[k].layer == Layer.FACE_COAT]
        if not faces or coat - faces[-1] < 2 or steps[coat].mix == steps[coat - 1].mix:
            continue
        face, backer = runs[casting, faces[-1]], runs[casting, coat]
        first_s = min(one.place_start_s for one in backer) - min(one.place_start_s for one in face)
        last_s = max(one.place_end_s for one in backer) - max(one.place_end_s for one in face)
        yield casting, max(first_s, last_s)
