"""At each station of a walk: one thing the buyer can check by hand, and one caution. The trade's; no source."""

from __future__ import annotations

from collections.abc import Callable

from rubrail.answers.walk_parts import Station

TITLES = {
    "coupling": "Coupling", "chains": "Chains, breakaway and plug", "neck": "Neck", "jack": "Jack",
    "box": "Box and equipment", "deck-front": "Front of the deck", "deck": "Deck and anchors",
    "frame": "Frame and crossmembers", "running-gear": "Running gear", "tires": "Tires and wheels",
    "underneath": "Underneath", "tail": "Tail", "ramps": "Ramps", "lights": "Lights, label and papers",
}  # fmt: skip
"""What each station is called."""

HAND = {
    "coupling": "Read the size and the rating on it aloud; latch it on a ball, then try to lift it with the jack.",
    "chains": "Hook the chains up crossed: they must not drag. Pull the breakaway pin and listen for the brakes.",
    "neck": "Measure your bed rail and the neck's underside, truck loaded to tow.",
    "jack": "Crank it up and down once, all the way.",
    "box": "Put a hand on each piece: it must be bolted fast and clear of load and wires.",
    "deck-front": "Mark with chalk where your bucket or blade would end.",
    "deck": "Count the anchors where your machine needs them, and look at each weld.",
    "frame": "Measure from one crossmember to the next with a tape.",
    "running-gear": "Read the tag on the axle and hold it against the label.",
    "tires": "Put a gauge on one tire, cold, and read its date code.",
    "underneath": "Look along the wiring and at both sides of every weld with a flashlight.",
    "tail": "Lay an angle gauge on the slope, trailer level.",
    "ramps": "Let the ramps down and put them up again alone.",
    "lights": "Walk behind it with brake, turn signals and lamps on; photograph the label.",
}
"""What the buyer tries for himself."""

CAUTIONS = {
    "coupling": "The weakest of ball, hitch, coupler and chains governs, whatever the truck is said to tow.",
    "chains": "Never hang the breakaway cable on a chain hook: it must pull by itself.",
    "neck": "Rails come closest where the ground dips; measure with the load on.",
    "jack": "Never load it unhitched: a machine on the tail lifts the nose.",
    "box": "Whatever is bolted on or packed here comes off what you may carry.",
    "deck-front": "All the way forward overloads the truck; all the way back makes the trailer sway.",
    "deck": "A ring without a mark has no known working load: it counts for nothing.",
    "frame": "A rating for the whole deck says nothing of the same load in ten feet.",
    "running-gear": "Wheel nuts are tightened again after the first 10, 25 and 50 miles.",
    "tires": "They carry what they say only at the pressure they say it for.",
    "underneath": "Do not drill or weld the main beams after the sale without asking the maker.",
    "tail": "A belly hangs up where slope meets deck: pass the crest slowly and straight.",
    "ramps": "Chock the trailer's wheels before you load; nobody stands behind or beside the machine.",
    "lights": "The label governs; the number in its name is no rating.",
}
"""What to mind there."""

_TONGUE_HAND = "Measure from your bumper to the deck's front corner, truck and trailer straight."
_TONGUE_CAUTION = "A long load over the tongue strikes the truck when you back in a tight turn."
_BALL_CAUTION = "A 2 in ball under a 2-5/16 in coupler does not hold, not even across town."
_EYE_HAND = "Read the rating on eye and hook aloud; close the hook on the eye and pin it."
_PIN_HAND = "Read the size of the pin; look that its plate lies flat and its bolts are all there."
_NO_RAMPS = "Ask how you would load it where you work."
_TORSION = "Nose high or nose low, torsion axles do not share the load."
_TAIL = {
    "lowering": "Keep hands and feet clear of the tail while it moves, and lock it before the road.",
    "tilt": "Lock the deck before the road; it comes level with the machine on it, so creep.",
}
_TAIL_HAND = {
    "lowering": "Lower the tail, lay an angle gauge on it, and look that it locks when it is up again.",
    "tilt": "Unlock and tilt the deck, lay an angle gauge on it, and look that it locks when it is level again.",
}
_RAMPS_HAND = {
    "gate": "Let the gate down and latch it up again, alone.",
    "slide-in": "Pull a ramp out, hang it on, and push it home again, alone.",
}
_TWO_SPEED = "Crank it up and down once, in both speeds."
_OPEN = "Open it, look at its floor and its lock, and see what bolts it down."
_TRAY = "Look at its floor and drains, and see what bolts it down."
_PACKED = "What is packed here is weight on the coupler, and it comes off what you may carry."
_HOOK = "Hook the chains up crossed: they must not drag, and must let it turn."
_HOOK_OVER_BED = "Hook the chains up in the bed: slack enough to turn, and no more."
_PULL = "Pull the breakaway pin and listen for the brakes."
_AIR = "With air up, take the supply line off: the brakes must go on by themselves."
_AIR_CAUTION = "Drain the air tank as the maker says: water in it freezes, and then brakes fail."
_CROSSED = "Chains are crossed under the tongue, so that they catch it if the coupler comes off."


