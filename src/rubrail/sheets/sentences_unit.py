"""Sentences about one unit by itself: what is weakest of it, what is unusual, what to measure and why."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rubrail.answers.lines import member_name
from rubrail.answers.report import Need
from rubrail.checks.registry import CHECKS
from rubrail.checks.rows import VERDICT_KINDS
from rubrail.quantity.show import show
from rubrail.sheets.sentences_amounts import amount, feet, listed
from rubrail.sheets.sentences_words import FLAG, begin, found_out, limit_name, together

if TYPE_CHECKING:
    from rubrail.answers.decode import Decoding
    from rubrail.answers.differs import Difference, Trait
    from rubrail.answers.envelope import Segment
    from rubrail.answers.gaps import Gap

GEAR_WORDS = {"axles": "axle ratings", "tires": "tires", "wheels": "wheels"}
FEET_FROM_IN = 120.0
"""Lengths from here on are said in feet and inches."""
AT_MOST = 3
WHETHER = "whether "


def weakest_sentence(decoding: Decoding, *, metric: bool = False) -> str:
    """Which part of the running gear is the weakest, and what the others come to."""
    gear = [f for f in decoding.figures if f.group == "running gear"]
    known = sorted((f for f in gear if not math.isnan(f.value_lb)), key=lambda f: f.value_lb)
    unknown = [GEAR_WORDS[f.name] for f in gear if math.isnan(f.value_lb)]
    rest = f"; what the {listed(unknown)} come to is not known" if unknown else ""
    if not known:
        return "What axles, tires and wheels carry is not known."
    least, most = _lb(known[0].value_lb, metric), known[-1].value_lb
    weakest = listed([GEAR_WORDS[f.name] for f in gear if f.value_lb == known[0].value_lb])
    others = [f for f in known if f.value_lb != known[0].value_lb]
    more = listed([f"the {GEAR_WORDS[f.name]} {_lb(f.value_lb, metric)}" for f in others])
    if len(known) == 1:
        return f"Of the running gear only the {weakest} are known, {least}{rest}."
    if most == known[0].value_lb and not unknown:
        return f"{begin(weakest)} come to the same, {least}."
    sure = " known" if unknown else ""
    return f"Of the running gear the {weakest} are the weakest{sure}, {least}{f'; {more}' if more else ''}{rest}."


def _lb(value: float, metric: bool) -> str:
    return amount(value, "lb", metric=metric)


def place_words(x_in: float, deck_front_x_in: float, *, metric: bool = False) -> str:
    """A place on the deck, as one measures it from the deck's front and from the coupling."""
    at, behind = (feet(v, metric=metric) for v in (x_in - deck_front_x_in, x_in))
    return f"{at} behind the front of the deck, {behind} behind the coupling"


def stops(segment: Segment) -> str:
    """What governs a stretch of the envelope, and what allows just as much."""
    return listed([stretch_name(segment), *segment.also])


def stretch_name(segment: Segment) -> str:
    """The limit that governs a stretch, its member worked in."""
    if segment.member is None:
        return segment.title
    return limit_name(segment.title, member_name(CHECKS[segment.check].per, segment.member))


def trait_value(trait: Trait, value: float | str, *, metric: bool = False) -> str:
    """A trait's value as it is said."""
    if isinstance(value, str):
        return value
    if trait.unit == "in" and abs(value) >= FEET_FROM_IN:
        return feet(value, metric=metric)
    if trait.unit == "USD/lb":
        return f"${value / 0.45359237:,.2f} a kilogram" if metric else f"${value:,.2f} a pound"
    if trait.unit == "in":
        return show(value, "in", metric=metric)
    return amount(value, trait.unit, metric=metric)


def difference_sentence(told: Difference, *, metric: bool = False) -> str:
    """How unusual it is: ``35 in is usual, the middle of 7 others; 1 is as low or lower``."""
    usual = trait_value(told.trait, told.typical, metric=metric)
    if not told.way:
        return f"{usual} on {told.common} of {told.others} others; {told.alike or 'none'} like it"
    words = told.trait.less if told.way < 0 else told.trait.more
    assert words is not None
    how, further = words
    alike = {0: f"none is as {how}", 1: f"1 is as {how} or {further}"}.get(
        told.alike, f"{told.alike} are as {how} or {further}"
    )
    return f"{usual} is usual, the middle of {told.others} others; {alike}"


def to_measure(gap: Gap) -> str:
    """What to go and find out, and how: ``Measure with a tape: ground to the top of the deck, trailer level``."""
    how = found_out(Need(gap.name, "", gap.says, math.nan, 0.0, ""))
    says = gap.says
    if says.startswith((FLAG, WHETHER)):
        return f"Look whether {says.removeprefix(FLAG).removeprefix(WHETHER)}"
    verb = "Find out" if not how else "Weigh" if "scale" in how else "Measure" if "with" in how else "Read"
    axles = together([f"axle {m + 1}" for m in gap.members])
    what = f"{says}, {axles}" if axles else says
    how = f"what is {how}" if how.startswith("stamped") else how
    return f"{verb} {how}: {what}" if how else f"{verb}: {what}"


def why_measure(gap: Gap) -> str:
    """What nobody can say as long as it is not known."""
    deciding = [b.title for b in gap.limits if b.kind in VERDICT_KINDS]
    others = [b.title for b in gap.limits if b.kind not in VERDICT_KINDS]
    named = deciding or others
    more = len(gap.limits) - len(named[:AT_MOST])
    limits = listed([*named[:AT_MOST], *([f"{more} more"] if more else [])])
    if gap.payload and limits:
        return f"Without it nobody can say what the trailer carries; not to be judged: {limits}."
    if gap.payload:
        return "Without it nobody can say what the trailer carries."
    return f"Without it not to be judged: {limits}."


def measure_first(gaps: tuple[Gap, ...]) -> str:
    """One sentence where what it carries cannot be told."""
    first = next((u for u in gaps if u.payload), None)
    if first is None:
        return "What it carries is not known."
    return f"What it carries is not known yet. First: {begin(to_measure(first))}."
