"""The steps of a receipt that are entered: VIN and label, field by field, parts and tires."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import partial, wraps
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.audit import Delta
from rubrail.desk.editing import Meanwhile, StaleError
from rubrail.desk.forms import seen
from rubrail.desk.models import Change, Receipt
from rubrail.desk.models.stock import Purpose
from rubrail.desk.once import from_outbox, once, tell
from rubrail.desk.photographs import keep_photos, photos_about
from rubrail.desk.receiving import fields, parts, vin
from rubrail.desk.receiving.begin import ReceiptError
from rubrail.desk.receiving.found import PLACES
from rubrail.desk.receiving.steps import Clash, keep, look_deltas, steps_of
from rubrail.desk.typed import measures_sent, unit_word
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


def unless_closed(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Say so where somebody decides on the receipt, or saves it again and again, at the moment a step is kept."""

    @wraps(view)
    def guarded(request: HttpRequest, number: str) -> HttpResponse:
        try:
            return view(request, number)
        except ReceiptError:
            it = receipt_at(number)
            return closed(request, it) or redirect(it)
        except StaleError:
            says = "Somebody saves this receipt at this moment; nothing of yours is kept. Send it again."
            return tell(request, says, go=request.path, status=422)

    return guarded


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


def _keep(
    request: HttpRequest,
    it: Receipt,
    *,
    stored: Callable[[Receipt], Mapping[str, str]],
    mine: Mapping[str, str],
    patch: Mapping[str, Any],
    deltas: Callable[[Receipt], Iterable[Delta]],
) -> Clash | None:
    """Keep what a step's form sent, held against what it showed; what somebody else saved meanwhile, if he did."""
    had = had_of(request, it, stored(it))
    return keep(it, had=had, texts_of=stored, mine=mine, patch=lambda r: patch, deltas=deltas, by=request.user)


def _form(
    request: HttpRequest,
    it: Receipt,
    page: str,
    *,
    stored: Callable[[Receipt], Mapping[str, str]],
    clash: Clash | None,
    labels: Mapping[str, str],
    **more: Any,
) -> HttpResponse:
    """A step's form: new, back with its faults, or with what somebody else saved meanwhile."""
    again = request.method != "POST" or clash is not None
    shown = seen.pack(version=it.version, values=stored(it)) if again else request.POST.get(seen.FIELD, "")
    context = frame(it, seen=shown, **stale(it, clash, labels), **more)
    return render(request, f"desk/receive/{page}.html", context, status=409 if clash else 200)


def measures_of(request: HttpRequest) -> str:
    """Measures of a form: those it was shown in, else those of the person."""
    return measures_sent(request.POST) if request.method == "POST" else request.user.measures


