"""Take the character that is none (NUL) out of what is sent: no keyboard writes it, and PostgreSQL refuses it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, QueryDict

NUL = "\x00"


class PlainTextMiddleware:
    """Texts of forms and addresses without NUL; an address whose path has one is no page."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Nothing before the view is known."""
        return self.get_response(request)

    def process_view(self, request: HttpRequest, view: Any, args: Any, kwargs: Any) -> None:
        """After the forgery check, which reads the form as well.

        Raises
        ------
        Http404
            If the path has one.
        """
        if NUL in request.path:
            raise Http404
        request.GET = without_nul(request.GET)
        if request.method == "POST":
            request.POST = without_nul(request.POST)


def without_nul(sent: QueryDict) -> QueryDict:
    """The same, or a copy without NUL where there is one."""
    if not any(NUL in text for name, texts in sent.lists() for text in (name, *texts)):
        return sent
    plain = QueryDict(mutable=True, encoding=sent.encoding)
    for name, texts in sent.lists():
        for text in texts:
            plain.appendlist(name.replace(NUL, ""), text.replace(NUL, ""))
    plain._mutable = False
    return plain
