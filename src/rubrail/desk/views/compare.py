"""Two to six units side by side for one haul."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.db.models.functions import Lower
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_http_methods

from rubrail.answers.compare import LEAST, MOST, Comparison
from rubrail.answers.compare import compare as compared
from rubrail.checks.verdict import WORDS
from rubrail.desk.access import requires
from rubrail.desk.as_printed import not_printed
from rubrail.desk.compare_rows import shown
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Haul, Unit
from rubrail.desk.papers import compare_papers
from rubrail.desk.stock import readable
from rubrail.sheets.drawing import Rig, placed_pieces
from rubrail.sheets.drawing.rig_small import common_reach, rig_small
from rubrail.sheets.sentences import weighing_sentence
from rubrail.sheets.sentences_amounts import listed
from rubrail.sheets.sentences_words import SAFETY
from rubrail.sheets.sentences_yard import comparison_sentence
from rubrail.things.faults import Faults
from rubrail.things.haul import Haul as HaulThing
from rubrail.things.rigs import pieces_of
from rubrail.things.trailer import Trailer

WIDTHS_PX = {2: 360.0, 3: 290.0, 4: 225.0, 5: 185.0, 6: 155.0}
"""About what one of so many gets on a desk's screen, so that lines come out as thick as they are drawn."""


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def compare(request: HttpRequest, pk: int) -> HttpResponse:
    """The chosen units on the same rows, drawn to one scale, each at its own best place."""
    haul = get_object_or_404(Haul, pk=pk)
    try:
        thing = thing_of(haul)
    except Faults as told:
        return render(request, "desk/board/unread.html", {"haul": haul, "faults": told.faults})
    context: dict[str, Any] = {"haul": haul, "safety": SAFETY}
    units, fault = chosen_units(request)
    trailers = [readable(u) for u in units]
    unread = [u.stock_number for u, t in zip(units, trailers, strict=True) if t is None]
    if unread and not fault:
        fault = f"What is stored of {listed(unread)} no longer reads: open it and save it again."
    if fault:
        return render(request, "desk/compare/compare.html", {**context, "fault": fault})
    metric = request.user.measures == "metric"
    result = compared(haul=thing, trailers=trailers)
    drawings = _drawings(thing, trailers, result, metric=metric)
    numbers = [u.stock_number for u in units]
    context |= {
        "sentence": comparison_sentence(result, metric=metric),
        "verdict": max((w.verdict for w in result.weighings), key=WORDS.index),
        "heads": [
            {
                "unit": unit,
                "drawing": drawing,
                "verdict": w.verdict,
                "says": weighing_sentence(w, tried=False, metric=metric),
                "without": [n for n in numbers if n != unit.stock_number] if len(numbers) > LEAST else [],
            }
            for unit, drawing, w in zip(units, drawings, result.weighings, strict=True)
        ],
        "shown": shown(result, units, metric=metric, money=request.user.may("money.see")),
        "columns": len(units) + 1,
        "papers": compare_papers(haul.pk, numbers),
        "not_printed": not_printed(units, metric=metric),
    }
    return render(request, "desk/compare/compare.html", context)


def chosen_units(request: HttpRequest) -> tuple[list[Unit], str]:
    """The units an address asks for, or one sentence that says why they cannot be compared."""
    return _units(list(dict.fromkeys(n.strip() for n in request.GET.getlist("unit") if n.strip())))


def _units(numbers: Sequence[str]) -> tuple[list[Unit], str]:
    """The units of these stock numbers, or one sentence that says why they cannot be compared."""
    if len(numbers) < LEAST:
        return [], f"Tick at least {LEAST} units on the board, then compare them."
    if len(numbers) > MOST:
        return (
            [],
            f"At most {MOST} units stand side by side, and {len(numbers)} were chosen: untick some on the board.",
        )
    low = [n.lower() for n in numbers]
    found = {u.stock_number.lower(): u for u in Unit.objects.annotate(low=Lower("stock_number")).filter(low__in=low)}
    missing = [n for n in numbers if n.lower() not in found]
    if missing:
        which = "unit is" if len(missing) == 1 else "units are"
        return [], f"No such {which} in the yard: {listed(missing)}. Choose among those on the board."
    units = list(dict.fromkeys(found[n] for n in low))
    return (units, "") if len(units) >= LEAST else ([], f"Tick at least {LEAST} different units on the board.")


def _drawings(thing: HaulThing, trailers: Sequence[Trailer], result: Comparison, *, metric: bool) -> list[str]:
    """Each rig as placed, all to one scale."""
    pieces = pieces_of(thing)
    rigs = [
        Rig(trailer=trailer, truck=thing.truck, cargo=placed_pieces(w, pieces), metric=metric)
        for trailer, w in zip(trailers, result.weighings, strict=True)
    ]
    longest, highest = common_reach(rigs)
    width = WIDTHS_PX[len(rigs)]
    return [mark_safe(rig_small(r, width_px=width, longest_in=longest, highest_in=highest)) for r in rigs]
