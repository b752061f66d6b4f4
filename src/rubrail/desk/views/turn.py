"""A haul on one unit through the corner of two lanes: room to every edge, and what touches when the rig folds."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_http_methods

from rubrail.answers.turn import Driven, Turn, turn
from rubrail.answers.turn_corner import FIELDS, CornerError, read_corner
from rubrail.desk.access import requires
from rubrail.desk.fragments import answer
from rubrail.desk.rig_drawings import rig_of
from rubrail.desk.rig_reckon import Reckoned, reckon
from rubrail.desk.rig_stands import address_of
from rubrail.desk.typed import FIELD, METRIC, US, measures_sent
from rubrail.desk.views.rig import rig_at, stands_at
from rubrail.mechanics.turning_fit import Corner
from rubrail.quantity.parse import is_bare
from rubrail.quantity.show import show
from rubrail.sheets.drawing.turn_view import turn_view
from rubrail.sheets.sentences_amounts import amount, feet
from rubrail.sheets.sentences_turn import LIMITS_OF_IT, touch_sentence, turn_sentence
from rubrail.sheets.sentences_words import SAFETY, begin

USUAL = {"angle": "90", "entry": "12 ft", "exit": "24 ft", "curb": "15 ft"}
"""What the form begins with: a driveway off a two-lane road. The buyer's own corner is to be measured."""
USUAL_METRIC = USUAL | {"entry": "3.6", "exit": "7.3", "curb": "4.6"}
"""The same to a tenth of a meter."""
BARE = {US: "in", METRIC: "m"}
"""What a bare length of a corner is in."""
LABELS = {
    "angle": "It turns by",
    "entry": "Lane in, width",
    "exit": "Lane or drive out, width",
    "curb": "Radius of the inner curb",
}
SIZES = {"wide": 680.0, "narrow": 328.0, "on-paper": 560.0}


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def rig_turn(request: HttpRequest, pk: int, stock_number: str) -> HttpResponse:
    """The rig through a corner; the corner is part of the address."""
    it = rig_at(request, pk, stock_number)
    reckoned = reckon(haul=it.thing, trailer=it.trailer, stands=stands_at(it, request.GET), solve=False)
    usual = not any(name in request.GET for name in FIELDS)
    # The address says what its bare numbers are in, so that it reads the same to whoever it is sent to.
    measures = request.user.measures if usual else measures_sent(request.GET)
    begun = USUAL_METRIC if measures == METRIC else USUAL
    texts = {name: request.GET.get(name, begun[name]).strip()[:40] for name in FIELDS}
    whole = {name: f"{text} {unit}" if (unit := _unit(name, text, measures)) else text for name, text in texts.items()}
    faults: dict[str, str] = {}
    found: dict[str, Any] = {}
    try:
        corner = read_corner(whole, called=LABELS, metric=measures == METRIC)
    except CornerError as told:
        faults = told.faults
    else:
        result, driven = turn(haul=reckoned.one.haul, trailer=it.trailer, corner=corner, placement=reckoned.placement)
        found = _shown(result, driven, corner, reckoned, metric=it.metric)
    context = {
        "haul": it.haul,
        "unit": it.unit,
        "address": address_of(reckoned.stands),
        "stands": reckoned.stands,
        "fields": [_field(name, texts[name], faults.get(name, ""), measures) for name in FIELDS],
        "measures": (FIELD, measures),
        "usual": usual,
        "limits_of_it": LIMITS_OF_IT,
        "safety": SAFETY,
        **found,
    }
    return answer(request, "desk/turn/turn.html", context, part="desk/turn/_turn.html", status=422 if faults else 200)


def _field(name: str, text: str, fault: str, measures: str) -> dict[str, str]:
    unit = _unit(name, text, measures) or ("°" if FIELDS[name][1] == "deg" else "")
    return {"name": name, "label": LABELS[name], "text": text, "unit": unit, "fault": fault}


def _unit(name: str, text: str, measures: str) -> str:
    """What a bare length is in; nothing for an angle, and for a length that says it itself."""
    return BARE[measures] if FIELDS[name][1] == "in" and is_bare(text) else ""


def _shown(result: Turn, driven: Driven | None, corner: Corner, reckoned: Reckoned, *, metric: bool) -> dict[str, Any]:
    drawings = {}
    if driven is not None:
        rig = rig_of(reckoned, (), metric=metric)
        drawings = {
            size: mark_safe(turn_view(rig, driven=driven, corner=corner, width_px=width))
            for size, width in SIZES.items()
        }
    return {
        "turn": result,
        "sentence": turn_sentence(result, metric=metric),
        "drawings": drawings,
        "touches": [touch_sentence(t) for t in result.touches],
        "figures": _figures(result, metric=metric) if driven is not None else [],
        "sizes": [_size(line, metric=metric) for line in result.sizes],
    }


def _figures(result: Turn, *, metric: bool) -> list[tuple[str, str]]:
    circle = "from its turning circle" if result.radius_known else "usual for its wheelbase"
    return [
        ("Room to the nearest edge", amount(result.spare_in, "in", metric=metric)),
        ("The same with every tolerance against it", amount(result.worst_spare_in, "in", metric=metric)),
        ("Radius of the front axle's path", feet(result.radius_in, metric=metric)),
        (f"Least the truck can steer, {circle}", feet(result.least_radius_in, metric=metric)),
        ("Trailer's axles cut inside the front axle's path by", feet(result.inside_in, metric=metric)),
        ("Widest band it sweeps", feet(result.swept_in, metric=metric)),
        ("It folds to", show(result.fold_deg, "deg", decimals=0)),
    ]


def _size(line: Any, *, metric: bool) -> dict[str, Any]:
    member = f", {line.member}" if line.member else ""
    return {
        "title": f"{begin(line.title)}{member}",
        "verdict": line.verdict,
        "demand": amount(line.demand, line.unit, metric=metric),
        "limit": amount(line.limit, line.unit, metric=metric),
        "margin": "" if line.verdict == "not known" else amount(line.margin, line.unit, metric=metric),
    }
