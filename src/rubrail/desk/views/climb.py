"""A haul's machines driven up one unit: each on its way, under the person's thumb, with what limits it."""

from __future__ import annotations

import math
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_http_methods

from rubrail.answers.climb import Climbing, MachineClimb, climbing
from rubrail.answers.climb_setup import Day, driven
from rubrail.answers.rig import Placement
from rubrail.desk.access import requires
from rubrail.desk.fragments import answer
from rubrail.desk.rig_data import as_attribute
from rubrail.desk.rig_reckon import Reckoned, reckon
from rubrail.desk.rig_stands import address_of
from rubrail.desk.views.rig import rig_at, stands_at
from rubrail.quantity.parse import UnreadableError, parse_quantity
from rubrail.sheets.drawing.climb_from import plot_of, scene_of, strip_of
from rubrail.sheets.drawing.climb_strip import climb_view
from rubrail.sheets.sentences_amounts import amount, text_in_metric
from rubrail.sheets.sentences_climb import CAUTIONS, LIMITS_OF_IT, climb_sentence, day_said, machine_sentence
from rubrail.sheets.sentences_words import SAFETY, begin, limit_name, need_phrase

SIZES = {"wide": 1080.0, "narrow": 328.0}
PAPER_PX = 700.0
SURFACES = (("dry", "dry"), ("wet", "wet"))
WAYS = (("", "as placed"), ("front-first", "forward"), ("rear-first", "backing up"))
TICKS = (
    ("hitched", "hitched to the truck", True),
    ("stands", "stands let down", True),
    ("blocks", "blocks under the rear", False),
    ("chocked", "wheels chocked", True),
)
SHOWN = 8


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def climb(request: HttpRequest, pk: int, stock_number: str) -> HttpResponse:
    """The climb of every machine of the haul; the day is part of the address."""
    it = rig_at(request, pk, stock_number)
    reckoned = reckon(haul=it.thing, trailer=it.trailer, stands=stands_at(it, request.GET), solve=False)
    day, asked, fault = _day(request)
    way = request.GET.get("way", "")
    placement = reckoned.placement
    if way in dict(WAYS) and way:
        try:
            placement = driven(reckoned.one, placement, way)
        except ValueError as reason:
            fault = fault or f"{begin(str(reason))}."
    found = climbing(reckoned.one, placement, day)
    context = {
        "haul": it.haul,
        "unit": it.unit,
        "address": address_of(reckoned.stands),
        "stands": reckoned.stands,
        "asked": asked,
        "fault": fault,
        "surfaces": SURFACES,
        "ways": WAYS,
        "way": way,
        "ticks": [(name, says, asked[name]) for name, says, _ in TICKS],
        "climb": found,
        "drives": bool(found.machines),
        "sentence": climb_sentence(found, metric=it.metric),
        "machines": [_machine(found, m, reckoned, placement, metric=it.metric) for m in found.machines],
        "cautions": CAUTIONS,
        "day_said": day_said(found),
        "limits_of_it": LIMITS_OF_IT,
        "safety": SAFETY,
    }
    return answer(request, "desk/climb/climb.html", context, part="desk/climb/_climb.html")


def _day(request: HttpRequest) -> tuple[Day, dict[str, Any], str]:
    """The day the address asks for; the usual one where it asks for none."""
    sent = "surface" in request.GET
    asked: dict[str, Any] = {
        "surface": request.GET.get("surface", "dry"),
        "ground": request.GET.get("ground", "0").strip()[:20],
        **{name: (name in request.GET if sent else usual) for name, _, usual in TICKS},
    }
    flags = {name: asked[name] for name, _, _ in TICKS}
    try:
        return Day(surface=asked["surface"], ground_deg=parse_quantity(asked["ground"], "deg"), **flags), asked, ""
    except UnreadableError as reason:
        fault = f"The ground's slope must be degrees such as 3, got {asked['ground']!r}: it {reason}."
    except ValueError as reason:
        fault = f"{begin(str(reason))}."
    return Day(**flags), asked, fault


def _machine(
    found: Climbing, m: MachineClimb, reckoned: Reckoned, placement: Placement, *, metric: bool
) -> dict[str, Any]:
    haul, trailer = reckoned.one.haul, reckoned.one.trailers[0]
    shown: dict[str, Any] = {}
    if m.course is not None:
        scene = scene_of(found, m, haul=haul, trailer=trailer)
        views = {
            size: {
                "view": mark_safe(climb_view(scene, step=_first(m), width_px=width, metric=metric)),
                "plot": mark_safe(plot_of(m, width_px=width, metric=metric)),
                "strip": mark_safe(strip_of(found, m, haul=haul, trailer=trailer, width_px=width, metric=metric)),
            }
            for size, width in SIZES.items()
        }
        paper = mark_safe(strip_of(found, m, haul=haul, trailer=trailer, width_px=PAPER_PX, metric=metric))
        shown = {"views": views, "paper": paper, "data": as_attribute(_data(m, metric=metric)), "first": _first(m)}
    lines = sorted(m.lines, key=lambda x: x.verdict == "clear")
    return {
        "title": begin(m.title),
        "verdict": m.verdict,
        "sentence": machine_sentence(found, m, metric=metric),
        "lines": [_line(x, metric=metric) for x in lines[:SHOWN]],
        "rest": [_line(x, metric=metric) for x in lines[SHOWN:]],
        "moments": [(n, x.step, begin(x.says)) for n, x in enumerate(m.moments, 1)],
        "remedies": [(r.verdict, begin(text_in_metric(r.says) if metric else r.says)) for r in m.remedies],
        "needs": [begin(need_phrase(n)) for n in (*m.settle, *m.unknown)],
        **shown,
    }


def _first(m: MachineClimb) -> int:
    """The step shown first: the one that decides, else the middle of the way."""
    return m.moments[0].step if m.moments else len(m.course.s_in) // 2


def _data(m: MachineClimb, *, metric: bool) -> dict[str, Any]:
    """What the script says at every step, one number each; ``null`` where it is not known."""
    c = m.course

    def row(values: Any) -> list[float | None]:
        return [round(v, 2) if math.isfinite(v) else None for v in values]

    return {
        "metric": metric,
        "s": row(c.s_in),
        "pitch": row(math.degrees(p) for p in c.pitch_rad),
        "belly": row(c.belly_in),
        "nose": row(c.nose_in),
        "tail": row(c.tail_in),
        "coupler": row(c.coupler_lb),
        "rear": row(c.truck_rear_lb),
        "ramp": row(c.ramp_lb),
        "axles": row(map(sum, zip(*c.axle_lb, strict=True))) if c.axle_lb else [],
    }


def _line(line: Any, *, metric: bool) -> dict[str, str]:
    unknown = line.verdict == "not known"
    return {
        "title": begin(limit_name(line.title, line.member)),
        "verdict": line.verdict,
        "demand": amount(line.demand, line.unit, metric=metric) if line.unit else "",
        "limit": amount(line.limit, line.unit, metric=metric) if line.unit else "",
        "margin": "" if unknown or not line.unit else amount(line.margin, line.unit, metric=metric),
    }
