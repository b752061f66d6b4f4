"""Many random rigs at once, every value known where it matters and nan where it does not."""

from __future__ import annotations

import numpy as np

from rubrail.things.columns import Columns

AXLES, ITEMS, GEAR = 4, 3, 3


def many_rigs(rng: np.random.Generator, count: int) -> Columns:
    """``count`` rigs of every kind: 1 to 4 axles, 0 to 3 pieces, torsion or equalized, spring bars or none."""

    def unit(low, high):
        return rng.uniform(low, high, (count, 1, 1))

    def member(n, low, high):
        return rng.uniform(low, high, (n, count, 1, 1))

    axles = rng.integers(1, AXLES + 1, (count, 1, 1))
    axle_present = (np.arange(AXLES)[:, None, None, None] < axles).astype(float)
    axle_x = unit(120, 420) + member(AXLES, 30, 60).cumsum(axis=0)
    pieces = rng.integers(0, ITEMS + 1, (count, 1, 1))
    item_present = (np.arange(ITEMS)[:, None, None, None] < pieces).astype(float)
    gear_weight = member(GEAR, 0, 500) * rng.integers(0, 2, (GEAR, count, 1, 1))
    kind = rng.integers(0, 4, (count, 1, 1)).astype(float)
    distributing = ((kind == 0) & (rng.random((count, 1, 1)) < 0.5)).astype(float)
    independent = rng.integers(0, 2, (count, 1, 1)).astype(float)
    ahead = np.where(kind % 3 == 0, unit(-80, -36), unit(-2, 8))

    def of(present, value):
        return np.where(present == 1, value, np.nan)

    return Columns(
        {
            "coupling_kind": kind,
            "trailer_empty_weight_lb": (empty := unit(900, 12_000)),
            "trailer_empty_coupler_lb": empty * unit(0.02, 0.35),
            "axle_present": axle_present,
            "axle_x_in": of(axle_present, axle_x),
            "suspension_kind": independent,
            "suspension_rate_lb_per_in": np.where(independent == 1, unit(800, 8_000), np.nan),
            "hitch_height_in": unit(16, 52),
            "coupler_height_min_in": (low := unit(16, 44)),
            "coupler_height_max_in": low + unit(0, 8),
            "item_present": item_present,
            "item_weight_lb": of(item_present, member(ITEMS, 100, 20_000)),
            "item_front_x_in": of(item_present, member(ITEMS, 40, 400)),
            "item_cg_in": of(item_present, member(ITEMS, 10, 120)),
            "weight_distribution": distributing,
            "front_restoration": np.where(distributing == 1, unit(0, 1), np.nan),
            "hitch_ahead_in": ahead,
            "truck_wheelbase_in": unit(120, 230),
            "truck_front_axle_lb": unit(2_000, 12_000),
            "truck_rear_axle_lb": unit(1_500, 12_000),
            "gear_weight_lb": gear_weight,
            "gear_x_in": np.where(gear_weight == 0, np.nan, member(GEAR, 20, 220)),
        }
    )
