"""What to change so that a machine gets up: each change is driven again and judged again before it is offered."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from rubrail.answers.climb_judge import Judged, judge_climb
from rubrail.answers.climb_run import COARSE
from rubrail.answers.climb_setup import Climber, Day, laid_out, turned
from rubrail.answers.report import Remedy
from rubrail.answers.rig import Placement, Rigs
from rubrail.checks.rows import VERDICT_KINDS
from rubrail.checks.verdict import CLEAR, OVER, WORDS
from rubrail.things.columns import Array, Columns
from rubrail.things.rig_loading import way_kind

RAMP_STEP_IN = 6.0
LONGEST_RAMP_IN = 180.0
RATING_STEP_LB = 100.0
PAIRED, OFFERED = 3, 5
"""Of how many single changes pairs are tried, and how many changes are judged with every tolerance."""


@dataclass(frozen=True)
class Change:
    """One change: what it is, in words, and the climb it makes."""

    kind: str
    says: str
    amount: float
    unit: str
    day: Day
    climber: Climber
    placement: Placement
    changes: dict[str, Array]
    laid: Columns | None = None


def changes_for(one: Rigs, placement: Placement, climber: Climber, day: Day, done: Judged) -> tuple[Remedy, ...]:
    """Changes that clear something that is over, or turn a doubt clear; the best first.

    A change that makes anything else over is not offered. Where no single change clears all, two together are tried.

    Parameters
    ----------
    one : Rigs
        Of one trailer.
    placement : Placement
    climber : Climber
    day : Day
    done : Judged
        The climb as it stands.
    """
    if done.run is None:
        return ()
    before = _codes(done)
    bad = {n for n, (code, _) in before.items() if code == OVER}
    plain = Change("", "", 0.0, "", day, climber, placement, {}, laid_out(one, placement, climber))
    singles = [*_singles(one, plain, done, bad)]
    tried = [(c, _quick(one, c)) for c in singles]
    kept = [(c, q, _cleared(before, _codes(q))) for c, q in tried]
    kept = [(c, q, cleared) for c, q, cleared in kept if cleared]
    kept.sort(key=lambda k: -len(k[2]))
    if not any(len(cleared) == len(bad) for _, _, cleared in kept):
        kept = [*_pairs(one, kept[:PAIRED], before), *kept]
    kept = kept[:OFFERED]
    offered = [_remedy(one, c, cleared) for c, _, cleared in kept]
    order = sorted(offered, key=lambda r: (-WORDS.index(r.verdict), -len(r.clears), _EFFORT.index(r.kind)))
    return tuple(order)


_EFFORT = ("stands", "dry", "level", "blocks", "hitch", "turn", "together", "ramps", "rating")


def _quick(one: Rigs, c: Change) -> Judged:
    return judge_climb(
        one, c.placement, c.climber, c.day, tolerances=False, changes=c.changes, steps=COARSE, laid=c.laid
    )


def _codes(done: Judged) -> dict[str, tuple[int, str]]:
    """Worst code of each check, and its kind."""
    out: dict[str, tuple[int, str]] = {}
    for i, row in enumerate(done.judgement.rows.rows):
        code = int(done.judgement.codes[i, 0, 0])
        out[row.check.id] = (min(code, out.get(row.check.id, (code, ""))[0]), row.check.kind)
    return out


def _cleared(before: dict[str, tuple[int, str]], after: dict[str, tuple[int, str]]) -> tuple[str, ...]:
    """Checks that were over and no longer are; none where the change makes another binding one over."""
    worse = [n for n, (code, kind) in after.items() if code == OVER and kind in VERDICT_KINDS
             and before.get(n, (CLEAR, ""))[0] != OVER]  # fmt: skip
    if worse:
        return ()
    return tuple(n for n, (code, _) in before.items() if code == OVER and after.get(n, (CLEAR, ""))[0] != OVER)


def _remedy(one: Rigs, c: Change, cleared: tuple[str, ...]) -> Remedy:
    """The change judged again with every tolerance."""
    again = judge_climb(one, c.placement, c.climber, c.day, changes=c.changes, steps=COARSE, laid=c.laid)
    return Remedy(c.kind, c.says, c.amount, c.unit, cleared, again.verdict)


def _pairs(one: Rigs, kept: list, before: dict) -> Iterator[tuple[Change, Judged, tuple[str, ...]]]:
    """Two changes together that clear more than either alone."""
    for i, (a, _, ca) in enumerate(kept):
        for b, _, cb in kept[i + 1 :]:
            if a.kind == b.kind or set(ca) == set(cb) or {a.kind, b.kind} == {"stands", "blocks"}:
                continue
            both = _both(a, b)
            quick = _quick(one, both)
            cleared = _cleared(before, _codes(quick))
            if len(cleared) > max(len(ca), len(cb)):
                yield both, quick, cleared


def _both(a: Change, b: Change) -> Change:
    day = replace(a.day, **{f: getattr(b.day, f) for f in _DAY_OF.get(b.kind, ())})
    turned = b if b.kind == "turn" else a
    return Change(
        "together", f"{a.says}, and {b.says}", 0.0, "", day, turned.climber, turned.placement,
        {**a.changes, **b.changes}, turned.laid,
    )  # fmt: skip


_DAY_OF = {"stands": ("stands",), "dry": ("surface",), "level": ("ground_deg",), "blocks": ("blocks",),
           "hitch": ("hitched",)}  # fmt: skip


def _singles(one: Rigs, plain: Change, done: Judged, bad: set[str]) -> Iterator[Change]:
    day, trailer = plain.day, one.trailers[0]
    fitted = bool(np.nan_to_num(done.columns["stands_fitted"]).max() > 0)
    if fitted and not day.stands:
        yield replace(plain, kind="stands", says="let the stands down", day=replace(day, stands=True))
    if day.surface == "wet":
        yield replace(plain, kind="dry", says="dry the ramps, or wait until they are", day=replace(day, surface="dry"))
    if day.ground_deg:
        yield replace(plain, kind="level", says="load on level ground", day=replace(day, ground_deg=0.0))
    if not day.blocks and bad & {"rig-lifts", "coupler-uplift", "truck-rear-light", "axle-while-loading"}:
        under = "under the stands, no gap left" if fitted and day.stands else "under the rear of the frame"
        yield replace(plain, kind="blocks", says=f"put blocks {under}", day=replace(day, blocks=True))
    if not day.hitched:
        yield replace(plain, kind="hitch", says="load it hitched to the truck", day=replace(day, hitched=True))
    turned = _turned(plain)
    if turned is not None:
        yield turned
    if way_kind(trailer) == "ramps" and bad & OF_SLOPE:
        longer = _longer(one, plain, done, bad)
        if longer is not None:
            yield longer
    yield from _stronger(plain, done, bad)


OF_SLOPE = {"climb-slope", "climb-grip", "belly-clearance", "nose-clearance", "tail-clearance", "tips-back",
            "uphill-light"}  # fmt: skip


def _turned(plain: Change) -> Change | None:
    """The other way round, its center of gravity over the same place."""
    found = turned(plain.placement, plain.climber)
    if found is None:
        return None
    placement, climber = found
    says = "back it up" if climber.facing == "rear-first" else "drive it up forward"
    return replace(plain, kind="turn", says=says, placement=placement, climber=climber, laid=None)


def _longer(one: Rigs, plain: Change, done: Judged, bad: set[str]) -> Change | None:
    """The shortest ramp, in half feet, with which whatever slope makes over is over no more."""
    now = float(np.ravel(done.columns["ramp_length_in"])[0])
    if math.isnan(now):
        return None

    lengths = np.arange(math.floor(now / RAMP_STEP_IN) + 1, LONGEST_RAMP_IN / RAMP_STEP_IN + 0.5) * RAMP_STEP_IN
    if not len(lengths):
        return None
    # All lengths at once, along the position axis.
    tried = _quick(one, replace(plain, changes={"ramp_length_in": lengths.reshape(1, -1, 1)})).judgement
    mine = [i for i, row in enumerate(tried.rows.rows) if row.check.id in bad & OF_SLOPE]
    clears = (np.broadcast_to(tried.codes[mine], (len(mine), 1, len(lengths))) != OVER).all(axis=(0, 1))
    if not clears.any():
        return None
    inches = float(lengths[int(np.argmax(clears))])
    return replace(
        plain, kind="ramps", says=f"use ramps {inches:,.0f} in long ({inches / 12:g} ft)", amount=inches, unit="in",
        changes={"ramp_length_in": np.full((1, 1, 1), inches)},
    )  # fmt: skip


def _stronger(plain: Change, done: Judged, bad: set[str]) -> Iterator[Change]:
    """Ramps, or a jack, rated for what they carry: another part, never another sticker."""
    for check, name, says in (
        ("ramp-pair", "ramp_rating_pair_lb", "use ramps rated {:,.0f} lb the pair"),
        ("ramp-each", "ramp_rating_each_lb", "use ramps rated {:,.0f} lb each"),
        ("jack-load", "jack_rating_lb", "use a jack rated {:,.0f} lb"),
    ):
        if check not in bad:
            continue
        row = next(i for i, r in enumerate(done.judgement.rows.rows) if r.check.id == check)
        need = float(done.judgement.rows.demand[row, 0, 0])
        if check == "jack-load":
            need /= float(np.ravel(done.columns["jack_count"])[0])
        rating = math.ceil(need / RATING_STEP_LB) * RATING_STEP_LB
        both = {name: np.full((1, 1, 1), rating)}
        if name == "ramp_rating_pair_lb" and "ramp-each" in bad:
            both["ramp_rating_each_lb"] = np.full((1, 1, 1), rating / 2)
        if check == "ramp-each" and "ramp-pair" in bad:
            continue
        yield replace(plain, kind="rating", says=says.format(rating), amount=rating, unit="lb", changes=both)
