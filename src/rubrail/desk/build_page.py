"""What a build's page shows: its drawing, its figures, its options group by group, how it stands for a haul."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.utils.safestring import mark_safe

from rubrail.answers.cheapest import Cheapest
from rubrail.answers.weigh import weigh
from rubrail.desk.builds import OF_GROUP, OPTION, Chosen, address, payload_lb, ways_out
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Haul
from rubrail.sheets.drawing import side_view
from rubrail.sheets.sentences import by_name, weighing_sentence
from rubrail.sheets.sentences_build import cheapest_sentence, forced_sentence
from rubrail.sheets.sentences_lines import line_sentence
from rubrail.sheets.sentences_words import begin
from rubrail.things.catalog import Option
from rubrail.things.faults import Faults

WIDTHS = {"wide": 760.0, "narrow": 328.0, "paper": 700.0}
MOST_LINES = 6
"""Limits told one by one below the verdict."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One option on the page."""

    id: str
    title: str
    price_usd: Decimal
    taken: bool


@dataclass(frozen=True, slots=True)
class Fieldset:
    """Options of a group, or those of none. ``name`` is what the form sends them under; ``one`` where at most one."""

    title: str
    name: str
    one: bool
    needed: bool
    choices: tuple[Choice, ...]

    @property
    def untouched(self) -> bool:
        """Whether nothing of it is taken."""
        return not any(c.taken for c in self.choices)


def fieldsets(chosen: Chosen) -> list[Fieldset]:
    """Every option of the model, group by group as the book has them, the free ones last."""
    options = chosen.catalog.options_of(chosen.model)

    def choices(of: list[Option]) -> tuple[Choice, ...]:
        return tuple(Choice(o.id, begin(o.title), o.price_usd, o in chosen.options) for o in of)

    found = []
    for group in chosen.catalog.group:
        of = [o for o in options if o.group == group.id]
        if of:
            title = begin(group.title or group.id)
            found.append(Fieldset(title, f"{OF_GROUP}{group.id}", True, group.needed, choices(of)))
    free = [o for o in options if o.group is None]
    if free:
        found.append(Fieldset("Also", OPTION, False, False, choices(free)))
    return found


def shown(chosen: Chosen, haul: Haul | None, *, metric: bool) -> dict[str, Any]:
    """Everything of a build that its options change."""
    trailer, build = chosen.trailer, chosen.build
    drawings = {name: mark_safe(side_view(trailer, width_px=px, metric=metric)) for name, px in WIDTHS.items()}
    context: dict[str, Any] = {
        "drawing": drawings,
        "broken": chosen.broken,
        "ways": [(w, address(w.ids, haul)) for w in ways_out(chosen)][:4],
        "strangers": chosen.strangers,
        "price_usd": chosen.price_usd,
        "cost_usd": chosen.cost_usd,
        "margin_usd": None if chosen.cost_usd is None else chosen.price_usd - chosen.cost_usd,
        "taken": chosen.options,
        "address": address(chosen.ids, haul),
    }
    if build is not None:
        context |= {
            "empty_lb": float(trailer.weights.empty_lb),
            "gvwr_lb": float(trailer.ratings.gvwr_lb),
            "payload_lb": payload_lb(trailer),
            **standing_for(chosen, haul, metric=metric),
        }
    return context


def standing_for(chosen: Chosen, haul: Haul | None, *, metric: bool) -> Mapping[str, Any]:
    """How a build stands for a haul: the sentence, and the limits that are not clear."""
    if haul is None or chosen.build is None:
        return {}
    try:
        found = weigh(haul=thing_of(haul), trailer=chosen.build.trailer, remedies=False)
    except Faults as told:
        return {"unread": told.faults}
    counted = [line for line in found.lines if line.verdict in ("over", "depends", "not known")]
    lines = [(line.verdict, line_sentence(by_name(line, found.pieces), metric=metric)) for line in counted]
    return {
        "verdict": found.verdict,
        "sentence": weighing_sentence(found, tried=False, metric=metric),
        "lines": lines[:MOST_LINES],
        "more_lines": max(0, len(lines) - MOST_LINES),
    }


def search_told(found: Cheapest, *, metric: bool) -> dict[str, Any]:
    """What a search for the cheapest build found, in words."""
    return {
        "sentence": cheapest_sentence(found, metric=metric),
        "verdict": found.verdict,
        "wanted": found.wanted,
        "found": found.build is not None,
        "forced": [forced_sentence(f, metric=metric) for f in found.forced],
        "possible": found.possible,
        "judged": found.judged,
        "dropped": found.dropped,
        "proven": found.proven,
    }
