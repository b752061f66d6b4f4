"""The steps of a receipt that are entered: VIN and label, field by field, parts and tires."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.editing import Meanwhile
from rubrail.desk.forms import seen
from rubrail.desk.models import Change, Receipt
from rubrail.desk.models.stock import Purpose
from rubrail.desk.once import from_outbox, once, tell
from rubrail.desk.photographs import keep_photos, photos_about
from rubrail.desk.receiving import fields, parts, vin
from rubrail.desk.receiving.found import PLACES
from rubrail.desk.receiving.steps import Clash, keep, look_deltas, steps_of
from rubrail.desk.views.receive import receipt_at

LONGEST = 300


def frame(it: Receipt, **more: Any) -> dict[str, Any]:
    """What every page of a receipt shows at its head."""
    return {"receipt": it, "unit": it.unit, "steps": steps_of(it), **more}


def closed(request: HttpRequest, it: Receipt) -> HttpResponse | None:
    """Back to the receipt where it is closed: what was entered is read there."""
    if it.is_open:
        return None
    if from_outbox(request):
        says = f"Receipt {it} is closed meanwhile: {it.get_status_display()}. This entry came too late for it."
        return tell(request, says, go=it.get_absolute_url(), status=422)
    messages.info(request, f"Receipt {it} is closed: {it.get_status_display()}.")
    return redirect(it)


def stale(it: Receipt, clash: Clash | None, labels: Mapping[str, str]) -> dict[str, Any]:
    """What a page says where somebody saved the same step meanwhile."""
    if clash is None:
        return {"stale": False}
    last = Change.objects.filter(kind="receipt", thing=it.pk).first()
    return {"stale": True, "meanwhile": [_note(c, labels) for c in clash.changed], "last_change": last}


WORDS = {"same": "as ordered", "other": "something else", "": "nothing"}


def _note(c: Meanwhile, labels: Mapping[str, str]) -> dict[str, Any]:
    said = lambda text: WORDS.get(text, text)  # noqa: E731
    return {
        "label": labels.get(c.name, c.name),
        "name": c.name,
        "raw": c.theirs,
        "seen": said(c.seen),
        "theirs": said(c.theirs),
        "mine": said(c.mine),
        "both": c.both,
    }


def had_of(request: HttpRequest, it: Receipt, stored: Mapping[str, str]) -> seen.Seen | None:
    """What the form showed when it was opened; or, from a phone's outbox, the version its person has seen since and
    sends his own all the same.
    """
    text = request.POST.get(seen.FIELD, "")
    if from_outbox(request) and text.isdecimal() and len(text) < 10:
        same = int(text) == it.version
        return seen.Seen(int(text), {k: v for k, v in stored.items() if v} if same else {})
    return seen.unpack(text)


def waited(
    request: HttpRequest, it: Receipt, here: str, *, faults: Iterable[str] = (), clash: Clash | None = None
) -> HttpResponse | None:
    """The answer to an entry that waited in a phone's outbox and is not taken as it is; nothing for any other."""
    if not from_outbox(request):
        return None
    go = reverse(here, args=[it.number])
    if clash is not None:
        told = [(c.name, WORDS.get(c.theirs, c.theirs), WORDS.get(c.mine, c.mine)) for c in clash.changed]
        return tell(
            request,
            "Somebody saved the same step meanwhile.",
            go=go,
            status=409,
            theirs="; ".join(theirs for _, theirs, _ in told),
            mine="; ".join(mine for *_, mine in told),
            seen=it.version,
        )
    said = " ".join(faults)
    return tell(request, said, go=go, status=422) if said else None


def next_page(request: HttpRequest, it: Receipt, here: str, following: str) -> HttpResponse:
    """On to the next step where that was pressed."""
    messages.success(request, "Kept.")
    return redirect(following if "next" in request.POST else here, it.number)


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@once
def receipt_vin(request: HttpRequest, number: str) -> HttpResponse:
    """The VIN as read in each place, what the papers say, photos of label and VIN."""
    it = receipt_at(number)
    if gone := closed(request, it):
        return gone
    texts, faults, clash = vin.vin_texts(it, empty=True), {}, None
    if request.method == "POST":
        texts = {name: request.POST.get(name, "").strip()[:LONGEST] for name in vin.NAMES}
        given, faults = vin.read(texts)
        if not faults:
            clash = keep(
                it,
                had=had_of(request, it, vin.vin_texts(it)),
                texts_of=vin.vin_texts,
                mine=texts,
                patch=lambda r: vin.patch(given),
                deltas=lambda r: vin.deltas(r, texts),
                by=request.user,
            )
            if clash is None:
                _label_photos(request, it)
                return next_page(request, it, "receipt-vin", "receipt-fields")
            texts = clash.merged
        if request.FILES.getlist("photos") and not from_outbox(request):
            messages.warning(request, "The photos are not kept yet: choose them once more.")
        told = [f"{vin.LABELS[name]}: {said}" for name, said in faults.items()]
        if answer := waited(request, it, "receipt-vin", faults=told, clash=clash):
            return answer
    context = frame(
        it,
        texts=texts,
        readings=[_reading(it, texts, p, faults) for p in PLACES],
        papers=[(n, label, unit, texts.get(n, ""), faults.get(n, "")) for n, label, unit in vin.PAPERS],
        faults=faults,
        seen=_seen(request, it, vin.vin_texts(it), again=clash is not None),
        photos=[p for p in photos_about(it) if p.purpose == Purpose.LABEL],
        **stale(it, clash, vin.LABELS),
    )
    return render(request, "desk/receive/vin.html", context, status=409 if clash else 200)


