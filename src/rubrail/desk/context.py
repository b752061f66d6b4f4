"""What the frame of every page needs: where one is, where one may go, which palette."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.http import HttpRequest
from django.urls import reverse

from rubrail.desk.permissions import permission


@dataclass(frozen=True, slots=True)
class Place:
    """An entry of the navigation: the word, the address' name, who sees it, and which pages belong to it."""

    word: str
    url_name: str
    permission: str
    pages: tuple[str, ...] = ()

    def holds(self, page: str) -> bool:
        """Whether a page of that address' name belongs here."""
        return page == self.url_name or page in self.pages


HAUL_PAGES = (
    "haul",
    "haul-new",
    "haul-edit",
    "haul-truck",
    "haul-piece",
    "board",
    "compare",
    "rig",
    "rig-turn",
    "climb",
    "tie-down",
)
YARD_PAGES = (
    "unit",
    "unit-new",
    "unit-edit",
    "unit-step",
    "photo",
    "listing",
    "listings",
    "listing-wording",
    "public-pages",
    "labels",
    "yard-export",
    "yard-import",
    "yard-import-columns",
    "yard-import-preview",
    "checks",
    "check",
    "tickets",
    "ticket",
    "ticket-new",
    "ticket-edit",
    "ticket-apply",
)
RECEIVE_PAGES = (
    *("receive", "receive-new", "receipt", "receipt-vin", "receipt-fields", "receipt-damage", "receipt-parts"),
    *("receipt-ratings", "receipt-outcome"),
)
KEPT_PAGES = ("machines", *(f"{sort}{page}" for sort in ("truck", "machine") for page in ("", "-new", "-edit")))
ORDER_PAGES = ("order", "builds", "build", "build-cheapest", "build-order")
FOLLOW_PAGES = ("follow-ups", "follow-ups-sold", "follow-up", "follow-up-new", "follow-up-step", "calendar-link")
HAND_OVER_PAGES = ("hand-overs", "hand-over")
PLACES = (
    Place("Today", "today", "yard.see", (*FOLLOW_PAGES, *RECEIVE_PAGES, *HAND_OVER_PAGES)),
    Place("Yard", "yard", "yard.see", YARD_PAGES),
    Place("Hauls", "hauls", "haul.see", HAUL_PAGES),
    Place("Trucks, machines", "trucks", "haul.see", KEPT_PAGES),
    Place("Quotes", "quotes", "quote.see", ("quote",)),
    Place("Orders", "orders", "quote.see", ORDER_PAGES),
    Place("Changes", "changes", "changes.see"),
    Place("People", "people", "people.manage", ("person", "person-new")),
)
for _place in PLACES:
    permission(_place.permission)


def frame(request: HttpRequest) -> dict[str, Any]:
    """Navigation and palette for the page's frame; nothing of the yard for somebody not signed in."""
    user = getattr(request, "user", None)
    signed_in = bool(user and user.is_authenticated)
    match = request.resolver_match
    here = match.url_name if match else ""
    places = [
        {"word": p.word, "url": reverse(p.url_name), "here": p.holds(here), "exact": here == p.url_name}
        for p in PLACES
        if signed_in and user.may(p.permission) and not user.must_change_password
    ]
    return {
        "user": user,
        "places": places,
        "look": user.look if signed_in else "system",
        "metric": signed_in and user.measures == "metric",
        "demo": settings.RUBRAIL_DEMO,
        "design_page": settings.DEBUG,
    }
