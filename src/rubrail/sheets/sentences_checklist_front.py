"""What the lines of label, coupling, chains and jack say."""

from __future__ import annotations

from typing import Final

from rubrail.answers.checklist_parts import Line
from rubrail.sheets.paper.facts import sixteenths
from rubrail.sheets.sentences_amounts import amount, listed
from rubrail.sheets.sentences_checklist_shared import Words, axle_of, pounds
from rubrail.sheets.sentences_words import begin

_COUPLINGS: Final = {"ball": "coupler", "gooseneck": "gooseneck coupler", "kingpin": "kingpin", "pintle": "pintle eye"}


def _vin(line: Line, metric: bool) -> Words:
    wanted = line.facts["wanted"]
    good = f"The same as in the unit's file: {wanted}." if wanted else "17 characters whose check digit agrees."
    return "VIN on the label", "Read it off the label, letter by letter, and type it in.", good


def _ratings(line: Line, metric: bool) -> Words:
    said = [f"{p} {pounds(v, metric)}" for p, v in zip(line.places, line.exact, strict=False)]
    good = f"As in the unit's file: {listed(said)}." if said else "What the label says; it governs."
    return "Ratings on the label", "Type the ratings as the certification label prints them.", good


def _placard(line: Line, metric: bool) -> Words:
    f = line.facts
    good = f"It is there, for the label says {pounds(f['to_lb'], metric)} or less."
    if f["gvwr_lb"] is None:
        good = f"It is there where the label says {pounds(f['to_lb'], metric)} or less."
    if f["gvwr_lb"] is not None and f["empty_lb"] is not None:
        left = amount(f["gvwr_lb"] - f["empty_lb"], "lb", metric=metric)
        good += f" No more than {left}: the GVWR less the empty weight ({f['basis']})."
    return "Placard of tires and loading", "Beside the label: type the cargo it allows.", good


def _label_photo(line: Line, metric: bool) -> Words:
    return "Photo of the label", "Take it square on, so that every figure can be read.", "VIN and all ratings legible."


def _papers(line: Line, metric: bool) -> Words:
    which = "certificate of origin" if line.facts["new"] else "title"
    return "Papers", "Lay them beside the unit.", f"The {which} bears this VIN; manuals and warranty papers are there."


def _stamp(line: Line, metric: bool) -> Words:
    f = line.facts
    part, ball = _COUPLINGS[f["kind"]], f["ball_size_in"]
    size = {"ball": "made for a {} ball", "gooseneck": "made for a {} ball", "pintle": "{} eye", "kingpin": "{} pin"}
    good = [size[f["kind"]].format(sixteenths(ball))] if ball is not None else []
    if f["rated_lb"] is None and f["gvwr_lb"] is not None:
        good.append(f"rated for {pounds(f['gvwr_lb'], metric)} or more, the label's GVWR")
    elif f["rated_lb"] is not None:
        good.append(f"rated for {pounds(f['rated_lb'], metric)}, the label's GVWR is {pounds(f['gvwr_lb'], metric)}")
    return f"{begin(part)}: size and rating", "Read both off its stamp.", f"{begin('; '.join(good))}." if good else ""


_LOCKS: Final = {
    "ball": (
        "Close it on a ball of its size, lift, and try to open it.",
        "The latch closes fully, its pin goes through, nothing is bent or worn.",
    ),
    "gooseneck": (
        "Drop it on a ball of its size, lock it, and lift.",
        "It locks, its pin goes through, and the tube's bolts and pin are in place.",
    ),
    "kingpin": (
        "Look at pin and plate with a lamp.",
        "The pin is straight, not worn or cracked, and the plate sits tight.",
    ),
    "pintle": ("Look at the eye and how it is bolted.", "The eye is round, not worn thin, its bolts are tight."),
}  # fmt: skip


def _lock(line: Line, metric: bool) -> Words:
    do, good = _LOCKS[line.facts["kind"]]
    return f"{begin(_COUPLINGS[line.facts['kind']])}: lock and wear", do, good


def _height(line: Line, metric: bool) -> Words:
    low, high = (amount(line.facts[k], "in", metric=metric) for k in ("low_in", "high_in"))
    part = {"ball": "the ball's center", "gooseneck": "the ball's center", "pintle": "the eye's center"}
    do = f"Try its settings. Then measure from the ground to {part[line.facts['kind']]}, the deck level."
    return "Height of the coupling", do, f"It goes from {low} to {high} and its bolts or pin hold it."


