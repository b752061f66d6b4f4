"""Weight lines the trade shops by: how heavy a trailer's label may read and still stay below them.

By the ratings on the labels alone. What a rig weighs, what it is used for and the state may change each of them, and
the haul's own answer says so; here they only narrow a list.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rubrail.quantity.show import show
from rubrail.rules.excise import UNTAXED_TO_LB
from rubrail.rules.license import CARRIER_FROM_LB, LICENSE_FROM_LB, LICENSE_TOWED_OVER_LB


class NeedsTruckError(ValueError):
    """The line counts truck and trailer together, and nobody said what the truck is rated for."""


@dataclass(frozen=True, slots=True)
class WeightLine:
    """A line: its key in addresses, what to stay below, and whether the truck counts too."""

    key: str
    word: str
    with_truck: bool


LICENSE = WeightLine("license", "no group A license", with_truck=True)
CARRIER = WeightLine("carrier", "below the carrier rules", with_truck=True)
EXCISE = WeightLine("excise", "no federal excise tax", with_truck=False)
LINES = (LICENSE, CARRIER, EXCISE)
BY_KEY = {line.key: line for line in LINES}


def most_gvwr_lb(line: WeightLine, *, truck_gvwr_lb: float | None) -> float:
    """The greatest label GVWR of a trailer that stays below a line; negative where none does. [lb]

    Parameters
    ----------
    line : WeightLine
    truck_gvwr_lb : float or None
        Label GVWR of the truck; ``None`` where it is not known. [lb]

    Raises
    ------
    NeedsTruckError
        If the line cannot be told without the truck.

    References
    ----------
    CFR-49-383.91, CFR-49-390.5, USC-26-4051
    """
    if line is EXCISE:
        return UNTAXED_TO_LB
    if line is LICENSE:
        # A light trailer asks for no group A license behind whatever truck; the figures are where a duty begins.
        together = -math.inf if truck_gvwr_lb is None else LICENSE_FROM_LB - 1 - truck_gvwr_lb
        return max(LICENSE_TOWED_OVER_LB, together)
    if truck_gvwr_lb is None:
        raise NeedsTruckError("The carrier rules count truck and trailer together: give the truck's label GVWR.")
    return CARRIER_FROM_LB - 1 - truck_gvwr_lb


def line_says(line: WeightLine, *, truck_gvwr_lb: float | None, metric: bool = False) -> str:
    """What staying below a line comes to, in words.

    Raises
    ------
    NeedsTruckError
        As ``most_gvwr_lb``.
    """
    most = most_gvwr_lb(line, truck_gvwr_lb=truck_gvwr_lb)
    behind = ""
    if line.with_truck:
        known = truck_gvwr_lb is not None
        behind = f" behind a truck of {show(truck_gvwr_lb, 'lb', metric=metric)}" if known else " behind any truck"
    if most < 0:
        return f"{line.word}{behind}: no trailer stays below"
    return f"{line.word}{behind}: label GVWR at most {show(most, 'lb', metric=metric)}"
