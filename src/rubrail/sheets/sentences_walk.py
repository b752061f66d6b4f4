"""A walk in words: each station as one reads it, and as one says it to a buyer walking along."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rubrail.answers.company import BuildMiddle, Middle
from rubrail.answers.walk_parts import Point, Station, Walk, severity
from rubrail.checks.verdict import NOT_KNOWN, WORDS
from rubrail.quantity.show import show
from rubrail.sheets.sentences_amounts import amount, percent
from rubrail.sheets.sentences_unit import difference_sentence, trait_value
from rubrail.sheets.sentences_walk_checks import LEVEL_IN, slope, tape
from rubrail.sheets.sentences_walk_hand import by_hand, caution_of, title_of
from rubrail.sheets.sentences_walk_haul import rows, shown
from rubrail.sheets.sentences_walk_points import point_sentence
from rubrail.sheets.sentences_walk_what import fact_rows, value_number, what_sentence
from rubrail.sheets.sentences_words import begin, called, unit

SAID_OF_HAUL = 2
"""Sentences about the haul that are said aloud at one station; the page shows them all."""
MEASURE = "Not known here is never a pass: measure it first."
NO_HAUL = "No haul is open: open one, and each station says what it does for that truck and machine."
WITH_A_HAUL = {
    "coupling": "the load on coupler and hitch against their ratings, and whether the ball fits",
    "chains": "the chains against the loaded trailer, and whether plug and brake controller fit",
    "neck": "the room to the truck's bed and cab, and how far it folds",
    "jack": "the loaded coupler against what the jack holds",
    "box": "what the label still leaves",
    "deck-front": "where the first machine stands, and what a foot forward puts on the coupler",
    "deck": "width, loaded height, and which anchors the plan uses",
    "frame": "what one crossmember carries under the machine",
    "running-gear": "the load on the axles against their ratings",
    "tires": "the reserve of tires and wheels at the axle's load",
    "underneath": "nothing more: it is looked at",
    "tail": "the room under the machine's belly over the crest",
    "ramps": "the slope against what the machine climbs, and the load on the ramps",
    "lights": "the loaded weight against the label",
}
"""What each station would tell beside, were a haul open."""


@dataclass(frozen=True, slots=True)
class StationSaid:
    """One station in words.

    number : its place in the walk, from 1; figure, figure_says : its big number and what that is; verdict : of what
    it does for the haul, ``""`` without one; facts : names and values; haul, alone : verdict words with their
    sentences; differs : against the others; say : what is said aloud, in order; x_in, z_in : where it is pointed at,
    ``nan`` where not known
    """

    key: str
    number: int
    title: str
    figure: str
    figure_says: str
    verdict: str
    what: str
    facts: tuple[tuple[str, str], ...]
    haul: tuple[tuple[str, str], ...]
    alone: tuple[tuple[str, str], ...]
    differs: tuple[str, ...]
    check: str
    caution: str
    say: tuple[str, ...]
    would_tell: str
    x_in: float
    z_in: float


def walk_sentence(walk: Walk) -> str:
    """The first sentence of a walk: what for, and the station where it matters most."""
    who = unit(walk.trailer_title, walk.trailer)
    stops = f"{len(walk.stations)} stations"
    if not walk.haul:
        return f"A walk around {who}, {stops}, front to back, without a haul."
    behind = f"“{walk.haul}” behind {called(walk.truck, what='truck')}"
    if walk.verdict == "clear":
        return f"Clear: {who} for {behind}, {stops}, nothing in the way at any of them."
    worst = [s for s in walk.stations if s.verdict == walk.verdict]
    at = "; look first at: " + ", ".join(_low(title_of(s)) for s in worst[:3]) if worst else ""
    more = f" and {len(worst) - 3} more" if len(worst) > 3 else ""
    word = {"not known": "Not known whether it works", "over": "Over"}.get(walk.verdict, begin(walk.verdict))
    return f"{word}: {who} for {behind}, {stops}{at}{more}."


def _low(title: str) -> str:
    return title[:1].lower() + title[1:]


def walk_said(walk: Walk, *, metric: bool = False) -> tuple[StationSaid, ...]:
    """Every station in words.

    Parameters
    ----------
    walk : Walk
    metric : bool
        Kilograms, millimeters and kilopascals.
    """
    return tuple(_said(walk, s, n, metric) for n, s in enumerate(walk.stations, 1))


def _said(walk: Walk, s: Station, number: int, metric: bool) -> StationSaid:
    told = rows(s.haul, metric=metric)
    # What a foot forward does is told of the load itself where there is one.
    loaded = s.point("foot-forward-haul")
    foot = loaded is not None and not math.isnan(loaded.get("coupler"))
    by_itself = [p for p in s.alone if not (foot and p.key == "foot-forward")]
    alone = tuple((shown(p), point_sentence(p, metric=metric)) for p in by_itself)
    differs = tuple(differs_said(walk, s, metric=metric))
    what = what_sentence(s, metric=metric)
    check, caution = by_hand(s), caution_of(s)
    spoken = [r.aloud for r in (told or rows(s.alone, metric=metric))[:SAID_OF_HAUL]]
    figure, says = big_number(s, metric=metric)
    return StationSaid(
        key=s.key, number=number, title=title_of(s), figure=figure, figure_says=says, verdict=_mark(s), what=what,
        facts=fact_rows(s, metric=metric), haul=tuple((r.word, r.text) for r in told), alone=alone,
        differs=differs, check=check, caution=caution,
        say=(what, *spoken, *_aloud(s, metric), check, caution), would_tell=WITH_A_HAUL[s.key],
        x_in=s.x_in, z_in=s.z_in,
    )  # fmt: skip


def _mark(s: Station) -> str:
    """The station's verdict word, *not known* where that is what its first point says."""
    return s.verdict if not s.haul or s.verdict != "depends" else shown(s.haul[0]) or s.verdict


