"""What is said of the layers of a piece: the difference to area times thickness, and refusals."""

from __future__ import annotations

from takeoff.errors import LayerVolumeError
from takeoff.geometry.layering import Layering
from takeoff.notes import Note, NoteCode
from takeoff.piece.layer_rules import LayerRules

_NOTHING = "0.00"


def too_thick(laid: Layering, total_m: float, solid_m3: float) -> LayerVolumeError:
    """Give the refusal of layers that come out at the back behind the whole show face.

    Parameters
    ----------
    laid : Layering
        The layers.
    total_m : float
        Their thickness on the show face. [m]
    solid_m3 : float
        Volume of the piece. [m³]

    Returns
    -------
    LayerVolumeError
        The refusal.

    Examples
    --------
    >>> import numpy as np
    >>> from takeoff.geometry.layering import Grown
    >>> layer = Grown(np.array([0.010]), np.zeros((1, 3)))
    >>> laid = Layering(layer, layer, np.zeros(1), 0.0, 0.024, True, 0.0, 0.0)
    >>> print(too_thick(laid, 0.024, 0.020))  # doctest: +ELLIPSIS
    layers of 24 mm would take 24.00 L, more than the 20.00 L of the solid piece: it is thinner ...
    """
    return LayerVolumeError(
        f"layers of {total_m * 1e3:g} mm would take {laid.edge_sum_m3 * 1e3:.2f} L, more than the "
        f"{solid_m3 * 1e3:.2f} L of the solid piece: it is thinner than they are together; give "
        "thinner layers, or the backer as fill"
    )


def difference_note(flat_m3: float, laid: Layering, rules: LayerRules) -> Note:
    """Say why the true volume is not area times thickness.

    Parameters
    ----------
    flat_m3 : float
        Area times thickness of both layers. [m³]
    laid : Layering
        The layers.
    rules : LayerRules
        From which difference on it is told.

    Returns
    -------
    Note
        The note.

    Examples
    --------
    >>> import numpy as np
    >>> from takeoff.geometry.layering import Grown
    >>> layer = Grown(np.array([0.010]), np.zeros((1, 3)))
    >>> laid = Layering(layer, layer, np.zeros(1), 0.0, 0.020, False, 0.002, 0.0)
    >>> print(difference_note(0.022, laid, LayerRules()).text)  # doctest: +ELLIPSIS
    area x thickness gives 22.00 L, true volume 20.00 L: 10.0 % too much; layers share 2.00 L ...
    """
    true_m3 = laid.volume_m3
    off = flat_m3 / true_m3 - 1.0
    much = (
        f"{abs(off) * 100.0:.1f} % too {'much' if off > 0 else 'little'}"
        if abs(off) >= rules.right_share
        else "right"
    )
    return Note(
        NoteCode.LAYER_FLAT,
        f"area x thickness gives {flat_m3 * 1e3:.2f} L, true volume {true_m3 * 1e3:.2f} L: "
        f"{much}{_why(laid)}",
    )


def _why(laid: Layering) -> str:
    """Say what arrises and inside corners do, each only where it shows in the litres."""
    told = (
        ("share", laid.arris_m3, "at arrises"),
        ("need", laid.inside_m3, "more at inside corners"),
    )
    parts = [f"{does} {_litres(m3)} L {at}" for does, m3, at in told if _litres(m3) != _NOTHING]
    return f"; layers {' and '.join(parts)}" if parts and not laid.counted else ""


def _litres(volume_m3: float) -> str:
    """Write litres, and nothing as 0.00: never as less than that."""
    return f"{round(volume_m3 * 1e3, 2) + 0.0:.2f}"
