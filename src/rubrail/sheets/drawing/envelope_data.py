"""An envelope as plain numbers, and how its axes are divided and told in words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rubrail.sheets.drawing.say import load, rise


@dataclass(frozen=True, slots=True)
class Curve:
    """An envelope as plain numbers.

    x_in
        Places, rising, inches rearward of the coupling point. Breakpoints are among them.
    weight_lb
        Greatest cargo weight at each; inf where nothing limits it.
    governing
        What governs from each place to the next; one a place, the last is not used.
    """

    x_in: Sequence[float]
    weight_lb: Sequence[float]
    governing: Sequence[str]

    def __post_init__(self) -> None:
        n = len(self.x_in)
        if n < 2 or len(self.weight_lb) != n or len(self.governing) != n:
            raise ValueError(f"a curve needs two or more places with a weight and a title each, got {n} places")

    def weight_at(self, x: float) -> float:
        """Greatest weight at a place, between the given places on a straight line; nan outside them."""
        for i in range(len(self.x_in) - 1):
            a, b = self.x_in[i], self.x_in[i + 1]
            if a <= x <= b and math.isinf(self.weight_lb[i] + self.weight_lb[i + 1]):
                return math.inf
            if a <= x <= b:
                share = (x - a) / (b - a) if b > a else 0.0
                return self.weight_lb[i] + share * (self.weight_lb[i + 1] - self.weight_lb[i])
        return math.nan

    def stretches(self) -> list[tuple[int, int, str]]:
        """First and last index of each stretch one limit governs, with its title."""
        out: list[tuple[int, int, str]] = []
        for i, title in enumerate(self.governing[:-1]):
            if out and out[-1][2] == title:
                out[-1] = (out[-1][0], i + 1, title)
            else:
                out.append((i, i + 1, title))
        return out


@dataclass(frozen=True, slots=True)
class CargoPoint:
    """The buyer's own cargo on the plot: where its center of gravity lies, what it weighs, how it fares."""

    x_in: float
    weight_lb: float
    verdict: str = ""
    title: str = "this cargo"


def axis_title(origin_title: str) -> str:
    """What the place axis counts."""
    return f"center of gravity of the cargo behind {origin_title}"


def round_step(step: float) -> float:
    """1, 2 or 5 times a power of ten, at least the step."""
    power = 10.0 ** math.floor(math.log10(max(step, 1e-9)))
    return next(m * power for m in (1.0, 2.0, 2.5, 5.0, 10.0) if m * power >= step - 1e-9)


def tape_step(step: float, *, metric: bool) -> float:
    """A step that reads well on a tape: whole feet in inches, or tens of centimeters."""
    steps = (10, 20, 50, 100, 200, 500) if metric else (6, 12, 24, 36, 48, 60, 72, 96, 120)
    return float(next((s for s in steps if s >= step), steps[-1]))


def described(curve: Curve, cargo: CargoPoint | None, origin: float, origin_title: str, *, metric: bool) -> str:
    """The envelope in words, stretch by stretch."""
    parts = []
    for start, stop, title in curve.stretches():
        a, b = (rise(curve.x_in[i] - origin, metric=metric) for i in (start, stop))
        p, q = (load(curve.weight_lb[i], metric=metric) for i in (start, stop))
        parts.append(f"From {a} to {b} behind {origin_title}: {p} to {q}, governed by {title}.")
    if cargo:
        words = f": {cargo.verdict}" if cargo.verdict else ""
        place = rise(cargo.x_in - origin, metric=metric)
        parts.append(f"{cargo.title}, {load(cargo.weight_lb, metric=metric)} at {place}{words}.")
    return " ".join(parts)
