"""The sentences about scale tickets: what was weighed, what does not agree and why, what one reading more tells."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from rubrail.sheets.sentences_amounts import amount, listed
from rubrail.sheets.sentences_words import begin

if TYPE_CHECKING:
    from rubrail.answers.ticket_report import Checked, Proposal, Rode, Stood, Ticketed, Wanted, Weighed, Without

_PLATES = {
    "steer": "the truck's front axle",
    "drive": "the truck's rear axle",
    "truck": "both axles of the truck",
    "axles": "all the trailer's axles",
    "coupler": "the coupler",
    "jack": "the jack",
    "trailer": "the whole trailer",
    "rig": "the whole rig",
}
_STATES = {"truck": "truck alone", "trailer": "trailer alone", "hitched": "hitched"}
UNCHECKED = "Nothing checks these readings: a wrong one would not show. Weigh one thing more to have a check."
"""Said where there is no degree of freedom."""
BARS = (
    "With the spring bars drawn up, the coupler load is the one without them; the bars move part of it to the axles."
)
BY_GEOMETRY = "The share of the coupler load on the truck's front axle is reckoned from its wheelbase and hitch."


def plate_words(on: Sequence[str], side: str = "") -> str:
    """What stood on the plate: ``the truck's rear axle and all the trailer's axles``."""
    words = listed([_PLATES.get(part) or f"trailer {part}" for part in on])
    return f"{words}, {side} wheels only" if side else words


def state_words(state: str, load: str = "") -> str:
    """How the rig stood: ``hitched with the track loader``."""
    if state == "truck":
        return _STATES[state]
    return f"{_STATES[state]} with {load}" if load else f"{_STATES[state]}, empty"


def aboard_words(aboard: Sequence[Rode], *, metric: bool = False) -> str:
    """Who and what its own weights leave out: ``with driver (200 lb, 113 lb of it on the front axle) aboard``.

    ``""`` where nobody was in it.
    """
    told = [f"{it.says} ({_rode(it, metric=metric)})" for it in aboard]
    return f"with {listed(told)} aboard" if told else ""


def _rode(it: Rode, *, metric: bool) -> str:
    if math.isnan(it.weight_lb):
        return "weight not known"
    weight, front = (amount(v, "lb", metric=metric) for v in (it.weight_lb, it.front_lb))
    return f"{weight}, {front} of it on the front axle" if it.seat_known else f"{weight}, taken as half on each axle"


def stood_words(stood: Stood, *, metric: bool = False) -> str:
    """One way the rig stood, with who was aboard: ``truck alone, with driver (...) aboard``."""
    words = (state_words(stood.state, stood.load), aboard_words(stood.aboard, metric=metric))
    return ", ".join(filter(None, words))


ABOARD = "Who was aboard is in what the scale showed, and not in the truck's own weights."
"""Said under readings with somebody aboard."""


def reading_words(reading: Checked) -> str:
    """A reading by what stood where: ``the trailer's axles, hitched and empty``."""
    return f"{plate_words(reading.on, reading.side)} ({state_words(reading.state, reading.load)})"


def wanted_words(wanted: Wanted) -> str:
    """A reading that could still be taken."""
    return f"{plate_words(wanted.on)}, {state_words(wanted.state, wanted.load)}"


def value_words(value: Weighed) -> str:
    """What a value is: ``empty weight``, ``coupler load with the track loader``."""
    return _words(value.of, value.name, value.load)


def _words(of: str, name: str, load: str) -> str:
    if of == "truck":
        return {"front axle": "truck's front axle, alone", "rear axle": "truck's rear axle, alone"}.get(
            name, "whole truck, alone"
        )
    if of == "side":
        part, side, state = name.split(", ")
        return f"{plate_words([part])}, {side} ({state_words(state, load)})"
    if of == "cargo":
        return f"{load} by itself" if name == "cargo" else f"center of gravity of {load}, behind the coupling"
    with_it = f"with {load}" if load else "empty"
    if name == "center":
        return "center of gravity of the empty trailer, behind the coupling"
    if name == "whole":
        return f"whole trailer with {load}" if load else "empty weight"
    if name == "coupler":
        return f"coupler load {with_it}" if load else "empty coupler load"
    if name in ("axles",) or name.startswith("axle "):
        return f"{'trailer axles' if name == 'axles' else f'trailer {name}'}, {with_it}"
    if name.startswith("rig hitched"):
        return f"whole rig{name.removeprefix('rig hitched')}, {with_it}"
    if name.startswith("trailer axles hitched"):
        return f"trailer axles{name.removeprefix('trailer axles hitched')}, {with_it}"
    if name.startswith("truck hitched"):
        return f"whole truck{name.removeprefix('truck')}, {with_it}"
    return f"truck's {name}, {with_it}"


