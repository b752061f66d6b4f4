"""A few rigs written as columns, and random ones, for tests that need no files."""

from __future__ import annotations

import numpy as np

from rubrail.things.columns import Columns
from rubrail.things.names import COLUMNS

BUMPER_PULL = {
    "coupling_kind": 0, "coupler_ball_size_in": 2.3125, "coupler_gross_rating_lb": 20_000,
    "coupler_vertical_rating_lb": 2_500, "coupler_height_in": 24, "coupler_height_min_in": 18,
    "coupler_height_max_in": 26, "trailer_gvwr_lb": 15_400, "trailer_advertised_lb": 15_400,
    "trailer_empty_weight_lb": 3_550, "trailer_empty_coupler_lb": 422, "suspension_kind": 0,
    "suspension_rate_lb_per_in": 2_000, "deck_kind": 1, "deck_front_x_in": 54, "deck_flat_length_in": 216,
    "tail_length_in": 24, "tail_drop_in": 4, "deck_width_in": 82, "between_fenders_in": 82, "deck_height_in": 24,
    "trailer_width_in": 102, "trailer_rear_x_in": 298, "trailer_front_x_in": 0, "chain_count": 2,
    "chain_strength_lb": 16_000, "breakaway_fitted": 1, "trailer_plug": 2, "built_year": 2026, "lamps_complete": 1,
    "tax_bed_center_x_in": 174,
    "axle_present": [1, 1], "axle_x_in": [185, 219], "axle_gawr_lb": [7_000, 7_000], "axle_braked": [1, 1],
    "axle_brake_kind": [1, 1], "axle_tire_count": [2, 2], "axle_tire_max_load_lb": [3_420, 3_420],
    "axle_tire_max_pressure_psi": [80, 80], "axle_tire_pressure_psi": [80, 80], "axle_tire_family": [0, 0],
    "axle_wheel_rating_lb": [3_750, 3_750],
    "truck_gvwr_lb": 10_000, "truck_gcwr_lb": 24_500, "truck_label_gcwr_lb": 0, "truck_front_gawr_lb": 5_600,
    "truck_rear_gawr_lb": 6_200, "truck_front_axle_lb": 4_600, "truck_rear_axle_lb": 3_150,
    "truck_wheelbase_in": 160, "truck_front_overhang_in": 38, "truck_width_in": 80,
    "truck_front_tire_load_lb": 3_195, "truck_rear_tire_load_lb": 3_195, "truck_rear_tire_count": 2,
    "truck_registered_lb": 26_000, "truck_tow_rating_lb": 18_000, "brake_controller_fitted": 1, "truck_plug": 2,
    "hitch_present": 1, "hitch_ahead_in": -58, "hitch_height_in": 22, "hitch_ball_size_in": 2.3125,
    "hitch_gross_rating_lb": 18_500, "hitch_vertical_rating_lb": 1_850, "weight_distribution": 0,
    "front_restoration": 0, "gear_weight_lb": [0], "gear_x_in": [0],
    "item_present": [1], "item_weight_lb": [11_300], "item_front_x_in": [117.7], "item_cg_in": [60],
    "item_length_in": [140], "item_contact_front_in": [30], "item_contact_rear_in": [90], "item_width_in": [72],
    "item_contact_width_in": [70], "item_height_in": [84],
    "use": 1, "interstate": 0, "license_held": 0, "limit_width_in": 102, "limit_height_in": 162,
    "limit_combination_length_in": 780, "limit_trailer_length_in": 576, "limit_rear_overhang_in": 48,
    "limit_single_axle_lb": 20_000, "limit_tandem_lb": 34_000, "limit_bridge_ties_up": 0, "limit_gross_lb": 80_000,
    "limit_brake_exempt_lb": 3_000, "limit_breakaway_exempt_lb": 3_000,
}  # fmt: skip
"""The landscaper's rig B of the trade notes, S1: invented, its arithmetic worked by hand there."""


def columns(plus_minus: dict | None = None, **changes) -> Columns:
    """One rig as columns of shape ``(1, 1, 1)``, members in front."""

    def shaped(name: str, value) -> np.ndarray:
        flat = np.atleast_1d(np.asarray(value, float))
        return flat.reshape((-1, 1, 1, 1) if COLUMNS[name].per else (1, 1, 1))

    values = {n: shaped(n, v) for n, v in {**BUMPER_PULL, **changes}.items()}
    return Columns(values, {n: shaped(n, v) for n, v in (plus_minus or {}).items()})


def random_columns(rng: np.random.Generator, *, pieces: int = 1) -> Columns:
    """A random plausible bumper-pull rig with some pieces of cargo, every value known."""
    axle = rng.uniform(170, 240)
    gawr = float(rng.choice([3_500, 5_200, 7_000, 8_000]))
    empty = rng.uniform(2_000, 4_500)
    lengths = rng.uniform(40, 110, pieces)
    return columns(
        trailer_empty_weight_lb=empty,
        trailer_empty_coupler_lb=empty * rng.uniform(0.08, 0.15),
        trailer_gvwr_lb=2 * gawr * rng.uniform(0.95, 1.12),
        axle_x_in=[axle - 17, axle + 17],
        axle_gawr_lb=[gawr, gawr],
        suspension_kind=float(rng.integers(0, 2)),
        hitch_height_in=rng.uniform(16, 27),
        weight_distribution=float(rng.integers(0, 2)),
        front_restoration=rng.uniform(0, 1),
        hitch_wd_gross_rating_lb=20_000,
        hitch_wd_vertical_rating_lb=2_000,
        coupler_vertical_rating_lb=rng.uniform(1_000, 3_000),
        truck_rear_axle_lb=rng.uniform(2_800, 4_000),
        axle_tire_pressure_psi=[float(rng.choice([50, 65, 80]))] * 2,
        item_present=[1.0] * pieces,
        item_weight_lb=rng.uniform(800, 12_000 / pieces, pieces),
        item_front_x_in=rng.uniform(60, 150, pieces),
        item_cg_in=lengths * rng.uniform(0.35, 0.65, pieces),
        item_length_in=lengths,
        item_contact_front_in=lengths * 0.2,
        item_contact_rear_in=lengths * 0.8,
        item_width_in=[70.0] * pieces,
        item_contact_width_in=[66.0] * pieces,
        item_height_in=[80.0] * pieces,
    )
