"""Guess which column of ours a heading of somebody's file means, by its words alone."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rubrail.desk.lists.cells import units_for
from rubrail.desk.lists.columns import KEY, ListColumn, by_key, by_words, plain

ALSO = {
    "stock": KEY,
    "stock #": KEY,
    "stock no": KEY,
    "stk": KEY,
    "stk #": KEY,
    "stock id": KEY,
    "unit": KEY,
    "unit #": KEY,
    "unit no": KEY,
    "unit number": KEY,
    "price": "price_usd",
    "sale price": "price_usd",
    "asking": "price_usd",
    "our cost": "cost_usd",
    "what we paid": "cost_usd",
    "arrival": "arrived",
    "date arrived": "arrived",
    "arrival date": "arrived",
    "date received": "arrived",
    "received": "arrived",
    "lot": "location",
    "location": "location",
    "place": "location",
    "row": "location",
    "colour": "color",
    "title": "title",
    "description": "title",
    "make": "maker",
    "manufacturer": "maker",
    "year": "year",
    "serial number": "vin",
    "serial": "vin",
    "vin #": "vin",
    "vin number": "vin",
    "new or used": "condition",
    "remarks": "notes",
    "comments": "notes",
    "hitch": "coupling.kind",
    "hitch type": "coupling.kind",
    "coupler": "coupling.kind",
    "coupling type": "coupling.kind",
    "coupling kind": "coupling.kind",
    "ball size": "coupling.ball_size_in",
    "hitch height": "coupling.height_in",
    "coupler rating": "coupling.gross_rating_lb",
    "gvwr": "ratings.gvwr_lb",
    "gross vehicle weight rating": "ratings.gvwr_lb",
    "gvw": "ratings.gvwr_lb",
    "advertised": "ratings.advertised_lb",
    "empty": "weights.empty_lb",
    "weight": "weights.empty_lb",
    "weight empty": "weights.empty_lb",
    "trailer weight": "weights.empty_lb",
    "unladen weight": "weights.empty_lb",
    "curb weight": "weights.empty_lb",
    "tare": "weights.empty_lb",
    "tare weight": "weights.empty_lb",
    "tongue weight": "weights.empty_coupler_lb",
    "tongue weight empty": "weights.empty_coupler_lb",
    "axles": "axle:count",
    "axle count": "axle:count",
    "# of axles": "axle:count",
    "# axles": "axle:count",
    "no of axles": "axle:count",
    "gawr": "axle.*.gawr_lb",
    "axle rating": "axle.*.gawr_lb",
    "axle capacity": "axle.*.gawr_lb",
    "brakes": "axle.*.brakes",
    "tire size": "axle.*.tires.size",
    "tires": "axle.*.tires.size",
    "load range": "axle.*.tires.load_range",
    "tire load range": "axle.*.tires.load_range",
    "wheel rating": "axle.*.wheel_rating_lb",
    "deck length": "deck.flat_length_in",
    "flat deck": "deck.flat_length_in",
    "flat deck length": "deck.flat_length_in",
    "level deck": "deck.flat_length_in",
    "deck type": "deck.kind",
    "deck": "deck.kind",
    "width": "deck.width_in",
    "bed width": "deck.width_in",
    "height": "deck.height_in",
    "bed height": "deck.height_in",
    "dovetail": "deck.tail_length_in",
    "dovetail length": "deck.tail_length_in",
    "tail length": "deck.tail_length_in",
    "dovetail kind": "deck.tail_kind",
    "crossmembers": "frame.crossmember_spacing_in",
    "crossmember centers": "frame.crossmember_spacing_in",
    "decking": "frame.deck_material",
    "floor": "frame.deck_material",
    "flooring": "frame.deck_material",
    "jack": "jack.kind",
    "suspension type": "suspension.kind",
    "ramps": "ramp.0.kind",
    "ramp kind": "ramp.0.kind",
    "ramp length": "ramp.0.length_in",
    "plug type": "plug",
}
"""Headings people in the trade write, as ``plain`` has them."""
_UNIT_WORDS = {
    "lb": "lb",
    "lbs": "lb",
    "pounds": "lb",
    "kg": "kg",
    "kgs": "kg",
    "tons": "ton",
    "tonnes": "t",
    "in": "in",
    "inch": "in",
    "inches": "in",
    "ft": "ft",
    "feet": "ft",
    "mm": "mm",
    "cm": "cm",
    "m": "m",
    "meters": "m",
    "metres": "m",
    "psi": "psi",
    "kpa": "kPa",
    "bar": "bar",
    "usd": "",
    "dollars": "",
}
SHORT = {
    "wt": "weight",
    "wgt": "weight",
    "ht": "height",
    "hgt": "height",
    "len": "length",
    "lgth": "length",
    "wd": "width",
}
"""Words people shorten."""
NEAR_ENOUGH = 0.75


@dataclass(frozen=True, slots=True)
class Guess:
    """What a column is taken for: our column's key, ``""`` for none, and the unit its numbers are in."""

    key: str = ""
    unit: str = ""


def guess(headings: Sequence[str], *, allowed: Mapping[str, ListColumn]) -> list[Guess]:
    """One guess a heading; no column of ours is guessed twice, the surest heading has it.

    Parameters
    ----------
    headings : sequence of str
        As the file has them.
    allowed : mapping
        Columns this person may write, by key.
    """
    offers = []
    for place, heading in enumerate(headings):
        words, unit = _apart(heading)
        offers += [(-sure, place, key, unit) for key, sure in _near(heading, words).items() if key in allowed]
    found = [Guess()] * len(headings)
    used: set[str] = set()
    done: set[int] = set()
    for _, place, key, unit in sorted(offers):
        if place not in done and key not in used:
            fits = unit in units_for(by_key()[key]) and unit != by_key()[key].unit
            found[place] = Guess(key, unit if fits else "")
            used.add(key)
            done.add(place)
    return found


def _apart(heading: str) -> tuple[str, str]:
    """Words of a heading without its unit, and the unit."""
    bracketed = [w for w in re.findall(r"[\[(]([^\])]*)[\])]", heading.lower()) if w.strip(" .") in _UNIT_WORDS]
    if bracketed:
        return plain(heading), _UNIT_WORDS[bracketed[-1].strip(" .")]
    words = plain(heading).split()
    if len(words) > 1 and words[-1] in _UNIT_WORDS:
        return " ".join(words[:-1]), _UNIT_WORDS[words[-1]]
    return " ".join(words), ""


def _near(heading: str, words: str) -> dict[str, float]:
    """Columns a heading may mean, with how sure that is, 0 to 1."""
    words = " ".join(SHORT.get(word, word) for word in words.split())
    for form in (plain(heading), words):
        if column := by_words().get(form):
            return {column.key: 1.0}
    if key := ALSO.get(words):
        return {key: 0.9}
    mine = set(words.split())
    if len(mine) < 2:
        return {}
    near = {}
    for name, column in _general().items():
        theirs = set(name.split())
        share = len(mine & theirs) / len(mine | theirs)
        if share >= NEAR_ENOUGH:
            near[column.key] = 0.8 * share
    return near


def _general() -> dict[str, ListColumn]:
    """Columns worth a guess by likeness: those of single values; numbered ones differ by too little."""
    return {name: c for name, c in by_words().items() if not re.search(r"\.\d|\*|:", c.key)}
