"""Damage of a unit being received: marked on the drawing or by its station, with photos."""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk.access import requires
from rubrail.desk.audit import Delta
from rubrail.desk.editing import StaleError, save_changes
from rubrail.desk.models import DamageMark, Receipt
from rubrail.desk.models.stock import Purpose
from rubrail.desk.once import from_outbox, once, tell
from rubrail.desk.photographs import Sent, keep_photos, photos_about
from rubrail.desk.receiving import damage
from rubrail.desk.receiving.begin import ReceiptError, demand_open
from rubrail.desk.receiving.found import ordered_trailer, taken_trailer
from rubrail.desk.views.receive import receipt_at
from rubrail.desk.views.receive_steps import closed, frame
from rubrail.things.faults import Faults
from rubrail.things.trailer import Trailer

TYPED = ("view", "at-x", "at-up", "station", "words")
"""Fields of the form that are shown again where it is not taken."""


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@once
def receipt_damage(request: HttpRequest, number: str) -> HttpResponse:
    """What is damaged; or that somebody looked and found nothing."""
    it = receipt_at(number)
    if request.method == "POST":
        return _entered(request, it)
    return closed(request, it) or _page(request, it)


def _page(request: HttpRequest, it: Receipt, *, faults: Sequence[str] = ()) -> HttpResponse:
    """The page; with what was typed where it was not taken."""
    metric = request.user.measures == "metric"
    marks, photos, trailer = list(it.damages.all()), list(photos_about(it)), _drawn(it)
    rows = [
        (n, m, damage.said_place(m, metric=metric), [p for p in photos if p.spot.get("damage") == str(m.key)])
        for n, m in enumerate(marks, 1)
    ]
    context = frame(
        it,
        rows=rows,
        drawings=damage.drawings(trailer, marks, metric=metric) if trailer else {},
        stations=damage.STATIONS,
        none_found=bool(it.found.get("no_damage")) and not marks,
        typed={name: request.POST.get(name, "")[:300] for name in TYPED},
        faults=faults,
    )
    return render(request, "desk/receive/damage.html", context)


def _entered(request: HttpRequest, it: Receipt) -> HttpResponse:
    here = reverse("receipt-damage", args=[it.number])
    try:
        if request.POST.get("do") == "none":
            _none_found(request, it)
            return tell(request, "Kept: somebody looked, and found no damage.", go=here)
        mark = damage.add_damage(
            it,
            station=request.POST.get("station", ""),
            spot=damage.spot_of(request.POST),
            words=request.POST.get("words", ""),
            key=None,
            trailer=_drawn(it),
            by=request.user,
        )
    except ReceiptError as told:
        if it.is_open and not from_outbox(request):
            return _page(request, it, faults=[str(told)])
        return tell(request, str(told), go=here, status=422)
    except StaleError:
        return tell(request, "Somebody saved this receipt meanwhile; look at it again.", go=here, status=422)
    sent = _photos(request, it, mark)
    return tell(request, " ".join(("The damage is marked.", *sent.faults)), go=here)


def _none_found(request: HttpRequest, it: Receipt) -> None:
    demand_open(it)
    if it.damages.exists():
        raise ReceiptError("Damage is marked already; take the marks off first.")
    found = {**it.found, "no_damage": True}
    deltas = [Delta("no_damage", "damage", "", "none found", "yard.see")]
    if found != it.found:
        save_changes(it, values={"found": found}, deltas=deltas, by=request.user, seen_version=it.version)


def _photos(request: HttpRequest, it: Receipt, mark: DamageMark) -> Sent:
    return keep_photos(
        request.FILES.getlist("photos"),
        unit=it.unit,
        by=request.user,
        purpose=Purpose.DAMAGE,
        about=it,
        says=mark.words,
        spot={**mark.spot, "damage": str(mark.key)},
    )


def _drawn(it: Receipt) -> Trailer | None:
    try:
        return taken_trailer(it)
    except Faults:
        return ordered_trailer(it)


@requires("unit.edit")
@require_POST
@once
def receipt_damage_change(request: HttpRequest, number: str, pk: int) -> HttpResponse:
    """Take a mark off, or add photos to it."""
    it = receipt_at(number)
    marks = DamageMark.objects.select_related("receipt", "receipt__unit")
    mark = get_object_or_404(marks, pk=pk, receipt=it)
    try:
        if request.POST.get("do") == "photos":
            demand_open(it)
            sent = _photos(request, it, mark)
            for fault in sent.faults:
                messages.error(request, fault)
            if sent.kept:
                messages.success(request, "The photo is added.")
            elif not sent.faults:
                messages.error(request, "No photo was chosen.")
        else:
            damage.take_away(mark, by=request.user)
            messages.success(request, "The mark is taken off.")
    except ReceiptError as told:
        messages.error(request, str(told))
    return redirect("receipt-damage", it.number)
