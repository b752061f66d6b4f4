"""Hauls: the list of them, and one of them in short."""

from __future__ import annotations

from django.core.paginator import Paginator
from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_http_methods

from rubrail.desk.access import requires
from rubrail.desk.fragments import answer
from rubrail.desk.haul_told import drawing, job_in_words, told
from rubrail.desk.hauls import in_short, thing_of
from rubrail.desk.held_back import held_back, unread_ratings
from rubrail.desk.models import Change, Haul
from rubrail.things.faults import Faults

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
    """What a haul is: buyer, truck, cargo, use; what is still unknown of it, by how much of the yard it holds back."""
    it = get_object_or_404(Haul.objects.select_related("created_by"), pk=pk)
    trail = Change.objects.seen_by(request.user).filter(kind="haul", thing=it.pk)
    context = {
        "haul": it,
        "job": job_in_words(it.spec),
        "unread": unread_ratings(it.spec.get("truck", {})),
        "trail": list(trail[:LATEST_CHANGES]),
        "trail_count": trail.count(),
        **told(it.spec),
    }
    try:
        whole = thing_of(it)
    except Faults as faults:
        return render(request, "desk/haul/haul.html", {**context, "faults": faults.faults})
    context |= {"held": held_back(it), "drawing": drawing(whole, metric=request.user.measures == "metric")}
    return render(request, "desk/haul/haul.html", context)
