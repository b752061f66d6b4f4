"""A haul on one unit: the rig to scale, every limit, and the bench on which its pieces are moved."""

from __future__ import annotations

import contextlib
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.cache import cache
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import NoReverseMatch, reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from rubrail.answers.affine import affine
from rubrail.checks.registry import CHECKS
from rubrail.checks.verdict import OVER, WORDS
from rubrail.desk.access import requires
from rubrail.desk.as_printed import not_printed
from rubrail.desk.editing import StaleError
from rubrail.desk.fragments import answer, wants_part
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Haul, Machine, Place, Unit
from rubrail.desk.papers import rig_papers
from rubrail.desk.rig_page import bench, drawings_for
from rubrail.desk.rig_reckon import Reckoned, deck_front_in, reckon
from rubrail.desk.rig_rows import lines_by_row, note_of
from rubrail.desk.rig_stands import (
    Stand,
    address_of,
    asked,
    commanded,
    keys_named,
    machines_named,
    stand_alone,
    stands_of,
)
from rubrail.desk.rig_store import OtherCargoError, forget, keep, place_on, put_back, said
from rubrail.desk.rig_why import why_page
from rubrail.desk.stock import trailer_of
from rubrail.sheets.sentences import weighing_sentence
from rubrail.sheets.sentences_lines import remedy_sentence
from rubrail.things.cargo import Cargo
from rubrail.things.classes import cargo_classes
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.haul import Haul as HaulThing
from rubrail.things.rig_cargo import gap_in
from rubrail.things.trailer import Trailer

CHECKS_A_MINUTE = 400
"""How often one person's pages may ask for a confirmation: more than any hand moves, less than a runaway page."""
OFFERED = 300
FEW = 3
ONWARD = (("climb", "driving on"), ("tie-down", "tied down"), ("rig-turn", "through a corner"))


@dataclass(frozen=True)
class Rig:
    """What an address is about. own : the haul's pieces, nowhere yet; kept : the kept place, if any."""

    haul: Haul
    unit: Unit
    thing: HaulThing
    trailer: Trailer
    own: list[Stand]
    kept: Place | None
    deck_front_in: float | None
    metric: bool

    @property
    def origin_in(self) -> float:
        """Where places are measured from, behind the coupling point. [in]"""
        return self.deck_front_in or 0.0

    @property
    def length_unit(self) -> str:
        """What a bare number in a field is in."""
        return "mm" if self.metric else "in"


def rig_at(request: HttpRequest, pk: int, stock_number: str) -> Rig:
    """The rig an address is about; not found where there is none."""
    haul = get_object_or_404(Haul, pk=pk)
    unit = get_object_or_404(Unit, stock_number__iexact=stock_number)
    try:
        thing, trailer = thing_of(haul), trailer_of(unit)
    except Faults as told:
        raise Http404("what is stored no longer reads") from told
    metric = request.user.measures == "metric"
    return Rig(haul, unit, thing, trailer, stands_of(thing), place_on(haul, unit), deck_front_in(trailer), metric)


def _offered(it: Rig, query: QueryDict) -> dict[str, Stand]:
    """Every piece the address may name: the haul's own, and the kept machines and classes it asks for."""
    out = {s.key: s for s in it.own}
    classes = cargo_classes()
    for key in keys_named(query):
        if key.startswith("c:") and key[2:] in classes:
            out[key] = stand_alone(key, classes[key[2:]], it.thing)
    wanted = machines_named(query)
    for machine in Machine.objects.filter(pk__in=wanted) if wanted else ():
        try:
            piece = read_thing(Cargo, machine.spec, where=str(machine))
        except Faults:
            continue
        out[f"m{machine.pk}"] = stand_alone(f"m{machine.pk}", piece, it.thing)
    return out


