"""The match board: every unit of the yard for one haul, best first."""

from __future__ import annotations

from typing import Any

import numpy as np
from django.core.paginator import Page, Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_http_methods

from rubrail.desk.access import requires
from rubrail.desk.board import COUPLINGS, DECKS, Standing, standing
from rubrail.desk.board_list import SLUGS, SORTS, WHERE, asked_of, chosen, counts
from rubrail.desk.board_rows import look_at
from rubrail.desk.fragments import answer
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Haul
from rubrail.sheets.sentences_words import SAFETY
from rubrail.sheets.sentences_yard import tally_sentence
from rubrail.things.faults import Faults
from rubrail.things.haul import Haul as HaulThing

PER_PAGE = 25
MOST_COMPARED = 6


@requires("haul.see")
@require_http_methods(["GET", "HEAD"])
def board(request: HttpRequest, pk: int) -> HttpResponse:
    """Every unit's verdict at its own best place. What is not judged yet is judged now; a big yard takes several goes,
    and the page says how far it is.
    """
    haul = get_object_or_404(Haul, pk=pk)
    try:
        thing = thing_of(haul)
    except Faults as told:
        return render(request, "desk/board/unread.html", {"haul": haul, "faults": told.faults})
    now = standing(haul, thing)
    context: dict[str, Any] = {"haul": haul, "standing": now, "safety": SAFETY}
    if now.missing:
        return answer(request, "desk/board/board.html", context, part="desk/board/_whole.html")
    context |= _listed(request, haul, thing, now)
    part = "desk/board/_rows.html" if request.htmx.target == "rows" else "desk/board/_whole.html"
    return answer(request, "desk/board/board.html", context, part=part)


def _listed(request: HttpRequest, haul: Haul, thing: HaulThing, now: Standing) -> dict[str, Any]:
    asked = asked_of(request.GET)
    found = chosen(now.entries, asked)
    page = Paginator(range(len(found)), PER_PAGE).get_page(request.GET.get("page"))
    metric = request.user.measures == "metric"
    on_page = found[_span(page)]
    tally, note, rows = look_at(thing, now, on_page, metric=metric)
    by_verdict = counts(now.entries, asked)
    return {
        "sentence": tally_sentence(tally, metric=metric),
        "note": note,
        "verdict": tally.best.verdict if tally.best else "",
        "tally": tally,
        "asked": asked,
        "verdicts": [(slug, slug.replace("-", " "), by_verdict[slug]) for slug in SLUGS],
        "all_verdicts": sum(by_verdict.values()),
        "couplings": _present(now, "coupling", COUPLINGS),
        "decks": _present(now, "deck", DECKS),
        "wheres": [(slug, words) for slug, (words, _) in WHERE.items()],
        "sorts": [(slug, words) for slug, (words, *_) in SORTS.items()],
        "page": page,
        "rows": rows,
        "starred": any(row.unbeaten for row in rows),
        "most_compared": MOST_COMPARED,
    }


def _span(page: Page) -> slice:
    start = (page.number - 1) * PER_PAGE
    return slice(start, start + PER_PAGE)


def _present(now: Standing, name: str, words: tuple[str, ...]) -> list[str]:
    """Words that at least one unit has."""
    return [words[i] for i in np.unique(now.entries[name]) if words[i]]
