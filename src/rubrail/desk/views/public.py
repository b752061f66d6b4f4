"""The public pages: open to anyone, read only, without cookies; the same bytes as the folder of files."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.utils.cache import get_conditional_response
from django.views.decorators.http import require_http_methods

from rubrail.desk import clock
from rubrail.desk.access import open_to_anyone
from rubrail.desk.public.site import Site, address_here, is_photo_gone, site_on, unit_named
from rubrail.desk.public.units import is_gone
from rubrail.sheets.site.look import CSS_PATH
from rubrail.sheets.site.shown import mark_of
from rubrail.sheets.site.whole import type_of
from rubrail.sheets.site.words import missing_html

SHORT, PHOTO, FOREVER = (
    "public, max-age=300",
    "public, max-age=600, must-revalidate",
    "public, max-age=31536000, immutable",
)
"""How long a copy is good: what may change, what may be withdrawn, and what has another name once it changes.

A photo never changes under its name. Yet it can be taken off the pages, and then copies must go as well.
"""

FEEDS = ("units.csv", "units.json", "arrivals.atom")
"""Files that a page of another site may read."""
DEEPEST = 20
"""Folders that links of a page that is not there lead back through."""


@open_to_anyone
@require_http_methods(["GET", "HEAD"])
def public(request: HttpRequest, path: str = "") -> HttpResponse:
    """One file of the public pages."""
    site = site_on(clock.today(), address=address_here(request))
    file = site.find(path or "index.html")
    if file is None:
        return _missing(site, path)
    etag = f'"{mark_of([file.path, file.rests_on])}"'
    # Its mark tells whether a copy is still good, before anything dear is made.
    known = get_conditional_response(request, etag=etag)
    if known is None:
        data = file.make()
        if data is None:
            return _missing(site, path)
        known = HttpResponse(data, content_type=type_of(file.path))
    known["ETag"] = etag
    known["Cache-Control"] = FOREVER if file.path == CSS_PATH else PHOTO if file.path.startswith("photo/") else SHORT
    # What is shown to anybody may stand on anybody's page: a listing portal's, with our photo.
    known["Cross-Origin-Resource-Policy"] = "cross-origin"
    if file.path in FEEDS:
        known["Access-Control-Allow-Origin"] = "*"
    return known


def _missing(site: Site, path: str) -> HttpResponse:
    named = unit_named(path)
    photo = is_photo_gone(path)
    gone = photo or (bool(named) and is_gone(named))
    # Only how deep it is matters, for the links that lead back.
    depth = "x/" * min(path.count("/"), DEEPEST)
    page = missing_html(yard=site.yard, path=f"{depth}x", gone=named if gone else "", photo=photo)
    return HttpResponse(page, status=410 if gone else 404, headers={"Cache-Control": SHORT})
