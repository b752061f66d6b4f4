"""The walk-around: a page to walk with, its paper, a cue sheet to film by, and captions for the film."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from functools import wraps
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from rubrail.answers.walk import ask_all, walked
from rubrail.desk.access import requires
from rubrail.desk.as_printed import as_printed, not_printed
from rubrail.desk.books import kit_here
from rubrail.desk.models import Unit
from rubrail.desk.printed import printed, stamp_for
from rubrail.desk.rig_reckon import reckon
from rubrail.desk.rig_stands import address_of
from rubrail.desk.stock import readable
from rubrail.desk.views.rig import rig_at, stands_at
from rubrail.desk.walk import Walked, hauls_offered, strips
from rubrail.desk.yardmates import company_of
from rubrail.sheets.paper.walk import walk_sheet
from rubrail.sheets.sentences_walk import MEASURE, NO_HAUL
from rubrail.sheets.sentences_words import SAFETY
from rubrail.sheets.walk_times import FASTEST, PACE, SLOWEST, Take, TakeError, take_of
from rubrail.sheets.walk_times import clock as clocked
from rubrail.sheets.webvtt import webvtt
from rubrail.things.trailer import Trailer

FIRST = 4
"""Sentences about the haul shown before the rest is folded away."""
LEADS = (0, 3, 5, 10)
"""Seconds from the start of a take to its first word: time to step before the camera."""
LEAD = 3
SIZES = (("normal", "normal"), ("large", "large"), ("largest", "largest"))
MOST_CHARS = 4000
View = Callable[[HttpRequest, Walked], HttpResponse]


def _of_walk(*, page: bool) -> Callable[[View], Callable[[HttpRequest, str], HttpResponse]]:
    """A view that is given the walk its address is about.

    Of a unit that no longer reads a page leads back to the unit and says so; a file is not found.
    """

    def around(view: View) -> Callable[[HttpRequest, str], HttpResponse]:
        @wraps(view)
        def seen(request: HttpRequest, stock_number: str) -> HttpResponse:
            unit = get_object_or_404(Unit, stock_number__iexact=stock_number)
            trailer = readable(unit)
            if trailer is not None:
                return view(request, _walk_at(request, unit, as_printed(unit, trailer).trailer))
            if not page:
                raise Http404("what is stored no longer reads")
            messages.error(
                request, "What is stored of this unit no longer reads: there is nothing to walk around with."
            )
            return redirect(unit)

        return seen

    return around


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
@_of_walk(page=True)
def walk(request: HttpRequest, it: Walked) -> HttpResponse:
    """Station by station, front to back."""
    context = {
        **_shared(it),
        "strips": strips(it),
        "stations": [_station(s, it) for s in it.said],
        "hauls": hauls_offered(it.haul),
        "kept_under": f"walk:{it.unit.stock_number}:{it.haul.pk if it.haul else ''}",
        "measure": MEASURE,
        "no_haul": NO_HAUL,
    }
    return render(request, "desk/walk/walk.html", context)


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
@_of_walk(page=True)
def walk_cue(request: HttpRequest, it: Walked) -> HttpResponse:
    """The words in large type, scrolling by themselves."""
    pace, fault = _pace(request.GET.get("pace", ""))
    leave = [k for k in request.GET.getlist("leave") if any(s.key == k for s in it.said)]
    try:
        take = take_of(it.said, pace=pace, leave=leave)
    except TakeError as told:
        fault, leave, take = f"{str(told).capitalize()}: all of them are shown.", [], take_of(it.said, pace=pace)
    times = {t.key: t for t in take.stations}
    size = request.GET.get("size", "large")
    context = {
        **_shared(it),
        "take": take,
        "total": clocked(take.total_s),
        "pace": pace,
        "slowest": SLOWEST,
        "fastest": FASTEST,
        "size": size if size in dict(SIZES) else "large",
        "sizes": SIZES,
        "leads": LEADS,
        "lead_in": LEAD,
        "mirror": "mirror" in request.GET,
        "chosen": "pace" in request.GET,
        "fault": fault,
        "stations": [
            {"it": s, "on": s.key in times, "time": times.get(s.key), "long": _long(times.get(s.key))} for s in it.said
        ],
    }
    return render(request, "desk/walk/cue.html", context, status=422 if fault else 200)


@requires("yard.see")
@require_http_methods(["GET", "HEAD", "POST"])
@_of_walk(page=False)
def walk_captions(request: HttpRequest, it: Walked) -> HttpResponse:
    """Captions of the film, from the planned times or from those noted during the take. Changes nothing."""
    number = it.unit.stock_number
    sent = request.POST if request.method == "POST" else request.GET
    try:
        take = _take(it, sent)
    except TakeError as told:
        messages.error(request, f"No captions were made: {told}.")
        return redirect(_address("walk-cue", it))
    title = f"{it.walk.trailer_title}, {number}"
    response = HttpResponse(webvtt(take, title=title), content_type="text/vtt; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{number}-walk.vtt"'
    return response


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
@_of_walk(page=False)
def walk_paper(request: HttpRequest, it: Walked) -> HttpResponse:
    """The walk as a sheet."""
    stamp = stamp_for(request, _address("walk", it))
    paper = walk_sheet(
        it.walk,
        it.trailer,
        yard=stamp.yard,
        date=stamp.date,
        link=stamp.link,
        metric=it.metric,
    )
    return printed(request, paper, f"{it.unit.stock_number}-walk")


def _walk_at(request: HttpRequest, unit: Unit, trailer: Trailer) -> Walked:
    """The walk an address is about: its haul, where it names one, with the pieces where it says they stand.

    Raises
    ------
    Http404
        If the haul is no longer there, or no longer reads.
    """
    asked = request.GET.get("haul", "").strip()
    metric, company = request.user.measures == "metric", company_of(unit)
    if not asked or not asked.isdigit() or len(asked) > 9 or not request.user.may("haul.see"):
        fault = f"A haul is asked for by its number, got {asked[:40]!r}: this walk is without one." if asked else ""
        return Walked(unit, trailer, None, walked(trailer, None, company), "", fault, metric)
    it = rig_at(request, int(asked), unit.stock_number)
    reckoned = reckon(haul=it.thing, trailer=trailer, stands=stands_at(it, request.GET), solve=False)
    rig = ask_all(reckoned.one, reckoned.placement, reckoned.columns, reckoned.weighing, kit_here())
    asks = urlencode({"haul": it.haul.pk})
    if "p" in request.GET:
        asks = f"{asks}&{address_of(reckoned.stands)}"
    return Walked(unit, trailer, it.haul, walked(trailer, rig, company), asks, "", metric)


def _address(name: str, it: Walked) -> str:
    """One of the walk's own pages, for the same haul and places."""
    return f"{reverse(name, args=[it.unit.stock_number])}{f'?{it.asks}' if it.asks else ''}"


