"""What each station of a walk does, one short sentence a point: said to a buyer, shown on every face."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from rubrail.answers.walk_parts import Point
from rubrail.sheets.sentences_amounts import amount, feet, listed
from rubrail.sheets.sentences_walk_checks import ask_out, check_sentence, slope, subject
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
    if point.key in OWN:
        return OWN[point.key](point, metric)
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
        return f"Not known: what a foot forward puts on the coupler; {ask_out(p)}."
    return f"A foot farther forward, your load puts {amount(more, 'lb', metric=metric)} more on the coupler."


def _first(p: Point, metric: bool) -> str:
    who, behind = begin(called(p.about, what="machine")), p.get("behind")
    if math.isnan(behind):
        return f"Not known: where {called(p.about, what='machine')} stands from the front of the deck."
    ends = "front" if p.words[0] == "front-first" else "rear"
    verb = subject(called(p.about, what="machine"))
    stand, reach = f"stand{verb['s']}", f"reach{verb['es']}"
    if behind < 0:
        return f"{who} {stand} {ends} first and {reach} {feet(-behind, metric=metric)} ahead of the deck's front."
    if behind < 0.05:
        return f"{who} {stand} {ends} first, right at the deck's front."
    return f"{who} {stand} {ends} first, {feet(behind, metric=metric)} behind the deck's front."


def _left(p: Point, metric: bool) -> str:
    left = p.get("left")
    if p.verdict == "not known":
        return f"Not known: what the label leaves beside your haul; {ask_out(p)}."
    if left < 0:
        return f"Your haul is over the label by {amount(-left, 'lb', metric=metric)}: it leaves nothing for more."
    doubt = ", within the doubt" if p.verdict == "depends" else ""
    some = amount(left, "lb", metric=metric)
    some = "nothing" if some.startswith("0 ") else some
    return f"Beside your haul the label leaves {some} for what goes in or on here{doubt}."


def _breakaway(p: Point, metric: bool) -> str:
    if p.verdict == "clear":
        return {
            "fitted": "A breakaway device is fitted.",
            "none": "At this weight, braked as it is, it needs no breakaway device.",
        }.get(next(iter(p.words), ""), "At this weight it needs no breakaway device.")
    return check_sentence(p, metric=metric)


def _tie(p: Point, metric: bool) -> str:
    of = f" of {called(p.about, what='machine')}" if p.about else ""
    if not p.words:
        why = p.line.title if p.line and p.verdict != "not known" else ask_out(p)
        return f"No plan of tie-downs{of} was found with the yard's gear: {why}."
    used = f"The plan{of} uses {p.get('anchors'):.0f} anchors: {_grouped(p.words)}"
    if p.verdict == "clear":
        return f"{used}."
    if p.verdict == "not known":
        return f"{used}; whether it holds is not known: {ask_out(p)}."
    why = f": {p.line.title}" if p.line else ""
    return f"{used}; {'it falls short' if p.verdict == 'over' else 'it depends'}{why}."


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
        even = amount(p.get("even"), "lb", metric=metric)
        alike = even == amount(most, "lb", metric=metric)
        said += f"; {p.get('members'):.1f} lie under it, {'evenly loaded' if alike else f'{even} each if evenly'}"
    ask = " No rating is known: ask the maker for the load allowed, and in how many feet."
    return f"{said}.{ask if 'first' in p.words else ''}"


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
        whose = "axle's" if p.get("count") == 1 else "axles'"
        return f"The label, {gvwr}, is the {whose} {axles} and {more} that the truck must carry."
    if p.get("count") == 1:
        return f"The axle is rated {axles}; the label says {gvwr}."
    return f"The axles are rated {axles} together; the label says {gvwr}."


def _tail_angle(p: Point, metric: bool) -> str:
    if p.needs:
        return f"Not known: how steep it is; {ask_out(p)}."
    what = "Tilted, it" if "tilt" in p.words else "Lowered, it" if "lowering" in p.words else "It"
    return f"{what} slopes {slope(p.get('angle'))}." if p.get("angle") > 0 else "It stays level."


def _ramp_angle(p: Point, metric: bool) -> str:
    if p.needs:
        return f"Not known: how steep the ramps stand; {ask_out(p)}."
    edge, length = (amount(p.get(n), "in", metric=metric) for n in ("edge", "length"))
    what = "A gate" if "gate" in p.words else "A ramp"
    return f"{what} of {length} on an edge {edge} high stands at {slope(p.get('angle'))}."


def _no_ramps(p: Point, metric: bool) -> str:
    if p.words[0]:
        return "One loads it from a dock, with a loader, or over ramps one brings."
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


OWN: dict[str, Callable[[Point, bool], str]] = {
    "coupler-carries-label": _against(
        "The coupler is rated for {limit}; the label says {demand}",
        "The coupler is rated for {limit}, less than the label's {demand}",
        "whether the coupler carries what the label says",
    ),
    "chains-carry-label": _against(
        "The chains together break at {limit}; the label says {demand}",
        "The chains together break at {limit}, less than the label's {demand}",
        "whether the chains are as strong as the label is heavy",
    ),
    "jack-holds": _against(
        "The jack holds {limit}; empty, the nose puts {demand} on it",
        "The jack holds {limit}, less than the {demand} of the empty nose",
        "whether the jack holds the empty nose",
    ),
    "jack-loaded": _against(
        "Unhitched with this load on, the nose puts {demand} on the jack, which holds {limit}",
        "Unhitched with this load on, the nose puts {demand} on the jack, which holds only {limit}",
        "whether the jack holds the loaded nose",
    ),
    "tires-for-axle": _against(
        "At full pressure the tires of an axle carry {limit}; the axle is rated {demand}",
        "Even at full pressure the tires of an axle carry {limit}, less than the axle's {demand}",
        "whether the tires carry the axle's rating",
    ),
    "equipment": _equipment, "foot-forward": _foot, "foot-forward-haul": _foot_haul, "first-piece": _first,
    "tie-down": _tie, "no-kit": _no_kit, "member-load": _member, "build-choice": _build,
    "axles-and-label": _axles, "tail-angle": _tail_angle, "ramp-angle": _ramp_angle, "no-ramps": _no_ramps,
    "payload-by-label": _payload, "lamps-required": _lamps, "fold": _fold, "crest": _crest,
    "left-by-label": _left, "breakaway": _breakaway,
}  # fmt: skip
