"""Time of planning a pour, by the greedy clock alone and with the solver.

Run it with ``python -m tests.benchmarks.plans``. The pours are made up: a sprayed face coat of two
passes, brushed between, and a poured backer; 45 L mixer, default waits and reserves. Every plan is
made in a fresh process and held against every rule; that is part of the time.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random

from takeoff.batching.cp_schedule import solver_installed
from takeoff.batching.demand import Casting, ClassMass, Coat
from takeoff.batching.mixers import Mixer
from takeoff.batching.steps import FreshMix, Split, Step
from takeoff.batching.workshops import Workshop

ROOT = Path(__file__).parent.parent.parent
COUNTS = (5, 20, 50, 200)
MIN_S = 60.0
FRAME = """
import json, resource, sys, time
sys.path.insert(0, {root!r})
from takeoff.batching.planning import SearchRules
from takeoff.batching.pouring import plan_or_findings
from tests.benchmarks.plans import pour
castings, shop = pour({count}, seed={seed}, colours={colours}, hands={hands})
before_s = time.perf_counter()
plan = plan_or_findings(castings, shop, search=SearchRules(solver={solver})).plan
after_s = time.perf_counter()
print(json.dumps({{
    "wall_s": after_s - before_s,
    "batches": plan.batch_count,
    "bound": plan.batch_bound,
    "days": len(plan.days),
    "pouring_min": sum(day.makespan_s for day in plan.days) / 60.0,
    "bound_min": sum(day.bound_s for day in plan.days) / 60.0,
    "peak_mib": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0,
}}))
"""


@dataclass(frozen=True, slots=True)
class Made:
    """One plan and what it took."""

    wall_s: float
    batches: int
    bound: int
    days: int
    pouring_min: float
    bound_min: float
    peak_mib: float


def pour(
    count: int, *, seed: int = 1, colours: int = 1, hands: int = 4
) -> tuple[list[Casting], Workshop]:
    """Make up a pour of so many pieces."""
    random = Random(seed)
    chains = [_chain(f"colour {number}" if colours > 1 else "") for number in range(colours)]
    castings = []
    for number in range(count):
        area_m2 = random.uniform(0.4, 2.5)
        steps = zip(chains[number % colours], (3.0, 5.0, 30.0), strict=True)
        coats = tuple(
            Coat(step, (ClassMass("show_face", area_m2 * thick_kg_m2),))
            for step, thick_kg_m2 in steps
        )
        castings.append(Casting(f"piece {number + 1}", 1, coats))
    return castings, Workshop((Mixer("pan", 0.045, 0.3),), hands=hands, division_kg=0.01)


def _chain(colour: str) -> tuple[Step, Step, Step]:
    face = FreshMix("face", 2000.0, 30.0 * MIN_S, colour)
    backer = FreshMix("backer", 2000.0, 30.0 * MIN_S)
    rate_kg_s = 5.0 / MIN_S
    waits = {"min_wait_s": 5.0 * MIN_S, "max_wait_s": 45.0 * MIN_S}
    sprayed = {"placing": "sprayed", "split": Split.WHOLE, "overspray_share": 0.1}
    return (
        Step("face_coat", face, rate_kg_s, 2, 1, brush_s=MIN_S, **sprayed),
        Step("face_coat", face, rate_kg_s, 2, 2, **waits, **sprayed),
        Step("backer", backer, rate_kg_s, 2, min_wait_s=20.0 * MIN_S, max_wait_s=90.0 * MIN_S),
    )


def made(count: int, *, solver: bool, seed: int = 1, colours: int = 1, hands: int = 4) -> Made:
    """Make one plan in a process of its own."""
    script = FRAME.format(
        root=str(ROOT), count=count, seed=seed, colours=colours, hands=hands, solver=solver
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    if done.returncode:
        raise RuntimeError(done.stderr[-2000:])
    return Made(**json.loads(done.stdout.splitlines()[-1]))


def rows(counts: tuple[int, ...]) -> Iterator[str]:
    """Write every plan as a row of a Markdown table."""
    for count in counts:
        for colours, hands in ((1, 4), (3, 3)):
            for solver in (False, True) if solver_installed() else (False,):
                plan = made(count, solver=solver, colours=colours, hands=hands)
                yield (
                    f"| {count} | {colours} | {hands} | {'solver' if solver else 'greedy'} | "
                    f"{plan.wall_s:.1f} | {plan.batches} | {plan.bound} | {plan.days} | "
                    f"{plan.pouring_min:.0f} | {plan.bound_min:.0f} | {plan.peak_mib:.0f} |"
                )


def main() -> None:
    """Plan pours of every size both ways, and print the table."""
    parser = argparse.ArgumentParser(description="Times of planning pours, as Markdown.")
    parser.add_argument("--counts", type=int, nargs="+", default=COUNTS, help="pieces in a pour")
    arguments = parser.parse_args()
    print(
        "| pieces | colours | hands | clock | s | batches | least by mass | days | min of pouring "
        "| at least | peak MiB |\n" + "| ---: " * 3 + "| --- " + "| ---: " * 7 + "|"
    )
    for row in rows(tuple(arguments.counts)):
        print(row, flush=True)


if __name__ == "__main__":
    main()
