"""Invented trailers, trucks and cargo whose every number a test states itself."""

from __future__ import annotations

from typing import Any

from rubrail.things.cargo import Cargo
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Truck


def gooseneck(**changes: Any) -> Trailer:
    table: dict[str, Any] = {
        "id": "G",
        "title": "gooseneck",
        "coupling": {"kind": "gooseneck", "height_in": 42, "neck_underside_height_in": 64, "neck_swing_in": 10},
        "axle": [
            {"from_coupler_in": 300, "tires": {"count": 4, "size": "ST235/80R16", "loaded_radius_in": 14.5}},
            {"from_coupler_in": 342, "tires": {"count": 4, "size": "ST235/80R16", "loaded_radius_in": 14.5}},
        ],
        "deck": {
            "kind": "deck-over",
            "front_from_coupler_in": 92,
            "flat_length_in": 300,
            "tail_kind": "fixed",
            "tail_length_in": 60,
            "tail_drop_in": 11,
            "width_in": 102,
            "height_in": 34,
        },
        "size": {"width_in": 102, "rear_from_coupler_in": 456, "front_from_coupler_in": -10},
        "suspension": {"kind": "equalized"},
        "frame": {
            "main_beam": {"depth_in": 12},
            "crossmember": {"depth_in": 3},
            "crossmember_spacing_in": 16,
            "build": "stacked",
            "deck_thickness_in": 1.5,
        },
        "ramp": [{"kind": "stand-up", "count": 2, "length_in": 61, "width_in": 20, "thickness_in": 4}],
        "anchor": [{"kind": "D-ring", "from_coupler_in": 150, "y_in": 49, "both_sides": True}],
    }
    return Trailer.model_validate({**table, **changes})


def tag(**changes: Any) -> Trailer:
    table: dict[str, Any] = {
        "id": "T",
        "title": "low equipment",
        "coupling": {"kind": "ball", "height_in": 20},
        "axle": [
            {"from_coupler_in": 186, "tires": {"count": 2, "size": "ST235/80R16"}},
            {"from_coupler_in": 220, "tires": {"count": 2, "size": "ST235/80R16"}},
        ],
        "deck": {
            "kind": "between-fenders",
            "front_from_coupler_in": 58,
            "flat_length_in": 216,
            "tail_kind": "none",
            "width_in": 82,
            "between_fenders_in": 82,
            "height_in": 25,
        },
        "size": {"width_in": 102, "rear_from_coupler_in": 276, "front_from_coupler_in": -5},
        "frame": {"main_beam": {"depth_in": 8}, "crossmember_spacing_in": 24, "build": "pierced"},
    }
    return Trailer.model_validate({**table, **changes})


def unknown(kind: str = "gooseneck") -> Trailer:
    """A trailer of which only the coupling and the count of axles are known."""
    return Trailer.model_validate({"id": "U", "coupling": {"kind": kind}, "axle": [{}, {}]})


def truck(**changes: Any) -> Truck:
    table: dict[str, Any] = {
        "id": "K",
        "title": "one-ton crew cab",
        "size": {
            "wheelbase_in": 172,
            "front_overhang_in": 38,
            "width_in": 80,
            "height_in": 80,
            "bed_rail_height_in": 58,
            "bed_end_behind_rear_axle_in": 48,
            "hitch_to_cab_in": 46,
        },
        "tires": {"size": "LT275/70R18", "rear_count": 2},
        "hitch": [
            {"kind": "gooseneck", "ahead_of_rear_axle_in": 3, "height_in": 42},
            {"kind": "ball", "ahead_of_rear_axle_in": -56, "height_in": 20},
        ],
    }
    return Truck.model_validate({**table, **changes})


def loader(**changes: Any) -> Cargo:
    table: dict[str, Any] = {
        "id": "L",
        "title": "compact track loader",
        "weight_lb": 10_000,
        "cg_from_front_in": 90,
        "cg_height_in": 34,
        "length_in": 148,
        "width_in": 78,
        "height_in": 84,
        "contact": {
            "kind": "tracks",
            "start_from_front_in": 56,
            "length_in": 60,
            "outer_width_in": 76,
            "each_width_in": 16,
        },
    }
    return Cargo.model_validate({**table, **changes})
