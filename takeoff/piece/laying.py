"""Lay the face coat and the backer on a piece: their true volume, class by class."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from takeoff.errors import LayerVolumeError
from takeoff.geometry.band_rules import BandRules
from takeoff.geometry.conflicts import coming_out_share
from takeoff.geometry.layering import Grown, Layering, layer_up
from takeoff.geometry.skin_edges import SkinEdges, skin_edges
from takeoff.geometry.solid_skins import SolidSkin
from takeoff.geometry.sums import dot
from takeoff.notes import Note
from takeoff.piece.cast_skin import CastSkin, cast_facets, cast_skin
from takeoff.piece.fillings import Fillings, SpaceBehind
from takeoff.piece.layer_notes import difference_note, too_thick
from takeoff.piece.layer_rules import LayerRules
from takeoff.piece.layers import CAST_CLASSES, LaidLayers, Layer, LayerVolume
from takeoff.piece.level_layers import LevelLayers
from takeoff.piece.meeting_notes import ShallowWalls, meeting_notes
from takeoff.piece.mesh_layers import solid_moment_m4
from takeoff.piece.surfaces import ModelKind, Surfaces
from takeoff.piece.thickness import ClassThickness
from takeoff.piece.wall_layers import wall_layers

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class _Bed:
    """What the layers of a piece are laid in."""

    cast: CastSkin
    solid: SolidSkin | None
    solid_m3: float | None

    @property
    def skin(self) -> SkinEdges:
        """What carries layers."""
        return self.cast.skin

    def layers(self, first_m: FloatArray, second_m: FloatArray) -> Layering:
        """Lay two layers."""
        return layer_up(
            self.skin,
            self.cast.shares,
            first_m,
            second_m,
            rim_m=self.cast.rim_m if self.cast.rim_m.any() else None,
            solid=self.solid,
            solid_m3=np.inf if self.solid_m3 is None else self.solid_m3,
        )

    def part_layers(
        self,
        depth_m: FloatArray,
        rules: LayerRules,
        skin: SkinEdges,
        of: NDArray[np.integer],
    ) -> Layering:
        """Lay both layers as one on a part of the skin, each facet of which is of the whole."""
        uncut = np.isclose(skin.facets.area_m2, self.skin.facets.area_m2[of])
        rim_m = np.where(uncut, self.cast.rim_m[of], 0.0)
        return layer_up(
            skin,
            self.cast.shares[of],
            np.zeros(len(of)),
            depth_m[of],
            rim_m=rim_m,
            band_rules=BandRules(most_repeat_count=rules.level_repeat_count),
        )

    def refuse_too_thick(self, laid: Layering, depth_m: FloatArray, rules: LayerRules) -> None:
        """Refuse layers that come out at the back behind the whole show face."""
        shown = np.flatnonzero(self.cast.shares[:, 0] > 0.5)
        if self.solid is None or self.solid_m3 is None or not len(shown):
            return
        if coming_out_share(self.skin, depth_m, self.solid, shown) >= rules.through_share:
            raise too_thick(laid, float(depth_m[shown].max()), self.solid_m3)


def lay(
    surfaces: Surfaces,
    *,
    face_coat: ClassThickness = ClassThickness(),
    backer: ClassThickness = ClassThickness(),
    solid_m3: float | None = None,
    rules: LayerRules = LayerRules(),
) -> LaidLayers:
    """Lay a face coat and a backer on the cast surfaces of a piece.

    Parameters
    ----------
    surfaces : Surfaces
        The classified piece.
    face_coat, backer : ClassThickness, optional
        Thickness of the layers on each class of surface.
    solid_m3 : float, optional
        Volume of the piece where it is modelled as a solid. [m³]
    rules : LayerRules, optional
        When layers are too thick for a piece.

    Returns
    -------
    LaidLayers
        Volume of each layer on each class, beside area times thickness.

    Raises
    ------
    LayerVolumeError
        If nothing is cast, if the layers are thicker than the piece itself, or if a piece to
        be filled is not modelled as a solid.

    Examples
    --------
    >>> import trimesh
    >>> from takeoff.geometry.mesh import Mesh
    >>> from takeoff.piece.classifying import classify
    >>> from takeoff.piece.thickness import everywhere
    >>> box = trimesh.creation.box((0.4, 0.3, 0.05))
    >>> box.update_faces(box.face_normals[:, 2] > -0.5)
    >>> tray = classify(Mesh.from_trimesh(box, unit="m"), kind=ModelKind.OPEN,
    ...                 show_direction=np.array([0.0, 0.0, 1.0]))
    >>> laid = lay(tray, face_coat=everywhere(0.004), backer=everywhere(0.016))
    >>> exact_m3 = 0.4 * 0.3 * 0.05 - 0.36 * 0.26 * 0.03
    >>> total_m3 = laid.volume_m3(Layer.FACE_COAT) + laid.volume_m3(Layer.BACKER)
    >>> round(total_m3 / exact_m3, 9), laid.uncertainty_share
    (1.0, 0.0)
    """
    if face_coat.fill:
        raise LayerVolumeError("only the backer can fill a piece; give the face coat in mm")
    if face_coat.none and backer.none:
        return LaidLayers((), {}, ())
    bed = _bed(surfaces, face_coat, backer, solid_m3)
    if backer.fill:
        return _lay_filled(bed, face_coat)
    first_m, second_m = (bed.cast.thickness_m(told.all, 0) for told in (face_coat, backer))
    laid = bed.layers(first_m, second_m)
    if laid.counted:
        bed.refuse_too_thick(laid, first_m + second_m, rules)
    ends = _ends(bed, face_coat, backer)
    rows = (
        *_rows(bed, Layer.FACE_COAT, face_coat, laid.first, [end.first for end in ends]),
        *_rows(bed, Layer.BACKER, backer, laid.second, [end.second for end in ends]),
    )
    shallow = _shallow_walls(surfaces, face_coat.show_face.aimed_m + backer.show_face.aimed_m)
    notes: list[Note] = [*meeting_notes(laid, shallow=shallow)]
    area_m2 = bed.skin.facets.area_m2
    notes.append(difference_note(dot(area_m2, first_m + second_m), laid, rules))
    fillings = Fillings(
        SpaceBehind.of(surfaces, bed.skin),
        LevelLayers(
            bed.skin,
            surfaces.show_direction,
            first_m + second_m,
            laid.volume_m3,
            partial(bed.part_layers, first_m + second_m, rules),
            rules,
        ),
    )
    return LaidLayers(
        rows,
        _flat_m3(rows),
        tuple(notes),
        wall_layers(surfaces, bed.cast, fillings, laid, rows),
        laid.uncertainty_share,
        fillings.to_foot_m3(),
    )


def _bed(
    surfaces: Surfaces,
    face_coat: ClassThickness,
    backer: ClassThickness,
    solid_m3: float | None,
) -> _Bed:
    """Sample the solid that a piece is for all depths to be laid, then take its skin off."""
    whole = skin_edges(surfaces.mesh)
    if surfaces.kind is not ModelKind.PIECE or solid_m3 is None:
        return _Bed(cast_skin(surfaces, whole), None, None)
    cast = cast_facets(surfaces)
    coats = (face_coat,) if backer.fill else (face_coat, backer)
    ends = (-1, 0, 1) if any(told.ranged for told in coats) else (0,)
    laid_m = ([cast.thickness_m(told.all, end) for told in coats] for end in ends)
    solid = SolidSkin.of(whole, [float(np.sum(layers_m, axis=0).max()) for layers_m in laid_m])
    return _Bed(cast_skin(surfaces, whole), solid, solid_m3)


def _shallow_walls(surfaces: Surfaces, layers_m: float) -> ShallowWalls | None:
    """Find walls that end before the layers of the show face do."""
    bare = {opening.id for opening in surfaces.openings if opening.bare}
    depths_m = [
        wall.depth_m
        for wall in surfaces.surfaces
        if wall.surface_class in CAST_CLASSES[1:]
        and wall.opening not in bare
        and 0.0 < wall.depth_m < layers_m
    ]
    return ShallowWalls(min(depths_m), max(depths_m), layers_m) if depths_m else None


def _ends(bed: _Bed, face_coat: ClassThickness, backer: ClassThickness) -> list[Layering]:
    """Lay the layers at both ends of the ranges, where there are any."""
    if not (face_coat.ranged or backer.ranged):
        return []
    return [
        bed.layers(*(bed.cast.thickness_m(told.all, end) for told in (face_coat, backer)))
        for end in (-1, 1)
    ]


def _rows(
    bed: _Bed, layer: Layer, told: ClassThickness, grown: Grown, ends: list[Grown]
) -> list[LayerVolume]:
    """One row for each class that the layer covers."""
    rows = []
    for column, (surface_class, thickness) in enumerate(zip(CAST_CLASSES, told.all, strict=True)):
        covered_m2 = dot(bed.skin.facets.area_m2, bed.cast.shares[:, column])
        if covered_m2 <= 0.0 or thickness.aimed_m <= 0.0:
            continue
        row = LayerVolume(
            layer,
            surface_class,
            thickness.aimed_m,
            covered_m2,
            float(grown.volume_m3[column]),
            grown.centroid_m(column),
        )
        if ends:
            low, high = (float(end.volume_m3[column]) for end in ends)
            row = replace(row, thickness_range_m=thickness.ends_m, volume_range_m3=(low, high))
        rows.append(row)
    return rows


def _flat_m3(rows: tuple[LayerVolume, ...]) -> dict[Layer, float]:
    """Area times thickness of each layer that is there."""
    flat: dict[Layer, float] = {}
    for row in rows:
        flat[row.layer] = flat.get(row.layer, 0.0) + row.area_m2 * row.thickness_m
    return flat


def _lay_filled(bed: _Bed, face_coat: ClassThickness) -> LaidLayers:
    """Lay a face coat and fill the rest of the solid.

    What fills a piece is one mass, placed at once: it is booked on the show face.
    """
    if bed.solid is None or bed.solid_m3 is None:
        raise LayerVolumeError(
            "only a piece modelled as a closed solid can be filled to its back; give the backer "
            "in mm, or the solid with --kind piece"
        )
    first_m = bed.cast.thickness_m(face_coat.all, 0)
    laid = bed.layers(first_m, np.zeros_like(first_m))
    coat_m3 = float(laid.first.volume_m3.sum())
    rest_m3 = max(bed.solid_m3 - coat_m3, 0.0)
    solid_m4 = solid_moment_m4(skin_edges(bed.solid.mesh))
    moment_m4 = solid_m4 - laid.first.moment_m4.sum(axis=0)
    filling = Grown(np.array([rest_m3, 0.0, 0.0]), np.stack([moment_m4, *np.zeros((2, 3))]))
    show_m2 = dot(bed.skin.facets.area_m2, bed.cast.shares[:, 0])
    row = LayerVolume(
        Layer.BACKER,
        CAST_CLASSES[0],
        rest_m3 / show_m2,
        show_m2,
        rest_m3,
        filling.centroid_m(0),
    )
    rows = (*_rows(bed, Layer.FACE_COAT, face_coat, laid.first, []), row)
    return LaidLayers(rows, _flat_m3(rows), (), (), laid.uncertainty_share)
