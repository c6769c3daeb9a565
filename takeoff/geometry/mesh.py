"""The triangle mesh that everything on solids and open surfaces stands on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import MeshError
from takeoff.units import metres_per_unit

if TYPE_CHECKING:
    import trimesh


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """Triangles over shared points.

    Parameters
    ----------
    points_m : ndarray of float, shape (n, 3)
        Corner points. [m]
    triangles : ndarray of int, shape (k, 3)
        Three point numbers a triangle, counter-clockwise seen from outside.

    Examples
    --------
    >>> corner = Mesh(np.eye(3), np.array([[0, 1, 2]], dtype=np.int32))
    >>> corner
    Mesh(points=3, triangles=1)
    """

    points_m: NDArray[np.float64]
    triangles: NDArray[np.int32]

    def __repr__(self) -> str:
        return f"Mesh(points={len(self.points_m)}, triangles={len(self.triangles)})"

    @classmethod
    def from_trimesh(cls, tm: trimesh.Trimesh, *, unit: str) -> Mesh:
        """Take over a mesh of the trimesh library.

        Parameters
        ----------
        tm : trimesh.Trimesh
            The mesh, in its own unit.
        unit : str
            Unit its coordinates are in: ``"mm"``, ``"in"``, ``"m"`` ...

        Returns
        -------
        Mesh
            The same triangles in metres.

        Raises
        ------
        QuantityError
            If the unit is not a unit of length.
        MeshError
            If it is no such mesh, if there is no triangle, or a coordinate is not a number.

        Examples
        --------
        >>> import trimesh
        >>> Mesh.from_trimesh(trimesh.creation.box((100, 200, 30)), unit="mm")
        Mesh(points=8, triangles=12)
        """
        factor = metres_per_unit(unit)
        if not (hasattr(tm, "vertices") and hasattr(tm, "faces")):
            raise MeshError(
                f"what is given is of type {type(tm).__name__}, no mesh of trimesh; of arrays, "
                "trimesh.Trimesh(points, triangles) makes one"
            )
        points_m = np.asarray(tm.vertices, dtype=np.float64) * factor
        if not len(tm.faces):
            raise MeshError("the mesh has no triangles")
        if not np.isfinite(points_m).all():
            raise MeshError("a coordinate of the mesh is not a finite number")
        return cls(points_m, np.asarray(tm.faces, dtype=np.int32))

    def to_trimesh(self) -> trimesh.Trimesh:
        """Give the mesh to the trimesh library, in metres, as it stands.

        Returns
        -------
        trimesh.Trimesh
            Unprocessed: the same points and triangles in the same order.

        Examples
        --------
        >>> corner = Mesh(np.eye(3), np.array([[0, 1, 2]], dtype=np.int32))
        >>> len(corner.to_trimesh().faces)
        1
        """
        import trimesh

        return trimesh.Trimesh(self.points_m, self.triangles, process=False)
