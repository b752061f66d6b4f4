"""Taking a ticket's weights over: what would change, asked first, then written as weighed."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from rubrail.desk.access import demand, requires
from rubrail.desk.editing import StaleError
from rubrail.desk.models import Ticket
from rubrail.desk.tickets.effects import truck_effects, unit_effects
from rubrail.desk.tickets.keep import (
    OF_TRAILER,
    OF_TRUCK,
    TRUCK_NEEDS,
    answer_of,
    apply_to_truck,
    apply_to_unit,
    hauls_with,
)
from rubrail.desk.tickets.page import proposed
from rubrail.desk.views.ticket import number_in, row_at, truck_name
from rubrail.sheets.sentences_deals import asked_sentence
from rubrail.sheets.sentences_words import SAFETY
from rubrail.things.faults import Faults


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def ticket_apply(request: HttpRequest, pk: int, of: str) -> HttpResponse:
    """Write the weights of the unit, or of the truck, which only sales may change."""
    row = row_at(pk)
    if of not in (OF_TRAILER, OF_TRUCK) or (of == OF_TRAILER and not row.unit_id):
        raise Http404
    if of == OF_TRUCK:
        demand(request, TRUCK_NEEDS)
    if row.closed:
        messages.info(request, "The ticket is put aside; nothing of it is taken over.")
        return redirect(row)
    try:
        answer = answer_of(row)
        metric = request.user.measures == "metric"
        rows = proposed(answer, of, metric=metric)
        if not rows:
            messages.info(request, "There is nothing to take over.")
            return redirect(row)
        if request.method == "POST":
            return _apply(request, row, of)
        effects = (unit_effects if of == OF_TRAILER else truck_effects)(row, answer, metric=metric)
    except Faults as told:
        messages.error(request, " ".join(f.sentence for f in told.faults))
        return redirect(row)
    context = {
        "ticket": row,
        "of": of,
        "name": str(row.unit) if of == OF_TRAILER else truck_name(row),
        "rows": rows,
        "effects": effects,
        "changing": [e for e in effects if e.changes],
        "asked": asked_sentence(effects[0].asked) if effects and row.unit_id else "",
        "hauls": hauls_with(row) if of == OF_TRUCK else [],
        "seen_of": _version_of(row, of),
        "safety": SAFETY,
    }
    return render(request, "desk/ticket/apply.html", context)


def _apply(request: HttpRequest, row: Ticket, of: str) -> HttpResponse:
    seen_version, seen_of = (number_in(request.POST.get(name)) for name in ("seen", "seen_of"))
    try:
        if of == OF_TRAILER:
            apply_to_unit(row, by=request.user, seen_version=seen_version, seen_unit=seen_of)
        else:
            chosen = set(request.POST.getlist("haul"))
            hauls = tuple(h for h in hauls_with(row) if str(h.pk) in chosen or h.pk == row.haul_id)
            apply_to_truck(row, hauls=hauls, by=request.user, seen_version=seen_version, seen_truck=seen_of)
    except StaleError:
        messages.warning(request, "Somebody else changed it just now; nothing was written. Look again.")
        return redirect("ticket-apply", pk=row.pk, of=of)
    messages.success(request, _said(row, of))
    return redirect(row)


def _version_of(row: Ticket, of: str) -> int:
    """Version of what is written to; a haul's own truck goes with the ticket's."""
    thing = row.unit if of == OF_TRAILER else row.truck
    return thing.version if thing is not None else 0


def _said(row: Ticket, of: str) -> str:
    what: Any = f"Unit {row.unit}" if of == OF_TRAILER else truck_name(row)
    return f"{what} has the weights of this ticket. Verdicts follow."
