"""What the bench's page shows: drawings, places, loads, limits, and the coefficients its script goes by."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from rubrail.answers.affine import Affine
from rubrail.answers.affine_band import stretches
from rubrail.answers.affine_read import plain
from rubrail.desk.rig_data import as_attribute, bench_data
from rubrail.desk.rig_drawings import SIZES, bands_of, drawn, rig_of
from rubrail.desk.rig_loads import Watched, watched
from rubrail.desk.rig_reckon import Reckoned
from rubrail.desk.rig_rows import MARKS, lines_by_row, page_groups, page_row
from rubrail.desk.rig_stands import WAYS, Stand, names_of
from rubrail.desk.rig_store import is_whole
from rubrail.quantity.show import convert
from rubrail.sheets.sentences import weighing_sentence
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_lines import closest
from rubrail.sheets.sentences_words import SAFETY, begin
from rubrail.things.haul import Haul

PAINTED = 3
"""Pieces up to which the server paints bands; with more of them only the script does, which is quicker at it."""
BEYOND_IN = 36.0
"""How far past either end of the deck a piece's places are looked at."""


def bench(it: Reckoned, table: Affine, *, thing: Haul, deck_front_in: float | None, metric: bool) -> dict[str, Any]:
    """What the bench shows of a rig.

    Parameters
    ----------
    thing : things.haul.Haul
        The haul with its own pieces.
    deck_front_in : float or None
        Front of the deck behind the coupling point, where it is known. [in]
    """
    loads = watched(it)
    origin = deck_front_in or 0.0
    bare = rig_of(it, loads, metric=metric)
    bands = _bands(it, table, bare)
    rig = rig_of(it, loads, bands=bands, metric=metric)
    groups = page_groups(it, table, metric=metric)
    governing = _governing(it, metric=metric)
    weighed = it.weighing
    return {
        "it": it,
        "verdict": weighed.verdict,
        "sentence": weighing_sentence(weighed, tried=False, metric=metric),
        "closest": begin(closest(weighed.governing, metric=metric)) if weighed.governing else "",
        "drawings": {size: drawn(rig, size) for size in SIZES},
        "data": as_attribute(bench_data(it, table, bare, loads, deck_front_in=deck_front_in, metric=metric)),
        "stands": [_stand(n, s, it, origin=origin, metric=metric) for n, s in enumerate(it.stands)],
        "from_deck": deck_front_in is not None,
        "length_unit": "mm" if metric else "in",
        "nudge": 10 if metric else 1,
        "loads": [_load(w, metric=metric) for w in loads],
        "governing": governing,
        "groups": groups,
        "own_cargo": is_whole(thing, it.stands),
        "safety": SAFETY,
    }


def _governing(it: Reckoned, *, metric: bool) -> Any:
    index = int(it.judgement.governing[0, 0])
    return page_row(index, lines_by_row(it)[index], it, hidden=False, metric=metric) if index >= 0 else None


def _bands(it: Reckoned, table: Affine, rig: Any) -> dict[str, tuple[float, float]]:
    """Bands of the first piece; the script paints those of the piece that is picked."""
    if not 0 < len(it.stands) <= PAINTED:
        return {}
    low, high = reach(rig, 0)
    found = stretches(plain(table), list(it.placement.front_x_in), 0, low_in=low, high_in=high)
    return bands_of(found, rig.cargo[0])


def reach(rig: Any, piece: int) -> tuple[float, float]:
    """Between which fronts a piece is looked at: from just ahead of the deck to just past its end."""
    o, length = rig.trailer, rig.cargo[piece].outline.length_in
    return o.deck_front_x_in - length - BEYOND_IN, o.deck_rear_x_in + BEYOND_IN


def _stand(n: int, stand: Stand, it: Reckoned, *, origin: float, metric: bool) -> dict[str, Any]:
    piece = it.weighing.pieces[n]
    x = convert(stand.front_x_in - origin, "in", "mm") if metric else stand.front_x_in - origin
    return {
        "n": n,
        "stand": stand,
        "name": names_of(it.stands)[n],
        "weight": amount(piece.weight_lb, "lb", metric=metric),
        "x": f"{stand.front_x_in:.3f}",
        "at": stand.typed or written(x, metric=metric),
        "way": WAYS.get(stand.facing, ""),
        "fault": stand.fault,
        "ahead": any(s.front_x_in < stand.front_x_in for s in it.stands),
    }


def written(x: float, *, metric: bool) -> str:
    """A place in its field: hundredths of an inch at most, or whole millimeters."""
    text = f"{x:.0f}" if metric else f"{x:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _load(w: Watched, *, metric: bool) -> dict[str, Any]:
    line = w.line
    known = bool(line) and math.isfinite(w.limit_lb)
    return {
        "place": w.place,
        "title": w.title,
        "value": amount(w.value_lb, "lb", metric=metric),
        "limit": f"of {amount(w.limit_lb, 'lb', metric=metric)}" if known else "limit not known" if line else "",
        "demand": line.demand if line else math.nan,
        "limit_lb": w.limit_lb,
        "word": w.word,
        "mark": MARKS.get(w.word, ""),
        "low": w.value_lb - w.doubt_lb,
        "high": w.value_lb + w.doubt_lb,
    }


def drawings_for(it: Reckoned, sizes: Iterable[str], *, metric: bool) -> dict[str, dict[str, str]]:
    """Fresh drawings without bands, for the script, which paints its own."""
    rig = rig_of(it, watched(it), metric=metric)
    return {size: {name: str(svg) for name, svg in drawn(rig, size).items()} for size in sizes if size in SIZES}
