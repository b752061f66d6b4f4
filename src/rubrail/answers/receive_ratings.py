"""Whether the ratings of one unit hold together: each part against what the label asks of it.

The registered checks are asked, with the trailer at its full rating in place of a load: no second formula.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rubrail.answers.height import built_columns
from rubrail.answers.receive_report import RatingLine
from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import CHECKS, QUANTITIES
from rubrail.checks.verdict import NOT_KNOWN, OVER, WORDS, verdict_codes
from rubrail.rules import brakes, couplings, guard, label, lamps
from rubrail.rules.tables import by_code, column
from rubrail.rules.tires import tire_size
from rubrail.things.columns import Array
from rubrail.things.names import COLUMNS
from rubrail.things.trailer import Trailer

BALL = "ball"
FULL = "at its full rating"
GUARD_TAG = "rear-guard"
"""Tag of the equipment that says a rear guard is fitted."""


@dataclass(frozen=True)
class Full:
    """A unit's columns with the trailer loaded to its label, and what stands in for each computed input."""

    evaluation: Evaluation
    stands_for: Mapping[str, tuple[str, ...]]

    def one(self, name: str) -> float:
        """One number of the unit."""
        return float(np.asarray(self.evaluation.value(name)).reshape(-1)[0])


def _at_full_rating(trailer: Trailer) -> Full:
    columns = built_columns([trailer])
    gvwr, gawr = columns["trailer_gvwr_lb"], columns["axle_gawr_lb"]
    counted = label.coupler_share_counted_on_lb(gvwr_lb=gvwr, gawr_sum_lb=gawr.sum(axis=0))
    least = by_code(columns["coupling_kind"], column("coupler-shares", "low")) * gvwr
    needed = brakes.federal_brakes_required(trailer_gross_lb=gvwr, hitch_load_lb=np.nan, tow_axles_lb=np.nan)
    over_axles = label.axle_load_at_gvwr_lb(gvwr_lb=gvwr, coupler_lb=columns["trailer_empty_coupler_lb"])
    given: dict[str, Array] = {
        "trailer_gross_lb": gvwr,
        "axle_load_lb": gawr,
        "coupler_load_lb": np.maximum(counted, least),
        "axle_group_load_lb": over_axles,
        "brakes_needed": needed,
    }
    stands_for = {
        "trailer_gross_lb": ("trailer_gvwr_lb",),
        "axle_load_lb": ("axle_gawr_lb",),
        "coupler_load_lb": ("trailer_gvwr_lb", "axle_gawr_lb"),
        "axle_group_load_lb": ("trailer_gvwr_lb", "trailer_empty_coupler_lb"),
        "brakes_needed": ("trailer_gvwr_lb",),
    }
    return Full(Evaluation(columns.with_values(given)), stands_for)


FEDERAL = (
    "A carrier across state lines needs brakes on all wheels, set on breakaway, above 3,000 lb; others go by the"
    " state's figure."
)
REGISTERED = (
    ("tires-carry-axle-rating", "tires against the axle's rating", ""),
    ("axle-wheels", "wheels against the axle's rating", "The wheels of an axle must carry the axle's rating."),
    ("label-coupler-share", "coupler load the label counts on", ""),
    (
        "axle-group",
        "axles at the full rating, a load balanced over them",
        "A load balanced over the axles adds nothing to the coupler: what the label counts on there must come from"
        " loading farther forward.",
    ),
    ("coupler-gross", "coupler's gross rating against the GVWR", "The coupler must be rated for the loaded trailer."),
    (
        "coupler-vertical",
        "coupler's vertical rating against the share the GVWR asks",
        "At the full rating the coupler carries at least the share the label counts on, and the least that guidance"
        " advises.",
    ),
    ("chain-strength", "safety chains together against the GVWR", ""),
    ("gooseneck-chains", "safety chains of a gooseneck against the GVWR", ""),
    ("brakes-all-wheels", "brakes on every axle, by the federal rule", FEDERAL),
    ("breakaway", "breakaway device, by the federal rule", FEDERAL),
    ("lamps", "lamps and marking seen complete", ""),
)
"""Checks asked of the unit at its full rating: title here, and words where the check's own speak of a load."""
GUIDANCE = ("axle-group", "coupler-vertical", "brakes-all-wheels", "breakaway")
"""What here is a caution though the check is a rating or a law: no load stands there yet, and no carrier is known."""
OF_CARRIERS = ("brakes-all-wheels", "breakaway")


