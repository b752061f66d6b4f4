"""The lot as columns of what its units are compared on, kept in memory for as long as nobody changes a unit of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from django.db.models import Count, FloatField, Max, Sum
from django.db.models.functions import Cast
from numpy.typing import NDArray

from rubrail.answers.company import columns_of_traits
from rubrail.answers.differs import Cell
from rubrail.answers.traits import priced, traits_of
from rubrail.desk.models import Unit
from rubrail.desk.models.stock import ON_THE_LOT

FEW = 500
"""So many changed units are asked for by their keys; of more, the whole lot is read again."""


@dataclass(frozen=True)
class Lot:
    """Every unit on the lot: its key, what it couples by, its deck, and a column of each trait."""

    pk: NDArray[np.int64]
    coupling: NDArray[np.object_]
    deck: NDArray[np.object_]
    columns: dict[str, NDArray]


@dataclass
class _Kept:
    stamp: Any = None
    lot: Lot | None = None
    read: dict[int, tuple[Any, dict[str, Cell]]] | None = None


_kept = _Kept()


def lot() -> Lot:
    """The lot as it is now.

    One query whatever its size; two more where a unit of it was changed, added or taken away since.
    """
    there = Unit.objects.filter(status__in=ON_THE_LOT).order_by()
    stamp = there.aggregate(n=Count("pk"), keys=Sum("pk"), last=Max("updated"))
    kept = _kept.lot
    if kept is None or stamp != _kept.stamp:
        price = Cast("price_usd", FloatField())
        kept = _columns(list(there.values_list("pk", "updated", "coupling_kind", "deck_kind", price, "payload_lb")))
        _kept.stamp, _kept.lot = stamp, kept
    return kept


def _columns(rows: list[tuple]) -> Lot:
    read = _read({pk: updated for pk, updated, *_ in rows})
    cells = [{**read.get(row[0], {}), **priced(row[4], row[5])} for row in rows]
    columns = columns_of_traits(cells)
    keys = np.array([row[0] for row in rows], np.int64)
    return Lot(keys, *(np.array([row[n] for row in rows], object) for n in (2, 3)), columns)


def _read(stamps: dict[int, Any]) -> dict[int, dict[str, Cell]]:
    """What is stored of units in ``spec``, read only of those that changed since; the others are forgotten."""
    before = _kept.read or {}
    now = {pk: before[pk] for pk, updated in stamps.items() if before.get(pk, (None,))[0] == updated}
    unseen = [pk for pk in stamps if pk not in now]
    if unseen:
        wanted = set(unseen)
        which = {"pk__in": unseen} if len(unseen) <= FEW else {"status__in": ON_THE_LOT}
        found = Unit.objects.filter(**which).order_by().values_list("pk", "updated", "spec")
        changed = [row for row in found.iterator() if row[0] in wanted]
        for (pk, updated, _), traits in zip(changed, traits_of([spec for *_, spec in changed]), strict=True):
            now[pk] = (updated, traits)
    _kept.read = now
    return {pk: traits for pk, (_, traits) in now.items()}
