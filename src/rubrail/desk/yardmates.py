"""A unit beside the others on the lot: whom it is compared with, and on what it is unusual among them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import FloatField
from django.db.models.functions import Cast

from rubrail.answers.differs import LEAST_OTHERS, Cell, Difference, differences
from rubrail.desk.models import Unit
from rubrail.desk.models.stock import ON_THE_LOT
from rubrail.desk.traits import TRAITS, traits_of

LEAST = 5
"""Fewer others of its own kind are no company: then a wider circle is taken."""
KEPT = 50_000
FEW = 500
"""So many units are asked for by their keys; of more, the whole lot is read."""
COUPLINGS = {"ball": "ball-coupler", "gooseneck": "gooseneck", "kingpin": "kingpin", "pintle": "pintle"}

_read: dict[int, tuple[Any, dict[str, Cell]]] = {}
"""What was read of a unit's ``spec``, by its key, with the moment it was saved."""


@dataclass(frozen=True, slots=True)
class Company:
    """What a unit was compared with, in words, how many, and where it is unusual among them."""

    circle: str
    count: int
    told: tuple[Difference, ...]

    @property
    def enough(self) -> bool:
        """Whether there are as many as make anything usual."""
        return self.count >= LEAST_OTHERS

    @property
    def says(self) -> str:
        """Whom it was compared with: ``11 other gooseneck deck-over units on the lot``."""
        return f"{self.count:,} other {f'{self.circle} ' if self.circle else ''}units on the lot"


@dataclass(frozen=True, slots=True)
class _Mate:
    pk: int
    updated: Any
    coupling: str
    deck: str
    price: float | None
    payload: float | None


def company_of(unit: Unit) -> Company:
    """The others on the lot that are like it, and where it differs from what is usual among them.

    One query for the yard, whatever its size, and one more where units have changed since they were last looked at.
    """
    rows = (
        Unit.objects.filter(status__in=ON_THE_LOT)
        .order_by()
        .values_list("pk", "updated", "coupling_kind", "deck_kind", Cast("price_usd", FloatField()), "payload_lb")
    )
    circle, others = _circle(unit, [_Mate(*row) for row in rows if row[0] != unit.pk])
    specs = _specs(others)
    columns = {t.key: [s.get(t.key) for s in specs] for t in TRAITS}
    columns["price"] = [m.price for m in others]
    columns["payload"] = [m.payload for m in others]
    columns["price_per_lb"] = [_ratio(m.price, m.payload) for m in others]
    price = None if unit.price_usd is None else float(unit.price_usd)
    own = {
        **traits_of([unit.spec])[0],
        "price": price,
        "payload": unit.payload_lb,
        "price_per_lb": _ratio(price, unit.payload_lb),
    }
    return Company(circle, len(others), differences(traits=TRAITS, own=own, others=columns))


def _circle(unit: Unit, others: list[_Mate]) -> tuple[str, list[_Mate]]:
    """Those of its coupling and deck; of its coupling where they are too few; else all."""
    coupling = COUPLINGS.get(unit.coupling_kind, "")
    alike = [m for m in others if m.coupling == unit.coupling_kind]
    same = [m for m in alike if m.deck == unit.deck_kind]
    deck = {"deck-over": "deck-over", "between-fenders": "between-fenders"}.get(unit.deck_kind, "")
    if deck and len(same) >= LEAST:
        return f"{coupling} {deck}", same
    if len(alike) >= LEAST:
        return coupling, alike
    return "", others


def _specs(others: Sequence[_Mate]) -> list[dict[str, Cell]]:
    """What is stored of units in ``spec``, read only of those that changed since."""
    unseen = [m.pk for m in others if _read.get(m.pk, (None,))[0] != m.updated]
    if unseen:
        if len(_read) + len(unseen) > KEPT:
            _read.clear()
            unseen = [m.pk for m in others]
        few = {"pk__in": unseen} if len(unseen) <= FEW else {"status__in": ON_THE_LOT}
        wanted = set(unseen)
        found = Unit.objects.filter(**few).order_by().values_list("pk", "updated", "spec")
        rows = [row for row in found.iterator() if row[0] in wanted]
        for (pk, updated, _), traits in zip(rows, traits_of([spec for *_, spec in rows]), strict=True):
            _read[pk] = (updated, traits)
    return [_read[m.pk][1] if m.pk in _read else {} for m in others]


def _ratio(price: float | None, payload: float | None) -> float | None:
    return price / payload if price is not None and payload else None
