"""Papers as answers to a browser: the stamp at their foot, and the PDF."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from rubrail.desk import clock
from rubrail.desk.sales.quotes import said_date
from rubrail.sheets.paper.blocks import Paper
from rubrail.sheets.paper.made import Stamp
from rubrail.sheets.paper.press import FORMATS, press


def stamp_for(request: HttpRequest, page: str) -> Stamp:
    """Yard, day and the address of the page a paper belongs to."""
    return Stamp(yard=settings.RUBRAIL_YARD_NAME, date=said_date(clock.today()), link=request.build_absolute_uri(page))


def printed(request: HttpRequest, paper: Paper, name: str) -> HttpResponse:
    """A paper as PDF under a name, on the format the address asks for: letter where it asks for none we have."""
    on = request.GET.get("on", "letter")
    response = HttpResponse(press(paper, on=on if on in FORMATS else "letter"), content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return response
