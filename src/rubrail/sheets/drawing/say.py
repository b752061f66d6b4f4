"""Numbers as the drawings letter them; nan is ``not known``."""

from __future__ import annotations

import math

from rubrail.sheets.sentences_amounts import amount, feet

_LONG_IN = 120.0
NOT_KNOWN = "not known"


def run(value_in: float, *, metric: bool = False) -> str:
    """A length along the trailer: inches, from ten feet on in feet and inches, or meters."""
    if math.isnan(value_in):
        return NOT_KNOWN
    return feet(value_in, metric=metric) if metric or abs(value_in) >= _LONG_IN else amount(round(value_in, 1), "in")


def rise(value_in: float, *, metric: bool = False) -> str:
    """A height or a width: inches, millimeters or meters."""
    return amount(value_in, "in", metric=metric)


def load(value_lb: float, *, metric: bool = False) -> str:
    """A weight: pounds or kilograms."""
    return amount(value_lb, "lb", metric=metric)


def place(value_in: float, *, metric: bool = False) -> str:
    """Where a piece of cargo goes, as closely as it can be put there: whole inches or centimeters."""
    step = 10 / 25.4 if metric else 1.0
    return amount(round(value_in / step) * step, "in", metric=metric)
