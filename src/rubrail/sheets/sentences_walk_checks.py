"""What a check says at a station of a walk, told to the buyer: one short sentence, never worded as a pass unknown."""

from __future__ import annotations

import math

from rubrail.answers.report import Line
from rubrail.answers.walk_parts import Point
from rubrail.checks.rows import TOLD_KINDS
from rubrail.quantity.show import show_feet
from rubrail.sheets.sentences_amounts import MINUS, amount, feet, listed, percent
from rubrail.sheets.sentences_lines import ask_for, line_sentence, spare, yes_or_no
from rubrail.sheets.sentences_words import begin, called, need_phrase

LEVEL_IN = 0.05
"""A trailer nearer to level than this, in ten feet, is called level."""
FEW = 2
"""Things to find out named in one sentence."""


def check_sentence(point: Point, *, brief: bool = False, metric: bool = False) -> str:
    """A check, said to the buyer."""
    line = point.line
    assert line is not None
    who = who_of(point.about)
    if line.verdict == "not known":
        return f"Not known: {line.title}{f', {who}' if who else ''}; {ask_out(point, line)}."
    if line.kind in TOLD_KINDS:
        said = _DUTIES.get(line.check, {}).get(line.verdict)
        return said or line_sentence(line, metric=metric)
    if line.check in _YES_NO:
        yes, no = _YES_NO[line.check]
        if line.verdict == "depends" and line.margin >= 0:
            return f"{yes.rstrip('.')}{_doubt(line, brief)}."
        return yes if line.margin >= 0 else no
    if line.check == "coupler-uplift":
        return _uplift(line, brief, metric)
    if line.check in _LIFTS and line.margin < 0:
        return _LIFTS[line.check]
    if abs(line.demand) < LEVEL_IN and line.check in _NOTHING and line.margin >= 0:
        limit = amount(line.limit, line.unit, metric=metric)
        doubt = _doubt(line, brief) if line.verdict == "depends" else ""
        return f"{_NOTHING[line.check].format(limit=limit)}{doubt}."
    template = _CHECKS.get(line.check)
    if line.check in _PAST and line.margin < 0:
        short = _number(line.check, -line.margin, line.unit, metric)
        return f"{begin(_PAST[line.check].format(short=short, **subject(who or 'the load')))}."
    if line.check in _REACHES and line.margin >= 0:
        template = "{who} stay{s} behind the deck's front"
    if template is None or yes_or_no(line) or not math.isfinite(line.demand + line.limit):
        return line_sentence(line, metric=metric)
    said = template.format(
        demand=_number(line.check, line.demand, line.unit, metric),
        limit=_number(line.check, line.limit, line.unit, metric),
        short=_number(line.check, abs(line.margin), line.unit, metric),
        **subject(who or ("the machine" if line.group == "loading" else "the load")),
    )
    return f"{begin(said)}{_tail(line, brief, metric)}"


def subject(who: str) -> dict[str, str]:
    """A thing with the endings its verbs take."""
    many = who.endswith("s") and not who.endswith("ss")
    return {"who": who, "s": "" if many else "s", "es": "" if many else "es", "is_": "are" if many else "is"}


def _tail(line: Line, brief: bool, metric: bool) -> str:
    advice = line.kind == "guidance"
    if line.verdict == "over":
        return (
            f": over by {amount(-line.margin, line.unit, metric=metric)}{', by guidance, not law' if advice else ''}."
        )
    left = "" if line.check in _LIFTS else spare(line, metric=metric)
    if line.check in _IN_FEET and line.margin >= 24:
        left = f"{_number(line.check, line.margin, line.unit, metric)} to spare"
    if line.check in ("axle-tires", "axle-wheels", "axle-group", "axle") and line.margin >= 0:
        left = f"{percent(line.share)} in reserve"
    if line.verdict == "depends":
        return f": {left}{_doubt(line, brief)}." if left else f"{_doubt(line, brief)}."
    return f": {left}." if left else "."


def _doubt(line: Line, brief: bool) -> str:
    """That a line holds only within what is in doubt, and what would settle it."""
    first = f"; to be sure, measure {need_phrase(line.settle[0])}" if line.settle and not brief else ""
    return f", within the doubt{first}"


def _number(check: str, value: float, unit: str, metric: bool) -> str:
    if unit == "rad":
        return slope(value)
    if check in _IN_FEET:
        return tape(value, metric=metric)
    return amount(value, unit, metric=metric)


def tape(value_in: float, *, metric: bool = False) -> str:
    """A length to the quarter inch, so that what is left over adds up: ``10 ft 11.5 in``."""
    return feet(value_in, metric=metric) if metric or abs(value_in) < 24 else show_feet(value_in).replace("-", MINUS)


def slope(angle_rad: float) -> str:
    """An angle as a yard says it: ``18.5° (33 %)``."""
    if math.isnan(angle_rad):
        return "not known"
    return f"{math.degrees(angle_rad):.1f}° ({100 * math.tan(angle_rad):.0f} %)"


