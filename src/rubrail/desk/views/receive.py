"""Receive: what is expected at the gate, a receipt begun for it or for something else, and the receipt itself."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.editing import StaleError, version_in
from rubrail.desk.models import Change, Receipt, Unit
from rubrail.desk.models.receipt import ReceiptStatus
from rubrail.desk.once import once
from rubrail.desk.photographs import photos_about
from rubrail.desk.printed import printed
from rubrail.desk.receiving import arrivals, begin, damage, deals
from rubrail.desk.receiving.close import note_claim
from rubrail.desk.receiving.fields import differing, rows_of
from rubrail.desk.receiving.found import ordered_trailer, taken_trailer
from rubrail.desk.receiving.parts import missing_words
from rubrail.desk.receiving.report import report_of, said_signed
from rubrail.desk.receiving.steps import steps_of
from rubrail.desk.sales.freeze import SpoiledError, thawed
from rubrail.things.faults import Faults

LATEST_CHANGES = 12
NO_DAY = 'Came on: give a day such as "2026-03-02".'


def receipt_at(number: str) -> Receipt:
    """The receipt of an address; not found where there is none."""
    return get_object_or_404(Receipt.objects.select_related("unit", "order", "created_by", "closed_by"), number=number)


def day_in(text: str) -> date | None:
    """A day as a form writes it; nothing where it is none."""
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        return None


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def receive(request: HttpRequest) -> HttpResponse:
    """What is being received, what is expected and when, what came lately."""
    today = clock.today()
    return render(request, "desk/receive/arrivals.html", {"gate": arrivals.gate(today=today), "today": today})


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@once
def receive_new(request: HttpRequest) -> HttpResponse:
    """Begin a receipt: for a unit of the list, or for something nobody ordered."""
    asked = request.POST if request.method == "POST" else request.GET
    unit = Unit.objects.filter(stock_number__iexact=asked.get("unit", "")[:64]).select_related("order").first()
    if unit is not None and (there := begin.open_receipt(unit)):
        messages.info(request, f"Unit {unit} is being received already.")
        return redirect(there)
    given = {name: request.POST.get(name, "").strip()[:most] for name, _, most in begin.HEAD}
    other = {name: request.POST.get(name, "").strip()[:200] for name in ("stock_number", "coupling", "axles", "says")}
    faults: list[str] = []
    if request.method == "POST":
        day = day_in(request.POST.get("day", ""))
        if day is None:
            more = [] if unit else begin.unexpected_faults(**_counted(other))
            faults = [*more, NO_DAY]
        else:
            try:
                return redirect(_begin(request, unit, day, given, other))
            except begin.ReceiptError as told:
                faults.append(str(told))
    context = {
        "unit": unit,
        "given": given | other,
        "day": request.POST.get("day", clock.today().isoformat()),
        "couplings": begin.COUPLINGS,
        "axle_counts": range(1, begin.MOST_AXLES + 1),
        "faults": faults,
    }
    return render(request, "desk/receive/new.html", context)


def _begin(
    request: HttpRequest, unit: Unit | None, day: date, given: dict[str, str], other: dict[str, str]
) -> Receipt:
    if unit is not None:
        return begin.begin(unit, day=day, by=request.user, **given)
    return begin.begin_unexpected(**_counted(other), says=other["says"], day=day, by=request.user, **given)


def _counted(other: dict[str, str]) -> dict[str, Any]:
    axles = int(other["axles"]) if other["axles"].isdecimal() and len(other["axles"]) < 3 else 0
    return {"stock_number": other["stock_number"], "coupling": other["coupling"], "axles": axles}


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def receipt(request: HttpRequest, number: str) -> HttpResponse:
    """A receipt: how far it is or what was decided, and the deals it touches."""
    return _page(request, receipt_at(number))


def _page(
    request: HttpRequest,
    it: Receipt,
    *,
    head: Mapping[str, str] | None = None,
    claim: str | None = None,
    faults: Sequence[str] = (),
    stale: bool = False,
) -> HttpResponse:
    """The receipt's page; with what was typed for its head or claim where that was not taken."""
    metric = request.user.measures == "metric"
    marks = list(it.damages.all())
    found = deals.thawed(it.content["rests_on"]["deals"]) if it.content else _deals_now(it)
    trail = Change.objects.seen_by(request.user).filter(kind="receipt", thing=it.pk)
    context = {
        "receipt": it,
        "unit": it.unit,
        "steps": steps_of(it),
        "differ": list(differing(rows_of(it, measures=request.user.measures))) if it.ordered else [],
        "missing": missing_words(it.found),
        "marks": [(n, m, damage.said_place(m, metric=metric)) for n, m in enumerate(marks, 1)],
        "drawings": _drawings(it, marks, metric=metric),
        "photos": list(photos_about(it)),
        **deals.on_page(found, metric=metric),
        "refused": it.status == ReceiptStatus.REFUSED,
        "signed": said_signed(it),
        "typed": head,
        "head": head or {name: getattr(it, name) for name, *_ in begin.HEAD},
        "day_text": it.day.isoformat() if head is None else head["day"],
        "claim": it.claim if claim is None else claim,
        "faults": faults,
        "stale": stale,
        "trail": list(trail[:LATEST_CHANGES]),
    }
    return render(request, "desk/receive/receipt.html", context, status=409 if stale else 200)