def spread(number: float, plus_minus: float, unit: str, *, metric: bool = False) -> str:
    """A value with the half width of its interval: ``2,780 ± 36 lb``."""
    if math.isnan(number):
        return amount(number, unit, metric=metric)
    whole, half = (amount(v, unit, metric=metric) for v in (number, plus_minus))
    same = whole.split()[-1] == half.split()[-1]
    return f"{whole.rsplit(' ', 1)[0]} ± {half}" if same else f"{whole} ± {half}"


def ticket_sentence(ticket: Ticketed, *, metric: bool = False) -> str:
    """The first sentence of a ticket."""
    off = [r for r in ticket.readings if r.word in ("off", "one of these is off")]
    if off:
        return _off_sentence(off, metric=metric)
    below = [f"{value_words(v)}, {_spread(v, metric=metric)}" for v in ticket.values if v.below_nothing]
    if below:
        return (
            f"Depends: no weight is below zero, and these readings come to one: {listed(below)}."
            " Look whether the scale stood at zero, and whether a reading stands in the wrong line; until then nothing"
            " is taken over."
        )
    if not ticket.agrees:
        return (
            "Depends: the readings do not agree within what their scales may be off, and no single one stands out."
            " Weigh again, or state how far off the scale may be."
        )
    told = _told(ticket, metric=metric)
    unknown = [v for v in ticket.values if not v.told and (v.one_more or v.two_more or v.field)]
    if unknown:
        more = _more(unknown[0])
        lead = f"{told} " if told else ""
        return f"{lead}Not known: {listed([value_words(v) for v in unknown])}.{f' {more}' if more else ''}"
    if not told:
        return "Nothing is weighed yet: enter what stood on the plate and what the scale showed."
    return f"{told} {_checked(ticket)}"


def _told(ticket: Ticketed, *, metric: bool) -> str:
    found = {(v.of, v.name): v for v in ticket.values if v.told and not v.load}
    said = []
    whole, coupler = found.get(("trailer", "whole")), found.get(("trailer", "coupler"))
    if whole:
        said.append(f"The trailer weighs {_spread(whole, metric=metric)} empty")
        said[-1] += f", {_spread(coupler, metric=metric)} of it on the coupler." if coupler else "."
    elif coupler:
        said.append(f"The empty trailer puts {_spread(coupler, metric=metric)} on its coupler.")
    front, rear = found.get(("truck", "front axle")), found.get(("truck", "rear axle"))
    if front and rear:
        rest = f"{_spread(front, metric=metric)} in front and {_spread(rear, metric=metric)} behind."
        said.append(f"The truck weighs {rest}")
    return " ".join([*_held(ticket, metric=metric), *said])


def _held(ticket: Ticketed, *, metric: bool) -> list[str]:
    """What is past a rating, or may be; that comes first."""
    over = [v for v in ticket.values if v.verdict == "over"]
    near = [v for v in ticket.values if v.verdict == "depends"]
    if over:
        said = [
            f"{value_words(v)} {amount(v.number - v.limit, 'lb', metric=metric)} more than {v.limit_says}"
            for v in over
        ]
        return [f"Over, as weighed: {listed(said)}."]
    unrated = [v.limit_says for v in ticket.values if v.verdict == "not known"]
    if unrated:
        names = [says for says in dict.fromkeys(unrated) if says != "its rating"] or ["an axle's rating"]
        none = f"{listed(names)} {'is' if len(names) == 1 else 'are'} on no file"
        return [f"Not known whether the loaded rig holds: {none}."]
    if near:
        said = [f"{value_words(v)} within its ± of {v.limit_says}" for v in near]
        return [f"Depends: {listed(said)}."]
    return []


def _spread(value: Weighed, *, metric: bool) -> str:
    return spread(value.number, value.plus_minus, value.unit, metric=metric)


def _checked(ticket: Ticketed) -> str:
    return UNCHECKED if ticket.freedom == 0 else "The readings agree."


def _off_sentence(off: Sequence[Checked], *, metric: bool) -> str:
    if len(off) > 1:
        which = listed([f"{reading_words(r)}, {amount(r.shown_lb, 'lb', metric=metric)}" for r in off], joint="or")
        return f"Depends: one of these is off, and the others cannot tell which: {which}. Weigh one of them again."
    r = off[0]
    shown, would = (amount(v, "lb", metric=metric) for v in (r.shown_lb, r.would_be_lb))
    return (
        f"Depends: the reading of {reading_words(r)} does not agree with the others: it shows {shown},"
        f" they ask for {would}."
        " Weigh it again or set it aside; until then nothing is taken over."
    )


