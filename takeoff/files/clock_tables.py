"""The entries of job and shop file that are about the clock, read and held against each other."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from takeoff.batching.placing_rules import UntoldRules
from takeoff.files.order_clock import LayerClock, ShopClock
from takeoff.files.toml_quantities import Duration, Share, Temperature, Volume
from takeoff.files.toml_tables import Fault, Table

_UNTOLD = UntoldRules()

Above = Annotated[Duration, Field(gt=0.0)]
Reserve = Annotated[Share, Field(lt=1.0)]


class LayerClockTable(Table):
    """Entries of a layer that are about the clock.

    Examples
    --------
    >>> LayerClockTable(passes=2).clock().passes
    2
    """

    passes: int = Field(default=_UNTOLD.passes_count, ge=1, le=9)
    hands: int | None = Field(default=None, ge=1, le=100)
    wet_edge: Above | None = None
    least_wait: Duration | None = None
    longest_wait: Above | None = None
    pass_least_wait: Duration | None = None
    pass_longest_wait: Above | None = None
    brush: Duration | None = None
    temperature: Annotated[Temperature, Field(gt=0.0, lt=60.0)] | None = None
    one_batch: bool = False

    def clock(self) -> LayerClock:
        """Give them as the job holds them."""
        return LayerClock(
            passes=self.passes,
            hands=self.hands,
            wet_edge_s=self.wet_edge,
            least_wait_s=self.least_wait,
            longest_wait_s=self.longest_wait,
            pass_least_wait_s=self.pass_least_wait,
            pass_longest_wait_s=self.pass_longest_wait,
            brush_s=self.brush,
            mix_c=self.temperature,
            one_batch=self.one_batch,
        )

    def clock_faults(self, name: str) -> list[Fault]:
        """Name waits that contradict each other."""
        waits = (
            ("longest_wait", self.least_wait, self.longest_wait),
            ("pass_longest_wait", self.pass_least_wait, self.pass_longest_wait),
        )
        return [
            Fault((name, key), f"must be above {key.replace('longest', 'least')}")
            for key, least, longest in waits
            if least is not None and longest is not None and longest <= least
        ]


class GunTable(Table):
    """A spray gun.

    Examples
    --------
    >>> GunTable(hopper="6 L").hopper
    0.006
    """

    hopper: Annotated[Volume, Field(gt=0.0)]


class ShopClockTable(Table):
    """Entries of a shop that are about the clock.

    Examples
    --------
    >>> ShopClockTable(working_day="9 h").clock().day_s
    32400.0
    """

    gun: tuple[GunTable, ...] = ()
    tables: int | None = Field(default=None, ge=1, le=10_000)
    working_day: Annotated[Duration, Field(gt=0.0, le=86_400.0)] | None = None
    demould: Duration | None = None
    reset: Duration | None = None
    haul: Duration | None = None
    wash: Duration | None = None
    refill: Duration | None = None
    pot_reserve: Reserve | None = None
    window_reserve: Reserve | None = None

    def clock(self) -> ShopClock:
        """Give them as the shop holds them."""
        return ShopClock(
            hoppers_m3=tuple(gun.hopper for gun in self.gun),
            tables=self.tables,
            day_s=self.working_day,
            demould_s=self.demould,
            reset_s=self.reset,
            haul_s=self.haul,
            wash_s=self.wash,
            refill_s=self.refill,
            pot_reserve_share=self.pot_reserve,
            window_reserve_share=self.window_reserve,
        )