def differs_said(walk: Walk, s: Station, *, metric: bool = False):
    """Where it differs from the others, what is unusual first; then what is usual of what is told here."""
    told = {d.trait.key for d in s.differs}
    for d in s.differs:
        own = percent(d.own / 100) if d.trait.unit == "%" else trait_value(d.trait, d.own, metric=metric)
        yield f"{begin(d.trait.title)}: {own} here; {difference_sentence(d, metric=metric)}."
    for m in s.middles:
        if m.trait.key not in told and not math.isnan(m.own):
            yield _usual(m, metric)
    if s.key == "frame":
        yield from _builds(s, metric)


def _usual(m: Middle, metric: bool) -> str:
    own, usual = (trait_value(m.trait, v, metric=metric) for v in (m.own, m.value))
    title = begin(m.trait.title)
    if own == usual:
        return f"{title}: {own} here, as is usual: the middle of {m.others} others."
    return f"{title}: {own} here; {usual} is usual, the middle of {m.others} others."


def _aloud(s: Station, metric: bool) -> list[str]:
    """The rarest difference, short enough to say."""
    for d in s.differs[:1]:
        own = percent(d.own / 100) if d.trait.unit == "%" else trait_value(d.trait, d.own, metric=metric)
        usual = trait_value(d.trait, d.typical, metric=metric)
        most = f"here, where {usual} is usual" if d.way else f"here; most others have {usual}"
        return [f"{begin(d.trait.title)}: {own} {most}."]
    return []


def _builds(s: Station, metric: bool):
    """What the others' way of building comes to in height and weight, beside this one's."""
    p = s.point("build-choice")
    if p is None or not p.words[0]:
        return
    own = {"pierced": "crossmembers through the main beams", "stacked": "crossmembers on the main beams"}[p.words[0]]
    height, foot = p.get("height"), p.get("empty-per-ft")
    for b in s.builds:
        what = "built alike" if b.build == own else f"with {b.build}"
        others = f"{b.others} other{'' if b.others == 1 else 's'}"
        yield f"{others} with such a deck, {what}: {_beside(b, height, foot, metric)}."


def _beside(b: BuildMiddle, height: float, foot: float, metric: bool) -> str:
    """Middle height and weight of some others, this unit's behind each."""
    parts = []
    for what, usual, own, per, after in (
        ("deck height", b.deck_height_in, height, "in", ""),
        ("empty weight", b.empty_lb_per_ft, foot, "lb", " a foot of deck"),
    ):
        told = show if per == "in" else amount
        here = "" if math.isnan(own + usual) else f", {told(own, per, metric=metric)} here"
        parts.append(f"{what} {told(usual, per, metric=metric)}{after}{here}")
    return f"{'; '.join(parts)}{'' if b.others == 1 else '; the middle of each'}"


