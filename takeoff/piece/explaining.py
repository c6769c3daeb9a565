"""Why a surface is of its class, with its lengths as values, to be written in any unit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


def in_mm(length_m: float) -> str:
    """Write a length in mm to a tenth, without a needless zero.

    Parameters
    ----------
    length_m : float
        The length. [m]

    Returns
    -------
    str
        The text.

    Examples
    --------
    >>> in_mm(0.1016), in_mm(0.04)
    ('101.6 mm', '40 mm')
    """
    return f"{length_m * 1e3:.1f}".removesuffix(".0") + " mm"


@dataclass(frozen=True, slots=True)
class Explanation:
    """A reason whose lengths are still values.

    Parameters
    ----------
    pattern : str
        The sentence, with ``{depth}`` where the depth belongs.
    depth_m, mean_depth_m : float
        Largest and mean depth. [m]
    """

    pattern: str
    depth_m: float
    mean_depth_m: float

    def text(self, written: Callable[[float], str] = in_mm) -> str:
        """Give the sentence.

        Parameters
        ----------
        written : callable, optional
            Writes a length in m; in mm unless told.

        Returns
        -------
        str
            The sentence.

        Examples
        --------
        >>> Explanation("wall {depth} deep", 0.0508, 0.0508).text(lambda m: f"{m / 0.0254:g} in")
        'wall 2 in deep'
        >>> Explanation("wall {depth} deep", 0.11, 0.0875).text()
        'wall up to 110 mm (87.5 mm on average) deep'
        """
        depth = written(self.depth_m)
        if self.depth_m > 1.02 * self.mean_depth_m > 0.0:
            depth = f"up to {depth} ({written(self.mean_depth_m)} on average)"
        return self.pattern.replace("{depth}", depth)
