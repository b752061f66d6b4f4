"""Deals that no longer hold on a unit as it came, for as long as somebody has still to see to them."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from rubrail.desk.models import Haul, Quote, Receipt, Unit
from rubrail.desk.models.receipt import ReceiptStatus
from rubrail.desk.models.stock import ON_THE_LOT, Status
from rubrail.desk.receiving.deals import OPEN_QUOTES, TOUCHED, Deal, deals_of, thawed
from rubrail.desk.receiving.found import ordered_trailer
from rubrail.desk.stock import readable

DAYS = 30
"""Deals are told of so long after their unit came. [day]"""
MOST = 50
ITS_OWN = timedelta(seconds=5)
"""How long closing a receipt may itself go on writing."""


@dataclass(frozen=True, slots=True)
class Broken:
    """A deal that no longer holds, or is in doubt, and the receipt of the unit it hangs on."""

    receipt: Receipt
    deal: Deal


def broken_deals(*, today: date) -> list[Broken]:
    """Deals touched by what came, the gravest first; by a unit's latest receipt alone.

    One falls away by itself once its quote is closed or its haul put aside, once its unit has left the lot, and once
    the unit or the haul was changed so that it holds again: only then it is weighed anew, and only that one.

    Parameters
    ----------
    today : date
    """
    closed = (ReceiptStatus.ACCEPTED, ReceiptStatus.EXCEPTED, ReceiptStatus.REFUSED)
    since = today - timedelta(days=DAYS)
    receipts = list(
        Receipt.objects.filter(status__in=closed, day__gte=since, unit__status__in=ON_THE_LOT)
        .select_related("unit")
        .defer("found", "unit__packed", "unit__thumbnail")
        .order_by("-closed")[:MOST]
    )
    latest = {r.unit_id: r for r in reversed(receipts)}
    found = [Broken(r, d) for r in receipts if latest[r.unit_id] is r for d in _kept(r) if _touches(r, d)]
    if not found:
        return []
    quotes = set(
        Quote.objects.filter(number__in={b.deal.quote for b in found}, status__in=OPEN_QUOTES).values_list(
            "number", flat=True
        )
    )
    hauls = {h.pk: h for h in Haul.objects.filter(pk__in={b.deal.haul for b in found} - {None}).defer("spec")}
    found = [b for b in found if _is_open(b.deal, quotes, hauls) and _still_broken(b, hauls)]
    return sorted(found, key=lambda b: b.deal.rank)


def _kept(receipt: Receipt) -> list[Deal]:
    return thawed(receipt.content.get("rests_on", {}).get("deals", ()))


def _touches(receipt: Receipt, deal: Deal) -> bool:
    """Whether a deal was touched: it no longer holds, or the unit a buyer signed for was sent back."""
    if receipt.status == ReceiptStatus.REFUSED:
        return deal.pressing and receipt.unit.status == Status.EXPECTED
    return deal.result in TOUCHED


def _is_open(deal: Deal, quotes: Collection[str], hauls: Mapping[int, Haul]) -> bool:
    """Whether its quote is open, or, without one, its haul is."""
    if deal.quote:
        return deal.quote in quotes
    return deal.haul in hauls and not hauls[deal.haul].closed


def _still_broken(b: Broken, hauls: Mapping[int, Haul]) -> bool:
    """Whether it is broken still where the unit or the haul was changed after the receipt was closed."""
    if b.receipt.status == ReceiptStatus.REFUSED:
        return True
    unit, haul = b.receipt.unit, hauls.get(b.deal.haul)
    latest = max(t.updated for t in (unit, haul) if t is not None)
    # What taking it in wrote itself is no change since.
    if b.receipt.closed is None or latest <= b.receipt.closed + ITS_OWN:
        return True
    trailer = readable(Unit.objects.get(pk=unit.pk))
    if trailer is None:
        return True
    again = deals_of(unit, before=ordered_trailer(b.receipt), after=trailer, with_others=False, haul=b.deal.haul)
    mine = [d for d in again if d.quote == b.deal.quote and d.haul == b.deal.haul]
    return any(d.result in TOUCHED for d in mine)
