"""Quotes and sales as files for the yard's books."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.http import require_http_methods

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.sales.ledger import BOOKS, as_csv, as_table, columns_for, entries


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def books_csv(request: HttpRequest, book: str) -> HttpResponse:
    """Quotes or sales as CSV."""
    _known(book)
    content = as_csv(columns_for(book, may=request.user.may), entries(book))
    return HttpResponse(content, content_type="text/csv; charset=utf-8", headers=_named(book, "csv"))


@requires("quote.see")
@require_http_methods(["GET", "HEAD"])
def books_json(request: HttpRequest, book: str) -> HttpResponse:
    """Quotes or sales as JSON."""
    _known(book)
    table = as_table(book, columns_for(book, may=request.user.may), entries(book))
    return JsonResponse(table, headers=_named(book, "json"), json_dumps_params={"ensure_ascii": False})


def _known(book: str) -> None:
    if book not in BOOKS:
        raise Http404


def _named(book: str, ending: str) -> dict[str, str]:
    return {"Content-Disposition": f'attachment; filename="{book}-{clock.today():%Y-%m-%d}.{ending}"'}