def next_page(request: HttpRequest, it: Receipt, here: str, following: str) -> HttpResponse:
    """On to the next step where that was pressed."""
    messages.success(request, "Kept.")
    return redirect(following if "next" in request.POST else here, it.number)


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@once
@unless_closed
def receipt_vin(request: HttpRequest, number: str) -> HttpResponse:
    """The VIN as read in each place, what the papers say, photos of label and VIN."""
    it = receipt_at(number)
    if gone := closed(request, it):
        return gone
    measures = measures_of(request)
    texts, faults, clash = vin.vin_texts(it, empty=True, measures=measures), {}, None
    stored = partial(vin.vin_texts, measures=measures)
    if request.method == "POST":
        texts = {name: request.POST.get(name, "").strip()[:LONGEST] for name in vin.NAMES}
        given, faults = vin.read(texts, kept=it.found.get("papers", {}), measures=measures)
        if not faults:
            clash = _keep(
                request,
                it,
                stored=stored,
                mine=texts,
                patch=vin.patch(given),
                deltas=lambda r: vin.deltas(r, given),
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
    checks = vin.checks_of(it, texts)
    return _form(
        request,
        it,
        "vin",
        stored=stored,
        clash=clash,
        labels=vin.LABELS,
        texts=texts,
        measures=measures,
        readings=[_reading(texts, p, faults, checks) for p in PLACES],
        papers=[
            (n, label, unit_word(unit, measures), texts.get(n, ""), faults.get(n, "")) for n, label, unit in vin.PAPERS
        ],
        faults=faults,
        photos=[p for p in photos_about(it) if p.purpose == Purpose.LABEL],
    )


def _reading(
    texts: Mapping[str, str], place: str, faults: Mapping[str, str], checks: Mapping[str, vin.VinCheck]
) -> dict[str, Any]:
    name = f"vin-{place}"
    return {
        "name": name,
        "place": place,
        "label": vin.PLACE_WORDS[place],
        "text": texts.get(name, ""),
        "fault": faults.get(name, ""),
        "check": None if name in faults else checks.get(place),
    }


def _label_photos(request: HttpRequest, it: Receipt) -> None:
    files = request.FILES.getlist("photos")
    if not files:
        return
    sent = keep_photos(files, unit=it.unit, by=request.user, purpose=Purpose.LABEL, about=it)
    for fault in sent.faults:
        messages.error(request, fault)


@requires("unit.edit")
@require_POST
def receipt_vin_check(request: HttpRequest, number: str, place: str) -> HttpResponse:
    """One reading as it is typed: its characters in their places, the suspicious one marked. Nothing is kept."""
    it = receipt_at(number)
    texts = {f"vin-{p}": request.POST.get(f"vin-{p}", "").strip()[:40] for p in PLACES}
    return render(request, "desk/receive/_vin.html", {"check": vin.checks_of(it, texts).get(place)})


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@once
@unless_closed
def receipt_fields(request: HttpRequest, number: str) -> HttpResponse:
    """Ordered against received, field by field; whoever saves second is told what the first one changed."""
    it = receipt_at(number)
    if gone := closed(request, it):
        return gone
    must = fields.unlike_axles(it)
    each = must or "each" in (request.GET.get("axles"), request.POST.get("axles")) or bool(it.found.get("each_axle"))
    measures = measures_of(request)
    rows_of = partial(fields.rows_of, each_axle=each, measures=measures)
    groups = rows_of(it)
    labels = {n: r.named for g in groups for r in g.rows for n in (r.path, f"look:{r.path}")}
    clash = None

    def stored(receipt: Receipt) -> dict[str, str]:
        return fields.texts_of(rows_of(receipt))

    if request.method == "POST":
        mine = {n: request.POST.get(n, "").strip() for n in labels}
        fields.take(groups, mine)
        looks = fields.looks_of(it, groups, measures=measures)
        if looks is not None:
            clash = _keep(
                request,
                it,
                stored=stored,
                mine=fields.texts_of(groups),
                patch={"looks": looks, "each_axle": each and not must},
                deltas=lambda r: look_deltas(r, looks, labels),
            )
            if clash is None:
                return next_page(request, it, "receipt-fields", "receipt-damage")
            groups = rows_of(it)
            fields.take(groups, clash.merged)
        told = [f"{r.named}: {said}" for g in groups for r in g.rows for said in r.faults]
        if answer := waited(request, it, "receipt-fields", faults=told, clash=clash):
            return answer
    return _form(
        request,
        it,
        "fields",
        stored=stored,
        clash=clash,
        labels=labels,
        groups=groups,
        each=each,
        measures=measures,
        may_part=not each and fields.axles_of(it) > 1,
        faulty=sum(bool(r.faults) for g in groups for r in g.rows),
    )


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@once
@unless_closed
def receipt_parts(request: HttpRequest, number: str) -> HttpResponse:
    """What should come along, and the tires' date codes."""
    it = receipt_at(number)
    if gone := closed(request, it):
        return gone
    today = clock.today()
    texts, faults, clash = parts.texts_of(it.found), [], None

    def stored(receipt: Receipt) -> dict[str, str]:
        return parts.texts_of(receipt.found)

    if request.method == "POST":
        texts = {n: request.POST.get(n, "").strip()[:LONGEST] for n in parts.NAMES}
        given, faults = parts.read(texts, today=today)
        if not faults:
            clash = _keep(
                request, it, stored=stored, mine=texts, patch=given, deltas=lambda r: parts.deltas(r.found, given)
            )
            if clash is None:
                return next_page(request, it, "receipt-parts", "receipt-ratings")
            texts = clash.merged
        if answer := waited(request, it, "receipt-parts", faults=faults, clash=clash):
            return answer
    codes, _ = parts.read_codes(" ".join(it.found.get("tires", ())), today=today)
    return _form(
        request,
        it,
        "parts",
        stored=stored,
        clash=clash,
        labels=parts.LABELS,
        rows=[(k, word, texts.get(f"part-{k}", "")) for k, word in parts.PARTS],
        states=parts.STATES,
        texts=texts,
        faults=faults,
        codes=parts.said_codes(codes),
        notes=parts.tire_notes(codes, today=today),
    )
