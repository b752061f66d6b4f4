"""What the law counts of tie-downs: working load limits, shares that count, how many there must be.

The regulation's halves govern; the handbook's end sections and the other published readings are functions of their
own, so that an answer can show them beside the law and never mix them with it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.rules.tables import by_code, column, figure, table

TABLE = "securement"
DIRECTIONS = tuple(row["direction"] for row in table(TABLE)["rows"])
"""Where the piece would go, in the order of every direction axis."""
INCHES_PER_FOOT = 12.0


def _unknown_where(value: NDArray[np.float64], *inputs: ArrayLike) -> NDArray[np.float64]:
    """``value``, or ``nan`` where an input is not known."""
    return value + 0.0 * sum(np.asarray(i, float) for i in inputs)


def aggregate_needed_lb(*, weight_lb: ArrayLike) -> NDArray[np.float64]:
    """Working load limits that tie-downs must add up to: half the article's weight. [lb]

    References
    ----------
    CFR-49-393.106
    """
    return figure(TABLE, "aggregate_share") * np.asarray(weight_lb, float)


def credit(*, path: ArrayLike) -> NDArray[np.float64]:
    """Share of a tie-down's working load limit that counts: half direct or on one side, full over to the other.

    Parameters
    ----------
    path : array_like
        0 direct, 1 round to the same side, 2 over to the other side.

    References
    ----------
    CFR-49-393.106
    """
    return by_code(path, [figure(TABLE, f"{n}_credit") for n in ("direct", "same_side", "over")])


def end_section_credit(*, path: ArrayLike) -> NDArray[np.float64]:
    """The same by end sections: half for each end on an anchor of the vehicle and each on the cargo.

    A direct tie-down then counts in full. Guidance, shown beside the law and never in its place.

    References
    ----------
    FMCSA-HANDBOOK, NSC-10
    """
    ends = 2.0 * figure(TABLE, "end_section_credit")
    return by_code(path, [ends, ends, ends])


def tiedown_wll_lb(*, parts_lb: ArrayLike) -> NDArray[np.float64]:
    """Working load limit of a tie-down: that of its weakest part, anchor points included. [lb]

    Parameters
    ----------
    parts_lb : array_like
        Limits of chain or strap, hooks, binder and anchors, along the first axis. [lb]

    References
    ----------
    CFR-49-393.108
    """
    return np.asarray(parts_lb, float).min(axis=0)


def count_by_length(*, length_in: ArrayLike, weight_lb: ArrayLike, blocked_forward: ArrayLike) -> NDArray[np.float64]:
    """Least number of tie-downs by an article's length and weight.

    Parameters
    ----------
    length_in, weight_lb : array_like
        Of the article. [in], [lb]
    blocked_forward : array_like
        1 where a headboard, bulkhead, other secured cargo or blocking keeps it from going forward.

    References
    ----------
    CFR-49-393.110
    """
    length = np.asarray(length_in, float) / INCHES_PER_FOOT
    weight, blocked = np.asarray(weight_lb, float), np.asarray(blocked_forward, float)
    each = figure(TABLE, "each_ft")
    short = length <= figure(TABLE, "short_article_ft")
    first = np.where(short, np.where(weight <= figure(TABLE, "light_article_lb"), 1.0, 2.0), 2.0)
    first = np.where(short & np.isnan(weight), np.nan, first)
    free = first + np.ceil(np.maximum(length - each, 0.0) / each - 1e-9)
    held = np.maximum(np.ceil(length / each - 1e-9), 1.0)
    count = np.where(blocked == 1, held, free)
    return np.where(np.isnan(length + blocked), np.nan, count)


def machine_rule_applies(*, weight_lb: ArrayLike, is_machine: ArrayLike) -> NDArray[np.float64]:
    """1 where the rule for machines on wheels or tracks applies: from 10,000 lb, exactly 10,000 included.

    References
    ----------
    CFR-49-393.130
    """
    weight, machine = np.asarray(weight_lb, float), np.asarray(is_machine, float)
    heavy = np.where(np.isnan(weight), np.nan, weight >= figure(TABLE, "machine_from_lb"))
    return np.where(machine == 0, 0.0, heavy + 0.0 * machine)


def machine_rule_by_handbook(*, weight_lb: ArrayLike) -> NDArray[np.float64]:
    """1 where the handbook's wording has it apply: above 10,000 lb.

    References
    ----------
    FMCSA-HANDBOOK
    """
    weight = np.asarray(weight_lb, float)
    return np.where(np.isnan(weight), np.nan, weight > figure(TABLE, "machine_from_lb"))


def vehicle_rule_applies(*, weight_lb: ArrayLike, is_vehicle: ArrayLike) -> NDArray[np.float64]:
    """1 where the rule for automobiles, light trucks and vans applies: to 10,000 lb.

    References
    ----------
    CFR-49-393.128
    """
    weight, vehicle = np.asarray(weight_lb, float), np.asarray(is_vehicle, float)
    light = np.where(np.isnan(weight), np.nan, weight <= figure(TABLE, "machine_from_lb"))
    return np.where(vehicle == 0, 0.0, light + 0.0 * vehicle)


def tiedowns_needed(
    *,
    length_in: ArrayLike,
    weight_lb: ArrayLike,
    blocked_forward: ArrayLike,
    is_machine: ArrayLike,
    is_vehicle: ArrayLike,
) -> NDArray[np.float64]:
    """Least number of tie-downs: by length, and by the rule for machines or for vehicles where one applies.

    References
    ----------
    CFR-49-393.110, CFR-49-393.128, CFR-49-393.130
    """
    by_length = count_by_length(length_in=length_in, weight_lb=weight_lb, blocked_forward=blocked_forward)
    machine = machine_rule_applies(weight_lb=weight_lb, is_machine=is_machine)
    vehicle = vehicle_rule_applies(weight_lb=weight_lb, is_vehicle=is_vehicle)
    of_kind = np.maximum(figure(TABLE, "machine_count") * machine, figure(TABLE, "vehicle_count") * vehicle)
    return np.maximum(by_length, of_kind)


def friction_mat_lb(*, weight_on_mat_lb: ArrayLike) -> NDArray[np.float64]:
    """What a friction mat without its maker's rating resists: half the weight resting on it. [lb]

    References
    ----------
    CFR-49-393.108
    """
    return figure(TABLE, "friction_mat_share") * np.asarray(weight_on_mat_lb, float)


def front_structure_lb(*, weight_lb: ArrayLike, height_in: ArrayLike) -> NDArray[np.float64]:
    """Forward load a front-end structure withstands: half the cargo's weight below 6 ft, 40 percent from there. [lb]

    References
    ----------
    CFR-49-393.114
    """
    height = np.asarray(height_in, float)
    low = height < INCHES_PER_FOOT * figure(TABLE, "structure_low_ft")
    share = np.where(low, figure(TABLE, "structure_low_share"), figure(TABLE, "structure_high_share"))
    return _unknown_where(share * np.asarray(weight_lb, float), height)


def required_g(*, criterion: str) -> NDArray[np.float64]:
    """Accelerations to hold, one for each of ``DIRECTIONS``, as shares of the weight.

    Parameters
    ----------
    criterion : str
        ``working`` (below the working load limit), ``breaking`` (below breaking strength), or ``quebec`` (the model
        standard's full values held at the working load limit).

    References
    ----------
    CFR-49-393.102, QC-C-24.2-R30
    """
    return column(TABLE, f"{criterion}_g")
