"""The first page: what needs a hand today, and what a person puts off until tomorrow."""

from __future__ import annotations

from dataclasses import replace

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.models import User
from rubrail.desk.today import collect
from rubrail.desk.today.unknowns import Found, unknowns

KEY_MOST = 120
ROUNDS = (
    ("Receive", "receive", "yard.see"),
    ("Weigh", "tickets", "yard.see"),
    ("Inspect", "checks", "yard.see"),
    ("Hand over", "hand-overs", "haul.see"),
    ("Follow-ups", "follow-ups", "yard.see"),
    ("Listings", "listings", "yard.see"),
    ("Labels", "labels", "yard.see"),
    ("Public pages", "public-pages", "price.edit"),
)
"""The rounds one begins from here, in the order of a unit's way through the yard; the walk begins on a unit's page."""


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def today(request: HttpRequest) -> HttpResponse:
    """Everything for this person, the most pressing first."""
    looks = request.GET.get("look") == "1"
    context = {
        "sheet": collect.gather(request.user, today=clock.today()),
        "today": clock.today(),
        "rounds": [(word, reverse(name)) for word, name, needs in ROUNDS if request.user.may(needs)],
        "shows_off": "off" in request.GET,
        "sees_unknowns": _sees_unknowns(request.user),
        "unknown": _unknowns(request) if looks and _sees_unknowns(request.user) else None,
    }
    return render(request, "desk/today/today.html", context)


def _sees_unknowns(person: User) -> bool:
    return person.may("haul.see") and person.may("unit.edit")


@requires("unit.edit")
@require_http_methods(["GET", "HEAD"])
def today_unknowns(request: HttpRequest) -> HttpResponse:
    """What is unknown of open hauls, as far as it was looked at: the page asks again until all is."""
    return render(request, "desk/today/_unknowns.html", {"unknown": _unknowns(request)})


def _unknowns(request: HttpRequest) -> Found:
    found, off = unknowns(), collect.put_off_by(request.user, today=clock.today())
    return replace(found, rows=tuple(r for r in found.rows if r.key not in off))


@requires("yard.see")
@require_POST
def today_put_off(request: HttpRequest) -> HttpResponse:
    """Put a row off until tomorrow, or bring it back."""
    key = request.POST.get("row", "").replace("\x00", "")[:KEY_MOST]
    if key and request.POST.get("do") == "back":
        collect.bring_back(request.user, key)
        messages.success(request, "It is back.")
    elif key:
        collect.put_off(request.user, key, today=clock.today())
        messages.success(request, "Put off until tomorrow, for you alone.")
    return redirect("today")
