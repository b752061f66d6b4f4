"""The yard: every unit, found by words and by what matters, sorted by any column."""

from __future__ import annotations

from typing import Any

from django.core.paginator import Page, Paginator
from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.drawings import smalls
from rubrail.desk.finding import Wanted, look_for
from rubrail.desk.finding_by import COUPLINGS, DECKS, LIMITS, ORDERS, STATUSES, TRUCK, Limit, Order
from rubrail.desk.fragments import answer, wants_part
from rubrail.desk.models import Unit
from rubrail.desk.models.stock import ON_THE_LOT, Status
from rubrail.desk.weight_lines import LINES

PER_PAGE = 50
SHOWN = (
    "stock_number",
    "status",
    "status_since",
    "price_usd",
    "color",
    "location",
    "arrived",
    "title",
    "maker",
    "model",
    "coupling_kind",
    "deck_kind",
    "axle_count",
    "gvwr_lb",
    "empty_weight_lb",
    "deck_length_in",
    "deck_width_in",
    "deck_height_in",
    "payload_lb",
    "thumbnail",
    "derived_by",
)
"""Columns a row of the list needs; a unit's content stays where it is."""


class Counted(Paginator):
    """Pages of a list whose length is known beforehand."""

    def __init__(self, rows: Any, *, count: int) -> None:
        super().__init__(rows, PER_PAGE)
        self.count = count


@requires("account.own")
@require_http_methods(["GET", "HEAD"])
def start(request: HttpRequest) -> HttpResponse:
    """The first page."""
    return redirect("today")


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def yard(request: HttpRequest) -> HttpResponse:
    """The list of units."""
    wanted = look_for(request.GET.dict(), metric=request.user.measures == "metric")
    part = wants_part(request)
    if not part and "" in request.GET.values():
        # A form sends its empty fields too; the address that is shared goes without them.
        return redirect(reverse("yard") + wanted.query())
    by_status = dict(Unit.objects.values_list("status").annotate(n=Count("pk")).order_by())
    page, may_fit = _page(request, wanted, by_status)
    units, today = list(page), clock.today()
    context: dict[str, Any] = {
        "wanted": wanted,
        "chips": list(wanted.chips()),
        "fields": _fields(wanted),
        "heads": [_head(wanted, order) for order in ORDERS],
        "orders": _orders(),
        "statuses": STATUSES,
        "couplings": COUPLINGS,
        "decks": DECKS,
        "lines": LINES,
        "page": page,
        "rows": list(zip(units, smalls(units), [u.days_here(today=today) for u in units], strict=True)),
        "counts": _counts(by_status),
        "among": _among(wanted, by_status),
        "may_fit": may_fit,
        "cleared": wanted.cleared(),
        "with_unknown": wanted.query(unknown="on"),
        "without_unknown": wanted.query(unknown=""),
    }
    response = answer(request, "desk/yard/yard.html", context, part="desk/yard/_part.html")
    if part:
        response["HX-Push-Url"] = reverse("yard") + wanted.query(page=request.GET.get("page", ""))
    return response


def _page(request: HttpRequest, wanted: Wanted, by_status: dict[str, int]) -> tuple[Page, int]:
    """The page asked for, and how many units may fit but that a number asked for is not known of them."""
    may_fit = 0
    if wanted.narrows:
        found = wanted.found()
        keys = [pk for pk, known in found if known or wanted.unknown]
        may_fit, count = sum(not known for _, known in found), len(keys)
    else:
        keys = wanted.of_status(Unit.objects).order_by(*wanted.order()).values_list("pk", flat=True)
        count = _among(wanted, by_status)
    page = Counted(keys, count=count).get_page(request.GET.get("page"))
    # Keys are found and sorted in the index; only the rows of this page are read from the table.
    rows = Unit.objects.only(*SHOWN).in_bulk(list(page.object_list))
    page.object_list = [rows[pk] for pk in page.object_list if pk in rows]
    return page, may_fit


def _among(wanted: Wanted, by_status: dict[str, int]) -> int:
    """How many units there are of the status looked for."""
    if wanted.status == "all":
        return sum(by_status.values())
    return sum(by_status.get(s, 0) for s in ([wanted.status] if wanted.status else ON_THE_LOT))


def _counts(by_status: dict[str, int]) -> dict[str, int]:
    here, held = (by_status.get(s, 0) for s in (Status.HERE, Status.HELD))
    expected = by_status.get(Status.EXPECTED, 0)
    return {"here": here + held, "held": held, "expected": expected, "all": sum(by_status.values())}


def _fields(wanted: Wanted) -> dict[str, list[dict[str, Any]]]:
    """Fields of the limits, the common ones apart from the others."""
    return {
        "main": [_field(wanted, limit) for limit in LIMITS if limit.main],
        "more": [_field(wanted, limit) for limit in LIMITS if not limit.main],
        "truck": [_field(wanted, TRUCK)],
    }


def _field(wanted: Wanted, limit: Limit) -> dict[str, Any]:
    bare = limit.bare[wanted.metric]
    says = limit.says[0].upper() + limit.says[1:]
    bound = "" if limit is TRUCK else ", most" if limit.most else ", least"
    return {
        "key": limit.key,
        "label": says + bound,
        "before": "$" if bare == "USD" else "",
        "unit": "" if bare == "USD" else bare,
        "text": wanted.texts.get(limit.key, "").removesuffix(f" {bare}"),
        "fault": limit.key in wanted.faults,
    }


def _head(wanted: Wanted, order: Order) -> dict[str, Any]:
    """A heading: pressed once it sorts one way, pressed again the other."""
    here = order.key == wanted.sort
    turned = f"-{order.key}" if here and not wanted.down else order.key
    return {
        "order": order,
        "here": here,
        "href": reverse("yard") + wanted.query(sort="" if turned == "unit" else turned),
    }


def _orders() -> list[tuple[str, str]]:
    """Every way to sort, for where there are no headings to press."""
    ways = []
    for order in ORDERS:
        ways.append(("" if order.key == "unit" else order.key, f"{order.heading}, {order.up}"))
        ways.append((f"-{order.key}", f"{order.heading}, {order.down}"))
    return ways
