"""A person's calendar of follow-ups: its address made and ended, and the file behind it."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from rubrail.desk import calendar_links
from rubrail.desk.access import open_to_anyone, requires
from rubrail.desk.models import CalendarLink


@requires("account.own")
@require_http_methods(["GET", "HEAD", "POST"])
def calendar_link(request: HttpRequest) -> HttpResponse:
    """Make one's own address, end it, and read what to do with it."""
    if request.method == "POST":
        if request.POST.get("do") == "end":
            calendar_links.end_address(request.user)
            messages.success(request, "The calendar's address no longer works.")
        else:
            secret = calendar_links.give_address(request.user)
            request.session["calendar-link"] = request.build_absolute_uri(reverse("calendar", args=[secret]))
        return redirect("calendar-link")
    context = {
        "link": CalendarLink.objects.filter(person=request.user).first(),
        "secret_url": request.session.pop("calendar-link", ""),
    }
    return render(request, "desk/follow/calendar.html", context)


@open_to_anyone
@require_http_methods(["GET", "HEAD"])
def calendar(request: HttpRequest, secret: str) -> HttpResponse:
    """The file. Whoever has the address reads it, so it tells no price and no way to reach a buyer."""
    person = calendar_links.person_behind(secret)
    if person is None:
        raise Http404("no such calendar, or its address was ended")
    text = calendar_links.calendar_of(
        person, address=lambda it: request.build_absolute_uri(reverse("follow-up", args=[it.pk]))
    )
    response = HttpResponse(text, content_type="text/calendar; charset=utf-8")
    response["Content-Disposition"] = 'inline; filename="follow-ups.ics"'
    response["X-Robots-Tag"] = "noindex, nofollow"
    return response