def stands_at(it: Rig, query: QueryDict) -> list[Stand]:
    """What stands on the deck: what the address names, else what was kept, else the haul's pieces, nowhere yet."""
    offered = _offered(it, query)
    do = query.get("do", "")
    if "p" not in query or do == "kept":
        return put_back(it.kept, it.own)
    stands = asked(query, offered=offered, origin_in=it.origin_in, unit=it.length_unit)
    return commanded(stands, do, gap=gap_in(it.thing), add=offered.get(query.get("add", "")))


def _address(it: Rig, stands: list[Stand] | tuple[Stand, ...], name: str = "rig", *args: str) -> str:
    return f"{reverse(name, args=[it.haul.pk, it.unit.stock_number, *args])}?{address_of(stands)}"


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def rig(request: HttpRequest, pk: int, stock_number: str) -> HttpResponse:
    """The rig with its pieces where the address says; a button's wish is granted and becomes part of the address."""
    it = rig_at(request, pk, stock_number)
    stands = stands_at(it, request.GET)
    reckoned = reckon(haul=it.thing, trailer=it.trailer, stands=stands)
    here = _address(it, reckoned.stands)
    if "do" in request.GET and not wants_part(request) and not any(s.fault for s in stands):
        return redirect(here)
    response = answer(request, "desk/rig/rig.html", _page(it, reckoned), part="desk/rig/_bench.html")
    if wants_part(request):
        response["HX-Replace-Url"] = here
    return response


def _page(it: Rig, reckoned: Reckoned, **more: Any) -> dict[str, Any]:
    table = affine(reckoned.one, reckoned.placement)
    return {
        "haul": it.haul,
        "unit": it.unit,
        "kept": it.kept,
        "kept_says": said(put_back(it.kept, it.own), it.origin_in, metric=it.metric)
        if it.kept and _still_whole(it)
        else "",
        "machines": list(Machine.objects.filter(closed=False).values_list("pk", "name")[:OFFERED]),
        "classes": [(f"c:{name}", thing.title or name) for name, thing in cargo_classes().items()],
        "left_off": [s for s in it.own if s.key not in {x.key for x in reckoned.stands}],
        "address": address_of(reckoned.stands),
        "onward": list(_onward(it)),
        "papers": rig_papers(it.haul, it.unit, address=address_of(reckoned.stands)),
        "not_printed": not_printed([it.unit], metric=it.metric),
        **bench(reckoned, table, thing=it.thing, deck_front_in=it.deck_front_in, metric=it.metric),
        **more,
    }


def _onward(it: Rig) -> Iterator[tuple[str, str]]:
    """Pages about the same placement, as far as there are any."""
    for name, words in ONWARD:
        with contextlib.suppress(NoReverseMatch):
            yield reverse(name, args=[it.haul.pk, it.unit.stock_number]), words


def _still_whole(it: Rig) -> bool:
    return all(s.front_x_in is not None for s in put_back(it.kept, it.own))


@requires("haul.see")
@require_http_methods(["POST"])
def rig_check(request: HttpRequest, pk: int, stock_number: str) -> HttpResponse:
    """What the engine says of a placement that the page has reckoned itself. Stores nothing."""
    if not _in_time(request.user.pk):
        return JsonResponse({"says": "That was often. Wait a moment."}, status=429)
    it = rig_at(request, pk, stock_number)
    reckoned = reckon(haul=it.thing, trailer=it.trailer, stands=stands_at(it, request.POST), solve=False)
    judged, rows = reckoned.judgement, reckoned.judgement.rows
    lines = lines_by_row(reckoned)
    told = [
        [n, *(_finite(v[n, 0, 0]) for v in (rows.demand, rows.limit, rows.margin, judged.worst, rows.relative)), code]
        for n, code in enumerate(judged.codes[:, 0, 0].tolist())
    ]
    weighed = reckoned.weighing
    answers: dict[str, Any] = {
        "verdict": weighed.verdict,
        "sentence": weighing_sentence(weighed, tried=False, metric=it.metric),
        "rows": told,
        "loads": [[_finite(x.value), _finite(x.most - x.value)] for x in weighed.loads],
        "notes": {n: note for n, line in enumerate(lines) if (note := note_of(line, metric=it.metric))},
        "address": address_of(reckoned.stands),
    }
    answers["drawings"] = drawings_for(reckoned, set(request.POST.getlist("size")), metric=it.metric)
    return JsonResponse(answers)