def _more(value: Weighed) -> str:
    if value.one_more:
        return f"One reading more tells it: {listed([wanted_words(w) for w in value.one_more], joint='or')}."
    if value.two_more:
        return f"Two readings more tell it: {listed([wanted_words(w) for w in value.two_more])}."
    return ""


def more_sentence(value: Weighed) -> str:
    """What would tell a value that the readings do not: one reading more, a pair, or a length of the trailer."""
    if value.missing:
        return f"{begin(value_words(value))}: needs the places of the axles behind the coupling."
    more = _more(value)
    return f"{begin(value_words(value))} is not told. {more}" if more else f"{begin(value_words(value))} is not told."


def needs_told(ticket: Ticketed) -> list[str]:
    """A sentence for each value that the readings do not tell and one or two more would."""
    return [
        more_sentence(v) for v in ticket.values if not v.told and (v.one_more or v.two_more or v.missing or v.field)
    ]


def reading_sentence(reading: Checked, *, metric: bool = False) -> str:
    """How a reading stands among the others."""
    would = amount(reading.would_be_lb, "lb", metric=metric)
    if reading.word == "set aside":
        return f"set aside: {reading.why}"
    if reading.word in ("not read yet", "nothing checks it"):
        return reading.word
    if reading.word == "agrees":
        return "agrees"
    if reading.word == "waits":
        return "waits: pulled along by the one that is off"
    lead = "is off" if reading.word == "off" else "this one or another is off"
    return f"{lead}: the others ask for {would}"


def without_words(row: Without) -> str:
    """Which value a row of those *without the reading that stands out* is."""
    of, _, name = row.name.partition(" ")
    return _words(of, name, row.load)


def causes(reading: Checked) -> tuple[str, ...]:
    """What usually makes a reading like this one wrong, the likeliest first."""
    if reading.word not in ("off", "one of these is off"):
        return ()
    low = reading.shown_lb < reading.would_be_lb
    trailer = bool({"axles", "coupler", "jack", "trailer"} & set(reading.on)) or any(
        p.startswith("axle ") for p in reading.on
    )
    truck = bool({"steer", "drive", "truck", "rig"} & set(reading.on))
    found = []
    if low:
        found.append("a wheel not wholly on the plate")
        found += ["a jack, a block or the ground still carrying some of it"] if trailer else []
        found += ["fuel burnt since the other readings, or somebody out of the cab"] if truck else []
    else:
        found += ["people in the cab who were not there before"] if truck else []
        found += ["mud, snow or water on the deck, or something left aboard"] if trailer else []
        found.append("another wheel on the plate as well")
    found.append("a brake held, or the scale not back at zero")
    return tuple(found)


def agreement_sentence(ticket: Ticketed) -> str:
    """How well the readings hold together."""
    if ticket.freedom == 0:
        return UNCHECKED
    times = "fewer than one" if ticket.chance < 0.01 else f"{round(100 * ticket.chance)}"
    count = "is 1 reading more" if ticket.freedom == 1 else f"are {ticket.freedom} readings more"
    return (
        f"There {count} than it takes, so they check one another."
        f" Of 100 sound sets, {times} would fit worse than this one."
    )


def proposal_sentence(proposal: Proposal, *, metric: bool = False) -> str:
    """A value to be taken over, beside what stands there."""
    now = spread(proposal.number, proposal.plus_minus, "lb", metric=metric)
    return f"{now}, weighed: {change_words(proposal, metric=metric)}"


def change_words(proposal: Proposal, *, metric: bool = False) -> str:
    """How a value to be taken over differs from what stands there: ``152 lb more than 2,640 lb, by the label``."""
    if math.isnan(proposal.before):
        return "it was not known"
    was = amount(proposal.before, "lb", metric=metric)
    off = proposal.number - proposal.before
    basis = {"maker": "by the maker's sheet", "label": "by the label"}.get(
        proposal.before_basis, proposal.before_basis
    )
    if abs(off) < 0.5:
        return f"it was {was}, {basis}"
    return f"{amount(abs(off), 'lb', metric=metric)} {'more' if off > 0 else 'less'} than {was}, {basis}"


def notes(ticket: Ticketed) -> Iterable[str]:
    """What the answer takes for granted."""
    if ticket.hitch_by_geometry:
        yield BY_GEOMETRY
    if ticket.bars_drawn:
        yield BARS
    yield (
        "± is half of a 95 % interval. A scale's own error counts half as the same in all its readings;"
        " half as each reading's own."
    )