def _chains(line: Line, metric: bool) -> Words:
    f = line.facts
    said = [f"{f['count']} chains"] if f["count"] is not None else []
    if f["size_in"] is not None:
        said.append(sixteenths(f["size_in"]) + (f", grade {f['grade']}" if f["grade"] else ""))
    if f["together_lb"] is not None:
        said.append(f"together {pounds(f['together_lb'], metric)} against a GVWR of {pounds(f['gvwr_lb'], metric)}")
    elif f["gvwr_lb"] is not None:
        said.append(f"together at least {pounds(f['gvwr_lb'], metric)}, the label's GVWR")
    good = f"{begin(', '.join(said))}." if said else "Together as strong as the loaded trailer is heavy."
    return "Safety chains", "Count them and read the grade mark on the links.", good


def _hooks(line: Line, metric: bool) -> Words:
    return (
        "Chain hooks",
        "Cross the chains under the coupling.",
        "Every hook has its latch; the chains reach and do not drag.",
    )


def _breakaway(line: Line, metric: bool) -> Words:
    f = line.facts
    do = "Unhitched and chocked, pull the pin, and try to move the trailer; push the pin back in after."
    if f["air"]:
        do = "Chocked, let the air out of the supply line, and try to move the trailer."
    which = "enough of its brakes" if f["partial"] else "every braked wheel"
    good = f"The brakes lock at once on {which}, and hold {f['hold_min']:g} minutes."
    if f["fitted"] is False:
        good += " The unit's file says none is fitted: a trailer with brakes needs one."
    return "Breakaway", do, good


def _battery(line: Line, metric: bool) -> Words:
    return "Breakaway battery", "Measure it at rest, off the charger.", f"At least {line.least:g} V."


def _cable(line: Line, metric: bool) -> Words:
    return (
        "Breakaway cable",
        "Follow it from the pin to its end.",
        "It hangs free, is not worn, and does not end on a chain hook.",
    )


def _no_brakes(line: Line, metric: bool) -> Words:
    gvwr, limit = (pounds(line.facts[k], metric) for k in ("gvwr_lb", "from_lb"))
    good = (
        f"In business use brakes are needed on every wheel above {limit} loaded; this label says {gvwr}."
        " States have their own line. The buyer knows it."
    )
    if "axle" in line.facts:
        return f"No brakes, {axle_of(line)}", "Look: the unit's file says this axle has none.", good
    return "No brakes", "Look at every wheel: the unit's file says there are no brakes.", good


def _air_lines(line: Line, metric: bool) -> Words:
    return (
        "Air lines",
        "Look at hoses, couplings and their seals; drain the tank; listen with the brakes full on.",
        "Seals whole, no hose chafed or kinked, the tank's drain closes, no air is heard.",
    )


def _plug(line: Line, metric: bool) -> Words:
    return "Plug", "Look at its pins and where the cable is clamped.", (
        f"{line.facts['plug']}, pins bright and straight, cable whole." if line.facts["plug"] != "not known"
        else "Pins bright and straight, cable whole."
    )  # fmt: skip


def _jack(line: Line, metric: bool) -> Words:
    f = line.facts
    if f["rated_lb"] is not None and f["load_lb"] is not None:
        rated = (
            f" It is rated for {pounds(f['rated_lb'], metric)}; empty, {pounds(f['load_lb'], metric)} stands on it."
        )
    elif f["rated_lb"] is not None:
        rated = f" It is rated for {pounds(f['rated_lb'], metric)}."
    elif f["load_lb"] is not None:
        rated = f" Empty, {pounds(f['load_lb'], metric)} stands on it: its plate says as much or more."
    else:
        rated = ""
    if f["count"] > 1:
        good = "Both run freely, hold, and have pin and foot." if f["count"] == 2 else "All run freely and hold."
        rated = rated.replace(" It is rated", " Together they are rated").replace("stands on it", "stands on them")
        return "Jacks", "Crank them up and down over their travel.", good + rated
    return (
        "Jack",
        "Crank it up and down over its travel.",
        f"It runs freely, holds, and its pin and foot are there.{rated}",
    )


FRONT: Final = {
    "vin": _vin,
    "ratings": _ratings,
    "placard": _placard,
    "label photo": _label_photo,
    "papers": _papers,
    "coupling stamp": _stamp,
    "coupling lock": _lock,
    "coupling height": _height,
    "chains": _chains,
    "chain hooks": _hooks,
    "breakaway": _breakaway,
    "battery": _battery,
    "breakaway cable": _cable,
    "air lines": _air_lines,
    "no brakes": _no_brakes,
    "plug": _plug,
    "jack": _jack,
}
