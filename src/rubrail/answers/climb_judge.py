"""Judge one machine's climb: drive it as stated, drive it coarsely under every tolerance, and hold it to the limits.

What a tolerance changes is the difference of two coarse climbs, added to the fine one: it costs a fifth of driving
them all finely and leaves the stated values exact.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from rubrail.answers.climb_run import COARSE, OUTCOMES, STEPS, Run, outcomes, run
from rubrail.answers.climb_setup import Climber, Day, climb_columns
from rubrail.answers.climb_where import climb_where
from rubrail.answers.lines import lines_of
from rubrail.answers.report import Line, Need
from rubrail.answers.rig import Placement, Rigs
from rubrail.answers.settle import Asked
from rubrail.checks.judge import Judgement, judged
from rubrail.checks.registry import CHECKS, of_case
from rubrail.checks.tolerance import nudged
from rubrail.checks.verdict import NOT_KNOWN, WORDS
from rubrail.things.columns import Array, Columns
from rubrail.things.names import CLIMBER, COLUMNS, CONTACT, LOADING
from rubrail.things.rig_loading import way_kind

ROAD_INPUTS = (
    "trailer_empty_weight_lb", "trailer_empty_coupler_lb", "axle_x_in", "suspension_kind",
    "suspension_rate_lb_per_in", "deck_front_x_in", "deck_flat_length_in", "deck_height_in", "tail_length_in",
    "tail_drop_in", "coupler_height_in", "hitch_height_in", "hitch_ahead_in", "truck_wheelbase_in",
    "truck_front_axle_lb", "truck_rear_axle_lb", "gear_weight_lb", "gear_x_in", "item_weight_lb", "item_cg_in",
)  # fmt: skip
INPUTS = (*ROAD_INPUTS, *LOADING, *CLIMBER, *CONTACT)
"""Every raw column a climb rests on; a tolerance of any other does not reach it."""
FEW = 8
"""Even steps where it only matters whether anything is known."""


@dataclass(frozen=True)
class Judged:
    """One machine's climb, judged.

    run : as stated, on fine steps; ``None`` where no way leads up
    columns : what the checks were asked, tolerances along the sample axis
    """

    climber: Climber
    run: Run | None
    columns: Columns
    judgement: Judgement

    @property
    def verdict(self) -> str:
        """Verdict word of this climb."""
        return WORDS[int(self.judgement.verdict[0, 0])]


def judge_climb(
    one: Rigs,
    placement: Placement,
    climber: Climber,
    day: Day,
    *,
    tolerances: bool = True,
    changes: dict[str, Array] | None = None,
    steps: int = STEPS,
    laid: Columns | None = None,
) -> Judged:
    """Drive one machine up one trailer and judge it.

    Parameters
    ----------
    one : Rigs
        Of one trailer.
    placement : Placement
    climber : Climber
    day : Day
    tolerances : bool
        False takes every value as exact: a quick look, as remedies are sought by.
    changes : dict, optional
        Columns put in the place of the rig's own, to see what they would do.
    steps : int
        Even steps along the way.
    laid : Columns, optional
        As in ``climb_columns``.
    """
    columns = climb_columns(one, placement, climber, day, laid=laid).with_values(changes or {})
    kind = way_kind(one.trailers[0])
    spread = {n: v for n, v in columns.plus_minus.items() if n in INPUTS} if tolerances else {}
    columns = replace(columns, plus_minus=spread)
    way = {"kind": kind, "ground_rad": day.ground_rad, "stands": day.stands, "blocks": day.blocks}
    if kind in ("", "none"):
        nothing = {n: np.full((1, 1, 1, 1) if COLUMNS[n].per else (1, 1, 1), np.nan) for n in OUTCOMES}
        checks = [CHECKS["way-up"]]
        return Judged(climber, None, columns, judged(columns.with_values(nothing), (), checks=checks))
    stated = run(columns, **way, steps=steps)
    found = outcomes(stated)
    wide, nudges = nudged(columns)
    if nudges:
        rough = outcomes(run(wide, **way, steps=COARSE))
        with np.errstate(invalid="ignore"):
            found = {n: found[n] + (rough[n] - rough[n][..., :1]) for n in found}
    wide = wide.with_values(found)
    checks = [c for c in of_case("loading") if c.id not in _silent(kind, columns)]
    return Judged(climber, stated, wide, judged(wide, nudges, checks=checks))


def _silent(kind: str, columns: Columns) -> set[str]:
    """Checks that have nothing to ask here: of ramps where none are used."""
    of_ramps = {"ramp-pair", "ramp-each", "ramp-bending", "ramp-outside", "ramp-inside"}
    return of_ramps if kind == "tilt" or not np.nan_to_num(columns["ramp_count"], nan=1.0).max() > 0 else set()


def climb_lines(one: Rigs, placement: Placement, done: Judged, day: Day) -> tuple[Line, ...]:
    """The lines of one climb; an outcome that is not known is traced back to what was not written down."""
    where = climb_where(one, done.climber)
    lines = lines_of(done.judgement, done.columns, unit=0, asked=where)
    if done.run is None or all(x.verdict != WORDS[NOT_KNOWN] for x in lines):
        return lines
    causes = _causes(one, done, day, where)
    out = []
    for line in lines:
        needs: dict[str, Need] = {}
        for name in CHECKS[line.check].inputs if line.verdict == WORDS[NOT_KNOWN] else ():
            found = causes.get(name, ()) if name in OUTCOMES else [n for n in line.missing if n.name == name]
            needs |= {n.where: n for n in found}
        out.append(replace(line, missing=tuple(needs.values())))
    return tuple(out)


def _causes(one: Rigs, done: Judged, day: Day, where: Asked) -> dict[str, tuple[Need, ...]]:
    """For each outcome the inputs without which it stays unknown, whatever the others are."""
    stated = _first_sample(done.columns)
    unknown = [n for n in INPUTS if n in stated and n not in NO_PART and np.isnan(stated[n]).any()]
    way = {"kind": way_kind(one.trailers[0]), "ground_rad": day.ground_rad, "stands": day.stands, "blocks": day.blocks}
    found: dict[str, list[Need]] = {}
    if "contact_driven" in unknown:
        # Which axles drive is asked of the whole run, not position by position, and decides the grip alone.
        unknown.remove("contact_driven")
        found["climb_grip"] = [where("contact_driven", _member(stated, "contact_driven"))]
        stated = stated.with_values({"contact_driven": np.ones_like(stated["contact_driven"])})
    if not unknown:
        return {outcome: tuple(needs) for outcome, needs in found.items()}
    # One position for each of them: it alone not known, every other filled in.
    alone = np.where(np.eye(len(unknown)) > 0, np.nan, 0.0)
    trial = {
        n: np.where(np.isnan(stated[n]), FILLED.get(n, 30.0) + alone[k].reshape(1, -1, 1), stated[n])
        for k, n in enumerate(unknown)
    }
    dark = outcomes(run(stated.with_values(trial), **way, steps=FEW))
    for outcome, value in dark.items():
        lost = np.broadcast_to(np.isnan(value), (*value.shape[:-2], len(unknown), 1))
        for k, name in enumerate(unknown):
            if lost[..., k, :].any():
                found.setdefault(outcome, []).append(where(name, _member(stated, name)))
    return {outcome: tuple(needs) for outcome, needs in found.items()}


NO_PART = {
    "suspension_rate_lb_per_in", "machine_belly_in", "machine_lead_angle_rad", "machine_trail_angle_rad",
    "machine_slope_rad", "machine_gauge_in", "ramp_rating_each_lb", "ramp_rating_pair_lb", "ramp_yield_psi",
    "ramp_section_modulus_in3", "ramp_width_in", "ramp_gap_in", "ramp_loose", "jack_count", "jack_rating_lb",
}  # fmt: skip
"""Inputs that no outcome of a climb rests on: limits, and what has a usual figure in its place."""
FILLED = {
    "contact_at_in": 60.0, "contact_driven": 1.0, "suspension_kind": 0.0, "stands_fitted": 0.0, "ramp_count": 2.0,
    "ramp_length_in": 72.0, "truck_wheelbase_in": 160.0, "machine_tracked": 0.0, "deck_flat_length_in": 240.0,
}  # fmt: skip
"""Stand-ins for inputs not known, while it is asked which of them matter; any plausible number does."""


def _member(columns: Columns, name: str) -> int | None:
    if not COLUMNS[name].per:
        return None
    return int(np.flatnonzero(np.isnan(columns[name]).reshape(len(columns[name]), -1).any(axis=1))[0])


def _first_sample(columns: Columns) -> Columns:
    return replace(columns, values={n: v[..., :1] for n, v in columns.values.items()}, plus_minus={})
