"""What a person sees when something does not work: what it was, and what to do."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from rubrail.desk.access import RefusedError
from rubrail.desk.permissions import role_word

ASK = "Ask an owner of this desk if you need it."


def _page(request: HttpRequest, status: int, title: str, says: str, what_now: str = "") -> HttpResponse:
    context = {"title": title, "says": says, "what_now": what_now}
    return render(request, "desk/error.html", context, status=status)


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """400."""
    return _page(request, 400, "That request cannot be read", "The address or the form came damaged.", "Go back.")


def refused(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """403, with the role and what it lacks."""
    user = getattr(request, "user", None)
    if isinstance(exception, RefusedError) and user and user.is_authenticated:
        says = f"Your role, {role_word(user.role)}, does not let you {exception.permission.label}."
        return _page(request, 403, "Not for your role", says, ASK)
    return _page(request, 403, "Not for you", "This page is not open to you.", ASK)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """404."""
    return _page(request, 404, "There is no such page", "Nothing stands at this address.", "It may have been renamed.")


def failed(request: HttpRequest) -> HttpResponse:
    """500; drawn without the database, which may be what failed."""
    return render(None, "desk/failed.html", status=500)


def csrf_failed(request: HttpRequest, reason: str = "") -> HttpResponse:
    """403 for a form that did not come from one of our own pages, or is older than the sign-in."""
    says = "The form was opened before you last signed in, or it did not come from this desk. Nothing was saved."
    return _page(request, 403, "Open the page again", says, "Go back, load the page again, and send it once more.")
