"""The yard: every unit, found by words, sorted by what matters."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.core.paginator import Paginator
from django.db.models import Count, F
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.drawings import small
from rubrail.desk.fragments import answer
from rubrail.desk.models import Unit
from rubrail.desk.models.stock import ON_THE_LOT, Status

PER_PAGE = 50


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the list: its key in the address, its heading, and the database column it sorts by."""

    key: str
    heading: str
    unit: str
    column: str
    numeric: bool = True


COLUMNS = (
    Column("unit", "Unit", "", "stock_number", numeric=False),
    Column("deck", "Deck", "", "deck_length_in"),
    Column("height", "Deck height", "in", "deck_height_in"),
    Column("gvwr", "Label GVWR", "lb", "gvwr_lb"),
    Column("empty", "Empty", "lb", "empty_weight_lb"),
    Column("price", "Price", "", "price_usd"),
    Column("days", "Days here", "", "arrived"),
)
BY_KEY = {c.key: c for c in COLUMNS}
STATUSES = (("", "On the lot"), *((s.value, str(s.label).capitalize()) for s in Status), ("all", "All, sold ones too"))


@requires("account.own")
@require_http_methods(["GET", "HEAD"])
def start(request: HttpRequest) -> HttpResponse:
    """The first page."""
    return redirect("yard")


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def yard(request: HttpRequest) -> HttpResponse:
    """The list of units."""
    words = request.GET.get("words", "").strip()[:100]
    status = request.GET.get("status", "")
    status = status if status in dict(STATUSES) else ""
    units = Unit.objects.with_words(words)
    if status != "all":
        units = units.filter(status__in=[status] if status else ON_THE_LOT)
    sort, down = _sort_of(request)
    page = Paginator(units.order_by(*_order(sort, down)), PER_PAGE).get_page(request.GET.get("page"))
    today = clock.today()
    context: dict[str, Any] = {
        "words": words,
        "status": status,
        "statuses": STATUSES,
        "columns": COLUMNS,
        "sort": sort,
        "down": down,
        "page": page,
        "rows": [(unit, small(unit), unit.days_here(today=today)) for unit in page],
        "counts": _counts(),
    }
    return answer(request, "desk/yard/yard.html", context, part="desk/yard/_rows.html")


def _sort_of(request: HttpRequest) -> tuple[str, bool]:
    asked = request.GET.get("sort", "")
    down = asked.startswith("-")
    key = asked.removeprefix("-")
    return (key, down) if key in BY_KEY else ("unit", False)


def _order(key: str, down: bool) -> tuple[Any, ...]:
    # Longest here means earliest arrived; and what is not known never stands first.
    descending = down != (key == "days")
    column = F(BY_KEY[key].column)
    ordered = column.desc(nulls_last=True) if descending else column.asc(nulls_last=True)
    return (ordered, "stock_number", "pk")


def _counts() -> dict[str, int]:
    by_status = dict(Unit.objects.values_list("status").annotate(n=Count("pk")).order_by())
    return {
        "here": by_status.get(Status.HERE, 0) + by_status.get(Status.HELD, 0),
        "held": by_status.get(Status.HELD, 0),
        "expected": by_status.get(Status.EXPECTED, 0),
        "all": sum(by_status.values()),
    }
