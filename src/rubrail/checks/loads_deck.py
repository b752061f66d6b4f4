"""Quantities of the deck and of what stands on it: ends, width, height."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import quantity
from rubrail.mechanics.members import of_present


@quantity(
    title="rear edge of the deck, behind the coupling point",
    formula="deck_front_x_in + deck_flat_length_in + tail_length_in",
)
def deck_rear_x_in(*, deck_front_x_in, deck_flat_length_in, tail_length_in):
    """Coupling point to the rear edge of the deck, tail included. [in]"""
    return deck_front_x_in + deck_flat_length_in + tail_length_in


LEVEL_DROP_IN = 1.0
"""A tail that lowers may lie this far off level as it travels: what a tape can tell, common practice, no source."""


@quantity(
    title="rear end of the level deck, behind the coupling point",
    formula=(
        "deck_front_x_in + deck_flat_length_in"
        " + where(tail_length_in == 0, 0, where(tail_drop_in <= 1, tail_length_in, 0))"
    ),
)
def deck_flat_rear_x_in(*, deck_front_x_in, deck_flat_length_in, tail_length_in, tail_drop_in):
    """Coupling point to where the level deck ends; a tail dropping an inch at most counts as level. [in]"""
    length, drop = np.asarray(tail_length_in, float), np.asarray(tail_drop_in, float)
    tail = np.where(length == 0, 0.0, np.where(drop <= LEVEL_DROP_IN, length, 0.0 * (length + drop)))
    return np.asarray(deck_front_x_in, float) + deck_flat_length_in + tail


@quantity(title="widest piece of cargo", formula="max(where(item_present == 0, 0, item_width_in))")
def cargo_width_in(*, item_present, item_width_in):
    """Width of the widest piece as carried; 0 without cargo. [in]"""
    return of_present(present=item_present, value=item_width_in).max(axis=0)


@quantity(
    title="overall height, loaded",
    formula=(
        "deck_height_in + max(where(item_present == 0, 0, item_height_in + coupler_raise_in"
        " - min(trim_rad * item_front_x_in, trim_rad * item_rear_x_in)))"
    ),
    sources=("SPRING-AXLES",),
)
def overall_height_in(
    *, deck_height_in, item_present, item_height_in, item_front_x_in, item_rear_x_in, coupler_raise_in, trim_rad
):
    """Ground to the highest point of deck and cargo as hitched. [in]

    A piece stands on the deck at its level height, lifted by the trim at whichever of its ends trim lifts more.
    What the springs and tires give under the load is not taken off.

    References
    ----------
    SPRING-AXLES
    """
    trim = np.asarray(trim_rad, float)
    lift = coupler_raise_in - np.minimum(trim * item_front_x_in, trim * item_rear_x_in)
    top = of_present(present=item_present, value=np.asarray(item_height_in, float) + lift)
    return np.asarray(deck_height_in, float) + top.max(axis=0)
