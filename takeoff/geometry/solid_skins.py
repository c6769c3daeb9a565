"""The closed surface of a solid, sampled for layers that stay within it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from takeoff.geometry.band_parts import sampled_skin
from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.nearest import NearestSkin
from takeoff.geometry.skin_edges import SkinEdges, skin_edges


@dataclass(frozen=True, slots=True, eq=False)
class SolidSkin:
    """The closed surface of a solid, of which samples are kept.

    Its edges take more memory than the skin that carries layers, and are of use only while it
    is sampled: where closer samples are asked for, it is measured anew.

    Parameters
    ----------
    mesh : Mesh
        The surface.
    rough_by_depth_m : mapping of float to NearestSkin
        Sparse samples, by the depth of layers that they are for.
    rules : BandRules
        How closely it is sampled.
    """

    mesh: Mesh
    rough_by_depth_m: Mapping[float, NearestSkin]
    rules: BandRules

    @classmethod
    def of(
        cls, skin: SkinEdges, depths_m: Iterable[float], *, rules: BandRules = BandRules()
    ) -> SolidSkin:
        """Sample a closed surface sparsely.

        Parameters
        ----------
        skin : SkinEdges
            The surface.
        depths_m : iterable of float
            How deep layers will be, those of every laying. [m]
        rules : BandRules, optional
            How closely.

        Returns
        -------
        SolidSkin
            The surface.

        Examples
        --------
        >>> import trimesh
        >>> box = skin_edges(Mesh.from_trimesh(trimesh.creation.box((1, 1, 1)), unit="m"))
        >>> solid = SolidSkin.of(box, [0.02])
        >>> len(solid.roughly(0.02).samples.facet) < len(solid.closely(0.02).samples.facet)
        True
        """
        sparse = rules.rough()
        rough = {depth_m: sampled_skin(skin, depth_m, rules=sparse) for depth_m in set(depths_m)}
        return cls(skin.mesh, rough, rules)

    def roughly(self, depth_m: float) -> NearestSkin:
        """Give samples that will do to find out whether layers come out of the solid.

        Parameters
        ----------
        depth_m : float
            How deep the layers are. [m]

        Returns
        -------
        NearestSkin
            The samples.
        """
        if depth_m in self.rough_by_depth_m:
            return self.rough_by_depth_m[depth_m]
        return sampled_skin(skin_edges(self.mesh), depth_m, rules=self.rules.rough())

    def closely(self, depth_m: float) -> NearestSkin:
        """Give samples to count layers by.

        Parameters
        ----------
        depth_m : float
            How deep the layers are. [m]

        Returns
        -------
        NearestSkin
            The samples.
        """
        return sampled_skin(skin_edges(self.mesh), depth_m, rules=self.rules)
