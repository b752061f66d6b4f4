"""Photos of a unit: sent from a phone, served to those who may see the yard."""

from __future__ import annotations

from uuid import uuid4

from django.contrib import messages
from django.db import transaction
from django.db.models import Max
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk.access import requires
from rubrail.desk.audit import record
from rubrail.desk.models import Photo, Unit
from rubrail.desk.uploads import Picture, UploadError, read_picture

MOST_AT_ONCE = 20
MOST_OF_A_UNIT = 60


@requires("unit.edit")
@require_POST
def photos_add(request: HttpRequest, stock_number: str) -> HttpResponse:
    """Take pictures in; each that cannot be taken is told, and the others stay."""
    unit = get_object_or_404(Unit, stock_number__iexact=stock_number)
    files = request.FILES.getlist("photos")
    room = min(MOST_AT_ONCE, MOST_OF_A_UNIT - unit.photos.count())
    taken = 0
    for file in files[: max(room, 0)]:
        try:
            picture = read_picture(file, name=file.name or "the file", size=file.size or 0)
        except UploadError as fault:
            messages.error(request, str(fault))
        else:
            _keep(unit, picture, request)
            taken += 1
    if len(files) > max(room, 0):
        messages.error(request, f"At most {MOST_AT_ONCE} photos at once and {MOST_OF_A_UNIT} of one unit are kept.")
    if not files:
        messages.error(request, "No photo was chosen.")
    elif taken:
        messages.success(request, f"{taken} {'photo is' if taken == 1 else 'photos are'} added.")
    return redirect(unit)


def _keep(unit: Unit, picture: Picture, request: HttpRequest) -> None:
    name = uuid4().hex
    with transaction.atomic():
        last = unit.photos.aggregate(last=Max("order"))["last"]
        width, height = picture.size
        order = 0 if last is None else last + 1
        photo = Photo(unit=unit, order=order, width=width, height=height, added_by=request.user)
        photo.full.save(f"{name}.jpg", picture.full, save=False)
        photo.small.save(f"{name}-small.jpg", picture.small, save=False)
        photo.save()
        record(by=request.user, action="photo added", thing=unit)


@requires("unit.edit")
@require_POST
def photo_change(request: HttpRequest, pk: int) -> HttpResponse:
    """Remove a photo, or make it the first."""
    photo = get_object_or_404(Photo.objects.select_related("unit"), pk=pk)
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
