"""The trail of changes, as sentences."""

from __future__ import annotations

from itertools import groupby

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods

from rubrail.desk.access import requires
from rubrail.desk.audit import KINDS
from rubrail.desk.fragments import answer
from rubrail.desk.models import Change, User
from rubrail.desk.permissions import role_may
from rubrail.desk.templatetags.numbers import local_day

PER_PAGE = 100


@requires("changes.see")
@require_http_methods(["GET", "HEAD"])
def changes(request: HttpRequest) -> HttpResponse:
    """Who changed what and when, newest first; by kind, by thing and by person."""
    asked = {name: request.GET.get(name, "").strip()[:120] for name in ("kind", "thing", "who")}
    found = Change.objects.seen_by(request.user)
    if asked["kind"]:
        found = found.filter(kind=asked["kind"])
    if asked["thing"]:
        found = found.filter(thing_name__icontains=asked["thing"])
    if asked["who"]:
        found = found.filter(who_id=asked["who"]) if asked["who"].isdecimal() else found.none()
    page = Paginator(found, PER_PAGE).get_page(request.GET.get("page"))
    days = [(day, list(rows)) for day, rows in groupby(page, key=lambda change: local_day(change.at))]
    context = {
        "asked": asked,
        "filtered": any(asked.values()),
        "page": page,
        "days": days,
        "kinds": [k for k in KINDS.values() if role_may(request.user.role, k.permission)],
        "people": User.objects.order_by("name", "pk").only("pk", "name"),
    }
    return answer(request, "desk/changes/changes.html", context, part="desk/changes/_rows.html")