def _finite(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None


def _in_time(person: int) -> bool:
    key = f"rig-check-{person}-{timezone.now():%H%M}"
    cache.add(key, 0, timeout=120)
    return cache.incr(key) <= CHECKS_A_MINUTE


@requires("haul.edit")
@require_http_methods(["POST"])
def rig_place(request: HttpRequest, pk: int, stock_number: str) -> HttpResponse:
    """Keep where the pieces stand, or go back to the best place."""
    it = rig_at(request, pk, stock_number)
    seen, seen_haul = (_whole(request.POST.get(name, "")) for name in ("seen", "seen_haul"))
    plain_address = reverse("rig", args=[it.haul.pk, it.unit.stock_number])
    reckoned = reckon(haul=it.thing, trailer=it.trailer, stands=stands_at(it, request.POST))
    try:
        if request.POST.get("keep") == "best":
            forget(haul=it.haul, unit=it.unit, by=request.user, seen=seen)
            messages.success(request, f"On {it.unit} this haul goes to its best place again.")
        else:
            keep(
                haul=it.haul, unit=it.unit, thing=it.thing, stands=reckoned.stands, origin_in=it.origin_in,
                by=request.user, seen=seen, seen_haul=seen_haul, whole=request.POST.get("whole") == "yes",
            )  # fmt: skip
            messages.success(request, f"Kept: where this haul stands on {it.unit}.")
        return redirect(plain_address)
    except OtherCargoError:
        context = _page(it, reckoned, other_cargo=True)
    except StaleError:
        it.haul.refresh_from_db()
        context = _page(it, reckoned, stale=True)
    return render(request, "desk/rig/rig.html", context, status=409)


def _whole(text: str) -> int:
    return int(text) if text.isdigit() and len(text) < 9 else 0


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def rig_why(request: HttpRequest, pk: int, stock_number: str, check: str) -> HttpResponse:
    """Why one limit stands as it does: formula, this rig's numbers in it, where each was read, the source."""
    if check not in CHECKS:
        raise Http404("no such check")
    it = rig_at(request, pk, stock_number)
    member = request.GET.get("member", "")
    reckoned = reckon(haul=it.thing, trailer=it.trailer, stands=stands_at(it, request.GET), solve=False)
    context = {
        "haul": it.haul,
        "unit": it.unit,
        "address": address_of(reckoned.stands),
        **why_page(reckoned, check, member=int(member) if member.isdigit() else None, metric=it.metric),
    }
    return answer(request, "desk/rig/why.html", context, part="desk/rig/_why.html")


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def rig_remedies(request: HttpRequest, pk: int, stock_number: str) -> HttpResponse:
    """Single changes that would clear what is over, each tried by weighing again."""
    it = rig_at(request, pk, stock_number)
    reckoned = reckon(haul=it.thing, trailer=it.trailer, stands=stands_at(it, request.GET), remedies=True, solve=False)
    weighed = reckoned.weighing
    # Where one change is enough, those that are not need no telling; where none is, a few say what it would take.
    enough = [r for r in weighed.remedies if r.verdict != WORDS[OVER]] or weighed.remedies[:FEW]
    context = {
        "haul": it.haul,
        "unit": it.unit,
        "address": address_of(reckoned.stands),
        "verdict": weighed.verdict,
        "over": weighed.verdict == WORDS[OVER],
        "remedies": [(r.verdict, remedy_sentence(r, metric=it.metric)) for r in enough],
        "sentence": weighing_sentence(weighed, tried=True, metric=it.metric),
    }
    return answer(request, "desk/rig/remedies.html", context, part="desk/rig/_remedies.html")
