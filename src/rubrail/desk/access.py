"""Who may open a page. Every view says it in its decorator; a view that says nothing fails a system check."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any
from urllib.parse import urlencode

from django.contrib.auth import REDIRECT_FIELD_NAME
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse

from rubrail.desk.permissions import permission

ANYONE = "anyone"
View = Callable[..., HttpResponse]


class RefusedError(PermissionDenied):
    """A person's role does not allow this; carries the permission that would."""

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.permission = permission(name)


def open_to_anyone(view: View) -> View:
    """Mark a view that answers people who have not signed in."""
    view.access = ANYONE
    return view


def requires(name: str, *, first_password: bool = False) -> Callable[[View], View]:
    """Open a view to people whose role has the permission, and to nobody else.

    Parameters
    ----------
    name : str
        A declared permission.
    first_password : bool
        Whether the view also serves people who must choose their own password before anything else.

    Raises
    ------
    UnknownPermissionError
        At import, if the permission is not declared.
    """
    permission(name)

    def wrap(view: View) -> View:
        @wraps(view)
        def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
            if not request.user.is_authenticated:
                return to_sign_in(request)
            demand(request, name)
            if request.user.must_change_password and not first_password:
                return _go(request, reverse("password"))
            return view(request, *args, **kwargs)

        guarded.access = name
        return guarded

    return wrap


def demand(request: HttpRequest, name: str) -> None:
    """Stop here unless the person may do what the permission declares.

    Raises
    ------
    RefusedError
        If not.
    """
    if not request.user.may(name):
        raise RefusedError(name)


def to_sign_in(request: HttpRequest) -> HttpResponse:
    """Send to the sign-in page, and from there back to where the person was going."""
    going = request.htmx.current_url_abs_path if request.htmx else request.get_full_path()
    query = urlencode({REDIRECT_FIELD_NAME: going}) if request.method in ("GET", "HEAD") and going != "/" else ""
    return _go(request, reverse("sign-in") + (f"?{query}" if query else ""))


def _go(request: HttpRequest, url: str) -> HttpResponse:
    # A fragment request must not get a whole page put into its place: the header makes the browser itself go.
    if request.htmx:
        return HttpResponse(status=204, headers={"HX-Redirect": url})
    return HttpResponseRedirect(url)
