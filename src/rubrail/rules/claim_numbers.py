"""Claims in numbers and names: weights against ratings and payload; dollars against the price; axles; makers."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation

from rubrail.rules.claim_text import Plain
from rubrail.rules.claims import Rule, UnitFacts, claim_rules

Found = tuple[Rule, int, int, dict]

_POUNDS = {"lb": 1.0, "k": 1000.0, "ton": 2000.0, "kg": 1 / 0.45359237, "tonne": 1000 / 0.45359237}
_ONES = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
    "eighteen": 18, "nineteen": 19,
}  # fmt: skip
_TENS = {"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90}
_MANY = {"hundred": 100, "thousand": 1000}
_TEN = "|".join(_TENS)
_ONE = "|".join(_ONES)
_WORD = rf"(?:{'|'.join(sorted([*_ONES, *_TENS, *_MANY], key=len, reverse=True))})(?![a-z])"
_PART = {"half": 0.5, "1/2": 0.5, "quarter": 0.25, "1/4": 0.25, "three quarters": 0.75, "3/4": 0.75}
_NUMBER = re.compile(
    # The 2 of 1/2 ton is no number by itself; the 16K of 14K/16K is.
    r"(?<![\w$.,])(?<!\b\d/)(?P<number>\d{1,3}(?:[,']\d{3})+(?:\.\d+)?|\d{1,2} 000(?!\d)|\d+(?:\.\d+)?"
    rf"|\b(?:an?[\s-]+(?=hundred|thousand))?{_WORD}(?:[\s-]+(?:and[\s-]+)?{_WORD})*)"
    r"(?:[\s-]+(?:and[\s-]+(?:an?[\s-]+|one[\s-]+)?)?(?P<part>half|quarter|three[\s-]+quarters|1/2|1/4|3/4))?"
    r"[\s-]{0,3}(?P<unit>thousand(?:[\s-]+(?:lbs?|pounds?))?|k(?:[\s-]?(?:lbs?|pounds?))?|lbs?|pounds?|#|tonnes?"
    r"|metric[\s-]+tons?|tonners?|tons?|kgs?|kilos?|kilograms?)?(?!\w)"
    # Nor is what the chains in a box weigh any rating of a place to tie them to.
    r"(?![\s-]+(?:of[\s-]+(?:chains?|binders?|straps?)|trucks?|pickups?|miles?|hours?|dollars?|bucks|feet|ft|psi|acres?|times)\b)"
)
_CONTEXT = {
    "payload": r"pay[\s-]?load|carry|carries|carrying|hauls?|hauling|capacity|cargo|machines?|excavators?|tractors?"
    r"|skid[\s-]?steers?|backhoes?|(?:bull)?dozers?|telehandlers?|forklifts?|rollers?|compactors?"
    r"|(?<!working )loads?(?! range)|loaders?|tows?|pulls?|handles?|holds?|takes?|moves?|supports?|good for|put"
    r"|usable",
    "gvwr": r"gvwr|g\.v\.w\.r\.?|gvw|gross vehicle weight(?: rating)?|(?<!combined )gross weight",
    "axle": r"axles?|gawr",
    "coupler": r"couplers?|ball|hitch|kingpin|pintle|lunette",
    "ramp": r"ramps?",
    "tire": r"tires?|wheels?|rims?",
    "anchor": r"d[\s-]rings?|tie[\s-]?downs?|stake[\s-]pockets?|chains?|binders?|working load|wll"
    r"|places to tie",
    "jack": r"jacks?",
    "empty": r"empty|weighs|tare|curb weight|dry weight|unladen",
    "part": r"spare|tool ?box(?:es)?|mount|rack|straps?|winch(?:es)?(?:[\s-]+(?:pulls?|takes?))?"
    r"|line pull|combined|combination|gcwr",
}
_RATED_BEFORE = re.compile(r"\b(?:rat(?:ed|ing)|label)(?:[\s-]+(?:for|at|to|of|is))?[\s:-]*\Z")
_RATED_AFTER = re.compile(r"[\s-]*(?:rat(?:ed|ing)|label|by (?:its|the) label)\b")
_NOUN = re.compile(
    r"[\s-]+(?:[\w-]+[\s-]+){0,3}?(?:trailers?|gooseneck|deck[\s-]?over|flat[\s-]?bed|tilt|hauler|lowboy|unit)\b"
)
_NOUN_BEFORE = re.compile(
    r"\b(?:trailers?|gooseneck|deck[\s-]?over|flat[\s-]?bed|tilt|hauler|lowboy)[\s,:-]+(?:[\w-]+[\s,-]+){0,2}\Z"
)
_COUNT_BEFORE = re.compile(rf"(?:\b(?P<count>{_ONE}|[2-9])|\b(?P<pair>pair|couple) of)[\s-]+\Z")
_MANY_AFTER = re.compile(
    r"[\s-]+(?:[\w-]+[\s-]+){0,2}?(?:machines|excavators|tractors|skid[\s-]?steers|loaders|backhoes|(?:bull)?dozers"
    r"|telehandlers|forklifts|rollers|compactors)\b"
)
_HEAD_LETTERS = 30
"""A line so short may be what the number on the next one is of."""
_PARTS = ("axle", "coupler", "ramp", "tire", "anchor", "jack")
_DOES = r"(?:[\s-]+(?!(?:it|this|that|trailer|unit)\b)\w+){0,3}?[\s-]+(?:carry|carries|carrying|takes?|holds?)"
_NEAR = {
    name: re.compile(
        rf"(?<!\w)(?:(?:{words}){_DOES}|{words})(?!\w)" if name in _PARTS else rf"(?<!\w)(?:{words})(?!\w)"
    )
    for name, words in _CONTEXT.items()
}
_COMMA_COSTS, _AS_NEAR = 20, 2
_UNITLESS_FROM_LB, _UNITLESS_REACH, _UNITLESS_OF = 1000, 12, ("payload", "gvwr", "empty")
_PART_REACH = 30
_AMOUNT = r"\d[\d,]*(?:\.\d+)?"
_MONEY = re.compile(
    rf"\$\s*(?P<a>{_AMOUNT})\s*(?P<k>k\b)?(?!\s*(?:a|per|/)\s*mile)"
    rf"|(?<![\w.,])(?P<b>{_AMOUNT})\s*(?:dollars|usd|bucks|obo\b|or best offer|cash\b|firm\b|(?P<grand>grand))\b"
    r"|\b(?:asking|priced?(?: (?:at|is|of))?|yours for|sells? for)\s*:?\s*"
    r"(?P<c>\d{1,3},\d{3}|(?!19\d\d\b|20\d\d\b)\d{4,6})(?![\d,.]*\d)"
    r"(?![\s-]*(?:lbs?|pounds?|#|kgs?|k|ft|feet|in|miles?|hours?|psi)\b)"
)


@dataclass(frozen=True, slots=True)
class Weight:
    """A number read as a weight: its place, pounds, how far its writing rounds it, whether its unit is told."""

    start: int
    end: int
    pounds: float
    rounds_lb: float
    told: bool


def weights_in(it: Plain) -> Iterator[Weight]:
    """Numbers of a text that are weights, or may be: those with a unit of weight, and plain ones from 1,000 but
    for years."""
    for match in _NUMBER.finditer(it.text):
        written, unit = re.sub(r"[\s-]+", " ", match["number"]), _unit(match["unit"] or "")
        words = written[0].isalpha()
        if words and "thousand" in written:
            unit = unit or "lb"
        elif (words and not (unit in ("ton", "tonne", "k") or ("hundred" in written and unit))) or (
            " 000" in written and not unit
        ):
            continue
        if unit in ("lb", "kg") and re.fullmatch(r"[1-9]\d{0,2}\.\d{3}", written):
            # Written as elsewhere in the world: no scale reads a thousandth of a pound.
            written = written.replace(".", "")
        number = _worded(written) if words else float(re.sub("[,' ]", "", written))
        number += _PART.get(re.sub(r"[\s-]+", " ", match["part"] or ""), 0.0)
        factor = _POUNDS.get(unit, 1.0)
        decimals = len(written.partition(".")[2])
        rounds = 0.5 * 10.0**-decimals * factor if unit in ("kg", "tonne") else 0.5
        year = re.fullmatch(r"19[5-9]\d|20\d\d", written)
        if unit or (number >= _UNITLESS_FROM_LB and not year):
            yield Weight(match.start(), match.end(), number * factor, rounds, bool(unit))


def _worded(written: str) -> float:
    """A number in words: ``twenty five thousand``, ``a hundred and fifty``."""
    whole, here = 0, 0
    for word in written.split():
        if word in _MANY:
            here = max(here, 1) * _MANY[word]
            if word == "thousand":
                whole, here = whole + here, 0
        else:
            here += _ONES.get(word) or _TENS.get(word, 0)
    return float(whole + here)


def _unit(written: str) -> str:
    written = re.sub(r"[\s-]+", " ", written)
    if written.startswith(("k", "thousand")) and not written.startswith(("kg", "kilo")):
        return "k"
    if written.startswith(("lb", "pound", "#")):
        return "lb"
    if written.startswith(("tonne", "metric")):
        return "tonne"
    return "ton" if written.startswith("ton") else "kg" if written else ""


def weight_claims(it: Plain, facts: UnitFacts) -> Iterator[Found]:
    """Weights claimed of the unit that are not true of it."""
    rules = claim_rules()
    for weight in weights_in(it):
        begin, end = it.sentence(weight.start, weight.end)
        near = _contexts(it.text, weight, begin, end)
        if not near and weight.told and begin and (head := _head(it.text, begin)) < begin:
            near = _contexts(it.text, weight, head, end)
        place = _bare(it.text, weight, begin, end, near) if weight.told else None
        if place and not it.denied(place[0]):
            yield rules["bare-number"], *place, {"said_lb": weight.pounds, "of": "bare"}
        if place or not near:
            continue
        weight = _together(it.text, weight, near, begin, end)
        label = "label" in it.text[begin:end]
        if any(_holds(of, weight, facts, label=label) for of, _, _ in near):
            continue
        of, start, stop = near[0]
        first, last = min(start, weight.start), max(stop, weight.end)
        if it.denied(first):
            continue
        rule = rules[{"payload": "payload-number", "empty": "empty-number"}.get(of, "rating-number")]
        yield rule, first, last, {"said_lb": weight.pounds, "of": of, "true_lb": _true(of, facts)}


def _apart(text: str, weight: Weight, near: tuple[str, int, int]) -> bool:
    """Whether a comma parts a number from what it may be said of: ``14K tilt, hauls hay``."""
    _, start, stop = near
    return "," in (text[stop : weight.start] if stop <= weight.start else text[weight.end : start])


def _head(text: str, begin: int) -> int:
    """Where the line before begins, if it is short enough to be a heading; else ``begin``."""
    if text[begin - 1] != "\n":
        return begin
    start = text.rfind("\n", 0, begin - 1) + 1
    return start if 0 < begin - 1 - start <= _HEAD_LETTERS else begin


def _bare(text: str, weight: Weight, begin: int, end: int, near: list[tuple[str, int, int]]) -> tuple[int, int] | None:
    """Place of a number worn as the trailer's name: before its noun, or after it, and of nothing else nearer by."""
    if near and not _apart(text, weight, near[0]):
        return None
    if noun := _NOUN.match(text, weight.end, end):
        return weight.start, noun.end()
    if near:
        return None
    if text[weight.start : weight.end].endswith(("tonner", "tonners")):
        return weight.start, weight.end
    before = _NOUN_BEFORE.search(text[begin : weight.start])
    return (begin + before.start(), weight.end) if before else None


