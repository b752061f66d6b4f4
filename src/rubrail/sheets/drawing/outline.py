"""What a drawing needs of a trailer: every number settled, and the names of those that had to be assumed.

A drawing cannot leave a hole where a number is missing, and must not hide it either. So a missing number is
taken from the class, its name is kept in ``assumed``, and what rests on it is drawn dashed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from rubrail.sheets.drawing.tires import tire_size

if TYPE_CHECKING:
    from rubrail.things.trailer import Trailer


@dataclass(frozen=True, slots=True)
class Axle:
    """One axle as drawn."""

    x_in: float
    radius_in: float
    rim_radius_in: float
    tire_width_in: float
    dual: bool
    x_assumed: bool = False
    tire_assumed: bool = False


@dataclass(frozen=True, slots=True)
class Ramp:
    """A set of ramps as drawn."""

    kind: str
    count: int
    length_in: float
    width_in: float
    gap_in: float
    thickness_in: float
    stands: bool = False
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class Anchor:
    """A place to tie to, one side."""

    kind: str
    x_in: float
    y_in: float


@dataclass(frozen=True)
class TrailerOutline:
    """A trailer's shape in inches, all lengths settled.

    Names, places and signs are those of the trailer's file: ``x`` rearward of the coupling point, ``z`` up.
    """

    title: str
    coupling: str
    ball_size_in: float
    coupler_height_in: float
    coupler_min_in: float
    coupler_max_in: float
    neck_underside_in: float
    front_x_in: float
    rear_x_in: float
    deck_kind: str
    deck_front_x_in: float
    flat_length_in: float
    tail_kind: str
    tail_length_in: float
    tail_drop_in: float
    tilt_length_in: float
    tilt_rad: float
    tail_lowered_in: float
    deck_width_in: float
    between_fenders_in: float
    width_in: float
    deck_height_in: float
    deck_thickness_in: float
    beam_depth_in: float
    beam_top_in: float
    frame_build: str
    crossmember_spacing_in: float
    crossmember_depth_in: float
    equalized: bool
    jack_count: int
    headboard_in: float
    axles: tuple[Axle, ...]
    ramps: tuple[Ramp, ...] = ()
    anchors: tuple[Anchor, ...] = ()
    assumed: frozenset[str] = field(default_factory=frozenset)

    def rests_on(self, *names: str) -> bool:
        """Whether any of the named numbers was assumed."""
        return not self.assumed.isdisjoint(names)

    @property
    def flat_rear_x_in(self) -> float:
        """Rear end of the level deck."""
        return self.deck_front_x_in + self.flat_length_in

    @property
    def deck_rear_x_in(self) -> float:
        """Rear end of the tail, or of the level deck where there is none."""
        return self.flat_rear_x_in + self.tail_length_in

    @property
    def tail_height_in(self) -> float:
        """Ground to the deck at its rear edge."""
        return self.deck_height_in - (self.tail_drop_in if self.tail_length_in else 0.0)

    @property
    def axle_group_x_in(self) -> float:
        """Middle of the axles."""
        return sum(a.x_in for a in self.axles) / len(self.axles)

    @property
    def beam_bottom_in(self) -> float:
        """Ground to the underside of the main beams."""
        return self.deck_height_in - self.beam_top_in - self.beam_depth_in

    @property
    def over_bed(self) -> bool:
        """Whether the trailer couples over the truck's bed."""
        return self.coupling in ("gooseneck", "kingpin")

    def let_down(self) -> TrailerOutline:
        """The trailer ready to load: a lowering tail down."""
        if self.tail_kind != "lowering" or not self.tail_length_in:
            return self
        guessed = {"tail_drop_in"} if self.rests_on("tail_lowered_in") else set()
        return replace(
            self, tail_drop_in=self.deck_height_in - self.tail_lowered_in, assumed=self.assumed | frozenset(guessed)
        )

    def deck_z_in(self, x_in: float) -> float:
        """Height of the deck's surface at a place."""
        if not self.tail_length_in or x_in <= self.flat_rear_x_in:
            return self.deck_height_in
        share = min((x_in - self.flat_rear_x_in) / self.tail_length_in, 1.0)
        return self.deck_height_in - share * self.tail_drop_in


