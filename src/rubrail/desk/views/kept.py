"""Trucks and machines kept for next time: listed, looked at, added, changed, put aside."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk.access import requires
from rubrail.desk.editing import StaleError, merge
from rubrail.desk.facts import facts_of, tables_of
from rubrail.desk.forms import seen
from rubrail.desk.forms.thing import COUNTS, ThingForm, counts_of, texts_of
from rubrail.desk.fragments import answer
from rubrail.desk.hauls import put_aside
from rubrail.desk.kept import SORTS, Sort, change, keep
from rubrail.desk.models import Change, Machine, Truck
from rubrail.desk.stale import notes_on
from rubrail.desk.typed import measures_sent
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.part import Thing

PER_PAGE = 50
LATEST_CHANGES = 8
SHOWN = (("", "Offered"), ("aside", "Put aside"), ("all", "All"))


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def things(request: HttpRequest, sort: str) -> HttpResponse:
    """The list of what is kept of one sort, and the classes to begin from."""
    it = SORTS[sort]
    words = request.GET.get("words", "").strip()[:100]
    show = request.GET.get("show", "")
    show = show if show in dict(SHOWN) else ""
    found = it.model.objects.all() if show == "all" else it.model.objects.filter(closed=show == "aside")
    for word in words.split():
        found = found.filter(name__icontains=word)
    context = {
        "sort": it,
        "words": words,
        "show": show,
        "shown": SHOWN,
        "page": Paginator(found, PER_PAGE).get_page(request.GET.get("page")),
        "classes": [(f"class:{name}", thing.title or name) for name, thing in it.shelf.classes.items()],
    }
    return answer(request, "desk/kept/things.html", context, part="desk/kept/_rows.html")


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def thing(request: HttpRequest, sort: str, pk: int) -> HttpResponse:
    """What is known of a kept thing, with where each number comes from."""
    it = get_object_or_404(SORTS[sort].model, pk=pk)
    trail = Change.objects.seen_by(request.user).filter(kind=sort, thing=pk)
    context = {
        "sort": SORTS[sort],
        "thing": it,
        "sections": facts_of(it.spec, of=SORTS[sort].told),
        "tables": tables_of(it.spec, of=SORTS[sort].told),
        "trail": list(trail[:LATEST_CHANGES]),
    }
    return render(request, "desk/kept/thing.html", context)


@requires("haul.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def thing_new(request: HttpRequest, sort: str) -> HttpResponse:
    """Keep a new one: from nothing, from a class, or from the likeness of another."""
    it = SORTS[sort]
    key = request.GET.get("from", "")
    base = it.shelf.bases([key], {})[key].as_found()
    if request.method != "POST":
        counts = {**COUNTS[sort], **{k: n for k, n in counts_of(it, base).items() if n}}
        measures = request.user.measures
        initial = texts_of(it, base, measures=measures) | {"name": base.get("title", "")}
        form = ThingForm(sort=it, named=True, counts=counts, measures=measures, initial=initial)
        return form_page(request, it, None, form)
    form, read = form_read(request, it, base, named=True)
    if read is None:
        return form_page(request, it, None, form)
    kept = keep(it, name=form.texts()["name"], thing=read, by=request.user)
    messages.success(request, f"{kept} is kept for next time.")
    return redirect(sort, pk=kept.pk)


@requires("haul.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def thing_edit(request: HttpRequest, sort: str, pk: int) -> HttpResponse:
    """Change a kept thing. Hauls that began from it keep their own copy."""
    it, what = SORTS[sort], get_object_or_404(SORTS[sort].model, pk=pk)
    if request.method != "POST":
        measures = request.user.measures
        initial = _texts(it, what, measures)
        form = ThingForm(sort=it, named=True, counts=counts_of(it, what.spec), measures=measures, initial=initial)
        return form_page(request, it, what, form)
    form, read = form_read(request, it, what.spec, named=True)
    had = seen.unpack(request.POST.get(seen.FIELD, ""))
    if had is None or had.version != what.version:
        return _stale(request, it, what, form, had)
    if read is None:
        return form_page(request, it, what, form, had=request.POST[seen.FIELD])
    try:
        deltas = change(it, what, name=form.texts()["name"], thing=read, by=request.user, seen_version=had.version)
    except StaleError:
        return _stale(request, it, it.model.objects.get(pk=pk), form, had)
    messages.success(request, f"{what} is saved." if deltas else "Nothing had changed.")
    return redirect(sort, pk=pk)


@requires("haul.edit")
@require_POST
def thing_aside(request: HttpRequest, sort: str, pk: int) -> HttpResponse:
    """No longer offer it, or offer it again."""
    what = get_object_or_404(SORTS[sort].model, pk=pk)
    aside = request.POST.get("do") == "aside"
    try:
        put_aside(what, aside=aside, by=request.user, seen_version=what.version)
    except StaleError:
        messages.warning(request, "Somebody else saved it just now; look at it again.")
    else:
        messages.success(request, f"{what} is {'no longer' if aside else 'now'} offered.")
    return redirect(sort, pk=pk)


def form_read(
    request: HttpRequest, sort: Sort, stored: Mapping[str, Any], *, named: bool
) -> tuple[ThingForm, Thing | None]:
    """The sent form, and the thing it describes; none where it has faults or asks for room for one more."""
    counts = {}
    for section in ThingForm(sort=sort, named=named, counts={}).sections:
        if section.many:
            sent = request.POST.get(f"{section.name}:count", "0")
            counts[section.name] = min(int(sent), section.most) if re.fullmatch(r"\d{1,3}", sent) else 0
    measures = measures_sent(request.POST)
    form = ThingForm(sort=sort, named=named, counts=counts, measures=measures, data=request.POST)
    if "more" in request.POST:
        more = request.POST["more"]
        counts |= {more: counts[more] + 1} if more in counts else {}
        again = ThingForm(sort=sort, named=named, counts=counts, measures=measures, initial=form.texts())
        return again, None
    form.is_valid()
    try:
        read = read_thing(sort.thing, form.table(stored))
    except Faults as told:
        for fault in told.faults:
            form.tell(fault)
        return form, None
    return form, None if form.errors else read


def form_page(
    request: HttpRequest,
    sort: Sort,
    what: Truck | Machine | None,
    form: ThingForm,
    *,
    had: str = "",
    meanwhile: list[dict[str, Any]] | None = None,
    status: int = 200,
) -> HttpResponse:
    """The form on its page."""
    if what and not had:
        had = seen.pack(version=what.version, values=_texts(sort, what, form.measures))
    last = Change.objects.filter(kind=sort.name, thing=what.pk).first() if what and meanwhile is not None else None
    context = {
        "sort": sort,
        "thing": what,
        "form": form,
        "pages": form.pages(),
        "counts": form.counts,
        "seen": had,
        "stale": meanwhile is not None,
        "meanwhile": meanwhile or [],
        "last_change": last,
    }
    return render(request, "desk/kept/edit.html", context, status=status)


def _texts(sort: Sort, what: Truck | Machine, measures: str) -> dict[str, str]:
    return texts_of(sort, what.spec, measures=measures) | {"name": what.name}


def _stale(
    request: HttpRequest, sort: Sort, what: Truck | Machine, form: ThingForm, had: seen.Seen | None
) -> HttpResponse:
    theirs = _texts(sort, what, form.measures)
    merged, changed = merge(seen=had.values if had else theirs, theirs=theirs, mine=form.texts())
    counts = {name: max(n, counts_of(sort, what.spec)[name]) for name, n in form.counts.items()}
    again = ThingForm(sort=sort, named=True, counts=counts, measures=form.measures, initial=merged)
    notes = notes_on(changed, model=sort.thing, measures=form.measures)
    return form_page(request, sort, what, again, meanwhile=notes, status=409)
