"""Listings: a unit's text and what of it is refused, whether it is shown, the age of its price; the list of them."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.editing import StaleError
from rubrail.desk.listing_page import WHICH, lines_of, page_of, units_of
from rubrail.desk.listings import held_back, offer_of, price_still_right, set_shown, set_words, terms_on, wording_book
from rubrail.desk.models import Change, Unit
from rubrail.desk.models.listings import MOST_WORDS
from rubrail.desk.once import once
from rubrail.desk.stock import readable

PER_PAGE = 50
NO_TEXT = "What is stored of this unit no longer reads, so nothing can be said of it: correct it first."
CANNOT_SHOW = "It is not put on the public pages: mend first what this page says is wrong."
STALE = "Somebody changed this listing while you had it open. Nothing of yours is lost: look at it again, then press."


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def listings(request: HttpRequest) -> HttpResponse:
    """Every unit for sale: shown or not, the age of its price, what there is to do."""
    terms = terms_on(clock.today())
    which, words = request.GET.get("which", ""), request.GET.get("words", "").strip()[:100]
    found = units_of(which, words, terms)
    page = Paginator(found, PER_PAGE).get_page(request.GET.get("page"))
    context = {
        "page": page,
        "lines": lines_of(page, terms),
        "which": which,
        "words": words,
        "choices": WHICH,
        "own_wording": wording_book(terms.today),
        "wording": terms.wording,
    }
    return render(request, "desk/listing/listings.html", context)


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def listing(request: HttpRequest, stock_number: str) -> HttpResponse:
    """The listing of one unit."""
    return _page(request, _unit(stock_number))


@requires("price.edit")
@require_POST
@once
def listing_change(request: HttpRequest, stock_number: str) -> HttpResponse:
    """Show a unit or not, say that its price is still right, or keep the yard's own words for it."""
    unit = _unit(stock_number)
    do, seen = request.POST.get("do", ""), request.POST.get("seen", "")
    version = int(seen) if seen.isdigit() and len(seen) < 9 else -1
    typed = request.POST.get("words", "").replace("\r\n", "\n")
    words = "".join(c for c in typed if c == "\n" or c.isprintable()).strip()
    by = request.user
    try:
        if do in ("show", "hide"):
            _show(request, unit, do == "show", version)
        elif do == "price" and unit.price_usd is not None:
            price_still_right(unit, by=by, seen_version=version)
            messages.success(request, f"Written down: the price of {unit} is still right today.")
        elif do == "words":
            return _words(request, unit, words, version)
    except StaleError:
        return _page(request, _unit(stock_number), words=words if do == "words" else None, stale=True, status=409)
    return redirect("listing", unit.stock_number)


def _show(request: HttpRequest, unit: Unit, shown: bool, version: int) -> None:
    trailer = readable(unit) if shown else None
    if shown and (trailer is None or held_back(offer_of(unit, terms_on(clock.today()), trailer=trailer))):
        messages.error(request, CANNOT_SHOW)
        return
    set_shown(unit, shown, by=request.user, seen_version=version)
    said = "on the public pages from now on" if shown else "no longer on the public pages"
    messages.success(request, f"{unit} is {said}.")


def _words(request: HttpRequest, unit: Unit, words: str, version: int) -> HttpResponse:
    if len(words) > MOST_WORDS:
        fault = f"The words have {len(words):,} letters; at most {MOST_WORDS:,} are kept."
        return _page(request, unit, words=words, fault=fault)
    trailer = readable(unit)
    if trailer is None:
        return _page(request, unit, words=words, fault=NO_TEXT)
    refused = offer_of(unit, terms_on(clock.today()), trailer=trailer, words=words).words_refused
    set_words(unit, words, refused=bool(refused), by=request.user, seen_version=version)
    if refused:
        return _page(request, _unit(unit.stock_number), words=words)
    messages.success(request, f"The words for {unit} are kept.")
    return redirect("listing", unit.stock_number)


def _unit(stock_number: str) -> Unit:
    return get_object_or_404(Unit.objects.select_related("listing"), stock_number__iexact=stock_number)


def _page(
    request: HttpRequest,
    unit: Unit,
    *,
    words: str | None = None,
    fault: str = "",
    stale: bool = False,
    status: int = 200,
) -> HttpResponse:
    metric = request.user.measures == "metric"
    context = {
        **page_of(unit, terms_on(clock.today()), words=words, metric=metric),
        "fault": fault,
        "stale": STALE if stale else "",
        "last_change": Change.objects.seen_by(request.user).filter(kind="unit", thing=unit.pk).first()
        if stale
        else None,
    }
    return render(request, "desk/listing/listing.html", context, status=status)
