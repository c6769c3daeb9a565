"""What is asked of a drawing: kind, direction, depths and layers, in SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field

from takeoff.documents import SettingValue
from takeoff.piece.rules import SurfaceRules


@dataclass(frozen=True, slots=True)
class MeasureRequest:
    """What is asked of a drawing.

    Parameters
    ----------
    unit : str or None
        Unit of the drawing, as told.
    kind : str or None
        ``"piece"`` or ``"open"`` for meshes, as told.
    show : str or None
        Show direction, as told.
    edge_depth_m : float or None
        Depth of the walls round an outline. [m]
    edges_m : mapping of str to float
        Depth at single edges. [m]
    face_coat_m, backer_m : float
        Thickness of the layers; 0 for none. [m]
    layers : tuple of str
        Drawing layers to take; empty for all.
    usual_unit : str or None
        Unit of the shop's drawings, for those that neither tell nor declare one.
    usual_kind : str or None
        Kind of the shop's meshes, for those it is not told of.
    rules : SurfaceRules
        How surfaces are told apart.
    """

    unit: str | None = None
    kind: str | None = None
    show: str | None = None
    edge_depth_m: float | None = None
    edges_m: Mapping[str, float] = field(default_factory=dict)
    face_coat_m: float = 0.0
    backer_m: float = 0.0
    layers: tuple[str, ...] = ()
    usual_unit: str | None = None
    usual_kind: str | None = None
    rules: SurfaceRules = SurfaceRules()

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
        values = {name: getattr(self, name) for name in self.__slots__ if name != "rules"}
        return {**values, **asdict(self.rules)}
