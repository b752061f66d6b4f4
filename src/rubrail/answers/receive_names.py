"""What the fields of a trailer are called when one is received, and the order in which the trade looks at them."""

from __future__ import annotations

import re

GROUPS = (
    "What it is",
    "Ratings and weights",
    "Axles",
    "Tires and wheels",
    "Coupling",
    "Chains",
    "Brakes, plug and lamps",
    "Deck",
    "Ramps",
    "Frame",
    "Places to tie to",
    "Jack and equipment",
    "Color",
)
LEFT_OUT = frozenset(
    {"id", "schema", "basis", "title", "status", "location", "arrived", "price_usd", "cost_usd", "notes", "warranty"}
)
"""What is no part of the unit, or is the yard's own."""
_GROUP_OF = (
    (r"(vin|year|maker|model|condition)$", "What it is"),
    (r"(ratings|weights)\.", "Ratings and weights"),
    (r"axle\.[^.]+\.(tires\.|wheel_)", "Tires and wheels"),
    (r"axle\.[^.]+\.brakes$|breakaway|plug|lamps_complete", "Brakes, plug and lamps"),
    (r"axle|suspension", "Axles"),
    (r"coupling", "Coupling"),
    (r"chains", "Chains"),
    (r"deck|size|tax", "Deck"),
    (r"ramp", "Ramps"),
    (r"frame", "Frame"),
    (r"anchor", "Places to tie to"),
    (r"jack|equipment", "Jack and equipment"),
    (r"color", "Color"),
)
_LABELS = {
    "vin": "VIN",
    "coupling.kind": "coupling",
    "coupling.ball_size_in": "ball or pin size",
    "coupling.gross_rating_lb": "coupler rated gross",
    "coupling.vertical_rating_lb": "coupler rated load on it",
    "coupling.height_in": "coupler height",
    "coupling.height_min_in": "coupler height, lowest",
    "coupling.height_max_in": "coupler height, highest",
    "coupling.neck_underside_height_in": "underside of the neck",
    "coupling.neck_swing_in": "swing of the neck",
    "ratings.gvwr_lb": "label GVWR",
    "ratings.advertised_lb": "advertised number",
    "weights.empty_lb": "empty weight",
    "weights.empty_coupler_lb": "coupler load, empty",
    "axle.#.gawr_lb": "axle rating (GAWR)",
    "axle.#.from_coupler_in": "coupling to axle",
    "axle.#.wheel_rating_lb": "wheel rating",
    "axle.#.wheel_torque_ft_lb": "wheel nut torque",
    "axle.#.tires.count": "tires on the axle",
    "axle.#.tires.size": "tire size",
    "axle.#.tires.load_range": "tire load range",
    "axle.#.tires.family": "tire standard",
    "axle.#.tires.max_load_lb": "tire load, single",
    "axle.#.tires.max_load_dual_lb": "tire load, dual",
    "axle.#.tires.max_pressure_psi": "tire pressure on the sidewall",
    "axle.#.tires.pressure_psi": "tire pressure, cold",
    "axle.#.tires.speed_symbol": "tire speed symbol",
    "axle.#.tires.loaded_radius_in": "axle center to ground",
    "suspension.kind": "suspension",
    "suspension.rate_lb_per_in": "spring rate",
    "suspension.axle_to_frame_in": "axle to frame",
    "deck.kind": "deck",
    "deck.front_from_coupler_in": "coupling to deck front",
    "deck.flat_length_in": "level deck",
    "deck.tail_kind": "tail",
    "deck.tail_length_in": "tail length",
    "deck.tail_drop_in": "tail drop",
    "deck.tail_lowered_height_in": "tail height, lowered",
    "deck.tilt_length_in": "tilting part",
    "deck.tilt_angle_deg": "tilt",
    "deck.width_in": "deck width",
    "deck.height_in": "deck height",
    "size.width_in": "overall width",
    "size.front_from_coupler_in": "coupling to the front",
    "size.rear_from_coupler_in": "coupling to the rear",
    "ramp.#.kind": "ramps",
    "ramp.#.count": "number of ramps",
    "ramp.#.deck_when_folded": "ramps carry cargo folded",
    "frame.main_beam.shape": "main beams",
    "frame.crossmember.shape": "crossmembers",
    "frame.crossmember_spacing_in": "crossmembers, on center",
    "chains.count": "safety chains",
    "chains.strength_lb": "chain strength, each",
    "jack.kind": "jack",
    "breakaway": "breakaway brake",
    "lamps_complete": "lamps and marking seen complete",
    "tax.bed_center_from_coupler_in": "coupling to bed center",
}
_PARTS = {
    "ramp": "ramp",
    "frame": "",
    "jack": "jack",
    "chains": "chain",
    "main_beam": "main beam",
    "deck": "",
    "size": "",
}
_SUFFIX = re.compile(r"_(lb_per_in|lb_per_ft|in3|lb|in|psi|deg)\Z")
_CAPITALS = {"gvwr": "GVWR", "gawr": "GAWR", "wll": "working load limit", "vin": "VIN"}


def pattern_of(path: str) -> str:
    """A path with ``#`` for the numbers of lists: ``axle.#.gawr_lb``."""
    return re.sub(r"\.(\d+|\*)(?=\.|$)", ".#", path)


def group_of(path: str) -> str:
    """The heading a field stands under."""
    return next((group for start, group in _GROUP_OF if re.match(start, path)), GROUPS[0])


def label_of(path: str) -> str:
    """What a field is called, its member with it: ``axle rating (GAWR), axle 2``."""
    pattern = pattern_of(path)
    named = _LABELS.get(pattern) or _plain(pattern)
    member = re.search(r"^(axle|ramp)\.(\d+)\.", path)
    if member is None or (member[1] == "ramp" and member[2] == "0"):
        return named
    return f"{named}, {member[1]} {int(member[2]) + 1}"


def _plain(pattern: str) -> str:
    steps = [s for s in pattern.split(".") if s != "#"]
    name = _SUFFIX.sub("", steps[-1])
    words = [_CAPITALS.get(w, w) for w in name.split("_")]
    inside = [_PARTS.get(s, s.replace("_", " ")) for s in steps[:-1]]
    return " ".join(w for w in (*inside, *words) if w)