def who_of(about: str) -> str:
    """What a line is about inside a sentence: a machine by its name, an axle as it is."""
    return (
        called(about, what="machine")
        if about and not about.startswith(("axle", "gear", "truck", "trailer"))
        else about
    )


def ask_out(point: Point, line: Line | None = None, *, few: int = FEW) -> str:
    """What to find out where a point is not known."""
    needs = point.needs[:few]
    if needs:
        more = len(point.needs) - len(needs)
        return f"find out {listed([need_phrase(n) for n in needs])}{f', and {more} more' if more else ''}"
    return ask_for((), line.ask if line else "")


def _uplift(line: Line, brief: bool, metric: bool) -> str:
    least = amount(abs(line.limit), "lb", metric=metric)
    if line.limit < 0:
        held = "held by its latch alone: pin the latch and chock the wheels"
        return f"While it drives on, the coupler pulls up with {least}, {held}."
    doubt = _doubt(line, brief) if line.verdict == "depends" else ""
    return f"While it drives on, the coupler keeps at least {least}{doubt}."


_CHECKS = {
    "coupler-vertical": "your haul puts {demand} on the coupler, rated for {limit}",
    "hitch-vertical": "your hitch may carry {limit}, and your haul puts {demand} on it",
    "coupler-gross": "loaded, the trailer weighs {demand}; the coupler is rated for {limit}",
    "hitch-gross": "loaded, the trailer weighs {demand}; your hitch is rated for {limit}",
    "gooseneck-ball": "loaded, the trailer weighs {demand}; a ball of this size is for {limit}",
    "coupler-share-low": "guidance wants at least {demand} on the coupler, and your haul puts {limit} there",
    "coupler-share-high": "guidance wants at most {limit} on the coupler, and your haul puts {demand} there",
    "chain-strength": "the chains together break at {limit}; the loaded trailer weighs {demand}",
    "gooseneck-chains": "the chains together break at {limit}; the loaded trailer weighs {demand}",
    "trailer-gross": "loaded, the trailer weighs {demand}; its label allows {limit}",
    "neck-clearance": "the neck clears your bed rail by {limit}; guidance asks for {demand}",
    "neck-over-rail": "your bed rail is {demand} high, the neck's underside {limit}",
    "neck-swing": "the neck's corner swings {demand} toward the cab, which is {limit} away",
    "level-trim": "hitched to your truck, it stands {demand} off level in ten feet; guidance allows {limit}",
    "hitch-too-low": "your hitch is {limit} high, and the coupler sets no lower than {demand}",
    "hitch-too-high": "your hitch is {demand} high, and the coupler sets no higher than {limit}",
    "overall-height": "loaded, it stands {demand} high; the road allows {limit}",
    "overall-width": "it is {demand} wide; the road allows {limit}",
    "between-fenders": "{who} {is_} {demand} wide, and the fenders are {limit} apart",
    "deck-width": "{who} stand{s} {demand} wide on a deck of {limit}",
    "deck-rear": "{who} end{s} {demand} behind the coupling, and the level deck {limit}",
    "deck-front": "{who} begin{s} {limit} behind the coupling, and the deck {demand}",
    "body-clear-of-neck": "{who} reach{es} {short} ahead of the deck",
    "body-over-tongue": "{who} reach{es} {short} out over the tongue",
    "axle-group": "the running gear carries {demand} of {limit}",
    "axle": "the axle with most on it carries {demand} of {limit}",
    "axle-while-loading": "while it drives on, one axle carries up to {demand} of {limit}",
    "axle-tires": "the tires of an axle carry {demand} of {limit}",
    "axle-wheels": "the wheels of an axle carry {demand} of {limit}",
    "belly-clearance": "over the crest the edge rises {demand} under its belly, which stands {limit} up",
    "climb-slope": "{who} drive{s} up {demand}; the manual allows {limit}",
    "climb-grip": "it needs a grip of {demand}; this surface, dry, gives {limit}",
    "nose-clearance": "its leading end meets a slope of {demand} and clears {limit}",
    "tail-clearance": "its trailing end meets a slope of {demand} and clears {limit}",
    "ramp-pair": "at most {demand} stands on the ramps, rated {limit} together",
    "ramp-each": "at most {demand} stands on one ramp, rated {limit}",
    "ramp-bending": "a ramp is bent to {demand}; {limit} is allowed",
    "ramp-outside": "its tires or tracks run {demand} from the middle; the ramps reach out to {limit}",
    "ramp-inside": "its tires or tracks run {limit} from the middle; the gap between the ramps ends at {demand}",
    "uphill-light": "on the ramps its uphill end keeps {limit}; guidance asks for {demand}",
    "truck-rear-light": "while it drives on, your truck's rear axle keeps {limit}; guidance asks for {demand}",
    "truck-rear-axle": "your truck's rear axle carries {demand} of {limit}",
    "truck-front-axle": "your truck's front axle carries {demand} of {limit}",
    "truck-gross": "your truck weighs {demand} with it, and may weigh {limit}",
    "combination-gross": "truck and trailer weigh {demand} together, and may weigh {limit}",
    "truck-front-tires": "your truck's front tires carry {demand} of {limit}",
    "truck-rear-tires": "your truck's rear tires carry {demand} of {limit}",
    "front-axle-lightening": "the trailer takes {demand} off your truck's front axle; guidance allows {limit}",
    "steer-axle-share": "beyond a fifth of the truck its front axle has {limit}, and the trailer uses {demand}",
    "registered-weight": "truck and trailer weigh {demand} together; the registration covers {limit}",
    "surge-brakes": "surge brakes behind your truck may stop {limit}; the trailer counts {demand}",
    "single-axle": "the law allows one axle {limit}, and {who} carries {demand}",
    "tandem": "the law allows these axles, {who}, {limit}, and they carry {demand}",
    "axle-groups": "the law allows the axles from {who} {limit}, and they carry {demand}",
    "road-gross": "truck and trailer weigh {demand} together; the road allows {limit}",
    "combination-length": "truck and trailer are {demand} long; the road allows {limit}",
    "trailer-length": "the trailer is {demand} long; the road allows {limit}",
    "rear-overhang": "{who} reach{es} {demand} behind the trailer; the road allows {limit}",
    "pieces-apart": "the piece ahead of {who} is {demand} long, and {limit} is there for it",
    "tires-carry-axle-rating": "the tires of {who} carry {limit}, and it is rated {demand}",
    "tips-back": "on the ramp its uphill end keeps {limit} before it would tip back",
    "coupler-lift": "of {limit} the axles carry {demand}, and the rest presses on the coupler",
    "truck-tow-rating": "loaded, the trailer weighs {demand}; your truck's tow rating is {limit}",
}
_NOTHING = {
    "level-trim": "Hitched to your truck, it stands level; guidance allows {limit} off in ten feet",
    "belly-clearance": "Over the crest nothing comes up under its belly, which stands {limit} up",
}
"""Said where the demand is nothing."""
_LIFTS = {
    "tips-back": "On the ramp nothing is left on its uphill end: it tips back.",
    "coupler-lift": "The load lifts the coupler off your hitch: it sits too far back.",
}
_PAST = {
    "deck-front": "{who} stand{s} {short} ahead of the deck",
    "deck-rear": "{who} stand{s} {short} past the end of the level deck",
}
"""Said where a piece stands on nothing."""
_REACHES = ("body-clear-of-neck", "body-over-tongue")
_IN_FEET = ("overall-height", "deck-rear", "deck-front", "combination-length", "trailer-length", "pieces-apart")
_YES_NO = {
    "ball-size": (
        "Your ball is the size this coupler is made for.",
        "Your ball is not the size this coupler is made for: it does not hold.",
    ),
    "hitch-kind": ("Your truck has a hitch of this kind.", "Your truck has no hitch of this kind."),
    "plug-match": ("Your truck's plug fits this one.", "Your truck's plug does not fit this one."),
    "brake-controller": (
        "Your truck has the brake controller these brakes need.",
        "Your truck has no brake controller, and these brakes need one.",
    ),
    "breakaway": ("No breakaway device is lacking.", "It needs a breakaway device, and has none."),
    "distribution-kind": (
        "Its hitch takes weight distribution.",
        "Weight distribution works on a ball hitch only, not on this one.",
    ),
    "license-a-by-rating": (
        "By the ratings on the labels no group A license is lacking.",
        "By the ratings on the labels it takes a group A license, and the driver does not hold one.",
    ),
    "license-a-by-weight": (
        "By what it weighs no group A license is lacking.",
        "By rating or weight, whichever is more, it takes a group A license, and the driver does not hold one.",
    ),
    "license-b": (
        "For the truck no group B license is lacking.",
        "Your truck takes a group B license, and the driver does not hold one.",
    ),
    "brakes-all-wheels": (
        "Every wheel that must have brakes has them.",
        "Not every wheel that must have brakes has them.",
    ),
    "way-up": ("A way leads up onto the deck.", "No ramps lead up: it takes a dock, a loader or a crane."),
    "rig-lifts": (
        "Neither truck nor nose lifts off while it drives on.",
        "While it drives on, it lifts the truck's wheels or the nose off the ground.",
    ),
}
_DUTIES = {
    "lamps": {
        "not reached": "Every lamp its width asks for was seen.",
        "applies": "A lamp or marking that its width asks for was not seen.",
    },
    "conspicuity": {
        "applies": "At this width and rating it needs the red and white marking.",
        "not reached": "At this width and rating it needs no red and white marking.",
    },
}
