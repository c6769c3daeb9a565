"""When a mix, a weighed dose or a temperature is refused as a slip; how well shares add up."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.mix.ingredients import Role


@dataclass(frozen=True, slots=True)
class MixRules:
    """Limits beyond which a dose is a slip of the pen, far outside any published mix.

    They catch a percent sign read as a ratio or a decimal point in the wrong place. They say
    nothing about quality: that is for the standards and the data sheets.

    Parameters
    ----------
    closure_share : float, default 1e-5
        Shares of one basis may miss 100 % by this, and water to add below it is none: a third
        may be written 33.333 %, and it is a fifth of a gram in 20 kg. [-]
    air_share : float, default 0.3
        Most air: foam begins about there, far above sprayed or poured mortar. [-]
    water_cement_ratio : float, default 1.2
        Most water: a mix with more settles out. [-]
    least_water_cement_ratio : float, default 0.1
        Least water: a mix with less stays a powder. [-]
    fibre_share : float, default 0.15
        Most fibre, of total: three times the highest published dose. [-]
    pigment_share : float, default 0.15
        Most pigment, of total: 10 % of cement is about 4 % of a sand mix. [-]
    plasticizer_share : float, default 0.05
        Most plasticizer, of total; no dose is advised, its data sheet rules. [-]
    polymer_share : float, default 0.35
        Most polymer as weighed, of total: an overlay latex is about 20 % of its paste. [-]
    pozzolan_share : float, default 0.5
        Most pozzolan, of total: more than the cement and the sand beside it. [-]
    sand_share : float, default 0.9
        Most sand, of total: leaner than any mortar. [-]
    least_density_kg_m3, most_density_kg_m3 : float, default 100.0 and 8000.0
        From hollow glass to steel; beyond them a unit is wrong. [kg/m³]
    least_premix_kg_m3, most_premix_kg_m3 : float, default 1000.0 and 3500.0
        From a light filler in cement to cement alone; beyond them the yield, the water or the
        air of a bag is wrong. [kg/m³]
    """

    closure_share: float = 1e-5
    air_share: float = 0.3
    water_cement_ratio: float = 1.2
    least_water_cement_ratio: float = 0.1
    fibre_share: float = 0.15
    pigment_share: float = 0.15
    plasticizer_share: float = 0.05
    polymer_share: float = 0.35
    pozzolan_share: float = 0.5
    sand_share: float = 0.9
    least_density_kg_m3: float = 100.0
    most_density_kg_m3: float = 8000.0
    least_premix_kg_m3: float = 1000.0
    most_premix_kg_m3: float = 3500.0

    def role_limit_share(self, role: Role | None) -> float:
        """Give the most that an ingredient can be of the total mass.

        Parameters
        ----------
        role : Role or None
            Its part in the mix; None where that is not known.

        Returns
        -------
        float
            The most that is credible; 1 where nothing says less. [-]

        Examples
        --------
        >>> MixRules().role_limit_share(Role.FIBRE), MixRules().role_limit_share(Role.CEMENT)
        (0.15, 1.0)
        """
        most_share = {
            Role.FIBRE: self.fibre_share,
            Role.PIGMENT: self.pigment_share,
            Role.PLASTICIZER: self.plasticizer_share,
            Role.POLYMER: self.polymer_share,
            Role.POZZOLAN: self.pozzolan_share,
            Role.SAND: self.sand_share,
        }
        return 1.0 if role is None else most_share.get(role, 1.0)


@dataclass(frozen=True, slots=True)
class WarmthRules:
    """Temperatures beyond which a unit or a sign is wrong.

    Parameters
    ----------
    coldest_c, hottest_c : float, default -40.0 and 100.0
        From sand of a frosty yard to cement fresh from the mill. [°C]
    hottest_mix_c : float, default 60.0
        Hottest fresh mix; any hotter sets in the mixer. [°C]
    most_gain_c : float, default 20.0
        Most that mixing and carrying can warm or cool it. [K]
    """

    coldest_c: float = -40.0
    hottest_c: float = 100.0
    hottest_mix_c: float = 60.0
    most_gain_c: float = 20.0


@dataclass(frozen=True, slots=True)
class WeighRules:
    """How far a mass may be rounded to the scale.

    Parameters
    ----------
    rounding_share : float, default 0.02
        A mass that the scale rounds by more than this is refused: 2 % of a pigment shows as a
        shade, and no other ingredient is weighed worse than that. Water to add is held against
        all water of the mix. [-]
    volume_share : float, default 0.005
        A volume that rounding moves by more than this is noted: half a percent is what the
        volume of a layer is computed to. [-]
    held_back_share : float, default 0.1
        Share of the water to add that is held back until all is wet, where the mix does not say:
        a tenth shows how the mix comes out, and still leaves enough to wet it. [-]
    """

    rounding_share: float = 0.02
    volume_share: float = 0.005
    held_back_share: float = 0.1
