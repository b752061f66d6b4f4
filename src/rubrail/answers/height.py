"""Deck height from the build, where nobody measured it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rubrail.quantity.basis import default_tolerance
from rubrail.rules.builds import DeckStack, deck_stack
from rubrail.things.columns import Columns
from rubrail.things.measure import Known
from rubrail.things.rigs import trailer_columns
from rubrail.things.trailer import Trailer

BASIS = "estimated"
"""Basis of a height added up from parts: a tape does better."""
WOOD = ("pine", "oak", "apitong", "rubber-infused plank")


def _number(value: Known) -> float | None:
    return None if value is None else value.number


def height_from_build(trailer: Trailer) -> DeckStack:
    """A trailer's deck height added up part by part, whether or not it was measured."""
    tires, frame = trailer.axle[0].tires, trailer.frame
    return deck_stack(
        loaded_radius_in=_number(tires.loaded_radius_in),
        tire=tires.size,
        axle_to_frame_in=_number(trailer.suspension.axle_to_frame_in),
        beam_depth_in=_number(frame.main_beam.depth_in),
        stacked=None if frame.build is None else frame.build == "stacked",
        crossmember_depth_in=_number(frame.crossmember.depth_in),
        crossmember_rise_in=_number(frame.crossmember_rise_in),
        deck_thickness_in=_number(frame.deck_thickness_in),
        planks=frame.deck_material in WOOD,
    )


def built_columns(trailers: Sequence[Trailer]) -> Columns:
    """Columns of trailers, deck heights that nobody measured added up from the build where the build is known."""
    columns = trailer_columns(trailers)
    height = np.array(columns["deck_height_in"], float)
    found = {i: height_from_build(trailers[i]).height_in for i in np.flatnonzero(np.isnan(height[:, 0, 0]))}
    found = {i: h for i, h in found.items() if not np.isnan(h)}
    if not found:
        return columns
    spread = np.array(np.broadcast_to(columns.plus_minus.get("deck_height_in", np.zeros_like(height)), height.shape))
    basis = np.array(
        np.broadcast_to(columns.basis.get("deck_height_in", np.full(height.shape, "", object)), height.shape)
    )
    for i, h in found.items():
        height[i], basis[i] = h, BASIS
        spread[i] = default_tolerance(kind="height", basis=BASIS, number=h)
    return Columns(
        {**columns.values, "deck_height_in": height},
        {**columns.plus_minus, "deck_height_in": spread},
        {**columns.basis, "deck_height_in": basis},
    )
