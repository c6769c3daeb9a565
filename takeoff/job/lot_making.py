"""One layer of a whole job as a lot: mixer chosen, batches split and weighed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from takeoff.batching.lots import Lot, split_equally
from takeoff.batching.mixers import Mixer, PotLife
from takeoff.batching.placing_rules import PlacingRules
from takeoff.errors import BatchError
from takeoff.files.order import OrderedLayer, Shop
from takeoff.mix.ingredients import Role
from takeoff.mix.mixes import Mix
from takeoff.mix.volumes import fresh_density_kg_m3
from takeoff.mix.weigh_sheet import WeighedMix
from takeoff.mix.weighing import weigh_out
from takeoff.notes import Note, NoteCode
from takeoff.piece.layers import Layer
from takeoff.pricing.materials import Need


@dataclass(frozen=True, slots=True, eq=False)
class LayerLot:
    """The batches of one layer over the whole job.

    Parameters
    ----------
    layer : Layer
        Which layer.
    mix : Mix
        Its mix.
    lot : Lot
        The equal batches.
    weighed : WeighedMix
        What is weighed for each of them.
    placed_kg : float
        What stays in the pieces. [kg]
    lost_kg : float
        What is sprayed past them, and what is mixed to spare. [kg]
    pot_life_s : float or None
        Pot life in force; None where nobody gave one. [s]
    notes : tuple of Note
        Doubts about the lot.
    """

    layer: Layer
    mix: Mix
    lot: Lot
    weighed: WeighedMix
    placed_kg: float
    lost_kg: float
    pot_life_s: float | None
    notes: tuple[Note, ...]

    @property
    def residue_kg(self) -> float:
        """Mass left in mixer and bucket over all batches, in [kg]."""
        return self.lot.batch_count * self.lot.mixer.residue_kg

    @property
    def leftover_kg(self) -> float:
        """Mass over at the end, from rounding to the scale, in [kg]."""
        weighed_kg = self.lot.batch_count * self.weighed.mass_kg
        return weighed_kg - self.placed_kg - self.lost_kg - self.residue_kg

    def needs(self, low_ratio: float = 1.0, high_ratio: float = 1.0) -> list[Need]:
        """Give what the lot takes of every ingredient.

        Parameters
        ----------
        low_ratio, high_ratio : float, default 1
            Volume at the least and the most thickness, over that aimed at. [-]

        Returns
        -------
        list of Need
            Net and weighed mass of each.
        """
        return [
            Need(
                ingredient=line.charge.ingredient.name,
                net_kg=line.shares.of_total * self.placed_kg,
                weighed_kg=line.mass_kg * self.lot.batch_count,
                bought=line.role is not Role.WATER,
                low_ratio=low_ratio,
                high_ratio=high_ratio,
            )
            for line in self.weighed.lines
        ]


def make_lot(
    layer: Layer,
    ordered: OrderedLayer,
    mix: Mix,
    shop: Shop,
    *,
    volume_m3: float,
    rules: PlacingRules = PlacingRules(),
) -> LayerLot:
    """Split one layer of the whole job into the fewest equal batches.

    Parameters
    ----------
    layer : Layer
        Which layer.
    ordered : OrderedLayer
        What the job says of it.
    mix : Mix
        Its mix.
    shop : Shop
        Mixers, scale and hands.
    volume_m3 : float
        Volume of the layer over all pieces. [m³]
    rules : PlacingRules, optional
        Reserves of the clock.

    Returns
    -------
    LayerLot
        The lot, weighed.

    Raises
    ------
    BatchError
        If no mixer suits the mix, or none can make a batch of it.
    MixError
        If the scale is too coarse for an ingredient.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> shop = Shop((Mixer("pail", 0.018, 0.2),), 1, 0.01, None, None, {})
    >>> ordered = OrderedLayer(0.016, "backer-poured", 0.0, None, None)
    >>> made = make_lot(Layer.BACKER, ordered, read_mix("backer-poured"), shop, volume_m3=0.05)
    >>> made.lot.batch_count, made.lot.bound.value
    (3, 'mixer')
    """
    placed_kg = volume_m3 * fresh_density_kg_m3(mix)
    gross_kg = placed_kg / (1.0 - ordered.lost_share)
    lot = split_lot(ordered, mix, shop, placed_kg=placed_kg, rules=rules)
    weighed = _covering(mix, lot, gross_kg, shop)
    pot_life_s = ordered.pot_life_s or mix.pot_life_s
    checked = _pot_life(ordered, pot_life_s, shop, rules) is not None
    notes = () if checked else (_unchecked_note(mix, pot_life_s),)
    return LayerLot(layer, mix, lot, weighed, placed_kg, gross_kg - placed_kg, pot_life_s, notes)


def split_lot(
    ordered: OrderedLayer,
    mix: Mix,
    shop: Shop,
    *,
    placed_kg: float,
    rules: PlacingRules = PlacingRules(),
) -> Lot:
    """Split what a layer takes into equal batches, in the mixer that needs fewest.

    Parameters
    ----------
    ordered : OrderedLayer
        What the job says of it.
    mix : Mix
        Its mix.
    shop : Shop
        Mixers, scale and hands.
    placed_kg : float
        What stays in the pieces. [kg]
    rules : PlacingRules, optional
        Reserves of the clock.

    Returns
    -------
    Lot
        The batches, not yet weighed.

    Raises
    ------
    BatchError
        If no mixer suits the mix, or none can make a batch of it.

    Examples
    --------
    >>> from takeoff.files.mix_file import read_mix
    >>> shop = Shop((Mixer("pail", 0.018, 0.2),), 1, 0.01, None, None, {})
    >>> ordered = OrderedLayer(0.016, "backer-poured", 0.1, None, None)
    >>> split_lot(ordered, read_mix("backer-poured"), shop, placed_kg=90.0).batch_count
    3
    """
    lots = [
        split_equally(
            placed_kg / (1.0 - ordered.lost_share),
            density_kg_m3=fresh_density_kg_m3(mix),
            mixer=mixer,
            pot_life=_pot_life(ordered, ordered.pot_life_s or mix.pot_life_s, shop, rules),
            division_kg=shop.division_kg,
        )
        for mixer in _suiting(mix, shop.mixers)
    ]
    return min(lots, key=lambda one: (one.batch_count, one.mixer.capacity_m3))


def _suiting(mix: Mix, mixers: Iterable[Mixer]) -> list[Mixer]:
    suiting = [mixer for mixer in mixers if not mixer.suits or mix.name in mixer.suits]
    if not suiting:
        raise BatchError(
            f"no mixer suits {mix.name}; add it to the suits of a [[mixer]] in the shop file"
        )
    return suiting


def _pot_life(
    ordered: OrderedLayer, pot_life_s: float | None, shop: Shop, rules: PlacingRules
) -> PotLife | None:
    if pot_life_s is None or ordered.rate_kg_s is None:
        return None
    return PotLife(pot_life_s, rules.pot_reserve_share, rules.haul_s, ordered.rate_kg_s, shop.hands)


def _unchecked_note(mix: Mix, pot_life_s: float | None) -> Note:
    missing = "placing rate" if pot_life_s is not None else "pot life"
    key = 'rate = "3 kg/min"' if pot_life_s is not None else "pot_life"
    return Note(
        NoteCode.DEFAULT_USED,
        f"batches are not checked against pot life: no {missing} given; "
        f"add {key} to its layer in the job file, from the product's data sheet or your own count",
        where=mix.name,
    )


def _covering(mix: Mix, lot: Lot, gross_kg: float, shop: Shop) -> WeighedMix:
    """Weigh a batch so that, rounded to the scale, the lot still covers its demand."""
    needed_kg = gross_kg / lot.batch_count + lot.mixer.residue_kg
    asked_kg = lot.batch_kg
    weighed = weigh_out(mix, mass_kg=asked_kg, scales=shop.scales)
    while shop.division_kg is not None and weighed.mass_kg < needed_kg:
        asked_kg += shop.division_kg
        weighed = weigh_out(mix, mass_kg=asked_kg, scales=shop.scales)
    return weighed
