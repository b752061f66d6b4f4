"""What the yard does with its public pages: look at them, write them into a folder, take them away as an archive."""

from __future__ import annotations

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase, StreamingHttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.public.site import address_here, archive, site_on
from rubrail.sheets.site.folder import SiteFolderError, write_site
from rubrail.sheets.site.shown import STANDING_WORDS

FOLDER = "public-pages"
"""Folder of the written pages, within the data folder."""
AT_ONCE_S = 20.0
"""How long one press writes; the next press goes on. [s]"""


@requires("price.edit")
@require_http_methods(["GET", "HEAD"])
def public_pages(request: HttpRequest) -> HttpResponse:
    """What is shown now, where, and how to take it elsewhere."""
    site = site_on(clock.today(), address=address_here(request))
    units = site.units()
    context = {
        "address": site.yard.address,
        "named": bool(settings.RUBRAIL_PUBLIC_ADDRESS),
        "contact": site.yard.contact,
        "yard": site.yard.name,
        "folder": settings.RUBRAIL_HOME / FOLDER,
        "count": len(units),
        "standing": [
            (word, n) for key, word in STANDING_WORDS.items() if (n := sum(u.standing == key for u in units))
        ],
        "asked": sum(u.price_usd is None for u in units),
        "bare": sum(not u.photos for u in units),
        "unknown": sum(u.payload_lb is None for u in units),
    }
    return render(request, "desk/public_pages.html", context)


@requires("price.edit")
@require_POST
def public_pages_write(request: HttpRequest) -> HttpResponse:
    """Bring the folder of written pages to what is shown now."""
    site = site_on(clock.today(), address=address_here(request))
    try:
        done = write_site(site.files(), settings.RUBRAIL_HOME / FOLDER, for_s=AT_ONCE_S)
    except SiteFolderError as told:
        messages.error(request, str(told))
    else:
        said = (
            f"{done.written:,} {'file is' if done.written == 1 else 'files are'} written, {done.kept:,} as before,"
            f" {done.removed:,} taken away."
        )
        if done.left:
            messages.warning(request, f"{said} {done.left:,} are still to be written: press again to go on.")
        else:
            messages.success(request, said)
    return redirect("public-pages")


@requires("price.edit")
@require_http_methods(["GET", "HEAD"])
def public_pages_zip(request: HttpRequest) -> HttpResponseBase:
    """Every page in one archive."""
    name = f"public-pages-{clock.today():%Y-%m-%d}.zip"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    # Sent as it is made: a large yard's takes minutes, and no phone waits so long for a first byte.
    made = archive(site_on(clock.today(), address=address_here(request))) if request.method == "GET" else ()
    return StreamingHttpResponse(made, content_type="application/zip", headers=headers)