def _together(text: str, weight: Weight, near: list[tuple[str, int, int]], begin: int, end: int) -> Weight:
    """Two machines of a weight are twice that weight."""
    if near[0][0] != "payload" or not _MANY_AFTER.match(text, weight.end, end):
        return weight
    count = _COUNT_BEFORE.search(text[begin : weight.start])
    if count is None:
        return weight
    many = 2 if count["pair"] else _ONES.get(count["count"]) or int(count["count"])
    return replace(weight, pounds=weight.pounds * many, rounds_lb=weight.rounds_lb * many)


def _contexts(text: str, weight: Weight, begin: int, end: int) -> list[tuple[str, int, int]]:
    """What a number may be said of, the nearest words first; several only where they stand as near."""
    found = []
    for of, words in _NEAR.items():
        for match in words.finditer(text, begin, end):
            if match.start() < weight.end and match.end() > weight.start:
                continue
            between = (
                text[match.end() : weight.start] if match.end() <= weight.start else text[weight.end : match.start()]
            )
            if not weight.told and (len(between) > _UNITLESS_REACH or of not in _UNITLESS_OF):
                continue
            found.append((len(between) + _COMMA_COSTS * between.count(","), of, match.start(), match.end()))
    if any(of == "part" and far <= _PART_REACH for far, of, _, _ in found):
        # What a spare or a toolbox weighs is no weight of the trailer.
        found = [f for f in found if f[1] != "empty"]
    if not found:
        rated = _RATED_BEFORE.search(text[begin : weight.start]) or _RATED_AFTER.match(text, weight.end, end)
        return [("gvwr", weight.start, weight.end)] if rated and weight.told else []
    # The verb in "its tires carry" is the tires'.
    found = [f for f in found if not any(o[2] <= f[2] and f[3] <= o[3] and o[2:] != f[2:] for o in found)]
    found.sort()
    return [(of, start, stop) for far, of, start, stop in found if far <= found[0][0] + _AS_NEAR]


