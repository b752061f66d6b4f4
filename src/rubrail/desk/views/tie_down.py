"""A haul tied down on one unit: the plan proposed with the yard's gear, or any other, judged when an end moves."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_http_methods

from rubrail.answers.rig import Placement
from rubrail.answers.secure_gain import changed
from rubrail.answers.secure_parts import Plan, Scene
from rubrail.answers.secure_report import TieDownPlan
from rubrail.answers.tie_down import CAUTIONS, laid_out, plan_of, tie_down
from rubrail.desk.access import requires
from rubrail.desk.books import kit_here
from rubrail.desk.fragments import answer, wants_part
from rubrail.desk.rig_reckon import reckon
from rubrail.desk.rig_stands import Stand, address_of, carrying, rest_of_them
from rubrail.desk.tie_address import address_of_plans, asked
from rubrail.desk.tie_edit import commanded
from rubrail.desk.tie_rows import pieces_shown
from rubrail.desk.views.rig import Rig, rig_at, stands_at
from rubrail.sheets.drawing.rig import Rig as Drawn
from rubrail.sheets.drawing.tie_views import rig_to_tie, tie_plan, tie_side
from rubrail.sheets.sentences_amounts import text_in_metric
from rubrail.sheets.sentences_tie_down import tie_down_sentence
from rubrail.sheets.sentences_words import SAFETY, begin
from rubrail.things.kit import Kit

SIZES = {"wide": 1080.0, "narrow": 328.0, "on-paper": 700.0}
BESIDE_PX = 640.0
"""Views no wider than this stand beside each other."""
WIDTH = re.compile(r' width="([\d.]+)"')
METHODS = (("us", "federal rules"), ("en", "EN 12195-1"))


@dataclass(frozen=True)
class Tied:
    """A plan as its page has it. stands : where the pieces stand; fault : a sentence about what was left out."""

    stands: tuple[Stand, ...]
    rig: Drawn
    scenes: tuple[Scene, ...]
    plans: tuple[Plan, ...]
    found: TieDownPlan
    fault: str


@dataclass(frozen=True)
class Terms:
    """By what a plan is judged. friction : as typed; number : as read, None for what the surfaces give."""

    method: str
    friction: str
    number: float | None
    fault: str = ""

    @classmethod
    def of(cls, query: QueryDict) -> Terms:
        """What an address asks for; the usual where it asks for what there is not."""
        method, typed = query.get("method", "us"), query.get("friction", "").strip()[:20]
        fault = ""
        if method not in dict(METHODS):
            fault, method = f"The rules must be us or en, got {method[:20]!r}; shown by us. ", "us"
        try:
            number = float(typed) if typed else None
        except ValueError:
            number = float("nan")
        if number is not None and not 0 <= number <= 1:
            fault += f"Friction must be a share from 0 to 1 such as 0.4, got {typed!r}; shown by the surfaces."
            number = None
        return cls(method, typed, number, fault.strip())

    @property
    def address(self) -> str:
        """The query that brings them back; empty for the usual."""
        query = QueryDict(mutable=True)
        if self.method != "us":
            query["method"] = self.method
        if self.number is not None:
            query["friction"] = self.friction
        return query.urlencode()


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def rig_tie_down(request: HttpRequest, pk: int, stock_number: str) -> HttpResponse:
    """The tie-downs of every piece of the haul; the plan is part of the address.

    A part of the page comes without what takes longest, the search for changes; it is asked for by itself.
    """
    it = rig_at(request, pk, stock_number)
    kit, terms, stands = kit_here(), Terms.of(request.GET), stands_at(it, request.GET)
    base = reverse("tie-down", args=[it.haul.pk, it.unit.stock_number])
    frame = {"haul": it.haul, "unit": it.unit, "base": base, "terms": terms, "methods": METHODS, "safety": SAFETY,
             "cautions": CAUTIONS}  # fmt: skip
    if kit is None:
        bare = {**frame, "address": address_of(stands)}
        return answer(request, "desk/tie/tie.html", bare, part="desk/tie/_tie.html")
    part = wants_part(request)
    rest = part and request.GET.get("part") == "rest"
    quick = part and not rest
    tied = _tied(it, kit, terms, stands, request.GET, changes=not quick)
    where = "&".join(filter(None, (address_of(tied.stands), terms.address)))
    here = f"{base}?{where}&{address_of_plans(tied.plans)}"
    typed = "do" in request.GET or "g0" in request.GET
    if typed and not part and not tied.fault:
        return redirect(here)
    shown = "narrow" if request.GET.get("size") == "narrow" else "wide"
    sizes = [size for size in SIZES if not part or (size == shown) == quick]
    context = {
        **frame,
        "address": address_of(tied.stands),
        "stands": tied.stands,
        "tied": tied,
        "kit": kit,
        "changed": "t" in request.GET,
        "bare": not any(plan.ties for plan in tied.plans),
        "here": here,
        "proposal": f"{base}?{where}",
        "sentence": tie_down_sentence(tied.found, metric=it.metric),
        "pieces": pieces_shown(tied.found.pieces, tied.scenes, tied.plans, method=terms.method, metric=it.metric),
        "changes": None if quick else _changes(tied, f"{base}?{where}", metric=it.metric),
        "mends": any(change.clears for piece in tied.found.pieces for change in piece.changes),
        "views": _views(tied, sizes),
        "fault": " ".join(filter(None, (terms.fault, tied.fault))),
    }
    if rest:
        return render(request, "desk/tie/_rest.html", context)
    response = answer(request, "desk/tie/tie.html", context, part="desk/tie/_tie.html")
    if quick:
        response["HX-Replace-Url"] = here
    return response


def _tied(it: Rig, kit: Kit, terms: Terms, stands: list[Stand], query: QueryDict, *, changes: bool) -> Tied:
    stands = _placed(it, stands)
    haul = carrying(it.thing, stands)
    placement = Placement(tuple(s.front_x_in for s in stands), tuple(s.facing for s in stands))
    of_rig = {"haul": haul, "trailer": it.trailer, "kit": kit, "placement": placement}
    scenes = laid_out(**of_rig, friction=terms.number)
    named = asked(query, scenes)
    plans, fault = named.plans, named.fault
    if plans is not None and "do" in query:
        plans, refused = commanded(scenes, plans, query["do"])
        fault = fault or refused
    found = tie_down(**of_rig, plans=plans, method=terms.method, friction=terms.number, changes=changes)
    plans = tuple(plan_of(p) for p in found.pieces) if plans is None else plans
    rig = rig_to_tie(haul=haul, trailer=it.trailer, placement=placement, metric=it.metric)
    return Tied(stands, rig, scenes, plans, found, fault)


def _placed(it: Rig, stands: list[Stand]) -> tuple[Stand, ...]:
    """Each piece in its place. Only where the address names none is the rig weighed, for the best place."""
    here = rest_of_them(it.thing, stands)
    if all(s.front_x_in is not None and math.isfinite(s.front_x_in) for s in here):
        return tuple(replace(s, front_x_in=round(s.front_x_in, 3)) for s in here)
    return reckon(haul=it.thing, trailer=it.trailer, stands=stands, solve=False).stands


def _views(tied: Tied, sizes: Sequence[str]) -> dict[str, dict[str, Any]]:
    """From above and from the side, at each size; on paper no end can be moved, so no place is marked for one."""
    out = {}
    for size in sizes:
        ends = () if size == "on-paper" else tied.scenes
        both = [draw(tied.rig, tied.found.pieces, ends, width_px=SIZES[size]) for draw in (tie_plan, tie_side)]
        short = size == "wide" and float(WIDTH.search(both[0])[1]) <= BESIDE_PX
        out[size] = {"both": [mark_safe(svg) for svg in both], "beside": short}
    return out


def _changes(tied: Tied, base: str, *, metric: bool) -> list[dict[str, Any]]:
    """Single changes, each with the address that makes it."""
    out = []
    for n, piece in enumerate(tied.found.pieces):
        for change in piece.changes:
            plans = (*tied.plans[:n], changed(tied.plans[n], change), *tied.plans[n + 1 :])
            says = text_in_metric(change.says) if metric else change.says
            out.append({
                "piece": piece.title if len(tied.found.pieces) > 1 else "",
                "says": begin(says),
                "clears": bool(change.clears),
                "verdict": change.verdict,
                "address": f"{base}&{address_of_plans(plans)}",
            })  # fmt: skip
    return out