def rating_lines(*, trailer: Trailer, rated_cargo_lb: float = math.nan) -> tuple[RatingLine, ...]:
    """Every rating against what the others ask of it, the worst first within the order of the trade.

    Parameters
    ----------
    trailer : Trailer
        As read on the unit.
    rated_cargo_lb : float
        Cargo its maker rates it for, by the placard or the maker's sheet; ``nan`` not known. [lb]
    """
    full = _at_full_rating(trailer)
    found: list[RatingLine] = []
    light = full.one("trailer_gvwr_lb") <= brakes.FEDERAL_EXEMPT_LB
    for check_id, title, says in REGISTERED:
        if light and check_id in OF_CARRIERS:
            continue  # what such a trailer needs goes by the truck, and that is not known here
        found += _registered(full, check_id, title, says)
        if check_id == "axle-wheels":
            found.append(_floor(full, rated_cargo_lb))
        if check_id == "coupler-vertical":
            found += _light_coupling(full, trailer)
    found.append(_guard(full, trailer))
    return tuple(found)


def _registered(full: Full, check_id: str, title: str, says: str) -> list[RatingLine]:
    check = CHECKS[check_id]
    demand, limit = full.evaluation.check(check_id)
    kind = "guidance" if check_id in GUIDANCE or (check.kind == "duty" and check.unit) else check.kind
    if not check.per:
        return [_line(check_id, title, kind, "", float(demand.reshape(-1)[0]), float(limit.reshape(-1)[0]), check.unit,
                      _missing(full, check.inputs, None), check.sources, says or check.says)]  # fmt: skip
    return [
        _line(check_id, title, kind, f"axle {n + 1}", float(demand[n].reshape(-1)[0]), float(limit[n].reshape(-1)[0]),
              check.unit, _missing(full, check.inputs, n), check.sources, says or check.says)
        for n in range(demand.shape[0])
    ]  # fmt: skip


def _line(
    key: str,
    title: str,
    kind: str,
    member: str,
    demand: float,
    limit: float,
    unit: str,
    missing: Sequence[str],
    source: Sequence[str],
    says: str,
) -> RatingLine:
    with np.errstate(invalid="ignore"):
        margin = limit - demand
    code = int(verdict_codes(margin=margin, worst_margin=margin, limit=limit))
    word = WORDS[code]
    if code == OVER and kind == "guidance":
        word = "depends"
    told = tuple(missing) if code == NOT_KNOWN else ()
    return RatingLine(key, title, kind, member, demand, limit, margin, unit, word, told, tuple(source), says)


def _missing(full: Full, inputs: Sequence[str], member: int | None) -> list[str]:
    """Raw columns of the trailer a check lacks; a law's own figure is nothing to read on a unit."""
    names: dict[str, None] = {}
    for name in inputs:
        for raw in full.stands_for.get(name, (name,)):
            names.setdefault(raw)
    lacking = []
    for name in names:
        if name not in COLUMNS:
            lacking += [n for n in _missing(full, QUANTITIES[name].inputs, member) if n not in lacking]
            continue
        if not COLUMNS[name].path.startswith("trailer."):
            continue
        values = np.asarray(full.evaluation.value(name))
        values = values[member] if COLUMNS[name].per == "axle" and member is not None else values
        if np.isnan(values).any():
            lacking.append(name)
    return lacking


def _floor(full: Full, rated_cargo_lb: float) -> RatingLine:
    gvwr, empty = full.one("trailer_gvwr_lb"), full.one("trailer_empty_weight_lb")
    demand = float(label.gvwr_floor_lb(empty_lb=empty, rated_cargo_lb=rated_cargo_lb))
    missing = [n for n, v in (("trailer_gvwr_lb", gvwr), ("trailer_empty_weight_lb", empty)) if math.isnan(v)]
    if math.isnan(rated_cargo_lb):
        missing.append("cargo the maker rates it for, on the placard or the maker's sheet")
    return _line("gvwr-floor", "GVWR against empty weight and rated cargo", "law", "", demand, gvwr, "lb", missing,
                 ("NHTSA-GVWR",), "The GVWR may not be less than the empty trailer and the cargo its maker rates it"
                 " for.")  # fmt: skip


