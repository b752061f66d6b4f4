"""Scale tickets: the list, one entered on a phone, what it says, corrected, set aside, photographed."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from datetime import date
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.core.paginator import Paginator
from django.db import IntegrityError, transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.editing import StaleError
from rubrail.desk.hauls import put_aside
from rubrail.desk.models import Change, Haul, Ticket, Truck, Unit
from rubrail.desk.models.stock import Purpose
from rubrail.desk.once import FIELD, HEADER, from_outbox, once, tell
from rubrail.desk.photographs import keep_photos, photos_about
from rubrail.desk.stock import readable
from rubrail.desk.tickets import entry
from rubrail.desk.tickets.keep import TRUCK_NEEDS, add_ticket, answer_of, change_ticket, set_aside, truck_table
from rubrail.desk.tickets.page import page_of
from rubrail.desk.typed import exact_text, measures_sent, unit_word
from rubrail.sheets.drawing.plates import plate_picture
from rubrail.sheets.sentences_words import SAFETY
from rubrail.things.faults import Faults

PER_PAGE = 50
LATEST_CHANGES = 8
OTHERS = 6


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def tickets(request: HttpRequest) -> HttpResponse:
    """Every scale ticket, or those of one unit, truck or haul, the latest first; those that wait on demand."""
    show = request.GET.get("show", "")
    found = Ticket.objects.filter(closed=show == "aside").select_related("unit", "truck", "haul", "created_by")
    waiting = show == "waiting"
    if waiting:
        found = found.exclude(waits="")
    of = {name: thing for name, thing in _of(request.GET).items() if thing}
    context = {
        **of,
        "page": Paginator(found.filter(**of), PER_PAGE).get_page(request.GET.get("page")),
        "waiting": waiting,
        "aside": show == "aside",
        "whose": _whose(**of),
        "query": urlencode({n: request.GET[n] for n in of}),
    }
    return render(request, "desk/ticket/tickets.html", context)


def _whose(*, unit: Unit | None = None, truck: Truck | None = None, haul: Haul | None = None) -> str:
    """What a list of tickets is narrowed to, in words; nothing for all."""
    return " ".join(str(w) for w in (unit, truck and truck.name, haul) if w)


def row_at(pk: int) -> Ticket:
    """The ticket of a number, with what it is of."""
    return get_object_or_404(Ticket.objects.select_related("unit", "truck", "haul", "created_by"), pk=pk)


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def ticket(request: HttpRequest, pk: int) -> HttpResponse:
    """What a ticket says: readings that stand out first, then every weight, then what may be taken over."""
    row = row_at(pk)
    metric = request.user.measures == "metric"
    trail = Change.objects.seen_by(request.user).filter(kind="ticket", thing=pk)
    context: dict[str, Any] = {
        "ticket": row,
        "truck_name": truck_name(row),
        "photos": list(photos_about(row)),
        "trail": list(trail[:LATEST_CHANGES]),
        "others": _others(row),
        "safety": SAFETY,
        "may_truck": request.user.may(TRUCK_NEEDS),
    }
    try:
        context |= page_of(row, answer_of(row), metric=metric)
    except Faults as told:
        context["unreadable"] = [f.sentence for f in told.faults]
    return render(request, "desk/ticket/ticket.html", context)


def truck_name(row: Ticket) -> str:
    """What the truck weighed is called; nothing where none is named."""
    if row.truck_id:
        return row.truck.name
    table = truck_table(row) or {}
    return str(table.get("title") or table.get("id") or "")


def _others(row: Ticket) -> list[Ticket]:
    """Other tickets of the same unit, else of the same truck."""
    of = {"unit": row.unit_id} if row.unit_id else {"truck": row.truck_id} if row.truck_id else None
    return list(Ticket.objects.filter(closed=False, **of).exclude(pk=row.pk)[:OTHERS]) if of else []


# ---- entered


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@once
def ticket_new(request: HttpRequest) -> HttpResponse:
    """Enter a ticket of a unit, a truck or a haul's truck; what was typed survives a fault and a lost connection."""
    given = request.POST if request.method == "POST" else request.GET
    of = _of(given)
    if not any(of.values()):
        return _choose(request)
    if request.method != "POST":
        load = _load_of(of["haul"])
        truck = bool(of["truck"] or of["haul"])
        texts = entry.begun(
            loads=bool(of["haul"]), truck=truck or bool(of["unit"]), trailer=bool(of["unit"]), load=load,
            measures=request.user.measures,
        )  # fmt: skip
        texts |= {"day": clock.today().isoformat(), **_driver(of, int(texts["cards"]), texts)}
        return _form(request, None, of, texts, {})
    texts = entry.texts_sent(request.POST)
    if "more" in request.POST:
        return _form(request, None, of, entry.with_card(texts, request.POST["more"]), {})
    read, day, faults = _read(texts, of)
    if read is None:
        return _refused(request, None, of, texts, faults)
    try:
        with transaction.atomic():
            row = add_ticket(
                read, unit=of["unit"], truck=of["truck"], haul=of["haul"], day=day,
                where=texts.get("where", "")[:120], by=request.user, key=_key(request),
            )  # fmt: skip
    except IntegrityError:
        return redirect(Ticket.objects.get(key=_key(request)))
    _photos(request, row)
    return tell(request, f"Scale ticket {row} is kept.", go=row.get_absolute_url())


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@once
def ticket_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Correct a ticket; the trail keeps what stood there. Whoever saves second is told, and keeps what was typed."""
    row = row_at(pk)
    of = {"unit": row.unit, "truck": row.truck, "haul": row.haul}
    if request.method != "POST":
        texts = entry.texts_of(row.spec, measures=request.user.measures) | {
            "day": row.day.isoformat(),
            "where": row.where,
        }
        return _form(request, row, of, texts, {}, seen=row.version)
    texts = entry.texts_sent(request.POST)
    seen = number_in(request.POST.get("seen"))
    if "more" in request.POST:
        return _form(request, row, of, entry.with_card(texts, request.POST["more"]), {}, seen=seen)
    read, day, faults = _read(texts, of, ident=row.spec["id"])
    if read is None:
        return _refused(request, row, of, texts, faults, seen=seen)
    try:
        deltas = change_ticket(
            row, read, day=day, where=texts.get("where", "")[:120], by=request.user, seen_version=seen
        )
    except StaleError:
        now = Ticket.objects.get(pk=pk)
        if from_outbox(request):
            said = "Somebody corrected this ticket meanwhile."
            return tell(request, said, go=row.get_absolute_url(), status=409, theirs=said, mine="", seen=now.version)
        return _form(request, now, of, texts, {}, seen=now.version, stale=True)
    _photos(request, row)
    return tell(request, "The ticket is corrected." if deltas else "Nothing had changed.", go=row.get_absolute_url())


def _of(given: Mapping[str, Any]) -> dict[str, Any]:
    """The unit, kept truck and haul that a ticket is of."""
    unit = Unit.objects.filter(stock_number__iexact=str(given.get("unit") or "")).first()
    truck = Truck.objects.filter(pk=number_in(given.get("truck"))).first()
    haul = Haul.objects.filter(pk=number_in(given.get("haul"))).first()
    return {"unit": unit, "truck": truck, "haul": haul}


def number_in(text: Any) -> int:
    """A whole number that was sent; 0 where it is none."""
    return int(text) if isinstance(text, str) and text.isascii() and text.isdigit() and len(text) < 10 else 0


def _key(request: HttpRequest) -> uuid.UUID | None:
    try:
        return uuid.UUID(request.headers.get(HEADER) or request.POST.get(FIELD, ""))
    except ValueError:
        return None


def _choose(request: HttpRequest) -> HttpResponse:
    """Which unit or truck: a ticket is of something."""
    context = {
        "units": Unit.objects.filter(status__in=("in-stock", "held", "on-order")).only("stock_number", "title")[:400],
        "trucks": Truck.objects.filter(closed=False)[:200],
        "missed": any(request.GET.get(k) for k in ("unit", "truck", "haul")),
    }
    return render(request, "desk/ticket/choose.html", context)


def _load_of(haul: Haul | None) -> str:
    """What a haul carries, in few words."""
    if haul is None:
        return ""
    pieces = [load["piece"] for load in haul.spec.get("cargo", ())]
    names = [str(p.get("title") or p.get("id") or "") for p in pieces]
    if len(names) != 1:
        return "the haul's cargo" if names else ""
    return f"the {names[0][:1].lower()}{names[0][1:]}"[:60]


def _driver(of: Mapping[str, Any], count: int, texts: Mapping[str, str]) -> dict[str, str]:
    """Where the cab's seats are, as the truck's file has its driver; the weight is for the person to say."""
    table = of["truck"].spec if of["truck"] else (of["haul"].spec.get("truck", {}) if of["haul"] else {})
    seat = next((g.get("behind_front_axle_in") for g in table.get("gear", ()) if g.get("says") == "driver"), None)
    found = {}
    for n in range(count):
        if texts.get(f"w{n}-state") != "trailer":
            found[f"w{n}-a0-says"] = "driver"
            if seat:
                found[f"w{n}-a0-at"] = exact_text(seat["value"], "in", measures_sent(texts))
    return found


def _read(texts: Mapping[str, str], of: Mapping[str, Any], *, ident: str = "ticket") -> tuple:
    """The ticket, its day, and what is wrong with which field."""
    table = of["truck"].spec if of["truck"] else (of["haul"].spec.get("truck", {}) if of["haul"] else {})
    trailer = of["unit"].stock_number if of["unit"] else None
    read, faults = entry.read(texts, ident=ident, trailer=trailer, truck=table.get("id"))
    try:
        day = date.fromisoformat(texts.get("day", ""))
    except ValueError:
        return None, None, {**faults, "day": "Must be a day such as 2026-03-02."}
    if day > clock.today():
        return None, None, {**faults, "day": "This day has not come yet; give today or an earlier day."}
    return read, day, faults


def _refused(
    request: HttpRequest, row: Ticket | None, of: Mapping[str, Any], texts: entry.Texts, faults: dict[str, str],
    *, seen: int = 0,
) -> HttpResponse:  # fmt: skip
    if from_outbox(request):
        here = row.get_absolute_url() if row else reverse("ticket-new")
        return tell(request, next(iter(faults.values())), go=here, status=422)
    return _form(request, row, of, texts, faults, seen=seen)


def _form(
    request: HttpRequest,
    row: Ticket | None,
    of: Mapping[str, Any],
    texts: entry.Texts,
    faults: dict[str, str],
    *,
    seen: int = 0,
    stale: bool = False,
) -> HttpResponse:
    trailer = readable(of["unit"]) if of["unit"] else None
    axles = len(trailer.axle) if trailer else 3
    cards = [
        (
            card,
            [(line, mark_safe(plate_picture(card.state, line.on.split("+"), axles=axles))) for line in card.lines],
            mark_safe(plate_picture(card.state, (), axles=axles)),
        )
        for card in entry.cards(texts, faults, axles=axles)
    ]
    used = [n for n in range(entry.MOST_SCALES) if n == 0 or texts.get(f"s{n}-kind")]
    scales = [
        {
            "n": n,
            "id": texts.get(f"s{n}-id") or entry.SCALE_IDS[n],
            **{k: texts.get(f"s{n}-{k}", "") for k in ("kind", "says", "step", "off")},
            "fault": faults.get(f"s{n}-kind") or faults.get(f"s{n}-step") or faults.get(f"s{n}-off", ""),
        }
        for n in range(min(len(used) + 1, entry.MOST_SCALES))
    ]
    kinds = dict(entry.KINDS)
    context = {
        "ticket": row,
        **of,
        "texts": texts,
        "weight_unit": unit_word("lb", measures_sent(texts)),
        "length_unit": unit_word("in", measures_sent(texts)),
        "faults": faults,
        "whole": faults.get("", ""),
        "cards": cards,
        "count": len(cards),
        "scales": scales,
        "scale_choices": [(s["id"], s["says"] or kinds.get(s["kind"], "")) for s in scales if s["n"] in used],
        "kinds": entry.KINDS,
        "sides": entry.SIDES,
        "seen": seen,
        "stale": stale,
        "room": len(cards) < entry.MOST_CARDS,
        "trucks": list(Truck.objects.filter(closed=False)[:200]) if row is None and not of["haul"] else [],
    }
    return render(request, "desk/ticket/edit.html", context, status=409 if stale else 200)


# ---- changed


@requires("unit.edit")
@require_POST
@once
def ticket_aside(request: HttpRequest, pk: int) -> HttpResponse:
    """Let a reading, or the whole ticket, no longer count; or let it count again."""
    row = row_at(pk)
    if request.POST.get("do") in ("close", "open"):
        return _closed(request, row, aside=request.POST["do"] == "close")
    why = request.POST.get("why", "").strip()[:200]
    again = request.POST.get("do") == "again"
    if not why and not again:
        return tell(request, "Say why the reading does not count.", go=row.get_absolute_url(), status=422)
    try:
        set_aside(
            row, weighing=number_in(request.POST.get("weighing")), reading=number_in(request.POST.get("reading")),
            why="" if again else why, by=request.user, seen_version=number_in(request.POST.get("seen")),
        )  # fmt: skip
    except LookupError:
        return tell(request, "The ticket has no such reading.", go=row.get_absolute_url(), status=422)
    except StaleError:
        return tell(request, "Somebody else changed the ticket just now; look again.", go=row.get_absolute_url(),
                    status=422)  # fmt: skip
    return tell(request, "It counts again." if again else "It no longer counts.", go=row.get_absolute_url())


def _closed(request: HttpRequest, row: Ticket, *, aside: bool) -> HttpResponse:
    """The whole ticket put aside, or taken up again; nothing is ever deleted."""
    try:
        put_aside(row, aside=aside, by=request.user, seen_version=row.version)
    except StaleError:
        said = "Somebody else changed the ticket just now; look again."
        return tell(request, said, go=row.get_absolute_url(), status=422)
    said = "The ticket is put aside; nothing of it is taken over." if aside else "The ticket counts again."
    return tell(request, said, go=row.get_absolute_url())


@requires("unit.edit")
@require_POST
@once
def ticket_photos(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep pictures of the ticket."""
    row = row_at(pk)
    kept = _photos(request, row)
    said = f"{kept} {'photo is' if kept == 1 else 'photos are'} added." if kept else ""
    if not request.FILES.getlist("photos"):
        return tell(request, "No photo was chosen.", go=row.get_absolute_url(), status=422)
    return tell(request, said, go=row.get_absolute_url())


def _photos(request: HttpRequest, row: Ticket) -> int:
    files = request.FILES.getlist("photos")
    if not files:
        return 0
    sent = keep_photos(files, unit=row.unit, by=request.user, purpose=Purpose.TICKET, about=row)
    for fault in sent.faults:
        messages.error(request, fault)
    return len(sent.kept)
