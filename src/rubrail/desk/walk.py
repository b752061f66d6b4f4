"""A walk around a unit as its pages need it: the unit, the haul the address names, and every station in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.utils.safestring import mark_safe

from rubrail.answers.walk_parts import Walk
from rubrail.desk.models import Haul, Unit
from rubrail.sheets.drawing.walk_strip import walk_strip
from rubrail.sheets.paper.walk import pins_of
from rubrail.sheets.sentences_walk import StationSaid, walk_said, walk_sentence
from rubrail.things.trailer import Trailer

STRIPS = {"wide": 1080.0, "narrow": 328.0, "on-paper": 700.0}
OFFERED = 40
"""Hauls offered to walk for: the latest, which is where a walk's haul is."""


@dataclass(frozen=True)
class Walked:
    """One walk. haul : nothing without one; fault : why the haul asked for is not walked for, ``""`` where it is."""

    unit: Unit
    trailer: Trailer
    haul: Haul | None
    walk: Walk
    asks: str
    fault: str
    metric: bool

    @property
    def said(self) -> tuple[StationSaid, ...]:
        """Every station in words."""
        return walk_said(self.walk, metric=self.metric)

    @property
    def sentence(self) -> str:
        """The first sentence of the walk."""
        return walk_sentence(self.walk)


def strips(it: Walked) -> dict[str, str]:
    """The unit with its stations pinned to it, for each width it is shown at."""
    pins = pins_of(it.said)
    return {size: mark_safe(walk_strip(it.trailer, pins, width_px=width)) for size, width in STRIPS.items()}


def hauls_offered(haul: Haul | None) -> list[dict[str, Any]]:
    """Hauls to walk for, the one of this walk among them."""
    offered = list(Haul.objects.filter(closed=False)[:OFFERED])
    if haul is not None and haul not in offered:
        offered.insert(0, haul)
    return [{"pk": h.pk, "says": str(h), "on": h == haul} for h in offered]
