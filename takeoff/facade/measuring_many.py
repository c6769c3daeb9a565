"""Measure several drawings alike; one that is refused never stops the others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from takeoff.documents import ErrorRow, MeasureDocument, SettingValue
from takeoff.errors import TakeoffError
from takeoff.measuring.measurement import Measurement
from takeoff.measuring.request import MeasureRequest
from takeoff.measuring.rows import error_row
from takeoff.measuring.taking import measure_drawing


@dataclass(frozen=True, slots=True, eq=False)
class Measurements:
    """Several drawings measured.

    Parameters
    ----------
    measurement : Measurement
        The pieces of all drawings that could be measured.
    errors : tuple of ErrorRow
        Why the others could not.
    """

    measurement: Measurement
    errors: tuple[ErrorRow, ...]

    def to_dict(self) -> MeasureDocument:
        """Give the measurements as one JSON document.

        Returns
        -------
        MeasureDocument
            The document.
        """
        return self.measurement.to_dict(errors=self.errors)

    def write(self, folder: str | Path) -> tuple[Path, ...]:
        """Write the files of the measurement, its refusals included.

        Parameters
        ----------
        folder : str or Path
            Where to; made if it is not there.

        Returns
        -------
        tuple of Path
            The files.

        Raises
        ------
        OutputError
            If the folder cannot be written to.
        """
        from takeoff.files.writing import write_files

        return write_files(folder, self.measurement.contents(self.to_dict()))


def measure_all(paths: Sequence[str | Path], request: MeasureRequest) -> Measurements:
    """Measure several drawings with the same request.

    Parameters
    ----------
    paths : sequence of str or Path
        The files.
    request : MeasureRequest
        What is asked of each.

    Returns
    -------
    Measurements
        What could be measured, and why the rest could not.

    Examples
    --------
    >>> measure_all(["no-such.stl"], MeasureRequest(unit="mm")).errors[0]["text"]
    'there is no such file'
    """
    taken: list[Measurement] = []
    errors: list[ErrorRow] = []
    for path in paths:
        try:
            taken.append(measure_drawing(path, request))
        except TakeoffError as error:
            errors.append(error_row(error, file=str(path)))
    return Measurements(_joined(taken, request.settings()), tuple(errors))


def refused_measurements(error: TakeoffError) -> Measurements:
    """Give the result of a request that was refused before any drawing was read.

    Parameters
    ----------
    error : TakeoffError
        Why.

    Returns
    -------
    Measurements
        No pieces, and the refusal.

    Examples
    --------
    >>> from takeoff.errors import QuantityError
    >>> refused_measurements(QuantityError("'60' has no unit")).to_dict()["pieces"]
    []
    """
    return Measurements(Measurement((), (), (), {}), (error_row(error, file=None),))


def _joined(taken: Sequence[Measurement], settings: Mapping[str, SettingValue]) -> Measurement:
    return Measurement(
        pieces=tuple(piece for one in taken for piece in one.pieces),
        skipped=tuple(tally for one in taken for tally in one.skipped),
        notes=tuple(note for one in taken for note in one.notes),
        settings=settings,
    )