def _holds(of: str, weight: Weight, facts: UnitFacts, *, label: bool) -> bool:
    """Whether a number is true of what it is said of; never where nobody knows."""
    slack = weight.rounds_lb
    if of == "part":
        return True
    if of == "payload":
        most = max(
            (p for p in (facts.payload_lb, facts.payload_label_lb if label else math.nan) if p == p), default=-1.0
        )
        return weight.pounds - slack <= most
    if of == "empty":
        return weight.pounds + slack >= facts.empty_lb
    return any(abs(weight.pounds - rating) <= slack for rating in _true(of, facts))


def _true(of: str, facts: UnitFacts) -> tuple[float, ...]:
    values = {"payload": (facts.payload_lb,), "gvwr": (facts.gvwr_lb,), "empty": (facts.empty_lb,)}.get(of)
    found = facts.ratings_lb.get(of, ()) if values is None else values
    return tuple(dict.fromkeys(v for v in found if not math.isnan(v)))


def amount_claims(it: Plain, facts: UnitFacts) -> Iterator[Found]:
    """Amounts of money that are not among those that may be named."""
    for match in _MONEY.finditer(it.text):
        written = (match["a"] or match["b"] or match["c"]).replace(",", "").rstrip(".")
        try:
            usd = Decimal(written) * (1000 if match["k"] or match["grand"] else 1)
        except InvalidOperation:
            continue
        if not any(
            usd == known or (usd == usd.to_integral_value() and usd == round(known)) for known in facts.amounts_usd
        ):
            yield claim_rules()["price-number"], match.start(), match.end(), {}


