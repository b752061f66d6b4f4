"""What the lines of a hand-over say: what is read, measured and tried on the truck with the trailer on it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from rubrail.answers.checklist_parts import Line
from rubrail.rules.tables import table
from rubrail.sheets.paper.facts import sixteenths
from rubrail.sheets.sentences_amounts import amount, listed
from rubrail.sheets.sentences_checklist_shared import Words, pounds


def _filed(line: Line, metric: bool, *, size: bool = False) -> str:
    """What the files have for the places of a line."""
    said = []
    for place, value in zip(line.places, line.facts["filed"], strict=True):
        if value is not None:
            text = sixteenths(value) if size else amount(value, line.unit, metric=metric)
            said.append(f"{place} {text}" if len(line.places) > 1 else text)
    return f"On file: {listed(list(dict.fromkeys(said)))}." if said else "Nothing is on file."


def _read(title: str, do: str, *, size: bool = False) -> Callable[[Line, bool], Words]:
    return lambda line, metric: (title, do, _filed(line, metric, size=size))


def _plain(title: str, do: str, good: str) -> Callable[[Line, bool], Words]:
    return lambda line, metric: (title, do, good)


def _this_truck(line: Line, metric: bool) -> Words:
    said = line.facts["truck"]
    good = f"The truck of the haul: {said}." if said else "The truck that will pull it."
    return "This truck", "Write down its plate or the last eight of its VIN.", good


def _tires(end: str) -> Callable[[Line, bool], Words]:
    return _plain(
        f"Truck's {end} tires",
        f"Gauge every {end} tire of the truck cold.",
        "The pressure on the door label for this load; the lowest counts.",
    )


def _ball(line: Line, metric: bool) -> Words:
    good = f"The same on both. {_filed(line, metric, size=True)}"
    return "Size of ball and coupler", "Read both stamps.", good


_COUPLED: Final = {
    "ball": "The latch closes, its pin is in, and the rig lifts by the jack without the coupler coming off.",
    "gooseneck": "It is locked, its pin is in, and the neck lifts the truck's bed by the jack.",
    "kingpin": "The jaws are closed around the pin, by lamp; no gap between the plates; it holds a pull.",
    "pintle": "The jaw is closed, latched and pinned.",
}


def _coupled(line: Line, metric: bool) -> Words:
    return "Coupled and locked", "Look underneath, and try to lift it off.", _COUPLED[line.facts["kind"]]


def _chains_on(line: Line, metric: bool) -> Words:
    f = line.facts
    how = "crossed under the coupler" if f["kind"] in ("ball", "pintle") else "on the points made for them"
    held = f" Together {pounds(f['together_lb'], metric)} by the unit's file." if f["together_lb"] is not None else ""
    many = "Both are" if f["count"] == 2 else "They are"
    return (
        "Safety chains", "Hook them to the truck's frame or hitch.",
        f"{many} {how}, slack enough to turn, none drags, every hook is latched.{held}",
    )  # fmt: skip


def _plugged(line: Line, metric: bool) -> Words:
    plug = line.facts["plug"]
    return "Plug", "Plug it in, and lock it.", f"{plug} on both, tried with every lamp." if plug else (
        "The same on both, tried with every lamp."
    )  # fmt: skip


def _shown(line: Line, metric: bool) -> Words:
    ramps = " ramps down and up," if line.facts["ramps"] else ""
    return (
        "Loading shown",
        "Load with the buyer, or show it without the machine.",
        f"Level ground, hitched, wheels chocked;{ramps} where the machine stands, and where it is tied.",
    )


def _papers(line: Line, metric: bool) -> Words:
    which = "certificate of origin or bill of sale" if line.facts["new"] else "title or bill of sale"
    return "Papers handed over", "Lay them in the buyer's hand.", f"The {which}, manuals, warranty, keys."


def _days(line: Line, metric: bool) -> Words:
    miles = {
        sort: listed([f"{r['miles']:g}" for r in table("follow-up")["rows"] if r["sort"] == sort and r.get("miles")])
        for sort in ("wheel-nuts", "brakes")
    }
    good = (
        f"Wheel nuts again at {miles['wheel-nuts']} miles; brakes that are adjusted by hand at about"
        f" {miles['brakes']} miles; tire pressures cold before each trip."
    )
    return "Days told", "Say them, and point at them on the sheet.", good


HANDOVER: Final[dict[str, Callable[[Line, bool], Words]]] = {
    "this truck": _this_truck,
    "door-label": _read("Truck's door label", "Read the ratings off the label in the door frame."),
    "front-tires": _tires("front"),
    "front-sidewall-load": _read("Front tire: most load", "Read it off the sidewall, the figure for a single tire."),
    "front-sidewall-pressure": _read("Front tire: pressure of that load", "Read it off the sidewall."),
    "rear-tires": _tires("rear"),
    "rear-sidewall-load": _read(
        "Rear tire: most load", "Read it off the sidewall, the dual figure where the wheels are dual."
    ),
    "rear-sidewall-pressure": _read("Rear tire: pressure of that load", "Read it off the sidewall."),
    "controller": _plain(
        "Brake controller",
        "Plug in, and press its lever by hand.",
        "It is there, sees the trailer, and the trailer's brakes answer.",
    ),
    "gain": _plain("Gain of the controller", "Write down what it is set to.", "Set on a slow stop with this trailer."),
    "mirrors": _plain("Mirrors", "Sit in the driver's seat.", "Both sides of the trailer are seen to its end."),
    "ball": _ball,
    "ball-rating": _read("Ball's rating", "Read the stamp on top of the ball."),
    "hitch-rating": _read("Hitch's ratings", "Read the plate of receiver or bed hitch, the line of the kind in use."),
    "coupled": _coupled,
    "ball-height": _read("Height of the ball", "Tape it from the ground, trailer on, loaded if the machine is here."),
    "level": _read("Level", "Tape the level deck's top at its front and its rear edge, hitched, on level ground."),
    "rail": _read("Bed rail", "Tape from the ground to the top of the bed rail."),
    "neck": _read("Neck's underside", "Tape from the ground to the neck over the bed, trailer level."),
    "neck-room": _read("Neck over the rail", "Tape the least room between neck and bed rail, hitched."),
    "cab-room": _read("Hitch to cab", "Tape from the middle of the hitch to the back of the cab."),
    "tailgate": _plain(
        "Tailgate", "Open and shut it with the trailer on.", "It clears jack, neck and tongue, or stays off."
    ),
    "chains on": _chains_on,
    "breakaway on": _plain(
        "Breakaway cable",
        "Clip it to the truck's frame.",
        "Not on a chain hook, not on the ball mount; slack to turn, but it pulls before the chains go tight.",
    ),
    "plugged": _plugged,
    "jack up": _plain("Jack", "Crank it up, pin it.", "Up, its foot off or swung away, the pin in."),
    "brakes tried": _plain(
        "Brakes on the road",
        "Roll at walking pace, press the controller's lever or the brakes.",
        "The trailer stops the rig; no wheel drags after.",
    ),
    "lamps together": _plain(
        "Lamps", "Walk around it while somebody works them in the cab.", "Tail, brake, both turns, clearance, plate."
    ),
    "shown loading": _shown,
    "limits card": _plain(
        "Limits card", "Print it from the rig's page, hand it over.", "In the glove box, and read through together."
    ),
    "papers given": _papers,
    "agency": _plain(
        "License and plates",
        "Say what the sheet of thresholds says.",
        "The buyer knows to ask the agency; this yard gives no ruling.",
    ),
    "told days": _days,
}
