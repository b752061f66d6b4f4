"""Hand-overs: which units wait for one, the list gone through at the truck, weighed again, signed and delivered."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.cache import patch_cache_control
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.checking.entries import entry_words, line_in
from rubrail.desk.checking.lists import UnreadableUnitError
from rubrail.desk.checking.page import counts_of, sheet_of
from rubrail.desk.handing import paper as papers
from rubrail.desk.handing import steps
from rubrail.desk.handing.offers import offers_of
from rubrail.desk.handing.page import weighed_page
from rubrail.desk.handing.stand import quote_of, stand_of
from rubrail.desk.models import Checklist, Unit
from rubrail.desk.models.checks import CheckState
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.once import from_outbox, once, tell
from rubrail.desk.printed import printed, stamp_for
from rubrail.desk.signatures import SignatureError, drawn, pad_again, read_signature
from rubrail.desk.views.check import asked_of, line_url

LATELY = 20
MEANWHILE = "Somebody saved the quote or the haul meanwhile; nothing is signed. Open this page again and look."


def hand_over_at(pk: int) -> Checklist:
    """The hand-over of an address; not found where there is none."""
    rows = Checklist.objects.select_related("unit", "haul", "created_by", "finished_by")
    return get_object_or_404(rows, pk=pk, sort=steps.SORT)


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def hand_overs(request: HttpRequest) -> HttpResponse:
    """Units that wait to be handed over, hand-overs under way, and those done lately."""
    rows = Checklist.objects.filter(sort=steps.SORT).select_related("unit", "finished_by")
    under_way = list(rows.filter(state=CheckState.OPEN))
    begun = {it.about.get("quote"): it for it in under_way}
    counts = counts_of(under_way)
    waiting = [(q, begun.get(q.number)) for q in steps.waiting()]
    shown = {it.pk for _, it in waiting if it}
    context = {
        "waiting": [(q, it, counts.get(it.pk) if it else 0, len(it.lines) if it else 0) for q, it in waiting],
        "under_way": [(it, counts[it.pk], len(it.lines)) for it in under_way if it.pk not in shown],
        "lately": list(rows.filter(state=CheckState.RELEASE)[:LATELY]),
    }
    return render(request, "desk/handover/hand_overs.html", context)


@requires("unit.edit")
@require_POST
def hand_over_begin(request: HttpRequest) -> HttpResponse:
    """Begin the hand-over of a unit whose quote is accepted, or go on with the one under way."""
    number = request.POST.get("unit", "").strip()
    unit = Unit.objects.filter(stock_number__iexact=number).first()
    if unit is None:
        messages.error(request, f"There is no unit {number[:64]!r}; write a stock number.")
        return redirect("hand-overs")
    try:
        return redirect("hand-over", steps.begin(unit, by=request.user).pk)
    except (steps.HandOverError, UnreadableUnitError) as fault:
        messages.error(request, str(fault))
        return redirect("hand-overs")


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def hand_over(request: HttpRequest, pk: int) -> HttpResponse:
    """One hand-over: how it stands, its list, the signatures."""
    return _page(request, hand_over_at(pk))


def _page(request: HttpRequest, it: Checklist, *, fault: str = "") -> HttpResponse:
    """Its page; with what was written to sign it where that was not taken."""
    quote, sent = quote_of(it), request.POST
    context: dict[str, Any] = {
        "it": it,
        "unit": it.unit,
        "quote": quote,
        "sheet": sheet_of(it, user=request.user, **asked_of(request)),
        "seen_entry": steps.last_entry(it),
        "today": clock.today().isoformat(),
        "signed": [(s, drawn(s)) for s in it.signatures],
        "regardless": it.result.get("regardless") or {},
        "open": it.state == CheckState.OPEN,
        "fault": fault,
        "buyer": pad_again(sent, "buyer", name=it.about.get("buyer", "")),
        "yard": pad_again(sent, "yard", name=request.user.name),
        "day": sent.get("day", clock.today().isoformat()),
        "why": sent.get("why", ""),
        "keep": not sent or sent.get("keep") == "yes",
    }
    if it.state == CheckState.OPEN:
        context |= weighed_page(stand_of(it), it=it, user=request.user)
    else:
        context["offers"] = offers_of(it, user=request.user)
    return render(request, "desk/handover/hand_over.html", context)


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def hand_over_weighed(request: HttpRequest, pk: int) -> HttpResponse:
    """How it stands now, for the page's own script."""
    it = hand_over_at(pk)
    if it.state != CheckState.OPEN:
        raise Http404
    context = {"it": it, "unit": it.unit}
    answer = render(
        request, "desk/handover/_weighed.html", context | weighed_page(stand_of(it), it=it, user=request.user)
    )
    patch_cache_control(answer, no_store=True)
    return answer


