"""Labels for the yard: which units, how large, and where their codes lead."""

from __future__ import annotations

from django.conf import settings
from django.db.models.fields.json import KT
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.as_printed import not_printed
from rubrail.desk.finding import Wanted, look_for
from rubrail.desk.listings import terms_on
from rubrail.desk.models import Unit
from rubrail.desk.printed import printed
from rubrail.desk.public.site import address_here
from rubrail.desk.public.typed import title_here
from rubrail.desk.public.units import carried, shown
from rubrail.desk.sales.quotes import said_date
from rubrail.sheets.paper.labels import SIZES, LabelFacts, label_sheet
from rubrail.sheets.site.shown import file_name

MOST = 1000
LOOKED_AT = 60
"""Units whose titles are looked at before they are printed; of more it is only said what is done with them."""
KINDS = {
    "labels": ("Labels, eight to a page", "Two across and four down, to be cut out."),
    "weather": ("Weather cards, one a page", "The stock number can be read across a row."),
}
LEADS = {
    "public": ("The public page", "For buyers. A unit that is not on the public pages gets the desk's own page."),
    "desk": ("The desk's own page", "For the people of the yard, who sign in."),
}
"""Where the codes lead."""


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def labels(request: HttpRequest) -> HttpResponse:
    """Ask how large they are and where they lead, for the units that the address finds."""
    wanted = _wanted(request)
    keys = _keys(request, wanted)
    count = len(keys)
    context = {
        "count": count,
        "address": "" if settings.RUBRAIL_PUBLIC_ADDRESS else address_here(request),
        "most": MOST,
        "wanted": wanted,
        "units": request.GET.getlist("unit"),
        "chips": list(wanted.chips()),
        "parts": [(name, text) for name, text in wanted.texts.items()],
        "kinds": [(value, *words) for value, words in KINDS.items()],
        "leads": [(value, *words) for value, words in LEADS.items()],
        "not_printed": not_printed(Unit.objects.filter(pk__in=keys)) if len(keys) <= LOOKED_AT else [],
        "looked_at": LOOKED_AT,
    }
    return render(request, "desk/labels.html", context)


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def labels_paper(request: HttpRequest) -> HttpResponse:
    """The labels as PDF."""
    keys = _keys(request, _wanted(request))[:MOST]
    asked = Unit.objects.select_related("listing").annotate(condition=KT("spec__condition"))
    stored = asked.defer("spec", "packed", "thumbnail").in_bulk(keys)
    units = [stored[pk] for pk in keys if pk in stored]
    size, lead = (request.GET.get(name, "") for name in ("size", "lead"))
    paper = label_sheet(
        label_facts(request, units, lead=lead if lead in LEADS else "public"),
        size=size if size in SIZES else "labels",
        yard=settings.RUBRAIL_YARD_NAME,
        date=said_date(clock.today()),
        metric=request.user.measures == "metric",
    )
    return printed(request, paper, "labels")


def _wanted(request: HttpRequest) -> Wanted:
    return look_for(request.GET.dict(), metric=request.user.measures == "metric")


def _keys(request: HttpRequest, wanted: Wanted) -> list[int]:
    """Units that are named, in the order they are named; else those that the yard's list shows."""
    named = request.GET.getlist("unit")[:MOST]
    if not named:
        return [pk for pk, known in wanted.found() if known or wanted.unknown]
    found = dict(Unit.objects.filter(stock_number__in=named).values_list("stock_number", "pk"))
    return [found[n] for n in dict.fromkeys(named) if n in found]


def label_facts(request: HttpRequest, units: list[Unit], *, lead: str) -> list[LabelFacts]:
    """What labels say of units, and where their codes lead.

    Parameters
    ----------
    request : HttpRequest
    units : list of Unit
        With their ``condition`` and listing.
    lead : str
        One of ``LEADS``.
    """
    address = address_here(request)
    public = set(shown().values_list("pk", flat=True)) if lead == "public" else set()
    payload, terms = carried(units), terms_on(clock.today())
    return [
        LabelFacts(
            stock_number=u.stock_number,
            title=title_here(u, payload_lb=payload[u.pk], terms=terms),
            gvwr_lb=u.gvwr_lb,
            payload_lb=payload[u.pk],
            link=f"{address}trailer/{file_name(u.stock_number)}.html"
            if u.pk in public
            else request.build_absolute_uri(reverse("unit", args=[u.stock_number])),
            link_says="Scan for its page" if u.pk in public else "For the yard",
        )
        for u in units
    ]
