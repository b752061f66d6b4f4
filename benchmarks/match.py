"""Match over big yards: all checks at once against the same checks one rig at a time.

Run: python benchmarks/match.py [--most 100000]. Prints ratios measured side by side in this one run, the cost of a
unit from 1,000 units up, and the greatest memory used. Nothing here is asserted; a ratio is what to look at.
"""

from __future__ import annotations

import argparse
import resource
import time
from pathlib import Path

import numpy as np

import rubrail.demo
from rubrail import load_yard, resolve
from rubrail.answers.match import match_columns
from rubrail.answers.placing import shifted
from rubrail.answers.rig import rigs
from rubrail.checks.rows import rows_of
from rubrail.things.columns import Columns

POSITIONS = 61
HAUL = "03-landscaper-track-loader"


def many(columns: Columns, count: int, rng: np.random.Generator) -> Columns:
    """The yard's units over and over, each with its own empty weight, rating and deck."""
    index = np.arange(count) % columns.units
    part = columns.take(index)
    jitter = rng.uniform(0.97, 1.03, (count, 1, 1))
    names = ("trailer_empty_weight_lb", "trailer_gvwr_lb", "deck_flat_length_in", "coupler_vertical_rating_lb")
    return part.with_values({n: part[n] * jitter for n in names})


def seconds(work) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def grid(columns: Columns, offsets: np.ndarray) -> Columns:
    """Every unit at the same positions along the deck, the first arrangement."""
    first = Columns({n: a[..., :1, :] for n, a in columns.values.items()}, {}, {})
    shift = np.linspace(60.0, 180.0, POSITIONS)[None, :]
    return shifted(first, offsets_in=offsets[:, :, :1], shift_in=np.broadcast_to(shift, (columns.units, POSITIONS)))


def all_at_once(columns: Columns, offsets: np.ndarray) -> None:
    """Every check for every unit and position, in blocks."""
    block = 400
    for start in range(0, columns.units, block):
        rows_of(grid(columns.take(slice(start, start + block)), offsets)).margin  # noqa: B018  every margin is asked for


def one_at_a_time(columns: Columns, offsets: np.ndarray, rig_count: int, rng: np.random.Generator) -> None:
    """The same checks for single rigs at single positions, in a plain loop."""
    for _ in range(rig_count):
        u, p = int(rng.integers(columns.units)), int(rng.integers(POSITIONS))
        one = grid(columns.take(slice(u, u + 1)), offsets)
        front = one["item_front_x_in"][:, :, p : p + 1]
        rows_of(one.with_values({"item_front_x_in": front})).margin  # noqa: B018


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--most", type=int, default=100_000)
    most = parser.parse_args().most
    rng = np.random.default_rng(1)
    yard = load_yard(Path(rubrail.demo.__file__).parent / "yard")
    laid = rigs(haul=resolve(yard.hauls[HAUL], yard), trailers=tuple(yard.trailers.values()))
    sample = 200
    base = many(laid.columns, 1_000, rng)
    loop = seconds(lambda: one_at_a_time(base, laid.offsets_in, sample, rng)) / sample
    print(f"one rig at a time: {loop * 1e6:,.0f} microseconds a rig and position")
    for count in (1_000, 10_000, 100_000):
        if count > most:
            continue
        columns = many(laid.columns, count, rng)
        wide = seconds(lambda c=columns: all_at_once(c, laid.offsets_in)) / (count * POSITIONS)
        placed = seconds(lambda c=columns: sum(1 for _ in match_columns(c, offsets_in=laid.offsets_in))) / count
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(
            f"{count:>7,} units x {POSITIONS} positions x all checks: {wide * 1e6:6.3f} us each, "
            f"{loop / wide:6,.0f} times the loop; match with tolerances {placed * 1e6:6.1f} us a unit; "
            f"memory {memory:,.0f} MiB"
        )


if __name__ == "__main__":
    main()
