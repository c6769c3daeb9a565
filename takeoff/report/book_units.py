"""The units that the numbers of a workbook are in: metric or US customary."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.report.figures import System
from takeoff.units import area_m2, length_m, mass_kg, volume_m3


@dataclass(frozen=True, slots=True)
class SheetUnits:
    """Units of a workbook, and the size of each in SI.

    Parameters
    ----------
    system : System
        The system they belong to.
    area, length, run, volume, mass : str
        Their names, as they stand in heads of columns.
    flat : str
        What area times thickness in these units is multiplied by to give volume, as it stands in
        a formula; empty for nothing.
    """

    system: System
    area: str
    length: str
    run: str
    volume: str
    mass: str
    flat: str

    def areas(self, si_m2: float) -> float:
        """Give an area in the unit of the workbook.

        Parameters
        ----------
        si_m2 : float
            Area. [m²]

        Returns
        -------
        float
            The area in the unit of the workbook.

        Examples
        --------
        >>> METRIC.areas(2.5)
        2.5
        """
        return si_m2 / area_m2(f"1 {self.area}")

    def lengths(self, si_m: float) -> float:
        """Give a length in the unit of the workbook.

        Parameters
        ----------
        si_m : float
            Length. [m]

        Returns
        -------
        float
            The length in the unit of the workbook.

        Examples
        --------
        >>> METRIC.lengths(0.004), round(US.lengths(0.0127), 12)
        (4.0, 0.5)
        """
        return si_m / length_m(f"1 {self.length}")

    def runs(self, si_m: float) -> float:
        """Give a long length, as of a bead, in the unit of the workbook.

        Parameters
        ----------
        si_m : float
            Length. [m]

        Returns
        -------
        float
            The length in the unit of the workbook.

        Examples
        --------
        >>> METRIC.runs(71.69), round(US.runs(3.048), 12)
        (71.69, 10.0)
        """
        return si_m / length_m(f"1 {self.run}")

    def volumes(self, si_m3: float) -> float:
        """Give a volume in the unit of the workbook.

        Parameters
        ----------
        si_m3 : float
            Volume. [m³]

        Returns
        -------
        float
            The volume in the unit of the workbook.

        Examples
        --------
        >>> METRIC.volumes(0.0125)
        12.5
        """
        return si_m3 / volume_m3(f"1 {self.volume}")

    def masses(self, si_kg: float) -> float:
        """Give a mass in the unit of the workbook.

        Parameters
        ----------
        si_kg : float
            Mass. [kg]

        Returns
        -------
        float
            The mass in the unit of the workbook.

        Examples
        --------
        >>> METRIC.masses(25.0), round(US.masses(18.1436948), 9)
        (25.0, 40.0)
        """
        return si_kg / mass_kg(f"1 {self.mass}")


METRIC = SheetUnits(System.METRIC, "m²", "mm", "m", "L", "kg", "")
# 144 square inches are a square foot, 231 cubic inches a gallon.
US = SheetUnits(System.US, "sq ft", "in", "ft", "gal", "lb", "*144/231")


def units_of(show_units: object) -> SheetUnits:
    """Choose the units of a workbook.

    Parameters
    ----------
    show_units : object
        What the settings of a document say; anything but ``us`` is metric.

    Returns
    -------
    SheetUnits
        The units.

    Examples
    --------
    >>> units_of("us").mass, units_of("metric").mass
    ('lb', 'kg')
    """
    return US if show_units == System.US else METRIC
