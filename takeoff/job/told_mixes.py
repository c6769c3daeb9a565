"""Mixes held against the layer of the job that each is told for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from takeoff.errors import BatchError
from takeoff.files.order import Order
from takeoff.files.order_parts import Portion
from takeoff.mix.mixes import Mix, Placing
from takeoff.notes import Note, NoteCode


def refuse_misplaced(order: Order, mixes: Mapping[Portion, Mix]) -> None:
    """Refuse mixes that contradict what the job tells of the walls.

    Parameters
    ----------
    order : Order
        The job.
    mixes : mapping of Portion to Mix
        Its mixes.

    Raises
    ------
    BatchError
        If ways or a backer of their own are told for walls on which the backer stands by itself,
        the backer of walls is poured too, or two mixes of the job share a name.

    Examples
    --------
    >>> from takeoff.files.job_file import read_order
    >>> from takeoff.files.mix_file import read_mix
    >>> order = read_order("samples/ferry-hall/job.toml")
    >>> refuse_misplaced(order, {Portion.BACKER: read_mix("backer-sprayed")})
    Traceback (most recent call last):
    takeoff.errors.BatchError: samples/ferry-hall/job.toml:13: backer: a way is told to cast \
walls, and backer-sprayed is sprayed and stands by itself; leave way out
    """
    backer, beside = mixes.get(Portion.BACKER), mixes.get(Portion.WALL_BACKER)
    if backer is not None and backer.placing is not Placing.POURED:
        stands = f"{backer.name} is {backer.placing.value} and stands by itself"
        if order.backer is not None and order.backer.ways:
            raise BatchError(
                f"a way is told to cast walls, and {stands}; leave way out",
                where=order.backer.place,
            )
        if order.wall_backer is not None:
            raise BatchError(
                f"is for walls beside a poured backer, and {stands}; leave [wall_backer] out",
                where=order.wall_backer.place,
            )
    if beside is not None and order.wall_backer is not None and beside.placing is Placing.POURED:
        raise BatchError(
            f"{beside.name} is poured, and does not stand on walls either; give a mix that is "
            "packed or sprayed",
            where=order.wall_backer.place,
        )
    _refuse_namesakes(order, mixes)


def _refuse_namesakes(order: Order, mixes: Mapping[Portion, Mix]) -> None:
    """Refuse two mixes of one name, which no batch could be told by."""
    by_name: dict[str, Mix] = {}
    for portion, mix in mixes.items():
        if by_name.setdefault(mix.name, mix) != mix:
            raise BatchError(
                f"its mix is called {mix.name} as another mix of this job is; give each its name",
                where=order.portions[portion].place,
            )


def layer_notes(mixes: Mapping[Portion, Mix]) -> Iterator[Note]:
    """Say which mixes are cast as a layer that is not the one of their file.

    Parameters
    ----------
    mixes : mapping of Portion to Mix
        The mixes of a job.

    Yields
    ------
    Note
        One for each.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> [note] = layer_notes({Portion.BACKER: read_mix("face-coat-sprayed")})
    >>> note.text
    'is a face coat by its own file, and is cast as backer; is that meant?'
    """
    for portion, mix in mixes.items():
        if mix.layer.value != portion.layer.value:
            own, here = (one.value.replace("_", " ") for one in (mix.layer, portion.layer))
            text = f"is a {own} by its own file, and is cast as {here}; is that meant?"
            yield Note(NoteCode.MIX_LIMIT, text, where=mix.name)
