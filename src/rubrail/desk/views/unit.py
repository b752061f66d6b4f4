"""One unit: what is known of it, and the form that changes it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.db import IntegrityError, transaction
from django.db.models.functions import Lower
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.as_printed import not_printed
from rubrail.desk.editing import StaleError, merge
from rubrail.desk.forms import seen
from rubrail.desk.forms.unit import MANY_DEFAULT, SECTIONS, UnitForm, counts_of, table_of, texts_of
from rubrail.desk.listing_page import PriceLine, price_age_line
from rubrail.desk.listings import wording_on
from rubrail.desk.models import Change, Unit
from rubrail.desk.models.stock import ON_UNIT_PAGE
from rubrail.desk.papers import unit_papers
from rubrail.desk.price_days import price_day
from rubrail.desk.sales.standing_cost import standing_cost
from rubrail.desk.stale import notes_on
from rubrail.desk.standing import promised_to, taken_from
from rubrail.desk.stock import add_unit, change_unit, put_together
from rubrail.desk.typed import measures_sent
from rubrail.desk.unit_page import page_of
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.trailer import Trailer

LATEST_CHANGES = 8
NOT_COPIED = ("id", "vin", "arrived", "location", "status", "cost_usd")
TAKEN = "Another unit has this stock number already; choose another."


def _unit(stock_number: str) -> Unit:
    # As the index has it: one look-up however many units there are.
    units = Unit.objects.select_related("created_by", "listing").alias(in_small_letters=Lower("stock_number"))
    return get_object_or_404(units, in_small_letters=stock_number.lower())


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def unit(request: HttpRequest, stock_number: str) -> HttpResponse:
    """What is known of a unit, with where each number comes from, and what was changed lately."""
    it = _unit(stock_number)
    trail = Change.objects.seen_by(request.user).filter(kind="unit", thing=it.pk)
    context = {
        "unit": it,
        "days": it.days_here(today=clock.today()),
        **page_of(it, metric=request.user.measures == "metric"),
        "papers": unit_papers(it, user=request.user),
        "not_printed": not_printed([it], metric=request.user.measures == "metric"),
        "standing_cost": standing_cost(it, today=clock.today()) if request.user.may("money.see") else None,
        "price_age": _price_age(it),
        "photos": list(it.photos.filter(purpose__in=ON_UNIT_PAGE)),
        "trail": list(trail[:LATEST_CHANGES]),
        "trail_count": trail.count(),
    }
    return render(request, "desk/unit/unit.html", context)


def _price_age(it: Unit) -> PriceLine | None:
    """How old the price of a unit for sale is; nothing where there is none to look at."""
    if it.price_usd is None or it.is_gone:
        return None
    today = clock.today()
    return price_age_line(price_day(it), wording=wording_on(today), today=today)


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def unit_new(request: HttpRequest) -> HttpResponse:
    """Add a unit, from nothing or from the likeness of another."""
    like = Unit.objects.filter(stock_number__iexact=request.GET.get("like", "")).first()
    table = {k: v for k, v in put_together(like).items() if k not in NOT_COPIED} if like else {}
    if request.method != "POST":
        counts = {**MANY_DEFAULT, **{k: n for k, n in counts_of(table).items() if n}}
        return _page(request, None, _filled(request, table, counts), like=like)
    counts = _counts_sent(request.POST)
    form = _form(request, counts, data=request.POST)
    if "more" in request.POST:
        return _page(request, None, _one_more(request, form), like=like)
    trailer = _read(form, stored=table)
    if trailer and Unit.objects.filter(stock_number__iexact=trailer.id).exists():
        form.add_error("stock_number", TAKEN)
    elif trailer:
        try:
            added = add_unit(trailer, by=request.user)
        except IntegrityError:
            form.add_error("stock_number", TAKEN)
        else:
            messages.success(request, f"Unit {added} is in the yard's list.")
            return redirect(added)
    return _page(request, None, form, like=like)


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def unit_edit(request: HttpRequest, stock_number: str) -> HttpResponse:
    """Correct what is known of a unit. Whoever saves second is told what the first one changed."""
    it = _unit(stock_number)
    stored = put_together(it, with_cost=True)
    if request.method != "POST":
        return _page(request, it, _filled(request, stored, counts_of(stored)))
    form = _form(request, _counts_sent(request.POST), data=request.POST)
    had = seen.unpack(request.POST.get(seen.FIELD, ""))
    if had is None or had.version != it.version:
        return _stale(request, it, form, had)
    if "more" in request.POST:
        return _page(request, it, _one_more(request, form))
    trailer = _read(form, stored=stored)
    if trailer and Unit.objects.filter(stock_number__iexact=trailer.id).exclude(pk=it.pk).exists():
        form.add_error("stock_number", TAKEN)
    elif trailer and (fault := taken_from(promised_to(it), before=it.status, to=trailer.status)):
        form.add_error("status", f"This unit is {fault}.")
    elif trailer:
        try:
            with transaction.atomic():
                deltas = change_unit(it, trailer, by=request.user, seen_version=had.version)
        except StaleError:
            it = Unit.objects.get(pk=it.pk)
            return _stale(request, it, form, had)
        except IntegrityError:
            form.add_error("stock_number", TAKEN)
        else:
            said = "Nothing had changed." if not deltas else f"Unit {it} is saved."
            messages.success(request, said)
            return redirect(it)
    return _page(request, it, form, seen_text=request.POST.get(seen.FIELD, ""))


def _form(request: HttpRequest, counts: Mapping[str, int], **kwargs: Any) -> UnitForm:
    may_price = request.user.may("price.edit")
    may_cost = may_price and request.user.may("money.see")
    kwargs.setdefault("measures", measures_sent(request.POST))
    return UnitForm(may_price=may_price, may_cost=may_cost, counts=counts, **kwargs)


def _filled(request: HttpRequest, table: Mapping[str, Any], counts: Mapping[str, int]) -> UnitForm:
    """The form as it is opened, in the person's measures."""
    measures = request.user.measures
    return _form(request, counts, measures=measures, initial=texts_of(table, measures=measures))