_AXLES = {"single": 1, "tandem": 2, "dual": 2, "twin": 2, "triple": 3, "tri": 3, "quad": 4}
_AXLE_COUNT = re.compile(
    rf"(?<!each )(?<!every )(?<!any )(?<!per )\b(?P<count>{'|'.join(_AXLES)})[\s-]*axles?\b"
    r"(?![\s-]+(?:trucks?|dump|tractors?)\b)"
)
_YEAR = re.compile(
    r"\bmodel[\s-]+year[\s:-]+(?P<a>(?:19|20)\d\d)\b"
    r"|(?<!in )(?<!since )(?<!from )(?<!until )(?<![\d.,/-])\b(?P<b>(?:19[5-9]|20[0-4])\d)"
    r"[\s-]+(?:[\w/.-]+[\s-]+){0,3}?"
    r"(?:trailers?|unit|model|gooseneck|flatbed|tilt|deck[\s-]?over|hauler|pintle|bumper[\s-]+pull)\b"
    r"(?![\s-]+(?:tires?|wheels?|plates?|show|brakes?|lamps?|catalog|price))"
)


def count_claims(it: Plain, facts: UnitFacts) -> Iterator[Found]:
    """Axles and model years that are not the unit's."""
    for match in _AXLE_COUNT.finditer(it.text):
        if _AXLES[match["count"]] != facts.axles and not it.denied(match.start()):
            yield claim_rules()["axle-count"], match.start(), match.end(), {}
    for match in _YEAR.finditer(it.text):
        if int(match["a"] or match["b"]) != facts.year and not it.denied(match.start()):
            yield claim_rules()["model-year"], match.start(), match.end(), {}


def name_claims(it: Plain, facts: UnitFacts) -> Iterator[Found]:
    """Names of makers that did not build the unit."""
    for name in facts.other_makers:
        words = re.escape(name.lower()).replace(r"\ ", r"[\s-]+")
        for match in re.finditer(rf"\b{words}(?:'s|s)?\b", it.text):
            yield claim_rules()["other-maker"], match.start(), match.end(), {}
