"""How steep the way onto a trailer is by itself: level trailer, level ground, whatever machine drives up."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rubrail.answers.height import built_columns
from rubrail.mechanics.climb_ways import ramp_slope_rad
from rubrail.things.measure import Known
from rubrail.things.rig_loading import way_kind, way_ramp
from rubrail.things.trailer import Trailer


@dataclass(frozen=True, slots=True)
class Slope:
    """One stretch of the way up, from the ground: ``ramps``, ``tail`` or ``tilting deck``; ``nan`` is not known.

    rise_in : what it climbs; length_in : its length along itself, ``nan`` for a deck that tilts by a stated angle.
    """

    part: str
    slope_rad: float
    rise_in: float
    length_in: float

    @property
    def degrees(self) -> float:
        """The slope as an angle."""
        return math.degrees(self.slope_rad)

    @property
    def percent(self) -> float:
        """The slope as rise over level run, in percent."""
        return math.tan(self.slope_rad) * 100


def loading_slopes(trailer: Trailer) -> tuple[Slope, ...]:
    """Stretches of the way up, the lowest first; none where nothing leads up or the file does not say what does.

    A deck height that nobody measured is the one the build adds up to, where the build is known.

    References
    ----------
    RAMP-ANGLE
    """
    deck, way, ramp = trailer.deck, way_kind(trailer), way_ramp(trailer)
    high = float(built_columns([trailer])["deck_height_in"][0, 0, 0])
    if way == "tilt":
        return (Slope("tilting deck", math.radians(_number(deck.tilt_angle_deg)), high, math.nan),)
    found = []
    if way == "tail":
        low, length = _number(deck.tail_lowered_height_in), _number(deck.tail_length_in)
        if ramp is not None:
            found.append(_leaning("ramps", low, _number(ramp.length_in)))
        return (*found, _leaning("tail", high - low, length))
    if way != "ramps" or ramp is None:
        return ()
    drop, length = _number(deck.tail_drop_in), _number(deck.tail_length_in)
    sloped = deck.tail_kind == "fixed"
    if deck.tail_kind is None:
        drop = math.nan
    found.append(_leaning("ramps", high - (0.0 if deck.tail_kind == "none" else drop), _number(ramp.length_in)))
    if sloped:
        # A fixed tail is measured level.
        found.append(Slope("tail", math.atan2(drop, length), drop, math.hypot(drop, length)))
    return tuple(found)


def steepest(slopes: tuple[Slope, ...]) -> Slope | None:
    """The stretch that decides; one not known where any is not known, for it may be steeper."""
    unknown = next((s for s in slopes if math.isnan(s.slope_rad)), None)
    return unknown or max(slopes, key=lambda s: s.slope_rad, default=None)


def _leaning(part: str, rise_in: float, length_in: float) -> Slope:
    slope = float(ramp_slope_rad(height_in=rise_in, length_in=length_in))
    return Slope(part, slope, rise_in, length_in)


def _number(value: Known) -> float:
    return math.nan if value is None else value.number
