"""The yard's wording of its listings: written, looked at on a unit, kept from a day on."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.editing import StaleError
from rubrail.desk.forms.wording import WordingForm, initial_of
from rubrail.desk.listing_page import told
from rubrail.desk.listings import Terms, offer_of, terms_on, wording_book
from rubrail.desk.models import Unit
from rubrail.desk.models.stock import ON_THE_LOT
from rubrail.desk.stock import readable
from rubrail.desk.wording_keep import TakenDayError, keep_wording, mark_of
from rubrail.things.listing_names import NAMES

STALE = (
    "Somebody changed the wording while you had it open. What you wrote is still here and nothing is kept yet: look at"
    " theirs in another tab, then keep yours."
)


@requires("price.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def listing_wording(request: HttpRequest) -> HttpResponse:
    """Write the wording, and look at it on a unit before it is kept."""
    today = clock.today()
    terms, book = terms_on(today), wording_book(today)
    if request.method != "POST":
        return _page(request, WordingForm(initial=initial_of(terms.wording)), terms, seen=mark_of(book))
    form = WordingForm(request.POST)
    seen = request.POST.get("seen", "")
    if not form.is_valid() or request.POST.get("do") != "keep":
        return _page(request, form, terms, seen=seen)
    try:
        keep_wording(form.wording, seen=seen, today=today, by=request.user)
    except StaleError:
        return _page(request, form, terms, seen=mark_of(wording_book(today)), stale=STALE, status=409)
    except TakenDayError:
        form.add_error("effective", "Another wording begins on that day already; choose another day.")
        return _page(request, form, terms, seen=seen)
    begins = form.wording.effective
    when = "from now on" if begins <= today else f"from {begins:%B} {begins.day}, {begins.year}"
    messages.success(request, f"The wording is kept; listings follow it {when}.")
    return redirect("listing-wording")


@requires("price.edit")
@require_POST
def listing_wording_look(request: HttpRequest) -> HttpResponse:
    """The wording as typed, on the unit chosen; a fragment of the page."""
    form = WordingForm(request.POST)
    form.is_valid()
    return render(request, "desk/listing/_look.html", _look(request, form, terms_on(clock.today())))


def _page(
    request: HttpRequest, form: WordingForm, terms: Terms, *, seen: str, stale: str = "", status: int = 200
) -> HttpResponse:
    context = {
        **_look(request, form, terms),
        "form": form,
        "seen": seen,
        "stale": stale,
        "names": [(key, label, says) for key, (label, says) in NAMES.items()],
        "units": Unit.objects.filter(status__in=ON_THE_LOT)
        .order_by("stock_number")
        .values_list("stock_number", "title"),
    }
    return render(request, "desk/listing/wording.html", context, status=status)


def _look(request: HttpRequest, form: WordingForm, terms: Terms) -> dict[str, Any]:
    """The text of the unit chosen, as the form words it; as the yard does so far where the form has faults."""
    asked = request.POST.get("unit") or request.GET.get("unit", "")
    there = Unit.objects.filter(status__in=ON_THE_LOT).select_related("listing").order_by("stock_number")
    unit = there.filter(stock_number__iexact=asked).first() or there.first()
    trailer = None if unit is None else readable(unit)
    faulty = form.is_bound and form.wording is None
    if trailer is None or faulty:
        return {"unit": unit, "faulty": faulty, "look_errors": _errors(form) if faulty else []}
    wording = form.wording if form.is_bound else terms.wording
    metric = request.user.measures == "metric"
    found = offer_of(unit, terms, trailer=trailer, wording=wording, metric=metric)
    return {"unit": unit, "text": found.text, "refused": told(found.refused, metric=metric), "faulty": False}


def _errors(form: WordingForm) -> list[tuple[str, list[str]]]:
    return [(form.fields[name].label if name in form.fields else "", list(e)) for name, e in form.errors.items()]
