"""Measured trays and mixes of round figures, for tests of the ways to cast walls."""

from takeoff.files.drawing import DrawingUnit
from takeoff.geometry.mesh import Mesh
from takeoff.measuring.measurement import MeasuredPiece
from takeoff.mix.ingredients import Ingredient, Role
from takeoff.mix.mixes import Basis, Dose, Mix, MixLayer, Placing
from takeoff.piece.laying import lay
from takeoff.piece.surfaces import ModelKind
from takeoff.piece.thickness import ClassThickness, everywhere
from tests.unit.piece.pieces_made import box, told, without

MM = 1e-3
CEMENT = Ingredient("cement", Role.CEMENT, 3000.0)
WATER = Ingredient("water", Role.WATER, 1000.0)


def paste(name, placing, water_share, layer=MixLayer.BACKER):
    """Cement and water alone: (1 + w) / (1/3000 + w/1000) kg/m3, 1/(1 + w) of it cement."""
    cement = Dose(CEMENT, 1.0, Basis.OF_CEMENT)
    water = Dose(WATER, water_share, Basis.OF_CEMENT)
    return Mix(name, layer, placing, (cement,), water, air_share=0.0)


POURED = paste("our-poured", Placing.POURED, 0.5)  # 1800 kg/m3, two thirds cement
PACKED = paste("our-packed", Placing.PACKED, 1 / 3)  # 2000 kg/m3, three quarters cement
SPRAYED = paste("our-sprayed", Placing.SPRAYED, 1 / 3)
FACE_COAT = paste("our-face", Placing.SPRAYED, 1 / 3, MixLayer.FACE_COAT)


def measured(mesh: Mesh, *, name="tray", layers_mm=(4, 16), kind=ModelKind.OPEN):
    """A piece with its layers, as if it had come out of a drawing."""
    surfaces = told(mesh, kind=kind)
    face_mm, backer_mm = layers_mm
    laid = lay(
        surfaces,
        face_coat=everywhere(face_mm * MM) if face_mm else ClassThickness(),
        backer=everywhere(backer_mm * MM) if backer_mm else ClassThickness(),
    )
    unit = DrawingUnit("mm", MM, "told")
    return MeasuredPiece(
        name, f"{name}.stl", "0" * 64, unit, kind.value, surfaces, laid, None, notes=()
    )


def tray(size_mm=(2000, 1000, 200), **how):
    """An open tray with plumb walls."""
    return measured(without(box((0, 0, 0), size_mm), (0, 0, -1)), **how)
