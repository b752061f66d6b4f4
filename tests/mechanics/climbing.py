"""Ways and machines for the tests of the climb."""

from __future__ import annotations

import numpy as np

from rubrail.mechanics.climb import Site
from rubrail.mechanics.climb_pose import Machine
from rubrail.mechanics.climb_ways import down_tail, over_ramps, up_tilt

A = np.asarray


def dovetail(**changes):
    """Deck at 34 in, 60-in tail down to 24 in, 60-in ramps."""
    given = {
        "deck_height_in": 34, "deck_front_x_in": 92, "flat_rear_x_in": 332, "rear_x_in": 392, "edge_height_in": 24,
        "ramp_length_in": 60,
    }  # fmt: skip
    return over_ramps(**{**given, **changes})


def straight(**changes):
    """Level deck, no tail."""
    return dovetail(**{"flat_rear_x_in": 392, "edge_height_in": 34, "ramp_length_in": 96, **changes})


def site(way, *, level=None, ground=0.0, rolling=0.0) -> Site:
    """A place to climb, without rolling resistance unless asked."""
    return Site(way, level, A(ground), A(rolling))


def tilt(**changes) -> Site:
    """A tilting deck at 26 in, 16 of 20 ft of which tilts to 12 degrees."""
    given = {
        "deck_height_in": 26, "deck_front_x_in": 60, "rear_x_in": 300, "tilt_length_in": 192,
        "tilt_angle_rad": np.radians(12),
    }  # fmt: skip
    way, level = up_tilt(**{**given, **changes})
    return site(way, level=level)


def lowered(**changes):
    """A tail of 9 ft let down to 4 in."""
    given = {
        "deck_height_in": 36, "deck_front_x_in": 90, "flat_rear_x_in": 380, "tail_length_in": 108,
        "lowered_height_in": 4,
    }  # fmt: skip
    return down_tail(**{**given, **changes})


def wheeled(*, weight=9_000.0, axles=(0.0, 84.0), radius=(26.0, 17.0), cg=34.0, high=36.0, drives=None) -> Machine:
    """A tractor of sorts."""
    return Machine(
        A(weight), A(cg), A(high), tuple(A(float(x)) for x in axles), tuple(A(float(r)) for r in radius), False,
        A(40.0), A(30.0), drives or (True,) * len(axles),
    )  # fmt: skip


def tracked(*, weight=10_000.0, length=64.0, cg=30.0, high=33.0) -> Machine:
    """A loader of sorts on tracks."""
    return Machine(
        A(weight), A(cg), A(high), (A(0.0), A(float(length))), (A(0.0), A(0.0)), True, A(36.0), A(22.0), (True, True)
    )
