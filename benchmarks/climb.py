"""A climb with all its outputs, against the plain search that samples the way densely.

Run: python benchmarks/climb.py. Prints processor time of this one run, and ratios measured side by side; nothing is
asserted. The plain search stands every machine a hundredth of an inch further, walks along the sampled way until the
axle ahead is a wheelbase away, and searches the grip that leaves no moment, for one set of values; the tolerances and
the changes would each take it as long again.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]

import rubrail.demo  # noqa: E402
from mechanics.climbing import dovetail, site, wheeled  # noqa: E402
from mechanics.dense_climb import Road, two_axles  # noqa: E402
from rubrail import load_yard, resolve  # noqa: E402
from rubrail.answers.climb import climbing  # noqa: E402
from rubrail.answers.climb_judge import judge_climb  # noqa: E402
from rubrail.answers.climb_match import load_verdicts  # noqa: E402
from rubrail.answers.climb_setup import Day, climbers  # noqa: E402
from rubrail.answers.place import best_place  # noqa: E402
from rubrail.answers.rig import rigs  # noqa: E402
from rubrail.mechanics.climb import climb  # noqa: E402

RIGS = (("03-landscaper-track-loader", "SH-133"), ("07-tractor-on-duals", "SH-203"), ("13-scissor-lifts", "SH-152"))


def cost(work, *, times: int = 5) -> float:
    """Milliseconds of processor time, the least of several."""
    work()
    best = float("inf")
    for _ in range(times):
        start = time.process_time()
        work()
        best = min(best, time.process_time() - start)
    return best * 1e3


def main() -> None:
    """Print the numbers."""
    yard = load_yard(Path(rubrail.demo.__file__).parent / "yard")
    print(f"{'rig':40} {'machines':>8} {'stated':>9} {'judged':>9} {'told':>9} {'with changes':>13}   [ms]")
    for haul_id, unit in RIGS:
        a_rig(yard, haul_id, unit)
    mechanics_alone()
    a_yard(yard)


def a_rig(yard, haul_id: str, unit: str) -> None:
    """One rig: as stated, judged under every tolerance, told with its course, and with changes; a machine."""
    haul = resolve(yard.hauls[haul_id], yard)
    one = rigs(haul=haul, trailers=(yard.trailers[unit],))
    placement = best_place(one)[0].placement
    first, count = climbers(one, placement)[0], len(climbers(one, placement))
    stated = cost(lambda: judge_climb(one, placement, first, Day(), tolerances=False))
    judged = cost(lambda: judge_climb(one, placement, first, Day()))
    told = cost(lambda: climbing(one, placement, Day(), remedies=False)) / count
    changed = cost(lambda: climbing(one, placement, Day())) / count
    print(f"{haul_id + ' ' + unit:40} {count:8} {stated:9.1f} {judged:9.1f} {told:9.1f} {changed:13.1f}")


def mechanics_alone() -> None:
    """The mechanics against the plain search."""
    way, machine = dovetail(), wheeled()
    c = climb(site(way), machine, end_x_in=180.0)
    ours = cost(lambda: climb(site(way), machine, end_x_in=180.0))
    road = Road([float(f) for f in way.f_in[1:]], [float(z) for z in way.z_in[1:]])
    start = time.process_time()
    hubs = [road.hub(float(r)) for r in machine.radius_in]
    prepared = (time.process_time() - start) * 1e3
    places = c.pose.axles[0].f[3::24]

    def plain() -> None:
        for f in places:
            two_axles(
                road, hubs, float(f), wheelbase=float(machine.span_in), radii=[float(r) for r in machine.radius_in],
                weight=float(machine.weight_lb), cg=float(machine.cg_in), cg_height=float(machine.cg_height_in),
                lead_over=float(machine.lead_over_in),
            )  # fmt: skip

    dense = prepared + cost(plain, times=1) / len(places) * len(c.place_in)
    print(f"mechanics alone: {ours:.1f} ms for {len(c.place_in)} steps; plain search {dense:,.0f} ms,"
          f" {dense / ours:,.0f} times as long")  # fmt: skip


def a_yard(yard) -> None:
    """Every unit of the yard asked at once, and one by one."""
    haul = resolve(yard.hauls["03-landscaper-track-loader"], yard)
    units = tuple(yard.trailers.values())
    every = rigs(haul=haul, trailers=units)
    placements = [best_place(rigs(haul=haul, trailers=(t,)))[0].placement for t in units]
    together = cost(lambda: load_verdicts(every, range(len(units)), placements), times=3) / len(units)


    def one_by_one() -> None:
        for t, p in zip(units, placements, strict=True):
            load_verdicts(rigs(haul=haul, trailers=(t,)), [0], [p])

    alone = cost(one_by_one, times=1) / len(units)
    print(f"match: {together:.2f} ms a unit together, {alone:.1f} ms one by one")


if __name__ == "__main__":
    main()
