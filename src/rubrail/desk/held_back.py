"""What is still unknown of a haul by how much of the yard it holds back, kept until haul or yard change."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

from django.db.models import Count, Max

from rubrail.answers.doubts import doubts
from rubrail.answers.report import Need
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Haul, Unit
from rubrail.desk.models.stock import ON_THE_LOT
from rubrail.desk.stock import LOT, trailer_of
from rubrail.sheets.sentences_finding import how_to_find, what_it_is
from rubrail.things.faults import Faults
from rubrail.things.names import unit_of

AT_MOST = 160
"""Units looked at; of a bigger yard so many, spread evenly over its stock numbers."""
SHOWN = 8


@dataclass(frozen=True, slots=True)
class Row:
    """One input as the page tells it."""

    what: str
    how: str
    need: Need
    unit: str
    missing: bool
    holds: int
    alone: int
    blurs: float
    blurs_unit: str
    limit: str


@dataclass(frozen=True, slots=True)
class HeldBack:
    """Everything the page says of it.

    units : units looked at, of ``of`` on the lot; open : those whose verdict is held back; more : rows left out.
    """

    units: int
    of: int
    open: int
    rows: tuple[Row, ...]
    more: int


def held_back(haul: Haul) -> HeldBack:
    """What holds a haul back on the units on the lot.

    Raises
    ------
    Faults
        If the stored haul no longer reads.
    """
    there = Unit.objects.filter(status__in=ON_THE_LOT)
    yard = there.aggregate(n=Count("pk"), last=Max("updated"))
    return _looked_at(haul.pk, haul.version, yard["n"], yard["last"])


@lru_cache(maxsize=256)
def _looked_at(pk: int, version: int, count: int, last: datetime | None) -> HeldBack:
    """The same, by all it rests on: the haul in its version, the yard by its count and its latest change."""
    whole = thing_of(Haul.objects.get(pk=pk))
    there = Unit.objects.filter(status__in=ON_THE_LOT).order_by("stock_number", "pk")
    keys = list(there.values_list("pk", flat=True))
    step = max(1, -(-len(keys) // AT_MOST))
    trailers = []
    some = Unit.objects.filter(pk__in=keys[::step]).order_by("stock_number", "pk")
    for unit in some.only("stock_number", "spec", *LOT):
        try:
            trailers.append(trailer_of(unit))
        except Faults:
            continue
    found = doubts(haul=whole, trailers=trailers)
    rows = tuple(
        Row(
            what_it_is(d.need, whole),
            how_to_find(d.need),
            d.need,
            unit_of(d.need.name),
            d.missing,
            d.holds,
            d.alone,
            d.blurs,
            d.unit,
            d.limit,
        )
        for d in found.doubts[:SHOWN]
    )
    return HeldBack(found.units, count, found.open, rows, len(found.doubts) - len(rows))


def unread_ratings(spec: object, path: str = "") -> int:
    """How many ratings of a truck's stored table are only typical of its class: nobody has read them yet."""
    if isinstance(spec, dict):
        if "value" in spec and "basis" in spec:
            rated = path.endswith("_lb") and ("rating" in path or path.startswith(("ratings.", "tires.")))
            return int(rated and spec["basis"] == "typical")
        return sum(unread_ratings(v, f"{path}.{k}" if path else k) for k, v in spec.items())
    if isinstance(spec, list):
        return sum(unread_ratings(member, path) for member in spec)
    return 0