# What a trailer of each coupling is taken to measure where its file is silent. Common practice, no source; for
# drawing only.
_BY_COUPLING: dict[str, dict[str, float]] = {
    "ball": {"deck_front_x_in": 57, "coupler_height_in": 19, "front_x_in": -4, "ball_size_in": 2.3125, "beam": 8},
    "pintle": {"deck_front_x_in": 62, "coupler_height_in": 28, "front_x_in": -4, "ball_size_in": 3, "beam": 12},
    "gooseneck": {
        "deck_front_x_in": 91,
        "coupler_height_in": 41,
        "front_x_in": -9,
        "ball_size_in": 2.3125,
        "beam": 12,
    },
    "kingpin": {"deck_front_x_in": 108, "coupler_height_in": 47, "front_x_in": -18, "ball_size_in": 2, "beam": 12},
}
_BY_DECK: dict[str, dict[str, float]] = {
    "deck-over": {"deck_height_in": 34, "deck_width_in": 102, "flat_length_in": 288, "spread": 34},
    "between-fenders": {"deck_height_in": 24, "deck_width_in": 82, "flat_length_in": 216, "spread": 34},
}
_RAMP_LENGTH = {"stand-up": 60, "flip-over": 60, "slide-in": 96, "full-width": 60, "gate": 48, "bi-fold": 84}
_AXLES_AT = 0.63
"""Middle of the axles as a share of the deck's length from its front; common practice, no source."""
_NECK_ABOVE_BALL = 22.0
_BEAM_ON_AXLE = 6.0
_TYPICAL_TIRE = (14.4, 8.0, 9.25)


class _Settler:
    """Takes known numbers as they are, and remembers which were not known."""

    def __init__(self) -> None:
        self.assumed: set[str] = set()

    def __call__(self, name: str, value: Any, default: float) -> float:
        if value is None:
            self.assumed.add(name)
            return float(default)
        return float(value)


def trailer_outline(trailer: Trailer) -> TrailerOutline:
    """Settle a trailer's shape for drawing.

    Parameters
    ----------
    trailer : Trailer
        As read from its file; any measured field may be None.
    """
    settle = _Settler()
    deck, coupling, frame = trailer.deck, trailer.coupling, trailer.frame
    kind = coupling.kind
    deck_kind = deck.kind or ("between-fenders" if deck.between_fenders_in is not None else "deck-over")
    by_coupling, by_deck = _BY_COUPLING[kind], _BY_DECK[deck_kind]

    front = settle("deck_front_x_in", deck.front_from_coupler_in, by_coupling["deck_front_x_in"])
    sloping = deck.tail_kind in ("fixed", "lowering") or deck.tail_length_in is not None
    tail = settle("tail_length_in", deck.tail_length_in, 48) if sloping else 0.0
    drop = settle("tail_drop_in", deck.tail_drop_in, 0.19 * tail) if tail else 0.0
    flat = settle("flat_length_in", deck.flat_length_in, _flat_length(trailer, front, tail, by_deck))
    height = settle("deck_height_in", deck.height_in, by_deck["deck_height_in"])
    coupler_height = settle("coupler_height_in", coupling.height_in, by_coupling["coupler_height_in"])
    deck_width = settle("deck_width_in", deck.width_in, _deck_width(trailer, by_deck))
    axles = _axles(trailer, front, flat + tail, by_deck["spread"])
    radius = max(a.radius_in for a in axles)
    thickness = 1.5 if frame.deck_thickness_in is None else float(frame.deck_thickness_in)
    cross_depth = 3.0 if frame.crossmember.depth_in is None else float(frame.crossmember.depth_in)
    build = frame.build or ("pierced" if kind in ("gooseneck", "kingpin") else "stacked")
    if frame.build is None:
        settle.assumed.add("frame_build")
    rise = 0.0 if frame.crossmember_rise_in is None else float(frame.crossmember_rise_in)
    beam_top = thickness + (max(rise, 0.0) if build == "pierced" else cross_depth)
    room = max(height - beam_top - 4.0, 2.0) if deck_kind == "between-fenders" else height - beam_top - radius
    beam = settle("beam_depth_in", frame.main_beam.depth_in, min(by_coupling["beam"], max(room, 2.0)))
    front_x = trailer.size.front_from_coupler_in
    if front_x is None and coupling.neck_swing_in is not None and kind in ("gooseneck", "kingpin"):
        front_x = -float(coupling.neck_swing_in)
    return TrailerOutline(
        title=trailer.title or trailer.id,
        coupling=kind,
        ball_size_in=float(coupling.ball_size_in or by_coupling["ball_size_in"]),
        coupler_height_in=coupler_height,
        coupler_min_in=float(coupling.height_min_in if coupling.height_min_in is not None else coupler_height),
        coupler_max_in=float(coupling.height_max_in if coupling.height_max_in is not None else coupler_height),
        neck_underside_in=settle(
            "neck_underside_in",
            coupling.neck_underside_height_in if kind in ("gooseneck", "kingpin") else coupler_height,
            coupler_height + (_NECK_ABOVE_BALL if kind == "gooseneck" else 0.0),
        ),
        front_x_in=settle("front_x_in", front_x, by_coupling["front_x_in"]),
        rear_x_in=settle("rear_x_in", trailer.size.rear_from_coupler_in, front + flat + tail + 3),
        deck_kind=deck_kind,
        deck_front_x_in=front,
        flat_length_in=flat,
        tail_kind=deck.tail_kind or ("fixed" if tail else "none"),
        tail_length_in=tail,
        tail_drop_in=drop,
        tilt_length_in=float(deck.tilt_length_in or (flat if deck.tail_kind == "tilt" else 0.0)),
        tilt_rad=math.radians(settle("tilt_rad", deck.tilt_angle_deg, 11.0)) if deck.tail_kind == "tilt" else 0.0,
        tail_lowered_in=_lowered(trailer, settle, height - drop),
        deck_width_in=deck_width,
        between_fenders_in=settle(
            "between_fenders_in",
            deck.between_fenders_in if deck_kind == "between-fenders" else deck_width,
            deck_width,
        ),
        width_in=settle("width_in", trailer.size.width_in, max(102.0, deck_width)),
        deck_height_in=height,
        deck_thickness_in=thickness,
        beam_depth_in=beam,
        beam_top_in=beam_top,
        frame_build=build,
        crossmember_spacing_in=settle("crossmember_spacing_in", frame.crossmember_spacing_in, 16),
        crossmember_depth_in=cross_depth,
        equalized=trailer.suspension.kind != "independent",
        jack_count=trailer.jack.count or 1,
        headboard_in=_headboard(trailer),
        axles=axles,
        ramps=tuple(_ramp(r, deck_width) for r in trailer.ramp),
        anchors=_anchors(trailer, deck_width),
        assumed=frozenset(settle.assumed),
    )


