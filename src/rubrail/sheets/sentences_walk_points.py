"""What each station of a walk does, one short sentence a point: said to a buyer, shown on every face."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from rubrail.answers.walk_parts import Point
from rubrail.sheets.sentences_amounts import amount, feet, listed
from rubrail.sheets.sentences_walk_checks import ask_out, check_sentence, slope
from rubrail.sheets.sentences_words import begin, called


def point_sentence(point: Point, *, brief: bool = False, metric: bool = False) -> str:
    """One point in one sentence, never worded as a pass where it is not known.

    Parameters
    ----------
    point : Point
    brief : bool
        As one says it aloud: one thing to find out, and not how to settle a doubt.
    metric : bool
        Kilograms and millimeters.
    """
    if brief:
        point = replace(point, needs=point.needs[:1])
    if point.key in _OWN:
        return _OWN[point.key](point, metric)
    return check_sentence(point, brief=brief, metric=metric)


def _against(clear: str, over: str, what: str) -> Callable[[Point, bool], str]:
    def say(p: Point, metric: bool) -> str:
        if p.verdict == "not known":
            return f"Not known: {what}; {ask_out(p)}."
        demand, limit = p.get("demand"), p.get("limit")
        numbers = {n: amount(v, "lb", metric=metric) for n, v in (("demand", demand), ("limit", limit))}
        said = (over if p.verdict == "over" else clear).format(**numbers)
        end = "too little" if p.verdict == "over" else "to spare"
        left = amount(abs(limit - demand), "lb", metric=metric)
        return f"{said}: {'nothing' if left.startswith('0 ') else left} {end}."

    return say


def _equipment(p: Point, metric: bool) -> str:
    name = begin(p.about)
    if math.isnan(p.get("weight")):
        return f"{name}: its weight is not known; {ask_out(p)}."
    weight = amount(p.get("weight"), "lb", metric=metric)
    share = p.get("coupler")
    if math.isnan(share):
        return f"{name}: {weight}, and what it puts on the coupler is not known; {ask_out(p)}."
    if share < 0:
        return f"{name}: {weight}; it takes {amount(-share, 'lb', metric=metric)} off the coupler."
    return f"{name}: {weight}, of which {amount(share, 'lb', metric=metric)} is on the coupler."


def _foot(p: Point, metric: bool) -> str:
    if math.isnan(p.get("coupler")):
        return f"Not known: what a foot forward puts on the coupler; {ask_out(p)}."
    weight, more = (amount(p.get(n), "lb", metric=metric) for n in ("weight", "coupler"))
    return f"A foot farther forward, every {weight} puts {more} more on the coupler."


def _foot_haul(p: Point, metric: bool) -> str:
    more = p.get("coupler")
    if math.isnan(more):
        return "Not known: what a foot forward puts on the coupler."
    return f"A foot farther forward, your load puts {amount(more, 'lb', metric=metric)} more on the coupler."


def _first(p: Point, metric: bool) -> str:
    who, behind = begin(called(p.about, what="machine")), p.get("behind")
    if math.isnan(behind):
        return f"Not known: where {called(p.about, what='machine')} stands from the front of the deck."
    ends = "front" if p.words[0] == "front-first" else "rear"
    if behind < 0:
        return f"{who} stands {ends} first and reaches {feet(-behind, metric=metric)} ahead of the deck's front."
    return f"{who} stands {ends} first, {feet(behind, metric=metric)} behind the deck's front."


def _tie(p: Point, metric: bool) -> str:
    of = f" of {called(p.about, what='machine')}" if p.about else ""
    if not p.words:
        why = check_sentence(p, metric=metric) if p.line else f"{ask_out(p)}."
        return f"No plan of tie-downs{of} was found with the yard's gear. {why}"
    used = f"The plan{of} uses {p.get('anchors'):.0f} anchors: {_grouped(p.words)}"
    if p.verdict == "clear":
        return f"{used}."
    if p.verdict == "not known":
        return f"{used}; whether it holds is not known: {ask_out(p)}."
    why = f": {p.line.title}" if p.line else ""
    return f"{used}; {'it does not hold' if p.verdict == 'over' else 'it depends'}{why}."


def _grouped(titles: tuple[str, ...]) -> str:
    """Anchors by name, both sides of one as one: ``D-ring 2 both sides, D-ring 3 right``."""
    sides: dict[str, list[str]] = {}
    for title in titles:
        name, _, side = title.partition(", ")
        sides.setdefault(name, []).append(side)
    return listed([f"{n} both sides" if len(s) > 1 else f"{n} {s[0]}".strip() for n, s in sides.items()])


def _member(p: Point, metric: bool) -> str:
    who = called(p.about, what="machine")
    most = p.get("heaviest")
    if math.isnan(most):
        ask = f"; {ask_out(p)}" if p.needs else ": its weight does not fall between its axles"
        return f"Not known: what one crossmember carries under {who}{ask}."
    said = f"Under {who} one crossmember carries up to {amount(most, 'lb', metric=metric)}"
    if p.words[0] == "wheels":
        said += ", an axle standing right above it"
    else:
        said += f"; {p.get('members'):.1f} lie under it, {amount(p.get('even'), 'lb', metric=metric)} each if evenly"
    return f"{said}. No rating is known: ask the maker for the load allowed, and in how many feet."


def _build(p: Point, metric: bool) -> str:
    build = p.words[0]
    if not build:
        return f"Not known: how the frame is built; {ask_out(p)}."
    height, other = p.get("height"), p.get("other-way")
    name = "through the main beams" if build == "pierced" else "on top of the main beams"
    said = f"Its crossmembers go {name}"
    if math.isnan(height + other):
        return f"{said}; what that does to the deck's height is not known."
    step = amount(abs(other - height), "in", metric=metric)
    way = (
        f"on top, the deck would be {step} higher"
        if other > height
        else f"through them, the deck would be {step} lower"
    )
    return f"{said}: {way}."


def _axles(p: Point, metric: bool) -> str:
    if p.needs:
        return f"Not known: label against axles; {ask_out(p)}."
    axles, gvwr = (amount(p.get(n), "lb", metric=metric) for n in ("axles", "gvwr"))
    share = p.get("share")
    if share > 0:
        more = amount(share, "lb", metric=metric)
        return f"The label, {gvwr}, is the axles' {axles} and {more} that the truck must carry."
    return f"The axles are rated {axles} together; the label says {gvwr}."


def _tail_angle(p: Point, metric: bool) -> str:
    if p.needs:
        return f"Not known: how steep it is; {ask_out(p)}."
    return f"It slopes {slope(p.get('angle'))}." if p.get("angle") > 0 else "It stays level."


def _ramp_angle(p: Point, metric: bool) -> str:
    if p.needs:
        return f"Not known: how steep the ramps stand; {ask_out(p)}."
    edge, length = (amount(p.get(n), "in", metric=metric) for n in ("edge", "length"))
    return f"A ramp of {length} on an edge {edge} high stands at {slope(p.get('angle'))}."


def _no_ramps(p: Point, metric: bool) -> str:
    if p.words[0]:
        return "It has no ramps: load from a dock, or with a loader."
    return f"Not known: how one drives up; {ask_out(p)}."


def _payload(p: Point, metric: bool) -> str:
    if p.needs:
        return f"Not known: what the label leaves to carry; {ask_out(p)}."
    gvwr, empty, left = (amount(p.get(n), "lb", metric=metric) for n in ("gvwr", "empty", "payload"))
    return f"The label, {gvwr}, less {empty} empty leaves {left} to carry."


def _lamps(p: Point, metric: bool) -> str:
    if p.needs:
        return f"Not known: which lamps it needs; {ask_out(p)}."
    width = amount(p.get("width"), "in", metric=metric)
    also = [w for w in p.words if "clearance" in w or "identification" in w or "marking" in w or "intermediate" in w]
    maybe = "; more may apply, for a figure is not known" if p.get("maybe") else ""
    if also:
        return f"At {width} wide it needs, beside the usual lamps, {listed(also)}{maybe}."
    return f"At {width} wide it needs the usual lamps and reflectors, {p.get('sure'):.0f} kinds{maybe}."


def _fold(p: Point, metric: bool) -> str:
    name = begin(p.about)
    if p.needs:
        return f"Not known: when {p.about} meet; {ask_out(p)}."
    angle = p.get("angle")
    if not math.isfinite(angle):
        return f"{name} never meet, however far it folds."
    return f"{name} meet when the rig folds {math.degrees(angle):.0f}°."


def _crest(p: Point, metric: bool) -> str:
    if p.needs:
        return f"Not known: when {p.about.removesuffix(' over a crest')} meet; {ask_out(p)}."
    name = begin(p.about.removesuffix(" over a crest"))
    angle = p.get("angle")
    if not math.isfinite(angle):
        return f"{name} never meet over a crest."
    return f"{name} meet where the ground's slope changes by {math.degrees(angle):.0f}°."


def _no_kit(p: Point, metric: bool) -> str:
    return (
        "Nothing stands on the deck to tie down."
        if p.words
        else "No kit of tie-down gear was given, so no plan was looked for."
    )


_OWN: dict[str, Callable[[Point, bool], str]] = {
    "coupler-carries-label": _against(
        "The coupler is rated for {limit}, the label says {demand}",
        "The coupler is rated for {limit}, less than the label's {demand}",
        "whether the coupler carries what the label says",
    ),
    "chains-carry-label": _against(
        "The chains together break at {limit}, the label says {demand}",
        "The chains together break at {limit}, less than the label's {demand}",
        "whether the chains are as strong as the label is heavy",
    ),
    "jack-holds": _against(
        "The jack holds {limit}, the empty coupler puts {demand} on it",
        "The jack holds {limit}, less than the {demand} of the empty coupler",
        "whether the jack holds the empty coupler",
    ),
    "jack-loaded": _against(
        "Loaded, the coupler weighs {demand}, and the jack holds {limit}",
        "Loaded, the coupler weighs {demand}, and the jack holds only {limit}",
        "whether the jack holds the loaded coupler",
    ),
    "tires-carry-axle-rating": _against(
        "The tires of an axle carry {limit}, the axle is rated {demand}",
        "The tires of an axle carry {limit}, less than the axle's {demand}",
        "whether the tires carry the axle's rating",
    ),
    "equipment": _equipment, "foot-forward": _foot, "foot-forward-haul": _foot_haul, "first-piece": _first,
    "tie-down": _tie, "no-kit": _no_kit, "member-load": _member, "build-choice": _build,
    "axles-and-label": _axles, "tail-angle": _tail_angle, "ramp-angle": _ramp_angle, "no-ramps": _no_ramps,
    "payload-by-label": _payload, "lamps-required": _lamps, "fold": _fold, "crest": _crest,
    "look-underneath": lambda p, metric: "Nothing here is worked out: it is looked at, with a flashlight.",
}  # fmt: skip