def _light_coupling(full: Full, trailer: Trailer) -> list[RatingLine]:
    """Ball and chains by SAE J684, which ends at 10,000 lb and speaks of balls."""
    gvwr = full.one("trailer_gvwr_lb")
    if trailer.coupling.kind != BALL or gvwr > couplings.CLASS_4_TO_LB:
        return []
    ball = float(couplings.j684_ball_in(trailer_gross_lb=gvwr))
    chain = float(couplings.j684_chain_lb(trailer_gross_lb=gvwr))
    rows = (
        ("j684-ball", "ball size against its class", ball, "coupler_ball_size_in", "in",
         "A coupling of its class takes at least this ball."),
        ("j684-chain", "each safety chain against its class", chain, "chain_strength_lb", "lb",
         "Each safety chain must break at no less than its class asks."),
    )  # fmt: skip
    return [
        _line(key, title, "law" if unit == "lb" else "rating", "", demand, full.one(name), unit,
              [n for n in ("trailer_gvwr_lb", name) if math.isnan(full.one(n))], ("SAE-J684",), says)
        for key, title, demand, name, unit, says in rows
        if not math.isinf(demand)
    ]  # fmt: skip


def guard_excluded(trailer: Trailer) -> float:
    """1 where the unit is surely of an excluded class, 0 where it surely is not, ``nan`` where it must be measured.

    Wheels-back from where the last axle and its tires stand; low-chassis only where even the top of a fixed rear edge
    lies as low as the frame's lower edge may.

    References
    ----------
    NHTSA-GUARD
    """
    back = guard.wheels_back(fixed_axle=1.0, tire_rear_ahead_in=_tire_rear_ahead_in(trailer))
    low = guard.low_chassis(frame_behind_tires=1.0, frame_edge_height_in=_rear_edge_in(trailer), edge_is_frame=1.0)
    # The top of the edge being higher says nothing of its underside.
    low = np.where(low == 1, 1.0, np.nan)
    return float(brakes.either(back, low))


def _tire_rear_ahead_in(trailer: Trailer) -> float:
    last, rear = trailer.axle[-1], trailer.size.rear_from_coupler_in
    if last.from_coupler_in is None or rear is None or last.tires.size is None:
        return math.nan
    try:
        radius = tire_size(last.tires.size).diameter_in / 2
    except ValueError:
        return math.nan
    return float(rear) - float(last.from_coupler_in) - radius


def _rear_edge_in(trailer: Trailer) -> float:
    deck = trailer.deck
    if deck.height_in is None or deck.tail_kind not in ("none", "fixed"):
        return math.nan
    drop = 0.0 if deck.tail_kind == "none" else math.nan if deck.tail_drop_in is None else float(deck.tail_drop_in)
    return float(deck.height_in) - drop


def _guard(full: Full, trailer: Trailer) -> RatingLine:
    gvwr, excluded = full.one("trailer_gvwr_lb"), guard_excluded(trailer)
    required = float(guard.guard_required(gvwr_lb=gvwr, excluded=excluded))
    fitted = 1.0 if any(e.tag == GUARD_TAG for e in trailer.equipment) else math.nan
    demand, limit = required, math.inf if required == 0 else fitted
    if math.isnan(required):
        limit = fitted
    missing = ["trailer_gvwr_lb"] if math.isnan(gvwr) else []
    if math.isnan(excluded) and math.isnan(fitted):
        missing.append("ground to the rear lower edge of the frame, and which exclusion the maker built it to")
    elif math.isnan(fitted):
        missing.append(f"whether a rear guard is fitted (equipment tag {GUARD_TAG})")
    if fitted == 1:
        demand = 0.0 if required == 0 else 1.0
    return _line("rear-guard", "rear impact guard or an exclusion", "law", "", demand, limit, "", missing,
                 CHECKS["rear-guard"].sources, CHECKS["rear-guard"].says)  # fmt: skip


def lamps_of(trailer: Trailer) -> tuple[tuple[lamps.Lamp, ...], float]:
    """Lamps, reflectors and marking this unit needs, and the least length of marking on each side. [in]"""
    width, front, rear = (
        math.nan if v is None else float(v)
        for v in (trailer.size.width_in, trailer.size.front_from_coupler_in, trailer.size.rear_from_coupler_in)
    )
    gvwr = math.nan if trailer.ratings.gvwr_lb is None else float(trailer.ratings.gvwr_lb)
    year = math.nan if trailer.year is None else float(trailer.year)
    found = lamps.required_lamps(width_in=width, length_in=rear - front, gvwr_lb=gvwr, built_year=year)
    marked = any("marking" in lamp.item for lamp in found)
    return found, float(lamps.marked_length_in(length_in=rear - front)) if marked else math.nan