@requires("quote.edit")
@require_POST
@once
def hand_over_finish(request: HttpRequest, pk: int) -> HttpResponse:
    """Sign and deliver: all of it or nothing."""
    it = hand_over_at(pk)
    go = it.get_absolute_url()
    try:
        signing = _signing(request)
        done = steps.finish(it, signing, by=request.user, stamp=stamp_for(request, go))
    except (SignatureError, steps.HandOverError, steps.QuoteError, UnreadableUnitError) as fault:
        return _refused(request, it, str(fault))
    except steps.MeanwhileError as other:
        return _meanwhile(request, it, other)
    except steps.StaleError:
        return _refused(request, it, MEANWHILE)
    return tell(request, f"Handed over; unit {done.unit} is sold, and what is owed the buyer later is planned.", go=go)


def _refused(request: HttpRequest, it: Checklist, says: str) -> HttpResponse:
    """What is wrong: told to the outbox, which keeps what was written; else beside it on the page."""
    if from_outbox(request):
        return tell(request, says, go=f"{it.get_absolute_url()}#sign", status=422)
    return _page(request, hand_over_at(it.pk), fault=says)


def _signing(request: HttpRequest) -> steps.Signing:
    sent = request.POST
    try:
        day = date.fromisoformat(sent.get("day", ""))
    except ValueError:
        raise steps.HandOverError("Day: write it as year, month and day, such as 2026-11-28.") from None
    faults, signatures = [], {}
    for field, who in (("buyer", "The buyer"), ("yard", "The yard")):
        try:
            signatures[field] = read_signature(sent, field)
        except SignatureError as fault:
            faults.append(f"{who}: {fault}")
    if faults:
        raise steps.HandOverError(" ".join(faults))
    return steps.Signing(
        buyer=signatures["buyer"],
        yard=signatures["yard"],
        day=day,
        why=" ".join(sent.get("why", "").split()),
        keep=sent.get("keep") == "yes" and request.user.may("haul.edit"),
        seen_quote=_whole(sent.get("seen_quote", "")),
        seen_entry=max(_whole(sent.get("seen_entry", "")), _whole(sent.get("seen", ""))),
    )


def _whole(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 16 else 0


def _meanwhile(request: HttpRequest, it: Checklist, other: steps.MeanwhileError) -> HttpResponse:
    entry = other.entry
    said = entry_words(line_in(it, entry.line), entry.value)
    says = f"{entry.by.name} entered something meanwhile: {said}. Look at it, then sign."
    if not from_outbox(request):
        return _page(request, it, fault=says)
    more = {"theirs": f"{said} ({entry.by.name})", "mine": "your signatures", "seen": steps.last_entry(it)}
    return tell(request, says, go=line_url(it, entry.line), status=409, **more)


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def hand_over_paper(request: HttpRequest, pk: int) -> HttpResponse:
    """The sheet: as it stands, or as it was signed."""
    it = hand_over_at(pk)
    try:
        sheet = papers.paper_of(it, stamp=stamp_for(request, it.get_absolute_url()), metric=_metric(request))
    except UnreadableUnitError:
        raise Http404 from None
    return printed(request, sheet, f"{it.unit}-hand-over")


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def hand_over_blank(request: HttpRequest, stock_number: str) -> HttpResponse:
    """An empty sheet of a unit, for the truck of its accepted quote where there is one."""
    unit = get_object_or_404(Unit, stock_number__iexact=stock_number)
    quote = unit.quotes.filter(status=QuoteStatus.ACCEPTED).select_related("haul").first()
    stamp = stamp_for(request, unit.get_absolute_url())
    try:
        return printed(
            request, papers.blank_paper(unit, quote, stamp=stamp, metric=_metric(request)), f"{unit}-hand-over"
        )
    except UnreadableUnitError:
        raise Http404 from None


def _metric(request: HttpRequest) -> bool:
    return request.user.measures == "metric"
