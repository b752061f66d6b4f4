"""Price books, builds, and the cheapest build for a haul. What is chosen is in the address."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.books import thing_in
from rubrail.desk.build_page import fieldsets, search_told, shown
from rubrail.desk.builds import (
    Chosen,
    address,
    asked_options,
    cheapest_for,
    choose,
    holds_on,
    price_books,
)
from rubrail.desk.fragments import answer
from rubrail.desk.models import Book, Haul
from rubrail.desk.models.books import Sort
from rubrail.sheets.sentences_words import SAFETY
from rubrail.things.faults import Faults

MOST_HAULS = 200
"""Hauls offered in a build's page; the latest."""


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def builds(request: HttpRequest) -> HttpResponse:
    """The price books in force today, and their models."""
    books = []
    for book in price_books(clock.today()):
        try:
            books.append((book, thing_in(book), ()))
        except Faults as told:
            books.append((book, None, told.faults))
    haul = haul_asked(request.GET)
    context = {"books": books, "haul": haul, "address": address((), haul)}
    return render(request, "desk/builds/builds.html", context)


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def build(request: HttpRequest, ident: str, model: str) -> HttpResponse:
    """One build: drawn to scale, priced, its rules told, and how it stands for a haul."""
    chosen = chosen_or_404(ident, model, request.GET)
    haul = haul_asked(request.GET)
    context = page_context(request, chosen, haul)
    response = answer(request, "desk/builds/build.html", context, part="desk/builds/_build.html")
    if request.htmx:
        # What is chosen is in the address, without the empty parts of the form.
        response["HX-Push-Url"] = f"{request.path}?{context['address']}"
    return response


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def build_cheapest(request: HttpRequest, ident: str, model: str) -> HttpResponse:
    """The cheapest build of the model for a haul, or the nearest, with what forces each of its options."""
    book = book_or_404(ident)
    haul = haul_asked(request.GET)
    if haul is None:
        messages.warning(request, "Choose the haul first: the cheapest build is found for one haul.")
        return build(request, ident, model)
    chosen = chosen_or_404(ident, model, QueryDict())
    wanted = "depends" if request.GET.get("wanted") == "depends" else "clear"
    metric = request.user.measures == "metric"
    try:
        found = cheapest_for(book, model, haul, wanted=wanted)
    except Faults as told:
        context = page_context(request, chosen, None) | {"haul": haul, "unread": told.faults}
        return render(request, "desk/builds/build.html", context)
    nearest = found.build or found.nearest
    chosen = choose(book, model, [o.id for o in nearest.options]) if nearest else chosen
    context = page_context(request, chosen, haul) | {"search": search_told(found, metric=metric)}
    return render(request, "desk/builds/build.html", context)


def page_context(request: HttpRequest, chosen: Chosen, haul: Haul | None) -> dict[str, Any]:
    """What the page of a build needs."""
    hauls = list(Haul.objects.filter(closed=False).defer("spec")[:MOST_HAULS])
    if haul and haul not in hauls:
        hauls.insert(0, haul)
    metric = request.user.measures == "metric"
    return {
        "book": chosen.book,
        "catalog": chosen.catalog,
        "model": chosen.model,
        "title": chosen.model.title or chosen.model.id,
        "fieldsets": fieldsets(chosen),
        "haul": haul,
        "hauls": hauls,
        "holds": holds_on(chosen.book, clock.today()),
        "safety": SAFETY,
        "url": reverse("build", args=[chosen.book.ident, chosen.model.id]),
        **shown(chosen, haul, metric=metric),
    }


def book_or_404(ident: str) -> Book:
    """The price book of that id."""
    return get_object_or_404(Book, sort=Sort.CATALOG, ident=ident)


def chosen_or_404(ident: str, model: str, asked: QueryDict) -> Chosen:
    """What an address or a form chooses."""
    try:
        chosen = choose(book_or_404(ident), model, asked_options(asked.lists()))
    except Faults as told:
        raise Http404(f"What is stored of {ident} no longer reads.") from told
    if chosen is None:
        raise Http404(f"{ident} has no model {model}.")
    return chosen


def haul_asked(asked: QueryDict) -> Haul | None:
    """The haul an address or a form names, or none."""
    pk = asked.get("haul", "")
    return Haul.objects.filter(pk=int(pk)).first() if pk.isdecimal() and len(pk) < 10 else None