def _deals_now(it: Receipt) -> list[deals.Deal]:
    if it.status == ReceiptStatus.DROPPED:
        return []
    try:
        after = taken_trailer(it)
    except Faults:
        return []
    return deals.deals_of(it.unit, before=ordered_trailer(it), after=after, with_others=False)


def _drawings(it: Receipt, marks: list, *, metric: bool) -> dict[str, Any]:
    try:
        return damage.drawings(taken_trailer(it), marks, metric=metric)
    except Faults:
        return {}


@requires("unit.edit")
@require_POST
def receipt_head(request: HttpRequest, number: str) -> HttpResponse:
    """Correct carrier, bill, driver and day; or give the receipt up."""
    it = receipt_at(number)
    if request.POST.get("do") == "drop":
        return _dropped(request, it)
    given = {name: request.POST.get(name, "").strip()[:most] for name, _, most in begin.HEAD}
    head = {**given, "day": request.POST.get("day", "").strip()[:20]}
    day = day_in(head["day"])
    if day is None and it.is_open:
        return _page(request, it, head=head, faults=[NO_DAY])
    try:
        begin.change_head(it, {**given, "day": day}, by=request.user, seen_version=version_in(request.POST))
    except begin.ReceiptError as told:
        if it.is_open:
            return _page(request, it, head=head, faults=[str(told)])
        messages.error(request, str(told))
    except StaleError:
        return _page(request, receipt_at(number), head=head, stale=True)
    else:
        messages.success(request, "Kept.")
    return redirect(it)


def _dropped(request: HttpRequest, it: Receipt) -> HttpResponse:
    try:
        begin.give_up(it, by=request.user, seen_version=version_in(request.POST))
    except begin.ReceiptError as told:
        messages.error(request, str(told))
    except StaleError:
        messages.warning(request, "Somebody saved this receipt while you had it open; look at it again.")
    else:
        messages.success(request, f"Receipt {it} counts for nothing now. It is kept.")
        return redirect("receive")
    return redirect(it)


@requires("unit.edit")
@require_POST
def receipt_claim(request: HttpRequest, number: str) -> HttpResponse:
    """The claim number, which often comes days later."""
    it, claim = receipt_at(number), request.POST.get("claim", "").strip()[:60]
    try:
        note_claim(it, claim, by=request.user, seen_version=version_in(request.POST))
    except StaleError:
        return _page(request, receipt_at(number), claim=claim, stale=True)
    messages.success(request, "The claim number is kept.")
    return redirect(it)


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def receipt_paper(request: HttpRequest, number: str) -> HttpResponse:
    """The receiving report: of a closed receipt as it was frozen, of an open one as it stands."""
    it = receipt_at(number)
    try:
        if it.content:
            paper = thawed(it.content, expect=it.digest)
        else:
            link = request.build_absolute_uri(reverse("receipt", args=[it.number]))
            paper, _ = report_of(it, deals=_deals_now(it), link=link, metric=request.user.measures == "metric")
    except (Faults, SpoiledError) as told:
        messages.error(request, f"The report cannot be printed: {told}.")
        return redirect(it)
    return printed(request, paper, it.number)