_FIGURES = {
    "coupler-vertical": "on the coupler", "hitch-vertical": "on the hitch",
    "coupler-share-high": "on the coupler", "chain-strength": "to be held by the chains",
    "gooseneck-chains": "to be held by the chains", "trailer-gross": "loaded", "overall-height": "high, loaded",
    "axle-group": "on the axles", "axle": "on one axle", "level-trim": "off level in ten feet",
    "climb-slope": "as it drives up", "coupler-gross": "loaded", "hitch-gross": "loaded",
    "axle-while-loading": "on one axle while loading", "between-fenders": "wide, the machine",
    "deck-width": "wide, where it stands", "hitch-too-high": "high, your hitch",
    "climb-grip": "of grip needed", "ramp-pair": "on the ramps",
    "truck-rear-axle": "on your truck's rear axle", "truck-front-axle": "on your truck's front axle",
    "truck-gross": "truck and coupler load", "combination-gross": "truck and trailer", "truck-tow-rating": "loaded",
    "rear-overhang": "behind the trailer", "overall-width": "wide",
}  # fmt: skip
_LIMIT_FIGURES = {
    "coupler-share-low": "on the coupler", "neck-clearance": "from neck to bed rail",
    "belly-clearance": "under its belly", "neck-swing": "to the cab",
    "hitch-too-low": "high, your hitch", "tires-carry-axle-rating": "carried by an axle's tires",
}  # fmt: skip
_PAST = {"deck-rear": "past the level deck", "deck-front": "ahead of the deck"}
_POINT_FIGURES = {
    "jack-loaded": ("demand", "lb", "on the jack, loaded"), "left-by-label": ("left", "lb", "left by the label"),
    "jack-holds": ("limit", "lb", "held by the jack"),
    "foot-forward-haul": ("coupler", "lb", "more on the coupler a foot forward"),
    "foot-forward": ("coupler", "lb", "more on the coupler for {weight} a foot forward"),
    "member-load": ("heaviest", "lb", "on one crossmember"), "coupler-carries-label": ("limit", "lb", "rated gross"),
    "chains-carry-label": ("limit", "lb", "breaks the chains"), "equipment": ("weight", "lb", "of equipment"),
    "axles-and-label": ("axles", "lb", "axle ratings together"),
    "payload-by-label": ("payload", "lb", "left by the label"),
    "tires-for-axle": ("limit", "lb", "carried by an axle's tires"),
    "tie-down": ("anchors", "", "anchors used"),
}  # fmt: skip
_FACT_FIGURES = {
    "neck": (("neck_underside_height_in", "neck's underside"), ("front_from_coupler_in", "from coupling to deck")),
    "deck": (("height_in", "deck height"),),
    "frame": (("crossmember_spacing_in", "between crossmembers"),),
    "underneath": (("frame_under_in", "under the beams"),),
    "chains": (("strength_lb", "breaks one chain"),),
}


def big_number(s: Station, *, metric: bool = False) -> tuple[str, str]:
    """The station's one number in large type, and what it is; both ``""`` where it has none.

    With a haul the first of its points that has a number, so that what governs is what is large; where that one is
    not known, or holds not and has no number, so says the figure.
    """
    first = s.haul[0] if s.haul else None
    if first is not None and (first.verdict == WORDS[NOT_KNOWN] or (_bad(first) and not _figure(first, metric))):
        return shown(first), first.line.title if first.line else title_of(s).lower()
    for p in (*s.haul, *s.alone):
        found = _figure(p, metric)
        if found:
            return found
    for name, says in _FACT_FIGURES.get(s.key, ()):
        f = s.fact(name)
        if f is not None and not math.isnan(f.value):
            return value_number(f, metric), says
    return "", ""


def _bad(p: Point) -> bool:
    return severity(p) < WORDS.index("clear")


def _large(check: str, value: float, unit: str, metric: bool) -> str:
    if unit == "rad":
        return slope(value)
    return tape(value, metric=metric) if check == "overall-height" else amount(value, unit, metric=metric)


def _figure(p: Point, metric: bool) -> tuple[str, str] | None:
    line = p.line
    if p.key in ("axle-tires", "axle-wheels") and line is not None and not math.isnan(line.share):
        what = "tires" if p.key == "axle-tires" else "wheels"
        return percent(abs(line.share)), f"{'left' if line.share >= 0 else 'too much'} on the {what}"
    if p.key == "level-trim" and line is not None and abs(line.demand) < LEVEL_IN:
        return "level", "hitched to your truck"
    if p.key == "left-by-label" and p.get("left") < 0:
        return amount(-p.get("left"), "lb", metric=metric), "over the label"
    if p.key in _FIGURES and line is not None and math.isfinite(line.demand):
        return _large(p.key, line.demand, line.unit, metric), _FIGURES[p.key]
    if p.key == "coupler-uplift" and line is not None and line.limit < 0:
        return amount(-line.limit, "lb", metric=metric), "pulling up on the hitch while loading"
    if p.key == "coupler-uplift" and line is not None and math.isfinite(line.limit) and line.verdict != "clear":
        return amount(line.limit, "lb", metric=metric), "left on the coupler while loading"
    if p.key in _PAST and line is not None and line.margin < 0:
        return amount(-line.margin, line.unit, metric=metric), _PAST[p.key]
    if p.key in _LIMIT_FIGURES and line is not None and math.isfinite(line.limit):
        return amount(line.limit, line.unit, metric=metric), _LIMIT_FIGURES[p.key]
    if p.key in ("ramp-angle", "tail-angle") and not math.isnan(p.get("angle")):
        return slope(p.get("angle")), "slope"
    if p.key in ("fold",) and math.isfinite(p.get("angle")):
        return f"{math.degrees(p.get('angle')):.0f}°", f"until {p.about} meet"
    if p.key in _POINT_FIGURES:
        name, what, says = _POINT_FIGURES[p.key]
        if math.isfinite(p.get(name)):
            says = says.format(weight=amount(p.get("weight"), "lb", metric=metric))
            return (f"{p.get(name):.0f}" if not what else amount(p.get(name), what, metric=metric)), says
    return None