def title_of(station: Station) -> str:
    """What the station is called on this unit."""
    part = station.fact("part")
    if station.key == "box" and not _holds(station, "box", "tray"):
        return "Equipment"
    return "Tongue" if part and part.word == "tongue" else TITLES[station.key]


def _holds(station: Station, *words: str) -> bool:
    """Whether a piece of equipment is called by one of these words."""
    return any(w in f.word.lower() or w in f.name for f in station.facts for w in words)


def _word(station: Station, name: str) -> str:
    fact = station.fact(name)
    return fact.word if fact else ""


def _air(station: Station) -> bool:
    return _word(station, "plug").startswith("air")


def _no_breakaway(station: Station) -> bool:
    """Whether there is none to try: none is fitted, or nobody said and no axle has brakes that it could set."""
    fitted = _word(station, "breakaway")
    return fitted == "none" or (not fitted and bool(_word(station, "unbraked")))


def by_hand(station: Station) -> str:
    """One thing the buyer can check."""
    found = _BY_HAND.get(station.key, lambda s: "")(station)
    return found or HAND[station.key]


def _chains(s: Station) -> str:
    count, over_bed = s.fact("count"), _word(s, "over_bed") == "yes"
    hook = "" if count and count.value == 0 else _HOOK_OVER_BED if over_bed else _HOOK
    away = "" if _no_breakaway(s) else _AIR if _air(s) else _PULL
    return " ".join(filter(None, (hook, away)))


def _box(s: Station) -> str:
    return _OPEN if _holds(s, "box") else _TRAY if _holds(s, "tray") else ""


def _ramps(s: Station) -> str:
    kind = _word(s, "kind")
    return _NO_RAMPS if kind in ("", "none") else _RAMPS_HAND.get(kind, "")


_BY_HAND: dict[str, Callable[[Station], str]] = {
    "coupling": lambda s: {"pintle": _EYE_HAND, "kingpin": _PIN_HAND}.get(_word(s, "kind"), ""),
    "chains": _chains,
    "neck": lambda s: _TONGUE_HAND if title_of(s) == "Tongue" else "",
    "jack": lambda s: _TWO_SPEED if _word(s, "kind") == "two-speed" else "",
    "box": _box,
    "tail": lambda s: _TAIL_HAND.get(_word(s, "tail_kind"), ""),
    "ramps": _ramps,
}


def caution_of(station: Station) -> str:
    """One thing to mind."""
    key = station.key
    if key == "coupling":
        ball = station.fact("ball_size_in")
        if _word(station, "kind") == "ball" and ball is not None and ball.value > 2.2:
            return _BALL_CAUTION
    if key == "chains" and _air(station):
        return _AIR_CAUTION
    if key == "chains" and _no_breakaway(station):
        return _CROSSED
    if key == "neck" and title_of(station) == "Tongue":
        return _TONGUE_CAUTION
    if key == "box" and _holds(station, "box", "tray"):
        return _PACKED
    if key == "tail":
        return _TAIL.get(_word(station, "tail_kind"), CAUTIONS["tail"])
    if key == "running-gear" and _word(station, "suspension") == "independent" and station.fact("axles").value > 1:
        return _TORSION
    return CAUTIONS[key]
