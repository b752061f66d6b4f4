"""Trailers, machines and kits for tests of tying down: small, and each number chosen to be worked by hand."""

from __future__ import annotations

from typing import Any

from rubrail.answers.rig import Placement
from rubrail.answers.secure_parts import Plan, Scene, Tie
from rubrail.answers.secure_scene import scenes
from rubrail.things.cargo import Cargo
from rubrail.things.door import read_thing
from rubrail.things.haul import Haul
from rubrail.things.kit import Kit
from rubrail.things.trailer import Trailer


def trailer(*, anchors: list[dict[str, Any]] | None = None, **deck: Any) -> Trailer:
    """A flat deck 30 in high from 60 to 360 in, with rings of 6,600 lb on both sides every 40 in."""
    rings = [ring(60 + 40 * n) for n in range(8)] if anchors is None else anchors
    return read_thing(
        Trailer,
        {
            "id": "T-1", "basis": "measured", "coupling": {"kind": "gooseneck"},
            "axle": [{"gawr_lb": 15000, "from_coupler_in": 280}], "anchor": rings,
            "deck": {"front_from_coupler_in": 60, "flat_length_in": 300, "width_in": 102, "height_in": 30, **deck},
            "frame": {"deck_material": "oak"},
        },
    )  # fmt: skip


def ring(x: float, *, wll: Any = 6600, y: float = 48, both: bool = True) -> dict[str, Any]:
    """One D-ring, or two."""
    return {"kind": "D-ring", "from_coupler_in": x, "y_in": y, "height_in": 30, "wll_lb": wll, "both_sides": both}


def machine(**changes: Any) -> Cargo:
    """A tracked machine of 12,000 lb, weighed, with four tie points and one bucket."""
    table = {
        "id": "m", "basis": "label", "weight_lb": 12000, "cg_from_front_in": 60, "cg_height_in": 36,
        "length_in": 120, "width_in": 80, "height_in": 90, "articulated": False, "accessory_count": 1,
        "contact": {"kind": "tracks", "start_from_front_in": 20, "length_in": 80, "outer_width_in": 78,
                    "each_width_in": 16, "surface": "rubber"},
        "tie": [
            {"says": "front", "from_front_in": 24, "y_in": 30, "height_in": 20, "both_sides": True},
            {"says": "rear", "from_front_in": 100, "y_in": 30, "height_in": 20, "both_sides": True},
            {"says": "bucket", "holds": "accessory", "from_front_in": 6, "y_in": 0, "height_in": 12},
        ],
    }  # fmt: skip
    return read_thing(Cargo, {**table, **changes})


def kit(*, chains: int = 8, binders: int = 8, **gear: Any) -> Kit:
    """Chains of 3/8 in, grade 70, 20 ft, with as many binders."""
    chain = {"id": "c", "kind": "chain", "size_in": 0.375, "grade": "70", "length_in": 240, "hook_wll_lb": 6600,
             "count": chains, **gear}  # fmt: skip
    binder = {"id": "b", "kind": "lever", "wll_lb": 7100, "count": binders}
    return read_thing(Kit, {"id": "k", "basis": "label", "gear": [chain], "binder": [binder]})


def scene(
    *, piece: Cargo | None = None, on: Trailer | None = None, with_kit: Kit | None = None, at: float = 150,
    facing: str = "front-first", friction: float | None = None,
) -> Scene:  # fmt: skip
    """One machine on the trailer."""
    return scenes(
        haul=haul(piece or machine()), trailer=on or trailer(), placement=Placement((at,), (facing,)),
        kit=with_kit or kit(), friction=friction,
    )[0]  # fmt: skip


def haul(*pieces: Cargo) -> Haul:
    """A haul of these pieces; its truck does not matter here."""
    return read_thing(Haul, {"id": "h", "truck": "t"}).model_copy(
        update={"cargo": tuple(read_thing(Haul, {"id": "h", "truck": "t", "cargo": [{"piece": "x"}]}).cargo[0]
                               .model_copy(update={"piece": p}) for p in pieces)}
    )  # fmt: skip


def chain(anchor: str, point: str, *, holds: str = "piece", far: str = "", path: str = "direct") -> Tie:
    """One chain with its binder."""
    return Tie(anchor, point, "c", "b", path, far, holds)


def four(front: str = "2", rear: str = "6", *more: Tie, locked: bool = True) -> Plan:
    """Four chains at the corners, and more."""
    corners = [chain(f"{a}{s}", f"{p}{s}") for a, p in ((front, "1"), (rear, "2")) for s in "LR"]
    return Plan((*corners, *more), locked=locked)