def _reading(it: Receipt, texts: Mapping[str, str], place: str, faults: Mapping[str, str]) -> dict[str, Any]:
    name = f"vin-{place}"
    return {
        "name": name,
        "place": place,
        "label": vin.PLACE_WORDS[place],
        "text": texts.get(name, ""),
        "fault": faults.get(name, ""),
        "check": None if name in faults else vin.check_of(it, texts, place),
    }


def _label_photos(request: HttpRequest, it: Receipt) -> None:
    files = request.FILES.getlist("photos")
    if not files:
        return
    sent = keep_photos(files, unit=it.unit, by=request.user, purpose=Purpose.LABEL, about=it)
    for fault in sent.faults:
        messages.error(request, fault)


def _seen(request: HttpRequest, it: Receipt, texts: Mapping[str, str], *, again: bool) -> str:
    """What the form shows now; what it showed when it was opened, where it comes back with faults."""
    if request.method == "POST" and not again:
        return request.POST.get(seen.FIELD, "")
    return seen.pack(version=it.version, values=texts)


@requires("unit.edit")
@require_POST
def receipt_vin_check(request: HttpRequest, number: str, place: str) -> HttpResponse:
    """One reading as it is typed: its characters in their places, the suspicious one marked. Nothing is kept."""
    it = receipt_at(number)
    texts = {f"vin-{p}": request.POST.get(f"vin-{p}", "").strip()[:40] for p in PLACES}
    check = vin.check_of(it, texts, place) if place in PLACES else None
    return render(request, "desk/receive/_vin.html", {"check": check})


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@once
def receipt_fields(request: HttpRequest, number: str) -> HttpResponse:
    """Ordered against received, field by field; whoever saves second is told what the first one changed."""
    it = receipt_at(number)
    if gone := closed(request, it):
        return gone
    must = fields.unlike_axles(it)
    each = must or "each" in (request.GET.get("axles"), request.POST.get("axles")) or bool(it.found.get("each_axle"))
    groups = fields.rows_of(it, each_axle=each)
    labels = {n: r.label for g in groups for r in g.rows for n in (r.path, f"look:{r.path}")}
    clash = None
    if request.method == "POST":
        mine = {n: request.POST.get(n, "").strip() for n in labels}
        fields.take(groups, mine)
        looks = fields.looks_of(it, groups)
        if looks is not None:
            clash = keep(
                it,
                had=had_of(request, it, fields.texts_of(fields.rows_of(it, each_axle=each))),
                texts_of=lambda r: fields.texts_of(fields.rows_of(r, each_axle=each)),
                mine=fields.texts_of(groups),
                patch=lambda r: {"looks": looks, "each_axle": each and not must},
                deltas=lambda r: look_deltas(r, looks, labels),
                by=request.user,
            )
            if clash is None:
                return next_page(request, it, "receipt-fields", "receipt-damage")
            groups = fields.rows_of(it, each_axle=each)
            fields.take(groups, clash.merged)
        told = [f"{r.label}: {said}" for g in groups for r in g.rows for said in r.faults]
        if answer := waited(request, it, "receipt-fields", faults=told, clash=clash):
            return answer
    stored = fields.texts_of(fields.rows_of(it, each_axle=each))
    context = frame(
        it,
        groups=groups,
        each=each,
        may_part=not each and fields.axles_of(it) > 1,
        faulty=sum(bool(r.faults) for g in groups for r in g.rows),
        seen=_seen(request, it, stored, again=clash is not None),
        **stale(it, clash, labels),
    )
    return render(request, "desk/receive/fields.html", context, status=409 if clash else 200)


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@once
def receipt_parts(request: HttpRequest, number: str) -> HttpResponse:
    """What should come along, and the tires' date codes."""
    it = receipt_at(number)
    if gone := closed(request, it):
        return gone
    today = clock.today()
    texts, faults, clash = parts.texts_of(it.found), [], None
    if request.method == "POST":
        texts = {n: request.POST.get(n, "").strip()[:LONGEST] for n in parts.NAMES}
        given, faults = parts.read(texts, today=today)
        if not faults:
            clash = keep(
                it,
                had=had_of(request, it, parts.texts_of(it.found)),
                texts_of=lambda r: parts.texts_of(r.found),
                mine=texts,
                patch=lambda r: given,
                deltas=lambda r: parts.deltas(r.found, given),
                by=request.user,
            )
            if clash is None:
                return next_page(request, it, "receipt-parts", "receipt-ratings")
            texts = clash.merged
        if answer := waited(request, it, "receipt-parts", faults=faults, clash=clash):
            return answer
    codes, _ = parts.read_codes(" ".join(it.found.get("tires", ())), today=today)
    context = frame(
        it,
        rows=[(k, word, texts.get(f"part-{k}", "")) for k, word in parts.PARTS],
        states=parts.STATES,
        texts=texts,
        faults=faults,
        codes=parts.said_codes(codes),
        notes=parts.tire_notes(codes, today=today),
        seen=_seen(request, it, parts.texts_of(it.found), again=clash is not None),
        **stale(it, clash, parts.LABELS),
    )
    return render(request, "desk/receive/parts.html", context, status=409 if clash else 200)
