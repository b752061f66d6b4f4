"""Every sheet as PDF: of a unit, of a rig as its address places it, and of units side by side. None shows a cost."""

from __future__ import annotations

from dataclasses import replace

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from rubrail.answers.price import DealError
from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.as_printed import as_printed, makers_known
from rubrail.desk.books import kit_here, rates_on
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Haul, Unit
from rubrail.desk.printed import printed, stamp_for
from rubrail.desk.rig_reckon import reckon
from rubrail.desk.rig_stands import address_of
from rubrail.desk.stock import readable
from rubrail.desk.views.compare import chosen_units
from rubrail.desk.views.rig import rig_at, stands_at
from rubrail.sheets.paper import made
from rubrail.sheets.paper.compare import MOST
from rubrail.things.faults import Faults
from rubrail.things.trailer import Trailer


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def unit_window(request: HttpRequest, stock_number: str) -> HttpResponse:
    """The page that hangs on a unit."""
    unit, trailer = _unit(stock_number)
    paper = made.window(
        trailer, stamp=_unit_stamp(request, unit), rates=rates_on(clock.today()), metric=_metric(request)
    )
    return printed(request, paper, f"{unit}-window")


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def unit_spec(request: HttpRequest, stock_number: str) -> HttpResponse:
    """Everything that is known of a unit."""
    unit, trailer = _unit(stock_number)
    paper = made.spec(trailer, stamp=_unit_stamp(request, unit), metric=_metric(request))
    return printed(request, paper, f"{unit}-spec")


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def unit_tax(request: HttpRequest, stock_number: str) -> HttpResponse:
    """The excise-tax worksheet of a unit at its asking price."""
    unit, trailer = _unit(stock_number)
    return _tax(request, unit, trailer)


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def rig_plan(request: HttpRequest, pk: int, stock_number: str) -> HttpResponse:
    """Where each piece stands, how it gets on and how it is tied down."""
    it, reckoned, stamp = _rig(request, pk, stock_number)
    paper = made.plan(
        reckoned.one.haul, it.trailer, placement=reckoned.placement, kit=kit_here(), stamp=stamp, metric=it.metric
    )
    return printed(request, paper, f"{it.unit}-plan")


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def rig_card(request: HttpRequest, pk: int, stock_number: str) -> HttpResponse:
    """The limits of a rig for its glove box."""
    it, reckoned, stamp = _rig(request, pk, stock_number)
    paper = made.card(reckoned.one.haul, it.trailer, placement=reckoned.placement, stamp=stamp, metric=it.metric)
    return printed(request, paper, f"{it.unit}-card")


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def rig_thresholds(request: HttpRequest, pk: int, stock_number: str) -> HttpResponse:
    """Licenses, numbers, permits and taxes a rig brings with it."""
    it, reckoned, stamp = _rig(request, pk, stock_number)
    paper = made.thresholds(reckoned.one.haul, it.trailer, placement=reckoned.placement, stamp=stamp, metric=it.metric)
    return printed(request, paper, f"{it.unit}-thresholds")


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def rig_tax(request: HttpRequest, pk: int, stock_number: str) -> HttpResponse:
    """The unit's worksheet, from the page of a rig: a haul changes nothing of this tax."""
    it = rig_at(request, pk, stock_number)
    return _tax(request, it.unit, as_printed(it.unit, it.trailer).trailer)


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def haul_compare(request: HttpRequest, pk: int) -> HttpResponse:
    """Two to four units side by side; back to the page, which says why, where they cannot be."""
    haul = get_object_or_404(Haul, pk=pk)
    page = f"{reverse('compare', args=[haul.pk])}?{request.GET.urlencode()}"
    units, fault = chosen_units(request)
    read = [(u, t) for u in units if (t := readable(u)) is not None]
    if fault or len(read) < len(units):
        return redirect(page)
    if len(units) > MOST:
        messages.error(request, f"A sheet has room for {MOST} units side by side, and {len(units)} were chosen.")
        return redirect(page)
    try:
        thing = thing_of(haul)
    except Faults:
        return redirect(page)
    makers = makers_known()
    trailers = [as_printed(unit, trailer, makers=makers).trailer for unit, trailer in read]
    paper = made.comparison(thing, trailers, stamp=stamp_for(request, page), metric=_metric(request))
    return printed(request, paper, f"haul-{haul.pk}-compare")


def _unit(stock_number: str) -> tuple[Unit, Trailer]:
    unit = get_object_or_404(Unit, stock_number__iexact=stock_number)
    trailer = readable(unit)
    if trailer is None:
        raise Http404("what is stored no longer reads")
    return unit, as_printed(unit, trailer).trailer


def _rig(request: HttpRequest, pk: int, stock_number: str):
    it = rig_at(request, pk, stock_number)
    reckoned = reckon(haul=it.thing, trailer=it.trailer, stands=stands_at(it, request.GET), solve=False)
    page = f"{reverse('rig', args=[it.haul.pk, it.unit.stock_number])}?{address_of(reckoned.stands)}"
    return replace(it, trailer=as_printed(it.unit, it.trailer).trailer), reckoned, stamp_for(request, page)


def _tax(request: HttpRequest, unit: Unit, trailer: Trailer) -> HttpResponse:
    rates = rates_on(clock.today())
    if rates is None:
        messages.error(request, "The yard has no rates in force today, so its tax cannot be reckoned.")
        return redirect(unit)
    try:
        paper = made.tax(trailer, rates=rates, stamp=_unit_stamp(request, unit), metric=_metric(request))
    except DealError as told:
        for fault in told.faults:
            messages.error(request, fault)
        return redirect(unit)
    return printed(request, paper, f"{unit}-tax")


def _unit_stamp(request: HttpRequest, unit: Unit) -> made.Stamp:
    return stamp_for(request, reverse("unit", args=[unit.stock_number]))


def _metric(request: HttpRequest) -> bool:
    return request.user.measures == "metric"
