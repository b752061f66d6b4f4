"""Sell, hold, release, take in, retire and bring back: one page that says what will be, and asks before it is."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from rubrail.desk.access import requires
from rubrail.desk.drawings import small
from rubrail.desk.editing import StaleError
from rubrail.desk.follow_plan import undated
from rubrail.desk.forms import seen
from rubrail.desk.forms.standing import StepForm
from rubrail.desk.models import Change, Unit
from rubrail.desk.standing import BY_KEY, FREES, PRICE_NEEDS, Step, WrongStepError, promised_to, take_step
from rubrail.desk.today.rows import many


@requires("price.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def unit_step(request: HttpRequest, stock_number: str, step: str) -> HttpResponse:
    """Confirm a step of a unit, and take it."""
    if step not in BY_KEY:
        raise Http404
    it, way = get_object_or_404(Unit, stock_number__iexact=stock_number), BY_KEY[step]
    if it.status not in way.begins:
        return _stands_elsewhere(request, it)
    if request.method != "POST":
        return _page(request, it, way, _form(request, it, way))
    form = _form(request, it, way, request.POST)
    had = seen.unpack(request.POST.get(seen.FIELD, ""))
    if had is None or had.version != it.version:
        return _page(request, it, way, form, stale=True)
    if not form.is_valid():
        return _page(request, it, way, form)
    given = form.cleaned_data
    try:
        take_step(
            it,
            way,
            day=given["day"],
            note=given["note"],
            sold_for_usd=given.get("sold_for_usd"),
            by=request.user,
            seen_version=had.version,
        )
    except WrongStepError as told:
        if it.status not in way.begins:
            return _stands_elsewhere(request, it)
        form.add_error(None, str(told))
        return _page(request, it, way, form)
    except StaleError:
        it = Unit.objects.get(pk=it.pk)
        if it.status not in way.begins:
            return _stands_elsewhere(request, it)
        return _page(request, it, way, _form(request, it, way, request.POST), stale=True)
    messages.success(request, f"Unit {it} is {it.get_status_display()}.{_owed(it) if way.key == 'sell' else ''}")
    return redirect(it)


def _owed(it: Unit) -> str:
    """What was planned for its buyer, and how it gets its right days."""
    count = undated(it).count()
    if not count:
        return ""
    planned = many(count, "follow-up is", "follow-ups are")
    return f" {planned} planned from the day of sale; enter the day it goes to its buyer, and they move."


def _form(request: HttpRequest, it: Unit, way: Step, *data: Any) -> StepForm:
    return StepForm(*data, unit=it, step=way, may_price=request.user.may(PRICE_NEEDS))


def _stands_elsewhere(request: HttpRequest, it: Unit) -> HttpResponse:
    messages.warning(request, f"Unit {it} is {it.get_status_display()} already; nothing was changed.")
    return redirect(it)


def _page(request: HttpRequest, it: Unit, way: Step, form: StepForm, *, stale: bool = False) -> HttpResponse:
    trail = Change.objects.seen_by(request.user).filter(kind="unit", thing=it.pk)
    context = {
        "unit": it,
        "step": way,
        "form": form,
        "drawing": small(it),
        "seen": seen.pack(version=it.version, values={}),
        "stale": stale,
        "promised": promised_to(it) if way.key in ("sell", *FREES) else None,
        "last_change": trail.first() if stale else None,
    }
    return render(request, "desk/unit/step.html", context, status=409 if stale else 200)
