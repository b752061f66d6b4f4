"""What the lines of deck, frame, ramps, lamps and the last station say."""

from __future__ import annotations

from typing import Final

from rubrail.answers.checklist_parts import Line
from rubrail.sheets.sentences_amounts import amount, feet, listed, text_in_metric
from rubrail.sheets.sentences_checklist_shared import Words, pounds
from rubrail.sheets.sentences_words import begin


def _floor(line: Line, metric: bool) -> Words:
    material = line.facts["material"]
    good = (
        "No board is split or rotten, and every screw is down."
        if line.facts["wood"]
        else "No crack, no hole, no loose edge."
    )
    return "Floor" + (f" ({material})" if material else ""), "Walk every foot of it.", good


def _fenders(line: Line, metric: bool) -> Words:
    more = " They may be driven on." if line.facts["drive_over"] else " They are not for driving on."
    return "Fenders", "Look along them and shake them.", "Straight and tight, clear of the tires." + more


def _anchors(line: Line, metric: bool) -> Words:
    said = [
        f"{n} {kind}{'s' if n > 1 else ''}".replace("-", " ").replace("D ring", "D-ring")
        for kind, n in line.facts["kinds"]
    ]
    least = line.facts["least_lb"]
    good = f"{begin(listed(said))}" if said else "As many as the unit's file says"
    good += f", the weakest with a working load limit of {pounds(least, metric)}" if least is not None else ""
    return "Places to tie to", "Count them and pull at each.", f"{good}; none bent, none cracked at its weld."


def _welds(line: Line, metric: bool) -> Words:
    f, places = line.facts, ["the coupling", "the spring hangers", "every crossmember's ends"]
    if f["neck"]:
        places.insert(1, "the neck where it meets the frame")
    spacing = (
        f" Crossmembers {amount(f['spacing_in'], 'in', metric=metric)} on center."
        if f["spacing_in"] is not None
        else ""
    )
    return (
        "Welds and beams",
        f"Look with a lamp at {listed(places)}.",
        f"No crack, no gap, no undercut; beams straight.{spacing}",
    )


def _suspension(line: Line, metric: bool) -> Words:
    if line.facts["kind"] == "independent":
        return (
            "Torsion axles",
            "Look at the arms and the bolts of each axle.",
            "Arms stand alike on both sides; bolts tight.",
        )
    if line.facts["axles"] == 1:
        return (
            "Axle and springs",
            "Look at springs and shackles, or at the torsion arms.",
            "Nothing cracked or shifted; bolts tight.",
        )
    return (
        "Springs and hangers",
        "Look at leaves, shackles and equalizers.",
        "Nothing cracked or shifted; bolts tight, bushings in place.",
    )


def _wiring(line: Line, metric: bool) -> Words:
    return (
        "Wiring underneath",
        "Follow it from the plug to the rear.",
        "Clamped, off sharp edges, away from tires and springs.",
    )


def _paint(line: Line, metric: bool) -> Words:
    color = line.facts["color"]
    return (
        "Finish and decals" + (f" ({color})" if color else ""),
        "Look along both sides.",
        "No scratch to bare metal; decals whole.",
    )


def _ramps(line: Line, metric: bool) -> Words:
    f, good = line.facts, ["pins and hinges whole"]
    one = f["count"] == 1
    them, they = ("it", "it locks") if one else ("them", "they lock")
    if f["assist"] in ("spring", "torsion bar"):
        good.append(f"springs lift {them} as they should")
    if f["assist"] == "hydraulic":
        good.append(f"no leak, {'it holds where it is' if one else 'they hold where they are'} left")
    if f["stands"]:
        good.append("legs reach the ground")
    if f["rating_lb"] is not None:
        of = "" if one else " the pair" if f["of"] == "pair" else " each"
        good.append(f"rated for {pounds(f['rating_lb'], metric)}{of}")
    name = f["kind"] if one else f"{f['count']} × {f['kind']}"
    what = ("Ramp gate" if f["kind"] == "gate" else f"Ramp ({name})") if one else f"Ramps ({name})"
    title = f"{what}, set {f['set']}" if f["set"] else what
    if f["kind"] == "slide-in":
        do, they = f"Draw {them} out, hang {them} on, and put {them} back by yourself.", f"{they} in their place"
        return title, do, f"{begin(', '.join(good))}; {they}."
    return title, f"Let {them} down and put {them} up by yourself.", f"{begin(', '.join(good))}; {they} up."


def _tail(line: Line, metric: bool) -> Words:
    what = "Tilting deck" if line.facts["kind"] == "tilt" else "Lowering tail"
    return what, "Let it down and bring it back.", "It moves smoothly, latches, and its safety pin goes in; no leak."


def _guard(line: Line, metric: bool) -> Words:
    f = line.facts
    do = "Look at it from behind, and kick it."
    if f["sure"]:
        return "Rear guard", do, "It is there, straight, and its welds or bolts are whole."
    low, back = (amount(f[k], "in", metric=metric) for k in ("low_in", "back_in"))
    good = (
        f"It needs none where the frame's rear lower edge stands {low} or less above the ground, or where the tires"
        f" end {back} or less ahead of the rear. Else it is there, straight and whole."
    )
    return "Rear guard, if it needs one", do, good


def _lamp(line: Line, metric: bool) -> Words:
    f = line.facts
    sure = "" if f["sure"] else " Whether the rules ask for it is not known."
    word = "Look that they are there and whole." if "reflector" in f["item"] else "Light them and walk around."
    place = text_in_metric(f["place"]) if metric else f["place"]
    return begin(f["item"]), word, f"{f['count']}, {f['color']}, {place}.{sure}"


def _marking(line: Line, metric: bool) -> Words:
    f = line.facts
    least = f["least_in"]
    side = (
        f"At least {feet(least, metric=metric)} on each side, spread evenly"
        if least is not None
        else "At least half of each side, spread evenly"
    )
    sure = "" if f["sure"] else " Whether the rules ask for it is not known."
    return (
        "Red and white marking",
        "Add up what each side has, in inches.",
        f"{side}; the whole width at the rear.{sure}",
    )


def _weighed(line: Line, metric: bool) -> Words:
    said = (
        f"The file says {pounds(line.facts['empty_lb'], metric)} ({line.facts['basis']})."
        if line.facts["empty_lb"]
        else "The file says none."
    )
    return (
        "Weighed empty",
        "Take it over a scale as it leaves, and keep the ticket.",
        f"{said} A ticket makes its payload true.",
    )


def _loose(line: Line, metric: bool) -> Words:
    parts = line.facts["listed"]
    good = f"On it by the unit's file: {listed(parts)}." if parts else "Nothing is listed."
    return (
        "Loose parts",
        "Put pins, keys, handles and what belongs to it in its place.",
        good + " Nothing can fall off.",
    )


REST: Final = {
    "floor": _floor,
    "fenders": _fenders,
    "anchors": _anchors,
    "welds": _welds,
    "suspension": _suspension,
    "wiring": _wiring,
    "paint": _paint,
    "ramps": _ramps,
    "tail": _tail,
    "guard": _guard,
    "lamp": _lamp,
    "marking": _marking,
    "weighed": _weighed,
    "loose parts": _loose,
}
