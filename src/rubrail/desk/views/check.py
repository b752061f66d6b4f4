"""Checklists: the list of them, one being gone through on a phone, signed, and looked at again."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.answers.checklist import SORTS as ENGINE_SORTS
from rubrail.desk.access import requires
from rubrail.desk.checking import lists
from rubrail.desk.checking.entries import (
    ConflictError,
    EntryError,
    entry_seen,
    entry_words,
    keep_entry,
    keep_line_photos,
    line_in,
    read_entry,
)
from rubrail.desk.checking.page import counts_of, row_of, sheet_of
from rubrail.desk.checking.paper import blank_paper, paper_of
from rubrail.desk.handing.offers import offers_of
from rubrail.desk.models import Checklist, Unit
from rubrail.desk.models.checks import CheckState
from rubrail.desk.once import from_outbox, once, tell
from rubrail.desk.printed import printed, stamp_for
from rubrail.desk.signatures import SignatureError, drawn, read_signature

LATELY = 20
HAND_OVER = "handover"
"""Hand-overs are lists too, with a page of their own."""


def list_at(pk: int) -> Checklist:
    """The list of an address; not found where there is none."""
    return get_object_or_404(Checklist.objects.select_related("unit", "created_by", "finished_by"), pk=pk)


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def checks(request: HttpRequest) -> HttpResponse:
    """Lists under way, lists that hold a unit, and those finished lately."""
    rows = Checklist.objects.exclude(sort=HAND_OVER).select_related("unit", "created_by", "finished_by")
    asked = request.GET.get("unit", "")[:64]
    of = Unit.objects.filter(stock_number__iexact=asked).first() if asked else None
    if of is not None:
        rows = rows.filter(unit=of)
    under_way = list(rows.filter(state=CheckState.OPEN))
    context = {
        "under_way": [(it, lists.SORTS[it.sort], n, len(it.lines)) for it, n in _counted(under_way)],
        "held": [(it, lists.SORTS[it.sort]) for it in rows.filter(state=CheckState.HOLD)],
        "lately": [
            (it, lists.SORTS[it.sort])
            for it in rows.filter(state__in=(CheckState.RELEASE, CheckState.RELEASED))[:LATELY]
        ],
        "sorts": [(key, lists.SORTS[key]) for key in ENGINE_SORTS],
        "asked": of.stock_number if of is not None else "",
        "of": of,
    }
    return render(request, "desk/check/checks.html", context)


def _counted(found: list[Checklist]) -> list[tuple[Checklist, int]]:
    counts = counts_of(found)
    return [(it, counts[it.pk]) for it in found]


@requires("unit.edit")
@require_POST
def check_begin(request: HttpRequest) -> HttpResponse:
    """Begin a list of a unit, or go on with the one under way."""
    number, sort = request.POST.get("unit", "").strip(), request.POST.get("sort", "inspection")
    unit = Unit.objects.filter(stock_number__iexact=number).first()
    if unit is None or sort not in ENGINE_SORTS:
        said = f"There is no unit {number[:64]!r}; write a stock number." if unit is None else "There is no such list."
        messages.error(request, said)
        return redirect("checks")
    try:
        return redirect(lists.begin(unit, sort=sort, by=request.user))
    except lists.UnreadableUnitError as fault:
        messages.error(request, str(fault))
        return redirect(unit)


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def check(request: HttpRequest, pk: int) -> HttpResponse:
    """One list: station by station, each line entered by itself."""
    it = list_at(pk)
    if it.sort == HAND_OVER:
        return redirect(it)
    sheet = sheet_of(it, user=request.user, **asked_of(request))
    signed = [(s, drawn(s)) for s in it.signatures]
    context = {"it": it, "sheet": sheet, "unit": it.unit, "signed": signed, "offers": offers_of(it, user=request.user)}
    return render(request, "desk/check/check.html", context)


def line_url(it: Checklist, key: str) -> str:
    """The page at a line, its station open."""
    return f"{it.get_absolute_url()}?{urlencode({'at': key})}#line-{key}"


def asked_of(request: HttpRequest) -> dict[str, Any]:
    """Where the walk along a list goes on: behind a line, or with every station open."""
    return {"at": request.GET.get("at", "")[:80], "every": request.GET.get("all") == "1"}


@requires("unit.edit")
@require_POST
@once
def check_line(request: HttpRequest, pk: int) -> HttpResponse:
    """Enter one line, or send photos of it. Answers with the line as it stands now."""
    it = list_at(pk)
    key, files = request.POST.get("line", "")[:80], request.FILES.getlist("photos")
    go = line_url(it, key)
    try:
        line = line_in(it, key)
        if files:
            keep_line_photos(it, line, files, by=request.user)
        if not files or "answer" in request.POST:
            _entered(request, it, line)
    except EntryError as fault:
        return tell(request, str(fault), go=go, status=422, shown=_shown(request, it, key))
    except ConflictError as other:
        metric, by = request.user.measures == "metric", other.theirs.by.name
        theirs, mine = (entry_words(line, value, metric=metric) for value in (other.theirs.value, other.mine))
        says = f"{by} entered this line meanwhile: {theirs}. Yours was not put over it: {mine}."
        if from_outbox(request):
            says = f"{by} entered this line meanwhile."
            if other.theirs.by_id == request.user.pk:
                says = "You entered this line later, on another device."
        more = {"theirs": f"{theirs} ({by})", "mine": mine, "seen": other.theirs.turn}
        return tell(request, says, go=go, status=409, shown=_shown(request, it, key), **more)
    it.refresh_from_db()
    return tell(request, "", go=go, line=key, shown=_shown(request, it, key))


def _entered(request: HttpRequest, it: Checklist, line: Any) -> None:
    seen = request.POST.get("seen", "")
    turn = int(seen) if seen.isdecimal() and len(seen) < 6 else 0
    keep_entry(
        it,
        line,
        read_entry(line, request.POST, was=entry_seen(it, line, turn) if line.places else None),
        seen=turn,
        by=request.user,
        written=request.POST.get("written", "")[:40],
    )


def _shown(request: HttpRequest, it: Checklist, key: str) -> dict[str, str]:
    """The line and the page's head as they stand now, for the page's own script; nothing for a plain form."""
    if not from_outbox(request):
        return {}
    try:
        row, sheet = row_of(it, key, user=request.user)
    except StopIteration:
        return {}
    station = next(each for each in sheet.stations if row in each.rows)
    context = {"row": row, "it": it, "sheet": sheet, "unit": it.unit, "station": station}
    return {
        "row": render_to_string("desk/check/_row.html", context, request=request),
        "head": render_to_string("desk/check/_head.html", context, request=request),
        "station": render_to_string("desk/check/_station.html", context, request=request),
    }


@requires("unit.edit")
@require_POST
@once
def check_finish(request: HttpRequest, pk: int) -> HttpResponse:
    """Sign a list: release or hold, frozen."""
    it = list_at(pk)
    go = it.get_absolute_url()
    if it.sort == HAND_OVER:
        return tell(request, "A hand-over is signed on its own page, by the buyer and the yard.", go=go, status=422)
    if it.state == CheckState.DROPPED:
        return tell(request, "This list was given up; begin a new one.", go=go, status=422)
    try:
        signature = read_signature(request.POST)
    except SignatureError as fault:
        return tell(request, str(fault), go=f"{go}#sign", status=422)
    done = lists.finish(it, signature=signature, by=request.user)
    return tell(request, done.result.get("says", ""), go=go)


@requires("unit.edit")
@require_POST
def check_step(request: HttpRequest, pk: int) -> HttpResponse:
    """Give a list up, or take the unit's figures of now into it."""
    it, step = list_at(pk), request.POST.get("do", "")
    try:
        if step == "drop" and lists.drop(it, by=request.user):
            messages.success(request, f"The list of {it.unit} is given up; what was entered stays on record.")
            return redirect("checks")
        if step == "renew" and it.sort != HAND_OVER and lists.renew(it, by=request.user):
            messages.success(request, "The lines are as the unit's file has it now; what was entered stays.")
            return redirect(it)
    except lists.UnreadableUnitError as fault:
        messages.error(request, str(fault))
        return redirect(it)
    messages.error(request, "This list is not under way any more.")
    return redirect(it)


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def check_paper(request: HttpRequest, pk: int) -> HttpResponse:
    """A list as it was entered and signed, as PDF."""
    it = list_at(pk)
    if it.sort == HAND_OVER:
        return redirect("hand-over-paper", it.pk)
    paper = paper_of(it, stamp=stamp_for(request, it.get_absolute_url()), user=request.user)
    return printed(request, paper, f"check-{it.pk}")


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def check_blank(request: HttpRequest, stock_number: str, sort: str) -> HttpResponse:
    """A list of a unit to be filled by hand, as PDF."""
    unit = get_object_or_404(Unit, stock_number__iexact=stock_number)
    if sort not in ENGINE_SORTS:
        raise Http404
    try:
        paper = blank_paper(unit, sort=sort, stamp=stamp_for(request, unit.get_absolute_url()), user=request.user)
    except lists.UnreadableUnitError:
        raise Http404 from None
    return printed(request, paper, f"{unit}-{sort}")
