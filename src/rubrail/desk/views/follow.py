"""Follow-ups: the list by day or by buyer, one on its page with what came of it, written by hand, planned."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import groupby
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Q, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_http_methods

from rubrail.desk import clock, follow_plan
from rubrail.desk import follow_ups as follow
from rubrail.desk.access import requires
from rubrail.desk.editing import StaleError, version_in
from rubrail.desk.forms.follow import FollowUpForm, OutcomeForm, PlanForm, SoldForm
from rubrail.desk.models import Change, FollowUp, Quote, Unit
from rubrail.desk.models.follow import FollowState
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.once import once
from rubrail.desk.sales.quotes import QuoteError, deliver
from rubrail.desk.standing import promised_to, said_day
from rubrail.desk.today.rows import many

PER_PAGE = 40
SEES_BUYERS = "quote.see"
DELIVERS = "quote.edit"
OTHERS_ENTER_IT = "A quote for this unit is accepted: somebody who sells enters its delivery there."
WHICH = (("", "Open"), ("due", "Due now"), ("ended", "Done and dropped"))


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def follow_ups(request: HttpRequest) -> HttpResponse:
    """The list: what is due, what is coming, what was done."""
    which = request.GET.get("which", "")
    words = request.GET.get("words", "").replace("\x00", "").strip()[:100]
    buyers = request.user.may(SEES_BUYERS)
    by = "buyer" if buyers and request.GET.get("by") == "buyer" else ""
    found = _found(which, words, buyers=buyers)
    order = {"buyer": ("quote__buyer", "due", "pk")}.get(by, ("-ended", "-pk") if which == "ended" else ("due", "pk"))
    page = Paginator(found.order_by(*order), PER_PAGE).get_page(request.GET.get("page"))
    context = {
        "page": page,
        "groups": [(head, list(rows)) for head, rows in groupby(page, _heading(by, which))],
        "which": which,
        "ways": WHICH,
        "words": words,
        "by": by,
        "sees_buyers": buyers,
    }
    return render(request, "desk/follow/follow_ups.html", context)


def _found(which: str, words: str, *, buyers: bool) -> QuerySet[FollowUp]:
    found = FollowUp.objects.select_related("unit", "quote").defer("unit__spec", "unit__packed", "unit__thumbnail")
    if which == "ended":
        found = found.exclude(state=FollowState.OPEN)
    else:
        found = found.filter(state=FollowState.OPEN)
    if which == "due":
        found = found.filter(due__lte=clock.today())
    for word in words.split():
        held = Q(title__icontains=word) | Q(unit__stock_number__icontains=word)
        if buyers:
            held |= Q(quote__buyer__icontains=word) | Q(quote__number__icontains=word)
        found = found.filter(held)
    return found


def _heading(by: str, which: str) -> Any:
    today = clock.today()
    if by:
        return lambda it: it.quote.buyer if it.quote else "No buyer named"
    if which == "ended":
        return lambda it: said_day(it.ended)
    return lambda it: "Due" if it.due <= today else "Coming"


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def follow_up(request: HttpRequest, pk: int) -> HttpResponse:
    """One of them."""
    return _page(request, _one(pk), OutcomeForm())


def _one(pk: int) -> FollowUp:
    return get_object_or_404(FollowUp.objects.select_related("unit", "quote", "created_by"), pk=pk)


def _page(
    request: HttpRequest, it: FollowUp, form: OutcomeForm, *, status: int = 200, stale: bool = False
) -> HttpResponse:
    context = {
        "it": it,
        "form": form,
        "stale": stale,
        "back": (request.POST or request.GET).get("back", "")[:200],
        "sees_buyers": request.user.may(SEES_BUYERS),
        "trail": list(Change.objects.seen_by(request.user).filter(kind="follow-up", thing=it.pk)[:12]),
    }
    return render(request, "desk/follow/follow_up.html", context, status=status)


@requires("unit.edit")
@require_http_methods(["POST"])
def follow_up_step(request: HttpRequest, pk: int) -> HttpResponse:
    """Done, moved, dropped or taken up again."""
    it, do = _one(pk), request.POST.get("do", "")
    form = OutcomeForm(request.POST, do=do)
    if not form.is_valid():
        return _page(request, it, form)
    try:
        said = _step(it, do, form.cleaned_data, by=request.user, seen_version=version_in(request.POST))
    except follow.FollowUpError as told:
        form.add_error(None, str(told))
        return _page(request, it, form)
    except StaleError:
        return _page(request, _one(pk), form, status=409, stale=True)
    messages.success(request, said)
    return redirect(_back(request))


def _step(it: FollowUp, do: str, given: dict[str, Any], *, by: Any, seen_version: int) -> str:
    note = given["note"].strip()
    if do == "done":
        follow.finish(it, note=note, by=by, seen_version=seen_version)
        return f"Done: {it}."
    if do == "move":
        follow.move(it, to=given["due"], why=note, by=by, seen_version=seen_version)
        return f"Moved to {said_day(it.due)}: {it}."
    if do == "drop":
        follow.drop(it, why=note, by=by, seen_version=seen_version)
        return f"Dropped: {it}."
    if do == "take-up":
        follow.take_up(it, by=by, seen_version=seen_version)
        return f"Open again: {it}."
    raise follow.FollowUpError("That is no step of a follow-up.")


def _back(request: HttpRequest) -> str:
    """Where the person came from, if that is a page of this desk."""
    to = request.POST.get("back", "")
    good = url_has_allowed_host_and_scheme(to, allowed_hosts=None) and to.startswith("/")
    return to if good else reverse("follow-ups")


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@once
def follow_up_new(request: HttpRequest) -> HttpResponse:
    """One more, written by hand for a unit; or all the usual ones after its delivery."""
    number = (request.POST.get("unit", "") or request.GET.get("unit", "")).replace("\x00", "")
    unit = Unit.objects.filter(stock_number__iexact=number[:64]).first()
    if unit is None:
        messages.error(request, "A follow-up is for a unit: begin it on a unit's page.")
        return redirect("follow-ups")
    plans = request.POST.get("do") == "plan"
    form = FollowUpForm(request.POST if request.POST and not plans else None)
    plan = PlanForm(request.POST if plans else None, initial={"delivered": unit.status_since or clock.today()})
    waits = follow_plan.undated(unit).first()
    quote, promised = _sold_by(unit), promised_to(unit)
    may_plan = follow_plan.may_be_planned(unit)
    try:
        if plans and plan.is_valid():
            messages.success(request, _planned(request, unit, plan.cleaned_data["delivered"], quote, waits=waits))
            return redirect(f"{reverse('follow-ups')}?words={unit.stock_number}")
        if not plans and form.is_bound and form.is_valid():
            it = follow.add(unit=unit, quote=quote, by=request.user, **form.cleaned_data)
            messages.success(request, f"Planned for {said_day(it.due)}: {it}.")
            return redirect(f"{reverse('follow-ups')}?words={unit.stock_number}")
    except (follow.FollowUpError, QuoteError) as why:
        (plan if plans else form).add_error(None, str(why))
        if plans and not may_plan:
            messages.error(request, str(why))  # The form it belongs to is not on the page.
    except StaleError:
        plan.add_error(None, "Somebody saved the quote meanwhile; nothing was written. Look again.")
    context = {
        "unit": unit,
        "form": form,
        "plan": plan,
        "may_plan": may_plan,
        "waits": waits,
        "promised": promised,
        "others_enter_it": OTHERS_ENTER_IT if promised and not request.user.may(DELIVERS) else "",
        "ticked": request.POST.get("quote", ""),
    }
    return render(request, "desk/follow/new.html", context)


def _planned(request: HttpRequest, unit: Unit, day: date, quote: Quote | None, *, waits: FollowUp | None) -> str:
    """Enter the day a unit went to its buyer, with its quote where one is accepted; what that came to.

    Raises
    ------
    FollowUpError, QuoteError, StaleError
        If it is not sold, or its quote is not delivered with it or cannot be.
    """
    if not follow_plan.may_be_planned(unit):
        raise follow.FollowUpError(f"Unit {unit} is {unit.get_status_display()}; there is no delivery to be entered.")
    if quote is not None and quote.status == QuoteStatus.ACCEPTED:
        if not request.user.may(DELIVERS):
            raise follow.FollowUpError(OTHERS_ENTER_IT)
        if request.POST.get("quote") != quote.number:
            raise follow.FollowUpError(f"Quote {quote} of {quote.buyer} is accepted: tick that it is delivered too.")
        planned = deliver(quote, day=day, by=request.user, seen_version=version_in(request.POST))
        return f"Quote {quote} is delivered without a hand-over, and {planned} follow-ups are dated by it."
    made = follow_plan.plan_for(unit=unit, delivered=day, quote=quote, by=request.user)
    told = "are dated by its delivery" if waits else "are planned"
    return f"{len(made)} follow-ups of unit {unit} {told}."


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def follow_ups_sold(request: HttpRequest) -> HttpResponse:
    """Units sold without follow-ups, as by a list that said so: planned for all that are ticked, at once."""
    found = follow_plan.unplanned().defer("packed", "thumbnail")
    sent = request.POST.getlist("unit")[:PER_PAGE]
    form = SoldForm(request.POST if request.method == "POST" else None)
    if form.is_bound and form.is_valid():
        chosen = list(found.filter(stock_number__in=sent))
        if chosen:
            planned, unread = follow_plan.plan_from_sales(chosen, sold=form.cleaned_data["sold"], by=request.user)
            if planned:
                messages.success(request, f"The follow-ups of {many(planned, 'unit')} are planned from the sale.")
            for unit in unread:
                messages.error(request, f"What is stored of unit {unit} no longer reads: correct it, then plan again.")
            return redirect("follow-ups" if not unread else "follow-ups-sold")
        form.add_error(None, "Tick the units whose follow-ups are to be planned.")
    page = Paginator(found.defer("spec"), PER_PAGE).get_page(request.GET.get("page"))
    since = clock.today() - timedelta(days=follow_plan.LONG_AGO_DAYS)
    rows = [
        (u, u.stock_number in sent if form.is_bound else bool(u.status_since and u.status_since >= since))
        for u in page
    ]
    context = {"page": page, "rows": rows, "form": form, "long_ago": follow_plan.LONG_AGO_DAYS}
    return render(request, "desk/follow/sold.html", context)


def _sold_by(unit: Unit) -> Quote | None:
    """The quote a unit goes or went by; an earlier buyer's, who brought it back, is none."""
    went = Q(status=QuoteStatus.ACCEPTED) | Q(status=QuoteStatus.DELIVERED, delivered=unit.status_since)
    return unit.quotes.filter(went).first()
