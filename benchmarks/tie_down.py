"""A tie-down plan proposed and judged: how long it takes, against trying every plan of the same kind.

Run: python benchmarks/tie_down.py. Both ways give the same plan, which is checked; what is printed are times of this
one run and their ratio. Nothing here is asserted about time.
"""

from __future__ import annotations

import time
from pathlib import Path

import numpy as np

import rubrail.demo
from rubrail import load_yard, resolve
from rubrail.answers.board import match
from rubrail.answers.can_secure import anchors_of_yard, can_secure
from rubrail.answers.rig import Placement
from rubrail.answers.secure_propose import proposals
from rubrail.answers.secure_scene import scenes
from rubrail.answers.secure_search import best_direct
from rubrail.answers.tie_down import retied
from rubrail.things.cargo import Cargo
from rubrail.things.door import read_thing
from rubrail.things.haul import Haul
from rubrail.things.kit import Kit
from rubrail.things.trailer import Trailer

ANCHORS, POINTS = 16, 8


def seconds(work, times: int = 5) -> float:
    """Median of a few runs."""
    found = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return float(np.median(found))


def rig(weight_lb: float):
    """A machine of eight tie points on a trailer of sixteen rings, and twelve chains."""
    rings = [
        {"kind": "D-ring", "from_coupler_in": 60 + 40 * n, "y_in": 48, "height_in": 30, "wll_lb": 6600,
         "both_sides": True}
        for n in range(ANCHORS // 2)
    ]  # fmt: skip
    trailer = read_thing(Trailer, {
        "id": "T", "basis": "measured", "coupling": {"kind": "gooseneck"}, "axle": [{}], "anchor": rings,
        "deck": {"front_from_coupler_in": 60, "flat_length_in": 300, "width_in": 102, "height_in": 30},
        "frame": {"deck_material": "oak"},
    })  # fmt: skip
    ties = [{"from_front_in": x, "y_in": 30, "height_in": 20, "both_sides": True} for x in (24, 48, 80, 104)]
    piece = read_thing(Cargo, {
        "id": "m", "basis": "maker", "weight_lb": weight_lb, "cg_from_front_in": 62, "cg_height_in": 38,
        "length_in": 130, "width_in": 84, "height_in": 90, "articulated": False, "accessory_count": 0, "tie": ties,
        "contact": {"kind": "tracks", "start_from_front_in": 20, "length_in": 84, "outer_width_in": 80,
                    "surface": "steel"},
    })  # fmt: skip
    chain = {"id": "c", "kind": "chain", "size_in": 0.375, "grade": "70", "length_in": 240, "hook_wll_lb": 6600}
    kit = read_thing(Kit, {"id": "k", "gear": [{**chain, "count": 12}],
                           "binder": [{"id": "b", "kind": "lever", "wll_lb": 7100, "count": 12}]})  # fmt: skip
    haul = read_thing(Haul, {"id": "h", "truck": "t", "cargo": [{"piece": "m"}]})
    haul = haul.model_copy(update={"cargo": (haul.cargo[0].model_copy(update={"piece": piece}),)})
    return scenes(haul=haul, trailer=trailer, placement=Placement((140.0,), ("front-first",)), kit=kit)


def main() -> None:
    """Print the figures."""
    print(f"{ANCHORS} anchors, {POINTS} tie points")
    for weight in (12_000.0, 30_000.0):
        laid = rig(weight)
        scene = laid[0]
        proposals(laid)  # the solver loads once
        whole = seconds(lambda laid=laid: proposals(laid))
        fast = seconds(lambda scene=scene: best_direct(scene, scene.stock))
        plain = seconds(lambda scene=scene: best_direct(scene, scene.stock, plain=True), times=1)
        same = best_direct(scene, scene.stock).ties == best_direct(scene, scene.stock, plain=True).ties
        known, plans = proposals(laid)
        judged = seconds(lambda known=known, plans=plans: retied(known[0], plans[0]))
        advised = seconds(lambda known=known, plans=plans: retied(known[0], plans[0], changes=True))
        print(
            f"{weight:,.0f} lb: proposal {whole * 1e3:,.0f} ms; its search {fast * 1e3:,.0f} ms, every plan tried"
            f" {plain * 1e3:,.0f} ms, ratio {plain / fast:,.0f}, {'the same plan' if same else 'ANOTHER PLAN'};"
            f" {len(plans[0].ties)} chains; judged after an edit {judged * 1e3:,.1f} ms,"
            f" with what to change {advised * 1e3:,.0f} ms"
        )
    yard = load_yard(Path(rubrail.demo.__file__).parent / "yard")
    units = tuple(yard.trailers.values())
    haul = resolve(yard.hauls["03-landscaper-track-loader"], yard)
    places = {c.trailer: c.placement for c in match(haul=haul, trailers=units).candidates}
    many = units * (4_300 // len(units))
    anchors, here = anchors_of_yard(many), [places[t.id] for t in many]
    took = seconds(
        lambda: can_secure(haul=haul, trailers=many, placements=here, kit=yard.kit, anchors=anchors), times=1
    )
    print(f"can it be secured at all, {len(many):,} units: {took / len(many) * 1e6:,.0f} microseconds a unit")


if __name__ == "__main__":
    main()
