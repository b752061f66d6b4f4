"""A corner as people type it: two lane widths, a curb, an angle."""

from __future__ import annotations

import math
from collections.abc import Mapping

from rubrail.mechanics.turning_fit import Corner
from rubrail.quantity.parse import UnreadableError, parse_quantity
from rubrail.quantity.show import show

FIELDS = {
    "angle": ("how far it turns", "deg", 5.0, 170.0, "90"),
    "entry": ("width of the lane in", "in", 72.0, 1200.0, "12 ft"),
    "exit": ("width of the lane out", "in", 72.0, 1200.0, "20 ft"),
    "curb": ("radius of the inner curb", "in", 0.0, 1200.0, "15 ft"),
}
"""Each field: what it is, its unit, least and greatest, and what to offer first."""


class CornerError(ValueError):
    """Text that is no corner; ``faults`` holds a sentence for each field at fault."""

    def __init__(self, faults: Mapping[str, str]) -> None:
        super().__init__(" ".join(faults.values()))
        self.faults = dict(faults)


def read_corner(texts: Mapping[str, str], *, called: Mapping[str, str] | None = None, metric: bool = False) -> Corner:
    """The corner that texts describe.

    Parameters
    ----------
    texts : mapping
        A text for each of ``FIELDS``; a plain number is in degrees or inches.
    called : mapping, optional
        What to call the fields in a fault; their own words otherwise.
    metric : bool
        Whether faults say lengths in meters.

    Raises
    ------
    CornerError
        If any text cannot be read or is out of range: every fault at once.
    """
    values, faults = {}, {}
    for name, (says, unit, low, high, example) in FIELDS.items():
        label = (called or {}).get(name, says)
        text = texts.get(name, "")
        such = show(parse_quantity(example, unit), unit, metric=True, decimals=1) if metric else example
        wanted = f"{_said(low, unit, metric)} to {_said(high, unit, metric)}, such as {such!r}"
        try:
            value = parse_quantity(text, unit)
        except UnreadableError as reason:
            faults[name] = f"{label} must be {wanted}, got {text!r}: it {reason}."
            continue
        if not low <= value <= high:
            faults[name] = f"{label} must be {wanted}, got {text!r}."
        values[name] = value
    if faults:
        raise CornerError(faults)
    return Corner(math.radians(values["angle"]), values["entry"], values["exit"], values["curb"])


def _said(value: float, unit: str, metric: bool) -> str:
    if unit == "deg":
        return f"{value:g} degrees"
    return show(value, unit, metric=True) if metric else f"{value / 12:g} ft"
