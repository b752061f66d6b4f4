"""What else is done with a haul: put it aside, keep its truck or a piece of it, change any field of those."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk.access import requires
from rubrail.desk.editing import StaleError, merge
from rubrail.desk.forms import seen
from rubrail.desk.forms.haul import said_of_haul
from rubrail.desk.forms.thing import ThingForm, counts_of, texts_of
from rubrail.desk.hauls import called, change_haul, put_aside, thing_of
from rubrail.desk.kept import SORTS, Sort, keep
from rubrail.desk.models import Change, Haul
from rubrail.desk.stale import notes_on
from rubrail.desk.views.kept import form_read
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.haul import Haul as HaulThing

LATE = "Somebody else saved this haul meanwhile. Nothing of yours was saved; open it again and look."


@requires("haul.edit")
@require_POST
def haul_aside(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a haul aside as done with, or take it up again."""
    it = get_object_or_404(Haul, pk=pk)
    aside = request.POST.get("do") == "aside"
    try:
        put_aside(it, aside=aside, by=request.user, seen_version=it.version)
    except StaleError:
        messages.warning(request, LATE)
    else:
        messages.success(request, "The haul is put aside." if aside else "The haul is open again.")
    return redirect(it)


@requires("haul.edit")
@require_POST
def haul_keep(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep the haul's truck, or one of its pieces, for next time; the haul keeps its own copy."""
    it = get_object_or_404(Haul, pk=pk)
    try:
        whole = thing_of(it)
    except Faults:
        messages.error(request, "This haul no longer reads; change it first.")
        return redirect(it)
    what = request.POST.get("what", "")
    pieces = {f"piece-{n}": load.piece for n, load in enumerate(whole.cargo)}
    if what == "truck":
        sort, thing = SORTS["truck"], whole.truck
    elif what in pieces:
        sort, thing = SORTS["machine"], pieces[what]
    else:
        messages.error(request, "This haul has no such piece any more; look at it again.")
        return redirect(it)
    kept = keep(sort, name=thing.title or thing.id, thing=thing, by=request.user, action="kept")
    messages.success(request, f"{kept} is kept for next time.")
    return redirect(it)


@requires("haul.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def haul_truck(request: HttpRequest, pk: int) -> HttpResponse:
    """Every field of a haul's own truck."""
    return _part(request, get_object_or_404(Haul, pk=pk), "truck", None)


@requires("haul.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def haul_piece(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    """Every field of one piece of a haul; pieces are counted from 1."""
    it = get_object_or_404(Haul, pk=pk)
    if not 1 <= number <= len(it.spec.get("cargo", ())):
        raise Http404
    return _part(request, it, "machine", number - 1)


def _part(request: HttpRequest, it: Haul, word: str, index: int | None) -> HttpResponse:
    sort = SORTS[word]
    table = it.spec["truck"] if index is None else it.spec["cargo"][index]["piece"]
    if request.method != "POST":
        measures = request.user.measures
        texts = texts_of(sort, table, measures=measures)
        form = ThingForm(sort=sort, named=False, counts=counts_of(sort, table), measures=measures, initial=texts)
        return _page(request, it, sort, form, table)
    had = seen.unpack(request.POST.get(seen.FIELD, ""))
    form, part = form_read(request, sort, table, named=False)
    if had is None or had.version != it.version:
        return _late(request, it, sort, form, table, had)
    if part is not None:
        try:
            whole = read_thing(HaulThing, _with(it.spec, form.table(table), index))
            change_haul(it, whole, buyer=it.buyer, title=it.title, by=request.user, seen_version=had.version)
        except Faults as told:
            for fault in told.faults:
                form.add_error(None, said_of_haul(fault, named=False, measures=form.measures))
        except StaleError:
            return _late(request, Haul.objects.get(pk=it.pk), sort, form, table, had)
        else:
            messages.success(request, "The haul is saved.")
            return redirect(it)
    return _page(request, it, sort, form, table, had=request.POST[seen.FIELD])


def _late(
    request: HttpRequest, it: Haul, sort: Sort, form: ThingForm, table: dict[str, Any], had: seen.Seen | None
) -> HttpResponse:
    theirs = texts_of(sort, table, measures=form.measures)
    merged, changed = merge(seen=had.values if had else theirs, theirs=theirs, mine=form.texts())
    counts = {name: max(n, counts_of(sort, table)[name]) for name, n in form.counts.items()}
    again = ThingForm(sort=sort, named=False, counts=counts, measures=form.measures, initial=merged)
    notes = notes_on(changed, model=sort.thing, measures=form.measures)
    return _page(request, it, sort, again, table, meanwhile=notes)


def _with(spec: dict[str, Any], table: dict[str, Any], index: int | None) -> dict[str, Any]:
    """A haul's table with another truck, or another piece."""
    if index is None:
        return spec | {"truck": table}
    loads = [load | {"piece": table} if n == index else load for n, load in enumerate(spec["cargo"])]
    return spec | {"cargo": loads}


def _page(
    request: HttpRequest,
    it: Haul,
    sort: Sort,
    form: ThingForm,
    table: dict[str, Any],
    *,
    had: str = "",
    meanwhile: list[dict[str, Any]] | None = None,
) -> HttpResponse:
    context = {
        "haul": it,
        "title": called(table),
        "form": form,
        "pages": form.pages(),
        "counts": form.counts,
        "seen": had or seen.pack(version=it.version, values=texts_of(sort, table, measures=form.measures)),
        "stale": meanwhile is not None,
        "meanwhile": meanwhile or [],
        "last_change": Change.objects.filter(kind="haul", thing=it.pk).first() if meanwhile is not None else None,
    }
    return render(request, "desk/haul/part.html", context, status=200 if meanwhile is None else 409)
