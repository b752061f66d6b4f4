"""Orders to makers: placed from a build, sent, confirmed, arrived or dropped; their list and their sheet."""

from __future__ import annotations

from datetime import date
from decimal import Decimal, InvalidOperation

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.builds import holds_on
from rubrail.desk.editing import StaleError, version_in
from rubrail.desk.models import Change, Order
from rubrail.desk.models.sales import OrderStatus
from rubrail.desk.once import once
from rubrail.desk.printed import printed
from rubrail.desk.sales import orders as sales
from rubrail.desk.sales.order_files import lines_of, order_as_csv, order_as_paper
from rubrail.desk.standing import WrongStepError, said_day
from rubrail.desk.views.build import chosen_or_404, haul_asked, page_context
from rubrail.quantity.money import show_money
from rubrail.things.faults import Faults

PER_PAGE = 40
SEES_COST = "money.see"


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def orders(request: HttpRequest) -> HttpResponse:
    """The list of orders, those still to come first asked for."""
    status = request.GET.get("status", "")
    words = _words(request.GET.get("words", ""), most=100)
    found = Order.objects.select_related("unit", "book").defer("content", "book__spec", "unit__spec")
    if status in OrderStatus.values:
        found = found.filter(status=status)
    elif status != "all":
        found = found.filter(status__in=sales.OPEN)
    for word in words.split():
        named = ("number", "model", "book__title", "unit__stock_number")
        of = [found.filter(**{f"{name}__icontains": word}) for name in named]
        found = of[0] | of[1] | of[2] | of[3]
    page = Paginator(found.order_by("-pk"), PER_PAGE).get_page(request.GET.get("page"))
    today = clock.today()
    context = {
        "page": page,
        "rows": [(o, o.status in sales.OPEN and o.expected is not None and o.expected < today) for o in page],
        "status": status,
        "words": words,
        "statuses": (("", "Still to come"), *OrderStatus.choices, ("all", "All")),
    }
    return render(request, "desk/order/orders.html", context)


@requires("quote.edit")
@require_http_methods(["POST"])
@once
def build_order(request: HttpRequest, ident: str, model: str) -> HttpResponse:
    """Order a build; on a fault its page comes back with everything that was entered."""
    chosen, haul = chosen_or_404(ident, model, request.POST), haul_asked(request.POST)
    given = {name: _words(request.POST.get(name, ""), most=2000) for name in ("stock", "need_by", "note")}
    faults = [f"Not made for this model: {', '.join(chosen.strangers)}."] if chosen.strangers else []
    faults += [] if holds_on(chosen.book, clock.today()) else [f"The prices of {chosen.book} do not hold today."]
    changed = chosen.price_usd != _amount(request.POST.get("asked", ""))
    if changed:
        faults.append(f"The price book changed meanwhile: this build asks {show_money(chosen.price_usd)} now.")
    need_by, fault = _day(given["need_by"], "Needed by")
    faults += [fault] if fault else []
    build = chosen.build
    if build is not None and not faults:
        try:
            placed = sales.place(
                book=chosen.book, build=build, haul=haul, stock_number=given["stock"][:64], need_by=need_by,
                note=given["note"], by=request.user,
            )  # fmt: skip
        except sales.OrderError as told:
            faults.append(str(told))
        else:
            messages.success(
                request, f"Ordered. Unit {placed.unit} is expected in the yard; send the sheet to the maker."
            )
            return redirect("order", placed.number)
    context = page_context(request, chosen, haul) | {"order_faults": faults, "given": given}
    return render(request, "desk/builds/build.html", context, status=409 if changed else 200)


def _words(text: str, *, most: int) -> str:
    """Text as somebody typed it, without what no database keeps."""
    return text.replace("\x00", "").strip()[:most]


def _amount(text: str) -> Decimal | None:
    try:
        found = Decimal(text)
    except InvalidOperation:
        return None
    return found if found.is_finite() else None


