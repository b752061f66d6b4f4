"""Quotes: written, offered, signed, delivered; and the list of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from rubrail.answers.hand_over_lines import SORT
from rubrail.answers.price import DealError
from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.as_printed import makers_known, not_printed
from rubrail.desk.editing import StaleError, save_changes, version_in
from rubrail.desk.forms.quote import QuoteForm, initial_of, line_rows, read_lines
from rubrail.desk.models import Change, Haul, Quote, QuoteVersion, Unit
from rubrail.desk.models.checks import CheckState
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.once import once
from rubrail.desk.sales import quotes as sales
from rubrail.desk.sales.freeze import thawed
from rubrail.desk.sales.terms import NoRatesError, payment_of, price_of
from rubrail.desk.sales.words import as_it_was_offered, line_instead, words_refused
from rubrail.desk.stock import readable
from rubrail.desk.today.rows import many
from rubrail.desk.tries import address_of
from rubrail.sheets.paper.press import FORMATS, press
from rubrail.sheets.sentences_build import excise_sentence, price_sentence
from rubrail.things.rates import LINE_KINDS

PER_PAGE = 40


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def quotes(request: HttpRequest) -> HttpResponse:
    """The list of quotes, open ones first asked for."""
    status = request.GET.get("status", "")
    words = request.GET.get("words", "").strip()[:100]
    found = Quote.objects.select_related("unit", "haul")
    if status in QuoteStatus.values:
        found = found.filter(status=status)
    elif status != "all":
        found = found.filter(status__in=(*sales.OPEN, QuoteStatus.ACCEPTED))
    for word in words.split():
        found = found.filter(buyer__icontains=word) | found.filter(number__icontains=word)
    page = Paginator(found.order_by("-pk"), PER_PAGE).get_page(request.GET.get("page"))
    totals = dict(
        QuoteVersion.objects.filter(quote__in=[q.pk for q in page])
        .order_by("number")
        .values_list("quote", "total_usd")
    )
    context = {
        "page": page,
        "rows": [(q, totals.get(q.pk), q.is_open(today=clock.today())) for q in page],
        "status": status,
        "words": words,
        "statuses": (("", "Open and accepted"), *QuoteStatus.choices, ("all", "All")),
        "today": clock.today(),
    }
    return render(request, "desk/quote/quotes.html", context)


@requires("quote.edit")
@require_http_methods(["POST"])
@once
def quote_new(request: HttpRequest) -> HttpResponse:
    """Begin a quote for a unit, for a haul or for none."""
    unit = Unit.objects.filter(stock_number__iexact=request.POST.get("unit", "")).first()
    if unit is None:
        messages.error(request, "A quote is for a unit of the yard: begin it on a unit's page.")
        return redirect("quotes")
    haul = Haul.objects.filter(pk=version_in(request.POST, "haul")).first()
    buyer = (haul.buyer if haul else "") or "no name yet"
    try:
        quote = sales.begin(unit=unit, haul=haul, buyer=buyer, by=request.user)
    except (NoRatesError, sales.QuoteError) as told:
        messages.error(request, str(told))
        return redirect(unit)
    return redirect("quote", quote.number)


def _quote(number: str) -> Quote:
    return get_object_or_404(Quote.objects.select_related("unit", "haul", "created_by"), number=number)


@requires("quote.see")
@require_http_methods(["GET", "HEAD", "POST"])
def quote(request: HttpRequest, number: str) -> HttpResponse:
    """A quote: what it says, what it comes to stage by stage, its versions; and the form that changes it."""
    it = _quote(number)
    try:
        rates = sales.rates_now()
    except NoRatesError as told:
        messages.error(request, str(told))
        return redirect("quotes")
    if request.method != "POST":
        return _page(request, it, QuoteForm(initial=initial_of(it), rates=rates), line_rows(it.terms), rates)
    if not request.user.may("quote.edit") or it.status not in sales.OPEN:
        messages.warning(request, f"Quote {it} is {it.get_status_display()}; nothing was changed.")
        return redirect("quote", it.number)
    form = QuoteForm(request.POST, rates=rates)
    lines, rows, good = read_lines(request.POST)
    if not form.is_valid() or not good:
        return _page(request, it, form, [*rows, *line_rows({})], rates)
    terms = {"lines": lines, **form.terms()}
    try:
        price_of(terms, it.unit, rates)
    except DealError as told:
        for fault in told.faults:
            form.add_error(None, fault)
        return _page(request, it, form, [*rows, *line_rows({})], rates)
    given = form.cleaned_data
    values = {"terms": terms, **{n: given[n] for n in ("buyer", "contact", "valid_until")}}
    try:
        save_changes(it, values=values, deltas=(), by=request.user, seen_version=version_in(request.POST))
    except StaleError:
        return _page(request, it, form, [*rows, *line_rows({})], rates, status=409, stale=True)
    messages.success(request, "Kept. The buyer sees it once it is offered.")
    return redirect("quote", it.number)


def _page(
    request: HttpRequest,
    it: Quote,
    form: QuoteForm,
    rows: list,
    rates: Any,
    *,
    status: int = 200,
    stale: bool = False,
    step: Mapping[str, str] | None = None,
) -> HttpResponse:
    found = price_of(it.terms, it.unit, rates)
    versions = list(it.versions.all())
    signed = next((v for v in versions if v.signed_at), None)
    context = {
        "quote": it,
        "form": form,
        "rows": rows,
        "kinds": LINE_KINDS,
        "price": found,
        "sentence": price_sentence(found),
        "excise": excise_sentence(found.excise),
        "payment": payment_of(it.terms, found, rates),
        "versions": versions,
        "signed": signed,
        "changed_since": bool(versions) and versions[0].content["rests_on"]["terms"] != it.terms,
        "open": it.status in sales.OPEN,
        "expired": it.status == QuoteStatus.OFFERED and it.valid_until < clock.today(),
        "today": clock.today(),
        "stale": stale,
        "step": step or {"day": clock.today().isoformat()},
        "handing": it.unit.checklists.filter(sort=SORT, state=CheckState.OPEN).exists(),
        "secret_url": request.session.pop("quote-link", ""),
        "trail": list(Change.objects.seen_by(request.user).filter(kind="quote", thing=it.pk)[:12]),
        **_claims(it, versions),
    }
    return render(request, "desk/quote/quote.html", context, status=status)


def _claims(it: Quote, versions: Sequence[QuoteVersion]) -> dict[str, Any]:
    """What of its words is not offered as typed, and what was offered and would be no longer."""
    trailer = readable(it.unit)
    if trailer is None:
        return {}
    makers = makers_known()
    told: dict[str, Any] = {"as_offered": as_it_was_offered(versions[0], trailer, makers=makers) if versions else ""}
    if it.status in sales.OPEN:
        told["words_refused"] = words_refused(it.terms, trailer)
        told["line_instead"] = line_instead(it.unit, trailer, it.terms, makers=makers)
        told["not_printed"] = not_printed([it.unit], makers=makers)
    return told


@requires("quote.edit")
@require_http_methods(["POST"])
def quote_step(request: HttpRequest, number: str) -> HttpResponse:
    """Offer, give or revoke the buyer's link, accept for the buyer, deliver, lose, withdraw."""
    it = _quote(number)
    try:
        said = _step(request, it, request.POST.get("do", ""), version_in(request.POST))
    except (sales.QuoteError, DealError, NoRatesError) as told:
        return _not_taken(request, number, str(told))
    except StaleError:
        return _not_taken(request, number, "Somebody saved this quote while you had it open; look at it again.")
    messages.success(request, said)
    return redirect("quote", it.number)