def _shared(it: Walked) -> dict[str, Any]:
    return {
        "unit": it.unit,
        "haul": it.haul,
        "asks": it.asks,
        "lead": it.sentence,
        "verdict": it.walk.verdict,
        "said": it.said,
        "haul_fault": it.fault,
        "circle": f"{it.walk.others} other {it.walk.circle} units".replace("  ", " ") if it.walk.others else "",
        "safety": SAFETY,
        "not_printed": not_printed([it.unit], metric=it.metric),
    }


def _station(s: Any, it: Walked) -> dict[str, Any]:
    return {
        "it": s,
        "first": s.haul[:FIRST],
        "rest": s.haul[FIRST:],
        "of": len(it.said),
        "before": it.said[s.number - 2] if s.number > 1 else None,
        "next": it.said[s.number] if s.number < len(it.said) else None,
    }


def _pace(text: str) -> tuple[int, str]:
    text = text.strip()
    if not text:
        return PACE, ""
    if text.isdigit() and len(text) < 5 and SLOWEST <= int(text) <= FASTEST:
        return int(text), ""
    return PACE, f"The pace must be {SLOWEST} to {FASTEST} words a minute, got {text[:20]!r}: {PACE} is taken."


def _long(time: Any) -> str:
    return "" if time is None else clocked(time.end_s - time.start_s)


_TIMES = re.compile(r"\s*([a-z-]+)\s*=\s*([0-9.]+)\s*")


def _take(it: Walked, sent: Any) -> Take:
    """The take that was asked for.

    Raises
    ------
    TakeError
        With what cannot be used.
    """
    pace, fault = _pace(sent.get("pace", ""))
    if fault:
        raise TakeError(fault[:1].lower() + fault[1:].rsplit(":", 1)[0])
    words = {s.key: sent[f"say-{s.key}"][:MOST_CHARS] for s in it.said if sent.get(f"say-{s.key}", "").strip()}
    noted = None
    if sent.get("from") == "noted":
        noted = _noted(sent.get("times", ""), {s.key for s in it.said})
    lead = sent.get("lead", "0")
    if lead not in map(str, LEADS):
        raise TakeError(f"the lead-in must be {', '.join(map(str, LEADS))} seconds, got {lead[:20]!r}")
    leave = sent.getlist("leave")
    return take_of(it.said, pace=pace, leave=leave, words=words, noted=noted, lead_s=float(lead))


def _noted(text: str, keys: set[str]) -> dict[str, float]:
    found = {}
    for part in text[:2000].split(",") if text.strip() else ():
        match = _TIMES.fullmatch(part)
        try:
            seconds = float(match[2]) if match and match[1] in keys else math.nan
        except ValueError:
            seconds = math.nan
        if not 0 <= seconds < 86_400:
            raise TakeError(f"noted times read like coupling=0,chains=31.5 in seconds, got {part.strip()[:40]!r}")
        found[match[1]] = seconds
    if not found:
        raise TakeError("no time was noted yet")
    return found