def _day(text: str, label: str) -> tuple[date | None, str]:
    """A day as a form sends it, and what is wrong with it."""
    if not text:
        return None, ""
    try:
        return date.fromisoformat(text), ""
    except ValueError:
        return None, f'{label}: must be a day such as 2026-12-09, not "{text[:40]}".'


def _order(number: str) -> Order:
    return get_object_or_404(Order.objects.select_related("unit", "book", "haul", "created_by"), number=number)


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def order(request: HttpRequest, number: str) -> HttpResponse:
    """An order: what was ordered, where it stands, what may be done next."""
    it = _order(number)
    sees_cost = request.user.may(SEES_COST)
    try:
        build, faults = sales.build_in(it), ()
    except Faults as told:
        build, faults = None, told.faults
    context = {
        "order": it,
        "build": build,
        "faults": faults,
        "lines": lines_of(build, with_cost=sees_cost) if build else (),
        "receipts": list(it.receipts.brief()),
        "steps": [name for name, begins in sales.STEPS.items() if it.status in begins],
        "late": it.status in sales.OPEN and it.expected is not None and it.expected < clock.today(),
        "today": clock.today(),
        "trail": list(Change.objects.seen_by(request.user).filter(kind="order", thing=it.pk)[:12]),
    }
    return render(request, "desk/order/order.html", context)


@requires("quote.edit")
@require_http_methods(["POST"])
def order_step(request: HttpRequest, number: str) -> HttpResponse:
    """Sent, confirmed, arrived or dropped."""
    it = _order(number)
    try:
        said = _step(request, it, request.POST.get("do", ""), version_in(request.POST))
    except (sales.OrderError, WrongStepError) as told:
        messages.error(request, str(told))
    except StaleError:
        messages.warning(request, "Somebody saved this order or its unit while you had it open; look at it again.")
    else:
        messages.success(request, said)
    return redirect("order", it.number)


def _step(request: HttpRequest, it: Order, do: str, seen: int) -> str:
    by = request.user
    if do == "sent":
        sales.send(it, by=by, seen_version=seen)
        return f"Order {it} is sent."
    if do in ("confirmed", "arrived"):
        day, fault = _day(request.POST.get("day", "").strip(), "Expected on" if do == "confirmed" else "Came on")
        if fault:
            raise sales.OrderError(fault)
        if do == "confirmed":
            sales.confirm(it, expected=day, by=by, seen_version=seen)
            return f"Order {it} is confirmed{f', expected {said_day(day)}' if day else ''}."
        sales.arrive(it, day=day or clock.today(), by=by, seen_version=seen)
        return (
            f"Unit {it.unit} stands in the yard. Read its label and weigh it: both may differ from what was ordered."
        )
    if do == "dropped":
        sales.drop(it, why=_words(request.POST.get("why", ""), most=200), by=by, seen_version=seen)
        return f"Order {it} is dropped, and its unit is retired."
    raise sales.OrderError("That is no step of an order.")


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def order_paper(request: HttpRequest, number: str) -> HttpResponse:
    """The order sheet as PDF; with cost only where asked for, by those who may see it."""
    it = _order(number)
    with_cost = request.GET.get("cost") == "1" and request.user.may(SEES_COST)
    try:
        paper = order_as_paper(it, with_cost=with_cost, metric=request.user.measures == "metric")
    except Faults:
        return redirect("order", it.number)  # Its page tells the faults.
    return printed(request, paper, it.number)


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def order_csv(request: HttpRequest, number: str) -> HttpResponse:
    """The order as CSV; with cost only where asked for, by those who may see it."""
    it = _order(number)
    with_cost = request.GET.get("cost") == "1" and request.user.may(SEES_COST)
    try:
        content = order_as_csv(it, with_cost=with_cost)
    except Faults:
        return redirect("order", it.number)
    headers = {"Content-Disposition": f'attachment; filename="{it.number}.csv"'}
    return HttpResponse(content, content_type="text/csv; charset=utf-8", headers=headers)
