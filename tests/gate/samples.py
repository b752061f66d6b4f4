"""Plausible random inputs for any column or quantity, by its name alone."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import QUANTITIES
from rubrail.things.names import CODES, COLUMNS, unit_of

MEMBERS = 3
RANGES = {"lb": (500, 30_000), "in": (10, 400), "psi": (35, 125), "rad": (-0.02, 0.02), "lb/in": (1_000, 6_000)}
SPECIAL = {
    "axle_tire_count": (2, 4),
    "chain_count": (0, 1, 2),
    "truck_rear_tire_count": (2, 4),
    "built_year": (2019, 2026),
    "front_restoration": (0.0, 0.5, 1.0),
    "hitch_ahead_in": (-60.0, -48.0, 0.0, 4.0),
    "coupler_ball_size_in": (2.0, 2.3125, 3.0),
    "hitch_ball_size_in": (2.0, 2.3125, 3.0),
    "truck_label_gcwr_lb": (0.0, 24_000.0, 30_000.0),
    "truck_wheelbase_in": (140.0, 160.0, 176.0),
    "coupler_height_in": (18.0, 20.0, 24.0),
    "hitch_height_in": (12.0, 18.0, 20.0, 24.0, 28.0),
    "coupler_load_lb": (-400.0, 0.0, 1_500.0, 6_000.0),
    "trailer_gross_lb": (2_500.0, 7_000.0, 14_000.0, 30_000.0, 36_000.0),
    "combination_gross_lb": (12_000.0, 26_000.0, 60_000.0, 84_000.0),
    "coupler_height_min_in": (14.0, 16.0),
    "coupler_height_max_in": (24.0, 26.0),
    "secured_weight_lb": (900.0, 4_000.0, 9_999.0, 10_000.0, 18_000.0),
    "secured_accessory_count": (0.0, 1.0, 2.0),
    "tiedown_line_factor": (3.0, 4.0),
    "tiedown_anchor_y_in": (-48.0, -40.0, 40.0, 48.0),
    "tiedown_counted_lb": (0.0, 500.0, 2_500.0, 3_300.0),
    "tiedowns_needed_count": (1.0, 2.0, 4.0, 6.0),
    "tiedown_count": (0.0, 2.0, 4.0, 6.0),
    "accessory_tiedown_count": (0.0, 1.0, 2.0),
    "deck_friction": (0.2, 0.3, 0.5),
    "ramp_count": (0.0, 1.0, 2.0),
    "ramp_section_modulus_in3": (0.5, 2.0, 6.0),
    "climb_ramp_moment_lb_in": (9_000.0, 200_000.0),
    "ramp_yield_psi": (20_000.0, 36_000.0),
    "ramp_gap_in": (0.0, 38.0, 60.0),
    "ramp_width_in": (12.0, 24.0),
    "machine_gauge_in": (20.0, 28.0, 40.0),
    "climb_uphill_lb": (-300.0, 200.0, 3_000.0),
    "climb_coupler_least_lb": (-2_400.0, -100.0, 400.0),
    "climb_slope_rad": (0.15, 0.26, 0.4),
    "machine_slope_rad": (0.2, 0.26, 0.5),
    "climb_nose_rad": (0.0, 0.2, 0.4),
    "climb_tail_rad": (0.0, 0.2, 0.4),
    "machine_lead_angle_rad": (0.3, 0.5),
    "machine_trail_angle_rad": (0.3, 0.5),
    "climb_grip": (0.1, 0.3, 0.5),
    "surface_grip": (0.2, 0.4),
    "jack_count": (1.0, 2.0),
}


def member_axis(name: str) -> str:
    """Member axis of a column or quantity, ``""`` for none."""
    return COLUMNS[name].per if name in COLUMNS else QUANTITIES[name].per


def sample(name: str, rng: np.random.Generator, shape: tuple[int, ...] = ()) -> np.ndarray:
    """Random plausible values of one input; a member axis comes in front where the name has one."""
    full = (MEMBERS, *shape) if member_axis(name) else shape
    if name.endswith("_present") and member_axis(name):
        present = np.ones(full)
        present[-1] = rng.integers(0, 2, shape)
        return present
    if name in ("axle_x_in",):
        first = rng.uniform(150, 260, shape)
        return first + 36.0 * np.arange(MEMBERS).reshape((-1,) + (1,) * len(shape))
    codes = COLUMNS[name].codes if name in COLUMNS else ""
    if codes:
        return rng.integers(0, len(CODES[codes]), full).astype(float)
    if name in SPECIAL:
        return rng.choice(np.array(SPECIAL[name], float), full)
    unit = unit_of(name)
    if unit in RANGES:
        return np.round(rng.uniform(*RANGES[unit], full), 1 if unit != "rad" else 6)
    return rng.integers(0, 2, full).astype(float)


def inputs(names: tuple[str, ...], rng: np.random.Generator, shape: tuple[int, ...] = ()) -> dict[str, np.ndarray]:
    """One random set of inputs for a function's parameters."""
    return {n: sample(n, rng, shape) for n in names}
