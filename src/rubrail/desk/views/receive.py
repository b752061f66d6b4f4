"""Receive: what is expected at the gate, a receipt begun for it or for something else, and the receipt itself."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.editing import StaleError
from rubrail.desk.models import Change, Receipt, Unit
from rubrail.desk.models.receipt import ReceiptStatus
from rubrail.desk.photographs import photos_about
from rubrail.desk.receiving import arrivals, begin, damage, deals
from rubrail.desk.receiving.close import note_claim
from rubrail.desk.receiving.fields import differing, rows_of
from rubrail.desk.receiving.found import ordered_trailer, taken_trailer
from rubrail.desk.receiving.parts import missing_words
from rubrail.desk.receiving.report import report_of, said_signed
from rubrail.desk.receiving.steps import steps_of
from rubrail.desk.sales.freeze import SpoiledError, thawed
from rubrail.sheets.paper.press import FORMATS, press
from rubrail.things.faults import Faults

LATEST_CHANGES = 12


def receipt_at(number: str) -> Receipt:
    """The receipt of an address; not found where there is none."""
    return get_object_or_404(Receipt.objects.select_related("unit", "order", "created_by", "closed_by"), number=number)


def version_in(data: Any, name: str = "seen") -> int:
    """A version number a form carries; 0, which no thing has, for anything else."""
    text = data.get(name, "")
    return int(text) if text.isdecimal() and len(text) < 10 else 0


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
            faults.append('Came on: give a day such as "2026-03-02".')
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
    axles = int(other["axles"]) if other["axles"].isdecimal() and len(other["axles"]) < 3 else 0
    return begin.begin_unexpected(
        stock_number=other["stock_number"],
        coupling=other["coupling"],
        axles=axles,
        says=other["says"],
        day=day,
        by=request.user,
        **given,
    )


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def receipt(request: HttpRequest, number: str) -> HttpResponse:
    """A receipt: how far it is or what was decided, and the deals it touches."""
    it = receipt_at(number)
    metric = request.user.measures == "metric"
    marks = list(it.damages.all())
    found = deals.thawed(it.content["rests_on"]["deals"]) if it.content else _deals_now(it)
    trail = Change.objects.seen_by(request.user).filter(kind="receipt", thing=it.pk)
    context = {
        "receipt": it,
        "unit": it.unit,
        "steps": steps_of(it),
        "differ": list(differing(rows_of(it))) if it.ordered else [],
        "missing": missing_words(it.found),
        "marks": [(n, m, damage.said_place(m, metric=metric)) for n, m in enumerate(marks, 1)],
        "drawings": _drawings(it, marks, metric=metric),
        "photos": list(photos_about(it)),
        "deals": [d for d in found if d.result != "holds"],
        "holding": sum(1 for d in found if d.result == "holds"),
        "broken": sum(1 for d in found if d.result in ("broken", "doubtful")),
        "refused": it.status == ReceiptStatus.REFUSED,
        "signed": said_signed(it),
        "day_text": it.day.isoformat(),
        "trail": list(trail[:LATEST_CHANGES]),
    }
    return render(request, "desk/receive/receipt.html", context)


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
    try:
        if request.POST.get("do") == "drop":
            begin.give_up(it, by=request.user, seen_version=version_in(request.POST))
            messages.success(request, f"Receipt {it} counts for nothing now. It is kept.")
            return redirect("receive")
        day = day_in(request.POST.get("day", ""))
        if day is None:
            raise begin.ReceiptError('Came on: give a day such as "2026-03-02".')
        given = {name: request.POST.get(name, "").strip()[:most] for name, _, most in begin.HEAD}
        begin.change_head(it, {"day": day, **given}, by=request.user, seen_version=version_in(request.POST))
    except begin.ReceiptError as told:
        messages.error(request, str(told))
    except StaleError:
        messages.warning(request, "Somebody saved this receipt while you had it open; look at it again.")
    else:
        messages.success(request, "Kept.")
    return redirect(it)


@requires("unit.edit")
@require_POST
def receipt_claim(request: HttpRequest, number: str) -> HttpResponse:
    """The claim number, which often comes days later."""
    it = receipt_at(number)
    try:
        note_claim(it, request.POST.get("claim", ""), by=request.user, seen_version=version_in(request.POST))
    except StaleError:
        messages.warning(request, "Somebody saved this receipt while you had it open; look at it again.")
    else:
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
            paper, _ = report_of(it, deals=_deals_now(it), link=link)
    except (Faults, SpoiledError) as told:
        messages.error(request, f"The report cannot be printed: {told}.")
        return redirect(it)
    on = request.GET.get("on", "letter")
    response = HttpResponse(press(paper, on=on if on in FORMATS else "letter"), content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{it.number}.pdf"'
    return response
