"""What a buyer sees by the link alone: the quote as it was frozen, its paper, and the line to sign on."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from rubrail.desk import clock
from rubrail.desk.access import open_to_anyone
from rubrail.desk.models import Quote, QuoteVersion
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.sales import quotes as sales
from rubrail.desk.sales.freeze import thawed
from rubrail.desk.sales.screen import sheet_on_screen
from rubrail.desk.tries import TooManyTriesError, address_of, begin
from rubrail.desk.views.quote import paper_of


def _latest(secret: str) -> tuple[Quote, QuoteVersion]:
    quote = sales.by_link(secret)
    latest = quote.versions.first() if quote else None
    if latest is None:
        raise Http404("no such quote, or its link was revoked")
    return quote, latest


@open_to_anyone
@require_http_methods(["GET", "HEAD", "POST"])
def buyer(request: HttpRequest, secret: str) -> HttpResponse:
    """The latest version; signing it by a typed name accepts it and holds the unit."""
    quote, latest = _latest(secret)
    fault = ""
    if request.method == "POST":
        name = " ".join(request.POST.get("name", "").split())[:120]
        try:
            tried = begin(name=f"quote {quote.pk}", address=address_of(request))
            if len(name) < 2:
                raise sales.QuoteError("Type your full name to sign.")
            if request.POST.get("read") != "yes":
                raise sales.QuoteError("Tick that you have read it.")
            sales.accept(latest, name=name, at=address_of(request), by=None)
            tried.succeeded()
        except (sales.QuoteError, TooManyTriesError) as told:
            fault = str(told)
        else:
            return redirect("buyer", secret)
    quote.refresh_from_db()
    latest = quote.versions.first()
    context = {
        "quote": quote,
        "version": latest,
        "secret": secret,
        "sheet": sheet_on_screen(thawed(latest.content, expect=latest.digest)),
        "may_sign": quote.is_open(today=clock.today()),
        "over": quote.status == QuoteStatus.OFFERED and quote.valid_until < clock.today(),
        "fault": fault,
        "typed": request.POST.get("name", "")[:120],
        "read": request.POST.get("read") == "yes",
    }
    response = render(request, "desk/quote/buyer.html", context)
    # The address is the secret: the referrer policy of every page keeps it here, and this keeps it out of searches.
    response["X-Robots-Tag"] = "noindex, nofollow"
    return response


@open_to_anyone
@require_http_methods(["GET", "HEAD"])
def buyer_paper(request: HttpRequest, secret: str) -> HttpResponse:
    """The same as PDF."""
    _, latest = _latest(secret)
    response = paper_of(latest, request.GET.get("on", "letter"))
    response["X-Robots-Tag"] = "noindex, nofollow"
    return response
