"""Defects of an exported mesh put right, each kind counted."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from takeoff.errors import MeshError
from takeoff.geometry.bodies import Bodies, bodies_of
from takeoff.geometry.body_relations import body_relations
from takeoff.geometry.body_roles import BodyRoles, body_roles
from takeoff.geometry.contacts import join_touching
from takeoff.geometry.dihedrals import are_smooth
from takeoff.geometry.dropping import without_duplicates, without_pinched, without_slivers
from takeoff.geometry.edges import EdgeTable, edge_table
from takeoff.geometry.facets import Facets, facets_of
from takeoff.geometry.mesh import Mesh
from takeoff.geometry.mesh_rules import MeshRules
from takeoff.geometry.parts import Parts, parts_of
from takeoff.geometry.repairs import Defect, Repair, summed
from takeoff.geometry.seams import split_seams
from takeoff.geometry.sheets import without_double_sheets
from takeoff.geometry.welding import compacted, weld_exact, weld_near
from takeoff.geometry.winding import consistent_winding, turned


@dataclass(frozen=True, slots=True, eq=False)
class MendedMesh:
    """A mesh after mending, with the tables that mending needed anyway.

    Parameters
    ----------
    mesh : Mesh
        The mended mesh.
    repairs : tuple of Repair
        What was put right; empty for a clean mesh.
    facets : Facets
        Areas and normals of the mended mesh.
    edges : EdgeTable
        Its edges.
    parts : Parts
        Patches and bodies.
    bodies : Bodies
        Measures of the bodies.
    roles : BodyRoles
        Which bodies are cavities, and which run into each other.
    one_sided : int
        Number of facets in parts that cannot be wound alike.
    resolution_m : float
        Step of the stored coordinates. [m]
    """

    mesh: Mesh
    repairs: tuple[Repair, ...]
    facets: Facets
    edges: EdgeTable
    parts: Parts
    bodies: Bodies
    roles: BodyRoles
    one_sided: int
    resolution_m: float


@dataclass(frozen=True, slots=True, eq=False)
class _Stage:
    """A mesh on the way through mending."""

    mesh: Mesh
    edges: EdgeTable
    facets: Facets
    repairs: tuple[Repair, ...]
    one_sided: int = 0

    @classmethod
    def of(cls, mesh: Mesh, repairs: tuple[Repair, ...]) -> _Stage:
        """Measure a mesh that some repairs have led to."""
        if not len(mesh.triangles):
            raise MeshError("no facet of it has any area")
        return cls(mesh, edge_table(mesh), facets_of(mesh), repairs)

    def after(self, mesh: Mesh, repairs: tuple[Repair, ...]) -> _Stage:
        """Give the next stage; the same one where nothing was repaired."""
        if not repairs:
            return self
        stage = _Stage.of(compacted(mesh), (*self.repairs, *repairs))
        return replace(stage, one_sided=self.one_sided)

    def unless_torn(self, mesh: Mesh, repairs: tuple[Repair, ...]) -> _Stage:
        """Give the next stage, but keep this one where facets dropped leave edges torn.

        Faces that two overlapping bodies have in common are drawn twice rightly.
        """
        stage = self.after(mesh, repairs)
        closed = not len(self.edges.open_facet) and not self.edges.torn_links
        return self if closed and stage.edges.torn_links else stage


def mend(
    mesh: Mesh,
    *,
    welded: bool = False,
    resolution_m: float = 0.0,
    rules: MeshRules = MeshRules(),
) -> MendedMesh:
    """Weld a mesh, drop what adds nothing, wind it alike and outward.

    Parameters
    ----------
    mesh : Mesh
        A mesh as drawn.
    welded : bool, default False
        True where no point is repeated exactly.
    resolution_m : float, default 0.0
        Step of the stored coordinates at the far end of the mesh. [m]
    rules : MeshRules, optional
        Tolerances.

    Returns
    -------
    MendedMesh
        The mended mesh, what was put right, and the tables of the mended mesh.

    Raises
    ------
    MeshError
        If no facet has any area.

    Examples
    --------
    >>> import trimesh
    >>> box = Mesh.from_trimesh(trimesh.creation.box((1.0, 1.0, 1.0)), unit="m")
    >>> inside_out = Mesh(box.points_m, np.ascontiguousarray(box.triangles[:, ::-1]))
    >>> [(repair.what.value, repair.count) for repair in mend(inside_out).repairs]
    [('facets of inside-out bodies turned', 12)]
    """
    stage = _Stage.of(*without_pinched(mesh if welded else _welded(mesh)))
    examined = _examined(_mended_surface(stage, resolution_m, rules), resolution_m, rules)
    if examined.parts.body_count == 1 or examined.roles.overlapping:
        return examined
    joined = join_touching(
        examined.mesh, examined.facets, examined.parts, examined.bodies, rules=rules
    )
    if joined.unexamined:
        unexamined = examined.roles.unexamined + joined.unexamined
        return replace(examined, roles=replace(examined.roles, unexamined=unexamined))
    if not joined.contacts:
        return examined
    mesh, _ = without_pinched(_welded(joined.mesh))
    told = Repair(Defect.CONTACT, joined.contacts)
    stage = replace(_Stage.of(mesh, (*examined.repairs, told)), one_sided=examined.one_sided)
    stage = _mended_surface(stage, resolution_m, replace(rules, weld_m=rules.overlap_m))
    return _examined(stage, resolution_m, rules)


def _welded(mesh: Mesh) -> Mesh:
    """Give the mesh with every distinct point once, and none that no facet uses."""
    points_m, number = weld_exact(mesh.points_m)
    return compacted(Mesh(points_m.astype(np.float64, copy=False), number[mesh.triangles]))


def _mended_surface(stage: _Stage, resolution_m: float, rules: MeshRules) -> _Stage:
    """Put the surface right, whatever bodies it makes up; a sound one passes as it is."""
    resolution_m = min(resolution_m, rules.coarsest_m)
    height_m = max(rules.sliver_m, resolution_m / 2.0)
    stage = stage.after(*without_slivers(stage.mesh, stage.facets.area_m2, height_m=height_m))
    if stage.edges.sound:
        return stage
    stage = stage.unless_torn(*without_duplicates(stage.mesh))  # one twice closes on itself
    stage = _closed_gaps(stage, resolution_m, rules)
    stage = stage.unless_torn(*without_duplicates(stage.mesh))
    within_m = max(rules.widest_weld_m, 2.0 * resolution_m)
    stage = stage.after(*split_seams(stage.mesh, stage.edges, within_m=within_m))
    stage = _wound_alike(stage)
    return stage.unless_torn(
        *without_double_sheets(stage.mesh, stage.edges, within_m=rules.overlap_m)
    )


def _closed_gaps(stage: _Stage, resolution_m: float, rules: MeshRules) -> _Stage:
    """Join points across hairline gaps, within the usual length first and a wider one then."""
    for within_m in (max(rules.weld_m, 2.0 * resolution_m), rules.widest_weld_m):
        if not len(stage.edges.open_facet):
            break
        mesh, joined = weld_near(stage.mesh, stage.edges, within_m=within_m)
        if joined:
            mesh, pinched = without_pinched(mesh)
            told = (Repair(Defect.GAP, joined), *pinched)
            stage = stage.after(mesh, told)
    return stage


def _wound_alike(stage: _Stage) -> _Stage:
    """Turn the facets that are wound against their neighbours."""
    if not stage.edges.same_way.any():
        return stage
    winding = consistent_winding(len(stage.mesh.triangles), stage.edges)
    stage = replace(stage, one_sided=int(winding.one_sided.sum()))
    count = int(winding.turned.sum())
    if not count:
        return stage
    told = (Repair(Defect.WINDING, count),)
    return stage.after(turned(stage.mesh, winding.turned), told)


def _examined(stage: _Stage, resolution_m: float, rules: MeshRules) -> MendedMesh:
    """Measure the mended surface, after turning bodies that are inside out."""
    if not stage.facets.area_m2.any():
        raise MeshError("no facet of it has any area")
    measured = _measured(stage, resolution_m, rules)
    if not measured.roles.inside_out.any():
        return measured
    inverted = measured.roles.inside_out[measured.parts.body]
    told = (Repair(Defect.INSIDE_OUT, int(inverted.sum())),)
    return _measured(stage.after(turned(stage.mesh, inverted), told), resolution_m, rules)


def _measured(stage: _Stage, resolution_m: float, rules: MeshRules) -> MendedMesh:
    """Measure facets, edges, parts and bodies of a mended surface."""
    smooth = are_smooth(stage.facets, stage.edges, smooth_deg=rules.smooth_deg)
    parts = parts_of(len(stage.mesh.triangles), stage.edges, smooth)
    bodies = bodies_of(stage.mesh, stage.facets, stage.edges, parts)
    relations = body_relations(stage.mesh, stage.facets, stage.edges, parts, bodies, rules=rules)
    return MendedMesh(
        mesh=stage.mesh,
        repairs=summed(stage.repairs),
        facets=stage.facets,
        edges=stage.edges,
        parts=parts,
        bodies=bodies,
        roles=body_roles(bodies, relations),
        one_sided=stage.one_sided,
        resolution_m=resolution_m,
    )
