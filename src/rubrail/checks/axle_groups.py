"""Every group of consecutive axles of the rig: how long, how loaded, and what the axle law allows it.

Axle places of the rig: truck front, truck rear, then the trailer's axles in order. Groups are numbered as in
``rules.bridge.consecutive_groups``.
"""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import quantity
from rubrail.rules import bridge

TRUCK_AXLES = 2
SPAN_DECIMALS = 6
"""Places of an inch a span is rounded to: the dust of adding binary fractions must not make more of 96 in."""


def rig_axle_name(member: int) -> str:
    """What an axle of the rig is called: ``truck rear``, ``trailer axle 1``."""
    return ("truck front", "truck rear")[member] if member < TRUCK_AXLES else f"trailer axle {member - 1}"


def axle_group_name(member: int) -> str:
    """What a group of consecutive axles is called: ``truck rear to trailer axle 2``."""
    last = next(n for n in range(1, member + 2) if n * (n + 1) // 2 > member)
    first = member - last * (last - 1) // 2
    return f"{rig_axle_name(first)} to {rig_axle_name(last)}"


def tandem_name(member: int) -> str:
    """What a group of the trailer's axles is called: ``trailer axle 1 to trailer axle 2``."""
    last = next(n for n in range(1, member + 2) if n * (n + 1) // 2 > member)
    first = member - last * (last - 1) // 2
    return f"{rig_axle_name(first + TRUCK_AXLES)} to {rig_axle_name(last + TRUCK_AXLES)}"


MEMBER_NAMES = {"rig axle": rig_axle_name, "axle group": axle_group_name, "tandem": tandem_name}
"""What the members of a check per axle of the rig, per axle group and per tandem are called."""


def _stack(*parts) -> np.ndarray:
    """Members of the rig one after the other; truck values have no member axis, the trailer's have."""
    trailer = np.asarray(parts[-1], float)
    shape = np.broadcast_shapes(*(np.shape(p) for p in parts[:-1]), trailer.shape[1:])
    rows = [np.broadcast_to(np.asarray(p, float), shape)[None] for p in parts[:-1]]
    return np.concatenate([*rows, np.broadcast_to(trailer, (trailer.shape[0], *shape))])


def _spans(x_in, present) -> np.ndarray:
    x, there = np.asarray(x_in, float), np.asarray(present, float)
    first, last = _ends(x.shape[0])
    both = there[first] * there[last]
    return np.where(both == 0, 0.0, _between(x[first], x[last]) + 0.0 * both)


def _ends(axles: int) -> tuple[list[int], list[int]]:
    """First and last axle of every group, each in the order of ``bridge.consecutive_groups``."""
    groups = bridge.consecutive_groups(axles=axles)
    return [first for first, _ in groups], [last for _, last in groups]


def _between(one_in, other_in) -> np.ndarray:
    return np.round(np.abs(other_in - one_in), SPAN_DECIMALS)


def _loads(load_lb, present) -> np.ndarray:
    load, there = np.asarray(load_lb, float), np.asarray(present, float)
    if (there != 1).any():
        load = np.where(there == 0, 0.0, load + 0.0 * there)
    axles, member = load.shape[0], 0
    sums = np.empty((axles * (axles - 1) // 2, *np.broadcast_shapes(load.shape[1:], there.shape[1:])))
    for last in range(1, axles):
        # Added up from the last axle forward, so that an unknown axle leaves the groups without it known.
        run = load[last]
        for first in range(last - 1, -1, -1):
            run = run + load[first]
            both = there[first] * there[last]
            sums[member + first] = run if (both == 1).all() else np.where(both == 0, 0.0, run)
        member += last
    return sums


@quantity(title="axle of the rig there", per="rig axle")
def rig_axle_present(*, axle_present):
    """1 for each axle place of the rig that has an axle; the truck's two always have."""
    return _stack(1.0, 1.0, axle_present)


@quantity(title="place of each axle of the rig, behind the front axle", per="rig axle")
def rig_axle_x_in(*, truck_wheelbase_in, hitch_ahead_in, axle_x_in):
    """Truck front axle to each axle of the rig: wheelbase, then the coupling point and the axle behind it. [in]"""
    coupling = np.asarray(truck_wheelbase_in, float) - hitch_ahead_in
    return _stack(0.0, truck_wheelbase_in, coupling + np.asarray(axle_x_in, float))


@quantity(title="load on each axle of the rig", per="rig axle")
def rig_axle_load_lb(*, truck_front_load_lb, truck_rear_load_lb, axle_load_lb):
    """Load on the truck's two axles and on each of the trailer's. [lb]"""
    return _stack(truck_front_load_lb, truck_rear_load_lb, axle_load_lb)


@quantity(title="length of an axle group", per="axle group")
def axle_span_in(*, rig_axle_x_in, rig_axle_present):
    """First to last axle of every group of consecutive axles; 0 where the rig has no such group. [in]"""
    return _spans(rig_axle_x_in, rig_axle_present)


@quantity(title="load on an axle group", per="axle group")
def axle_span_load_lb(*, rig_axle_load_lb, rig_axle_present):
    """Load on every group of consecutive axles; 0 where the rig has no such group. [lb]"""
    return _loads(rig_axle_load_lb, rig_axle_present)


@quantity(
    title="weight the axle law allows an axle group",
    per="axle group",
    sources=("USC-23-127", "FHWA-SIZE-WEIGHT", "BRIDGE-LENGTH"),
)
def axle_span_limit_lb(
    *, rig_axle_x_in, rig_axle_present, limit_single_axle_lb, limit_tandem_lb, limit_bridge_ties_up
):
    """What the law allows every group of consecutive axles, by its length and number of axles. [lb]

    ``inf`` where the rig has no such group, or where it is the trailer's own axles within 96 in. It depends on
    spacings alone, never on the load.

    References: USC-23-127, FHWA-SIZE-WEIGHT, BRIDGE-LENGTH.
    """
    x, there = np.asarray(rig_axle_x_in, float), np.asarray(rig_axle_present, float)
    first, last = _ends(x.shape[0])
    count, spans = np.cumsum(there, axis=0), _spans(x, there)
    pairs = np.zeros(spans.shape, bool)
    for g, (i, j) in enumerate(zip(first, last, strict=True)):
        if j - i == 3:
            pairs[g] = bridge.two_tandems(
                span_in=spans[g], first_pair_in=_between(x[i], x[i + 1]), last_pair_in=_between(x[j - 1], x[j])
            )
    limit = bridge.axle_group_limit_lb(
        span_in=spans,
        axle_count=count[last] - count[first] + there[first],
        single_axle_lb=limit_single_axle_lb,
        tandem_lb=limit_tandem_lb,
        ties_up=limit_bridge_ties_up,
        two_tandem=pairs,
    )
    # Close axles of the trailer are the tandem check's, which knows their spacing whatever the hitch.
    of_trailer = np.reshape(np.array(first) >= TRUCK_AXLES, (-1,) + (1,) * (spans.ndim - 1))
    limit = np.where(of_trailer & (spans <= bridge.TANDEM_WITHIN_IN), np.inf, limit)
    return np.where(there[first] * there[last] == 0, np.inf, limit + 0.0 * there[first] * there[last])


@quantity(title="length of a group of the trailer's axles", per="tandem")
def trailer_span_in(*, axle_x_in, axle_present):
    """First to last axle of every group of the trailer's axles; 0 where it has no such group. [in]"""
    return _spans(axle_x_in, axle_present) if np.shape(axle_x_in)[0] > 1 else np.zeros_like(axle_x_in)


@quantity(title="load on a group of the trailer's axles", per="tandem")
def trailer_span_load_lb(*, axle_load_lb, axle_present):
    """Load on every group of the trailer's axles; 0 where it has no such group. [lb]"""
    return _loads(axle_load_lb, axle_present) if np.shape(axle_load_lb)[0] > 1 else np.zeros_like(axle_load_lb)
