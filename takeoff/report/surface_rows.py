"""Surfaces of measured pieces as flat rows, for CSV files and data frames."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.documents import MeasuredPieceRow

SURFACE_COLUMNS = (
    "piece",
    "surface",
    "surface_class",
    "area_m2",
    "depth_m",
    "mean_depth_m",
    "draft_deg",
    "undercut_m2",
    "opening",
    "neighbours",
    "why",
)


def surface_table(
    pieces: Sequence[MeasuredPieceRow],
) -> list[dict[str, str | float | None]]:
    """Give one flat row per surface.

    Parameters
    ----------
    pieces : sequence of MeasuredPieceRow
        Measured pieces.

    Returns
    -------
    list of dict
        Piece, surface, class, area, depths, draft, undercut, opening, neighbours and reason of
        each surface.

    Examples
    --------
    >>> surface_table([])
    []
    """
    return [
        dict(
            zip(
                SURFACE_COLUMNS,
                (
                    piece["name"],
                    surface["id"],
                    surface["class"],
                    surface["area_m2"],
                    surface["depth_m"],
                    surface["mean_depth_m"],
                    surface["draft_deg"],
                    surface["undercut_m2"],
                    surface["opening"],
                    " ".join(row["id"] for row in surface["neighbours"]),
                    surface["why"],
                ),
                strict=True,
            )
        )
        for piece in pieces
        for surface in piece["surfaces"]
    ]