def _flat_length(trailer: Trailer, front: float, tail: float, by_deck: dict[str, float]) -> float:
    known = [float(a.from_coupler_in) for a in trailer.axle if a.from_coupler_in is not None]
    if trailer.size.rear_from_coupler_in is not None:
        return max(float(trailer.size.rear_from_coupler_in) - front - tail - 3, 48)
    if known:
        return max((sum(known) / len(known) - front) / _AXLES_AT - tail, 48)
    return by_deck["flat_length_in"]


def _deck_width(trailer: Trailer, by_deck: dict[str, float]) -> float:
    known = trailer.deck.between_fenders_in
    return float(known) if known is not None else by_deck["deck_width_in"]


def _axles(trailer: Trailer, front: float, length: float, spread: float) -> tuple[Axle, ...]:
    n = len(trailer.axle)
    known = [(i, float(a.from_coupler_in)) for i, a in enumerate(trailer.axle) if a.from_coupler_in is not None]
    middle = front + _AXLES_AT * length
    out = []
    for i, axle in enumerate(trailer.axle):
        if axle.from_coupler_in is not None:
            x = float(axle.from_coupler_in)
        elif known:
            j, near = min(known, key=lambda k: abs(k[0] - i))
            x = near + (i - j) * spread
        else:
            x = middle + (i - (n - 1) / 2) * spread
        out.append(_axle(axle, x))
    return tuple(out)


def _axle(axle: Any, x: float) -> Axle:
    size = tire_size(axle.tires.size)
    radius, width, rim = (size.loaded_radius_in, size.width_in, size.rim_radius_in) if size else _TYPICAL_TIRE
    stated = axle.tires.loaded_radius_in
    if stated is not None:
        radius = float(stated)
        rim = min(rim, radius * 0.72)
    return Axle(
        x_in=x,
        radius_in=radius,
        rim_radius_in=rim,
        tire_width_in=width,
        dual=axle.tires.count == 4,
        x_assumed=axle.from_coupler_in is None,
        tire_assumed=stated is None and size is None,
    )


def _lowered(trailer: Trailer, settle: _Settler, as_it_travels: float) -> float:
    """Ground to the rear edge of the tail when it is let down; a fixed tail stays where it is."""
    if trailer.deck.tail_kind != "lowering":
        return as_it_travels
    return settle("tail_lowered_in", trailer.deck.tail_lowered_height_in, 6.0)


def _headboard(trailer: Trailer) -> float:
    tags = {e.tag for e in trailer.equipment}
    return 24.0 if tags & {"headboard", "bulkhead", "front-stop"} else 0.0


def _ramp(ramp: Any, deck_width: float) -> Ramp:
    one = ramp.kind in ("full-width", "gate")
    width = ramp.width_in
    gap = ramp.inner_gap_in
    return Ramp(
        kind=ramp.kind,
        count=ramp.count,
        length_in=float(ramp.length_in) if ramp.length_in is not None else _RAMP_LENGTH[ramp.kind],
        width_in=float(width) if width is not None else (deck_width - 4 if one else 20.0),
        gap_in=float(gap) if gap is not None else 38.0,
        thickness_in=float(ramp.thickness_in) if ramp.thickness_in is not None else 3.0,
        stands=bool(ramp.stands),
        assumed=ramp.length_in is None,
    )


def _anchors(trailer: Trailer, deck_width: float) -> tuple[Anchor, ...]:
    out: list[Anchor] = []
    for a in trailer.anchor:
        if a.from_coupler_in is None:
            continue
        y = float(a.y_in) if a.y_in is not None else -deck_width / 2
        out.append(Anchor(a.kind, float(a.from_coupler_in), y))
        if a.both_sides and y:
            out.append(Anchor(a.kind, float(a.from_coupler_in), -y))
    return tuple(out)
