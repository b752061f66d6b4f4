"""Claims in numbers and names: pounds, K and tons against ratings and payload; dollars against the price; makers."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from rubrail.rules.claim_text import Plain
from rubrail.rules.claims import Rule, UnitFacts, claim_rules

Found = tuple[Rule, int, int, dict]

_POUNDS = {"lb": 1.0, "k": 1000.0, "ton": 2000.0, "kg": 1 / 0.45359237, "tonne": 1000 / 0.45359237}
_WORDS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "twenty": 20,
}  # fmt: skip
_NUMBER = re.compile(
    rf"(?<![\w$.,/])(?P<number>\d{{1,3}}(?:,\d{{3}})+(?:\.\d+)?|\d+(?:\.\d+)?|\b(?:{'|'.join(_WORDS)}))"
    r"[\s-]{0,3}(?P<unit>thousand(?:[\s-]+(?:lbs?|pounds?))?|k(?:[\s-]?(?:lbs?|pounds?))?|lbs?|pounds?|#|tonnes?"
    r"|metric[\s-]+tons?|tons?|kgs?|kilos?|kilograms?)?(?![\w/])"
)
_CONTEXT = {
    "payload": r"pay[\s-]?load|carry|carries|carrying|hauls?|hauling|capacity|cargo|machines?|excavators?|tractors?"
    r"|skid[\s-]?steers?|load of|loads? up to|loaders?|tows?|pulls?|handles?|holds?",
    "gvwr": r"gvwr|g\.v\.w\.r\.?|gvw|gross vehicle weight(?: rating)?|gross weight",
    "axle": r"axles?|gawr",
    "coupler": r"couplers?|ball|hitch|kingpin|pintle|lunette",
    "ramp": r"ramps?",
    "tire": r"tires?|wheels?|rims?",
    "anchor": r"d[\s-]rings?|tie[\s-]?downs?|stake[\s-]pockets?|chains?|binders?|winch(?:es)?|working load|wll"
    r"|places to tie",
    "jack": r"jacks?",
    "empty": r"empty|weighs|tare|curb weight|dry weight|unladen",
    "part": r"spare|tool ?box(?:es)?|mount|rack|straps?",
}
_RATED_BEFORE = re.compile(r"\brat(?:ed|ing)(?:[\s-]+(?:for|at|to|of|is))?[\s:-]*\Z")
_RATED_AFTER = re.compile(r"[\s-]*rat(?:ed|ing)\b")
_NOUN = re.compile(
    r"[\s-]+(?:[\w-]+[\s-]+){0,3}?(?:trailers?|gooseneck|deck[\s-]?over|flat[\s-]?bed|tilt|hauler|lowboy|unit)\b"
)
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
_MONEY = re.compile(
    r"\$\s*(?P<a>\d[\d,]*(?:\.\d+)?)\s*(?P<k>k\b)?|(?<![\w.,])(?P<b>\d[\d,]*(?:\.\d+)?)\s*(?:dollars|usd|bucks)\b"
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
        written, unit = match["number"], _unit(match["unit"] or "")
        if written in _WORDS and unit not in ("ton", "tonne", "k"):
            continue
        number = float(_WORDS.get(written) or written.replace(",", ""))
        factor = _POUNDS.get(unit, 1.0)
        decimals = len(written.partition(".")[2])
        rounds = 0.5 * 10.0**-decimals * factor if unit in ("kg", "tonne") else 0.5
        year = re.fullmatch(r"19[5-9]\d|20\d\d", written)
        if unit or (number >= _UNITLESS_FROM_LB and not year):
            yield Weight(match.start(), match.end(), number * factor, rounds, bool(unit))


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
        if not near:
            if weight.told and (noun := _NOUN.match(it.text, weight.end, end)) and not it.denied(weight.start):
                yield rules["bare-number"], weight.start, noun.end(), {"said_lb": weight.pounds, "of": "bare"}
            continue
        label = "label" in it.text[begin:end]
        if any(_holds(of, weight, facts, label=label) for of, _, _ in near):
            continue
        of, start, stop = near[0]
        first, last = min(start, weight.start), max(stop, weight.end)
        if it.denied(first):
            continue
        rule = rules[{"payload": "payload-number", "empty": "empty-number"}.get(of, "rating-number")]
        yield rule, first, last, {"said_lb": weight.pounds, "of": of, "true_lb": _true(of, facts)}


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
        written = (match["a"] or match["b"]).replace(",", "").rstrip(".")
        try:
            usd = Decimal(written) * (1000 if match["k"] else 1)
        except InvalidOperation:
            continue
        if not any(
            usd == known or (usd == usd.to_integral_value() and usd == round(known)) for known in facts.amounts_usd
        ):
            yield claim_rules()["price-number"], match.start(), match.end(), {}


def name_claims(it: Plain, facts: UnitFacts) -> Iterator[Found]:
    """Names of makers that did not build the unit."""
    for name in facts.other_makers:
        words = re.escape(name.lower()).replace(r"\ ", r"[\s-]+")
        for match in re.finditer(rf"\b{words}(?:'s|s)?\b", it.text):
            yield claim_rules()["other-maker"], match.start(), match.end(), {}
