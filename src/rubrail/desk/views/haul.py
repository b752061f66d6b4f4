"""Hauls: the list of them, and one of them in short."""

from __future__ import annotations

from django.core.paginator import Paginator
from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_http_methods

from rubrail.desk.access import requires
from rubrail.desk.fragments import answer
from rubrail.desk.hauls import in_short
from rubrail.desk.models import Change, Haul

PER_PAGE = 50
LATEST_CHANGES = 8
SHOWN = (("", "Open"), ("done", "Done with"), ("all", "All"))


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def hauls(request: HttpRequest) -> HttpResponse:
    """The list of hauls, latest first; those done with behind a choice."""
    words = request.GET.get("words", "").strip()[:100]
    show = request.GET.get("show", "")
    show = show if show in dict(SHOWN) else ""
    found = Haul.objects.with_words(words)
    if show != "all":
        found = found.filter(closed=show == "done")
    page = Paginator(found, PER_PAGE).get_page(request.GET.get("page"))
    by_closed = dict(Haul.objects.values_list("closed").annotate(n=Count("pk")).order_by())
    context = {
        "words": words,
        "show": show,
        "shown": SHOWN,
        "page": page,
        "rows": [(haul, in_short(haul.spec)) for haul in page],
        "counts": {"open": by_closed.get(False, 0), "done": by_closed.get(True, 0)},
    }
    return answer(request, "desk/haul/hauls.html", context, part="desk/haul/_rows.html")


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def haul(request: HttpRequest, pk: int) -> HttpResponse:
    """What a haul is: buyer, truck, cargo, use, and what was changed lately."""
    it = get_object_or_404(Haul.objects.select_related("created_by"), pk=pk)
    trail = Change.objects.seen_by(request.user).filter(kind="haul", thing=it.pk)
    context = {
        "haul": it,
        "short": in_short(it.spec),
        "trail": list(trail[:LATEST_CHANGES]),
        "trail_count": trail.count(),
    }
    return render(request, "desk/haul/haul.html", context)
