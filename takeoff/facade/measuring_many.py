"""Measure several drawings alike; one that is refused never stops the others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from takeoff.documents import ErrorRow, MeasureDocument, SettingValue
from takeoff.errors import DirectionMissingError, TakeoffError
from takeoff.measuring.measurement import Measurement
from takeoff.measuring.picturing import no_pictures, piece_pictures, reading_pictures
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
    pictures : mapping of str to bytes
        PNG files of the pieces, and of the readings of those that were asked about.
    """

    measurement: Measurement
    errors: tuple[ErrorRow, ...]
    pictures: Mapping[str, bytes] = field(default_factory=dict)

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

        contents = self.measurement.contents(self.to_dict())
        return write_files(folder, {**contents, **self.pictures})


def measure_all(
    paths: Sequence[str | Path], request: MeasureRequest, *, with_pictures: bool = False
) -> Measurements:
    """Measure several drawings with the same request.

    Parameters
    ----------
    paths : sequence of str or Path
        The files.
    request : MeasureRequest
        What is asked of each.
    with_pictures : bool, default False
        Whether to draw the pieces, and the readings of those that are asked about.

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
    asked: list[str | Path] = []
    for path in paths:
        try:
            taken.append(measure_drawing(path, request))
        except TakeoffError as error:
            errors.append(error_row(error, file=str(path)))
            asked += [path] if isinstance(error, DirectionMissingError) else []
    measurement = _joined(taken, request.settings())
    if not with_pictures:
        return Measurements(measurement, tuple(errors))
    pictures = piece_pictures(measurement.pieces)
    for path in asked:
        pictures.update(reading_pictures(path, request, taken=pictures))
    noted = replace(measurement, notes=(*measurement.notes, *no_pictures()))
    return Measurements(noted, tuple(errors), pictures)


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