def _counts_sent(data: Mapping[str, str]) -> dict[str, int]:
    counts = {}
    for section in SECTIONS:
        if section.many:
            sent = data.get(f"{section.name}:count", "0")
            counts[section.name] = min(int(sent), section.most) if re.fullmatch(r"\d{1,3}", sent) else 0
    return counts


def _one_more(request: HttpRequest, form: UnitForm) -> UnitForm:
    """The same form with room for one more of what was asked for, nothing checked yet."""
    counts = dict(form.counts)
    for section in SECTIONS:
        if section.many and request.POST["more"] == section.name:
            counts[section.name] = min(counts[section.name] + 1, section.most)
    return _form(request, counts, initial=form.texts())


def _read(form: UnitForm, *, stored: Mapping[str, Any]) -> Trailer | None:
    """The trailer the form describes, or nothing, with every fault beside its field."""
    form.is_valid()
    # Fields the person may not see are not in the form; they stay as they are stored.
    hidden = {name: stored[name] for name, shown in form.may.items() if not shown and name in stored}
    table = table_of(form.texts(), stored=stored, counts=form.counts, measures=form.measures) | hidden
    try:
        trailer = read_thing(Trailer, table)
    except Faults as told:
        for fault in told.faults:
            form.tell(fault)
        return None
    return trailer if not form.errors else None


def _stale(request: HttpRequest, it: Unit, form: UnitForm, had: seen.Seen | None) -> HttpResponse:
    """The form again: this person's own entries kept, the others' changes told and beside them."""
    stored = put_together(it, with_cost=True)
    theirs = _seen_texts(form, stored)
    was = dict(had.values) if had else theirs
    mine = form.texts()
    merged, changed = merge(seen=was, theirs=theirs, mine=mine)
    counts = {name: max(n, counts_of(stored)[name]) for name, n in form.counts.items()}
    again = _form(request, counts, initial=merged)
    return _page(request, it, again, meanwhile=notes_on(changed, measures=form.measures), status=409)


def _seen_texts(form: UnitForm, stored: Mapping[str, Any]) -> dict[str, str]:
    """What the form shows of a stored unit: nothing that the person may not see."""
    texts = texts_of(stored, measures=form.measures)
    return {name: text for name, text in texts.items() if form.may.get(name, True)}


def _page(
    request: HttpRequest,
    it: Unit | None,
    form: UnitForm,
    *,
    like: Unit | None = None,
    seen_text: str = "",
    meanwhile: list[dict[str, Any]] | None = None,
    status: int = 200,
) -> HttpResponse:
    if it and not seen_text:
        seen_text = seen.pack(version=it.version, values=_seen_texts(form, put_together(it, with_cost=True)))
    context = {
        "unit": it,
        "like": like,
        "form": form,
        "pages": form.pages(),
        "counts": form.counts,
        "seen": seen_text,
        "stale": meanwhile is not None,
        "meanwhile": meanwhile or [],
        "last_change": Change.objects.filter(kind="unit", thing=it.pk).first() if meanwhile is not None else None,
    }
    return render(request, "desk/unit/edit.html", context, status=status)
