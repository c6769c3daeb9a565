"""What is asked of a drawing: kind, direction, depths and layers, in SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field

from takeoff.documents import SettingValue
from takeoff.piece.rules import SurfaceRules
from takeoff.piece.thickness import ClassThickness

_NOT_SETTINGS = {"sha256", "sha256_needed", "ids", "priced"}


@dataclass(frozen=True, slots=True)
class MeasureRequest:
    """What is asked of a drawing.

    Parameters
    ----------
    unit : str or None
        Unit of the drawing, as told.
    kind : str or None
        ``"piece"``, ``"form"`` or ``"open"`` for meshes, as told; found if left out.
    show : str or None
        Show direction, as told, or the number of a reading; found if left out.
    edge_depth_m : float or None
        Depth of the walls round an outline. [m]
    edges_m : mapping of str to float
        Depth at single edges. [m]
    face_coat, backer : ClassThickness
        Thickness of the layers on each class of surface.
    layers : tuple of str
        Drawing layers to take; empty for all.
    usual_unit : str or None
        Unit of the shop's drawings, for those that neither tell nor declare one.
    usual_kind : str or None
        Kind of the shop's meshes, for those it is not told of.
    rules : SurfaceRules
        How surfaces are told apart.
    surfaces, openings : mapping of str to str
        Classes of single surfaces, and ``"bare"`` or ``"coated"`` for single openings, by id.
    sha256 : str or None
        Hash of the drawing that ids were read off, or its beginning.
    sha256_needed : bool
        Whether ids are refused without it.
    ids : tuple of str
        Further ids that were read off the drawing.
    priced : bool
        Whether sizes that nobody casts are refused; where it is only measured, they are noted.
    exact : bool
        Whether the layers are checked by a slow, independent method too.
    """

    unit: str | None = None
    kind: str | None = None
    show: str | None = None
    edge_depth_m: float | None = None
    edges_m: Mapping[str, float] = field(default_factory=dict)
    face_coat: ClassThickness = ClassThickness()
    backer: ClassThickness = ClassThickness()
    layers: tuple[str, ...] = ()
    usual_unit: str | None = None
    usual_kind: str | None = None
    rules: SurfaceRules = SurfaceRules()
    surfaces: Mapping[str, str] = field(default_factory=dict)
    openings: Mapping[str, str] = field(default_factory=dict)
    sha256: str | None = None
    sha256_needed: bool = False
    ids: tuple[str, ...] = ()
    priced: bool = False
    exact: bool = False

    @property
    def face_coat_m(self) -> float:
        """Thickness of the face coat aimed at on the show face, in [m]; 0 for none."""
        return self.face_coat.show_face.aimed_m

    @property
    def backer_m(self) -> float:
        """Thickness of the backer aimed at on the show face, in [m]; 0 for none."""
        return self.backer.show_face.aimed_m

    def settings(self) -> dict[str, SettingValue]:
        """Give every value in force, for the document.

        Returns
        -------
        dict
            Values by name, the rules among them.

        Examples
        --------
        >>> MeasureRequest(unit="mm").settings()["unit"]
        'mm'
        """
        told = {name: getattr(self, name) for name in self.__slots__ if name not in _NOT_SETTINGS}
        values = {
            name: value
            for name, value in told.items()
            if not isinstance(value, ClassThickness | SurfaceRules)
        }
        values |= dict(
            face_coat_m=self.face_coat_m,
            backer_m=self.backer_m,
            face_coat_thickness=self.face_coat.row(),
            backer_thickness=self.backer.row(),
        )
        return {**values, **asdict(self.rules)}
