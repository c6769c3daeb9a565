"""What is cast along with a piece, from the same batches: samples and test boards."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from takeoff.batching.demand import Casting
from takeoff.batching.plans import Plan, PouredDay
from takeoff.files.order_parts import Portion, QcBoards
from takeoff.job.cast_pieces import BOARD, SAMPLE, CastPiece
from takeoff.job.pour_steps import LayerSteps


@dataclass(frozen=True, slots=True)
class Rider:
    """A sample or a test board, cast along with a piece.

    Parameters
    ----------
    piece, copy : str and int
        The casting it goes with.
    portion : Portion
        What it is cast of.
    kind : str
        ``"sample"`` or ``"board"``.
    name, number : str and int
        What it is called, and which of them it is, from 1.
    volume_m3 : float
        What it takes. [m³]
    """

    piece: str
    copy: int
    portion: Portion
    kind: str
    name: str
    number: int
    volume_m3: float


def sample_riders(cast: Sequence[CastPiece]) -> tuple[Rider, ...]:
    """Let the samples of a job go along with the first piece that has what they are cast of.

    Parameters
    ----------
    cast : sequence of CastPiece
        What the job casts.

    Returns
    -------
    tuple of Rider
        One for each sample and portion.

    Examples
    --------
    >>> from takeoff.job.portions import PortionVolume
    >>> tile = (PortionVolume(Portion.BACKER, "sample", 0.001, 0.001, 0.001),)
    >>> sample_riders([CastPiece("sample tile", 2, tile)])
    ()
    """
    return tuple(
        Rider(host.name, 1, one.portion, SAMPLE, sample.name, number, one.volume_m3)
        for sample in cast
        if sample.measured is None
        for one in sample.volumes
        if (host := _first(cast, one.portion)) is not None
        for number in range(1, sample.count + 1)
    )


def _first(cast: Sequence[CastPiece], portion: Portion) -> CastPiece | None:
    """Give the first measured piece that takes a portion, if there is one."""
    drawn = (piece for piece in cast if piece.measured is not None)
    return next((piece for piece in drawn if piece.volume_m3(portion) > 0.0), None)


def missing_boards(
    plan: Plan,
    layers: Sequence[LayerSteps],
    boards: QcBoards,
    riders: Sequence[Rider],
) -> tuple[Rider, ...]:
    """Give the test boards that days of a plan still lack, one set of each mix and day.

    Parameters
    ----------
    plan : Plan
        The plan.
    layers : sequence of LayerSteps
        Portions and their steps.
    boards : QcBoards
        What is asked for.
    riders : sequence of Rider
        Boards and samples that are there.

    Returns
    -------
    tuple of Rider
        Boards on the first casting of each day that takes the portion; none where no day lacks
        any.

    Examples
    --------
    >>> from takeoff.batching.workshops import Workshop
    >>> missing_boards(Plan((), Workshop(()), (), 0), [], QcBoards(0.36, 0.012), [])
    ()
    """
    made = []
    counts = board_counts(riders)
    for _, layer, host in _lacking(plan, layers, riders):
        for _ in range(boards.count):
            counts[layer.portion] = counts.get(layer.portion, 0) + 1
            made.append(
                Rider(
                    host.piece,
                    host.copy,
                    layer.portion,
                    BOARD,
                    f"test board {layer.mix.name}",
                    counts[layer.portion],
                    boards.area_m2 * boards.thickness_m,
                )
            )
    return tuple(made)


def board_counts(riders: Sequence[Rider]) -> dict[Portion, int]:
    """Count the test boards of each portion.

    Parameters
    ----------
    riders : sequence of Rider
        Boards and samples.

    Returns
    -------
    dict
        How many boards, by portion.

    Examples
    --------
    >>> board_counts([Rider("panel", 1, Portion.BACKER, BOARD, "test board", 1, 0.004)])
    {<Portion.BACKER: 'backer'>: 1}
    """
    counts: dict[Portion, int] = {}
    for one in riders:
        if one.kind == BOARD:
            counts[one.portion] = counts.get(one.portion, 0) + 1
    return counts


def riders_of(riders: Sequence[Rider]) -> Mapping[tuple[str, int], tuple[Rider, ...]]:
    """Sort riders by the casting they go with.

    Parameters
    ----------
    riders : sequence of Rider
        Boards and samples.

    Returns
    -------
    mapping of tuple to tuple of Rider
        Riders by piece and copy.

    Examples
    --------
    >>> riders_of([])
    {}
    """
    sorted_out: dict[tuple[str, int], tuple[Rider, ...]] = {}
    for one in riders:
        key = (one.piece, one.copy)
        sorted_out[key] = (*sorted_out.get(key, ()), one)
    return sorted_out


def _takes(casting: Casting, layer: LayerSteps) -> bool:
    steps = {*layer.steps, *layer.over_walls}
    return any(coat.step in steps for coat in casting.coats)


def late_days(plan: Plan, layers: Sequence[LayerSteps], riders: Sequence[Rider]) -> Iterator[int]:
    """Give the days of a plan on which a mix is used and no board of it is cast.

    Parameters
    ----------
    plan : Plan
        The plan.
    layers : sequence of LayerSteps
        Portions and their steps.
    riders : sequence of Rider
        Boards and samples.

    Yields
    ------
    int
        Number of the day.

    Examples
    --------
    >>> from takeoff.batching.workshops import Workshop
    >>> list(late_days(Plan((), Workshop(()), (), 0), [], []))
    []
    """
    days = (poured.number for poured, _, _ in _lacking(plan, layers, riders))
    yield from dict.fromkeys(days)


def _lacking(
    plan: Plan, layers: Sequence[LayerSteps], riders: Sequence[Rider]
) -> Iterator[tuple[PouredDay, LayerSteps, Casting]]:
    """Give each day and portion without a board, with the first casting that takes it."""
    have = {(one.piece, one.copy, one.portion) for one in riders if one.kind == BOARD}
    for poured in plan.days:
        cast = {part.casting for batch in poured.batches for part in batch.batch.parts}
        castings = [plan.castings[number] for number in sorted(cast)]
        for layer in layers:
            hosts = [one for one in castings if _takes(one, layer)]
            if hosts and not any((one.piece, one.copy, layer.portion) in have for one in hosts):
                yield poured, layer, hosts[0]
