"""Photos of a unit: sent from a phone, served to those who may see the yard."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk.access import requires
from rubrail.desk.audit import record
from rubrail.desk.models import Photo, Unit
from rubrail.desk.models.stock import ON_UNIT_PAGE
from rubrail.desk.photographs import keep_photos


@requires("unit.edit")
@require_POST
def photos_add(request: HttpRequest, stock_number: str) -> HttpResponse:
    """Take pictures in; each that cannot be taken is told, and the others stay."""
    unit = get_object_or_404(Unit, stock_number__iexact=stock_number)
    files = request.FILES.getlist("photos")
    sent = keep_photos(files, unit=unit, by=request.user)
    for fault in sent.faults:
        messages.error(request, fault)
    taken = len(sent.kept)
    if not files:
        messages.error(request, "No photo was chosen.")
    elif taken:
        messages.success(request, f"{taken} {'photo is' if taken == 1 else 'photos are'} added.")
    return redirect(unit)


@requires("unit.edit")
@require_POST
def photo_change(request: HttpRequest, pk: int) -> HttpResponse:
    """Remove a photo, or make it the first."""
    photo = get_object_or_404(Photo.objects.select_related("unit"), pk=pk, purpose__in=ON_UNIT_PAGE)
    unit = photo.unit
    with transaction.atomic():
        if request.POST.get("do") == "remove":
            photo.delete()
            record(by=request.user, action="photo removed", thing=unit)
        elif request.POST.get("do") == "first":
            order = [photo.pk, *unit.photos.exclude(pk=photo.pk).values_list("pk", flat=True)]
            photos = list(unit.photos.all())
            for each in photos:
                each.order = order.index(each.pk)
            Photo.objects.bulk_update(photos, ["order"])
            record(by=request.user, action="photo moved", thing=unit)
    return redirect(unit)


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def photo(request: HttpRequest, pk: int, size: str) -> FileResponse:
    """The picture itself. It never changes under its address, so the browser may keep it."""
    it = get_object_or_404(Photo, pk=pk)
    file = it.full if size == "full" else it.small
    try:
        opened = file.open("rb")
    except FileNotFoundError:
        raise Http404 from None
    return FileResponse(
        opened,
        content_type="image/jpeg",
        headers={"Cache-Control": "private, max-age=604800", "Content-Disposition": "inline"},
    )
