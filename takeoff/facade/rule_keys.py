"""Which key of which file tells a default otherwise."""

from __future__ import annotations

from collections.abc import Mapping

_LAYER = "of [face_coat] or [backer] in the job file"
_SHOP = "in the shop file"

TOLD_BY: Mapping[tuple[str, str], str] = {
    ("what nobody tells", "hands_count"): f"hands of [crew] {_SHOP}",
    ("what nobody tells", "residue_kg"): f"residue of [[mixer]] {_SHOP}",
    ("what nobody tells", "least_fill_m3"): f"least_fill of [[mixer]] {_SHOP}",
    ("what nobody tells", "passes_count"): f"passes {_LAYER}",
    ("what nobody tells", "overspray_share"): f"overspray {_LAYER}",
    ("clock", "pot_reserve_share"): f"pot_reserve {_SHOP}",
    ("clock", "window_reserve_share"): f"window_reserve {_SHOP}",
    ("clock", "haul_s"): f"haul {_SHOP}",
    ("clock", "mix_s"): f"mix_time of [[mixer]] {_SHOP}",
    ("clock", "clean_s"): f"clean_time of [[mixer]] {_SHOP}",
    ("clock", "wash_s"): f"wash {_SHOP}",
    ("clock", "refill_s"): f"refill {_SHOP}",
    ("waits", "wet_edge_s"): f"wet_edge {_LAYER}",
    ("waits", "brush_s"): f"brush {_LAYER}",
    ("waits", "pass_least_s"): f"pass_least_wait {_LAYER}",
    ("waits", "pass_most_s"): f"pass_longest_wait {_LAYER}",
    ("waits", "layer_least_s"): "least_wait of [backer] in the job file",
    ("waits", "layer_most_s"): "longest_wait of [backer] in the job file",
    ("days", "day_s"): f"working_day {_SHOP}",
    ("days", "demould_s"): f"demould {_SHOP}",
    ("days", "reset_s"): f"reset {_SHOP}",
    ("search for a plan", "day_work_ratio"): "--prove of takeoff batch",
    ("weighing", "held_back_share"): "held_back in the mix file",
    ("surfaces", "return_limit_m"): "return_limit of [[piece]] in the job file, or --return-limit",
}
"""By subject and name of the default; what is not here cannot be told otherwise."""