def _not_taken(request: HttpRequest, number: str, says: str) -> HttpResponse:
    """The quote as it stands now, with why the step was not taken and what was typed for it."""
    messages.error(request, says)
    it = _quote(number)
    try:
        rates = sales.rates_now()
    except NoRatesError:
        return redirect("quotes")
    form = QuoteForm(initial=initial_of(it), rates=rates)
    return _page(request, it, form, line_rows(it.terms), rates, step=request.POST)


def _step(request: HttpRequest, it: Quote, do: str, seen: int) -> str:
    if do == "offer":
        here = request.build_absolute_uri(reverse("quote", args=[it.number]))
        version = sales.offer(it, by=request.user, seen_version=seen, link=here)
        return f"Version {version.number} is offered, and frozen as it is."
    if do == "link":
        secret = sales.give_link(it, by=request.user)
        request.session["quote-link"] = request.build_absolute_uri(reverse("buyer", args=[secret]))
        return "The buyer's link is below. It is shown once; giving a new one ends it."
    if do == "revoke":
        sales.revoke_link(it, by=request.user)
        return "The buyer's link no longer works."
    if do == "accept":
        latest = it.versions.first()
        name = request.POST.get("name", "").strip()[:120]
        if latest is None or not name:
            raise sales.QuoteError("Type the name of the buyer who signed, once the quote is offered.")
        sales.accept(latest, name=name, at=address_of(request), by=request.user)
        return f"Accepted by {name}; unit {it.unit} is held."
    if do == "deliver":
        day = _day(request.POST.get("day", ""))
        planned = sales.deliver(it, day=day, by=request.user, seen_version=seen)
        return delivered_words(it, planned)
    if do in ("lost", "withdrawn"):
        why = request.POST.get("why", "").strip()
        sales.close(it, status=QuoteStatus(do), why=why, by=request.user, seen_version=seen)
        return f"Quote {it} is {do}."
    raise sales.QuoteError("That is no step of a quote.")


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise sales.QuoteError('It went on: give a day such as "2026-03-02".') from None


def delivered_words(it: Quote, planned: int) -> str:
    """What a delivery without a hand-over came to."""
    follow = many(planned, "follow-up is", "follow-ups are") if planned else "No follow-up is"
    return (
        f"Quote {it} is delivered and unit {it.unit} sold, without a hand-over: nobody read the truck that came or "
        f"weighed the rig with it. {follow} planned."
    )


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def quote_paper(request: HttpRequest, number: str, version: int) -> HttpResponse:
    """A version's sheet as it was frozen, as PDF."""
    it = get_object_or_404(QuoteVersion, quote__number=number, number=version)
    return paper_of(it, request.GET.get("on", "letter"))


def paper_of(version: QuoteVersion, on: str) -> HttpResponse:
    """The PDF of a frozen version."""
    pdf = press(thawed(version.content, expect=version.digest), on=on if on in FORMATS else "letter")
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{version.quote.number}-{version.number}.pdf"'
    return response
