"""Words of a checklist: what to do at each line, what counts as good, and how a line stands with what was entered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rubrail.answers.checklist_parts import Judged, Line, Reason, Result
from rubrail.rules.sources import source
from rubrail.sheets.paper.facts import sixteenths
from rubrail.sheets.sentences_amounts import amount, feet, listed
from rubrail.sheets.sentences_checklist_lines import LINES
from rubrail.sheets.sentences_words import begin

SORT_WORDS = {"inspection": "pre-delivery inspection", "round": "yard round", "handover": "hand-over"}
MARK_WORDS = {
    "ok": "in order",
    "not ok": "not in order",
    "not known": "not known",
    "not here": "not on this unit",
    "open": "not looked at",
}
OUTCOME_WORDS = {"release": "release", "hold": "hold"}


@dataclass(frozen=True, slots=True)
class LineWords:
    """A line in words: ``unknown`` says what the unit's file does not, ``where`` names the sources of its figures."""

    title: str
    do: str
    good: str
    unknown: str
    where: str


def line_words(line: Line, *, metric: bool = False) -> LineWords:
    """What a line says to whoever looks.

    Parameters
    ----------
    line : Line
    metric : bool
    """
    if line.sort == "own":
        title, do, good = line.own["title"], line.own["do"], line.own["good"]
        good = good or bounds_words(line, metric=metric)
    else:
        title, do, good = LINES[line.sort](line, metric)
    unknown = f"Not known of this unit: {listed(line.missing)}." if line.missing else ""
    return LineWords(title, do, good, unknown, where(line))


def bounds_words(line: Line, *, metric: bool = False) -> str:
    """What its numbers may be, in words; nothing where no figure is known."""
    low = None if line.least is None else shown(line.least, line.unit, metric=metric)
    high = None if line.most is None else shown(line.most, line.unit, metric=metric)
    if low and high:
        return f"{begin(low)} to {high}."
    return f"At least {low}." if low else f"At most {high}." if high else ""


def where(line: Line) -> str:
    """Where the figures of a line come from, each source with how it was read."""
    if line.sort == "own":
        return "The yard's own line."
    return "; ".join(f"{s.title} ({s.how_read})" for s in map(source, line.sources))


def shown(number: float, unit: str, *, metric: bool = False) -> str:
    """A number of an entry with its unit."""
    if unit == "code":
        return f"{round(number):04d}"
    if unit == "size":
        return sixteenths(number)
    if unit == "length":
        return feet(number, metric=metric)
    if unit in ("V", "A", "32nds"):
        return f"{number:g} {unit}"
    if unit == "in" and abs(number) < 1:
        return f"{number:g} in"
    return amount(number, unit, metric=metric)


def judged_sentence(line: Line, judged: Judged, *, metric: bool = False) -> str:
    """How a line stands, in one sentence; empty where who looked said it all with a word.

    Parameters
    ----------
    line : Line
    judged : Judged
    metric : bool
    """
    say = _WHY.get(judged.why)
    return say(line, judged.facts, metric) if say else ""


def _said(line: Line, facts: Mapping, metric: bool) -> str:
    return facts.get("text") or ""


def _short(line: Line, facts: Mapping, metric: bool) -> str:
    return f"By the unit's own figures {facts['short']}. Correct the unit, or its figures if the part says otherwise."


def _lacking(line: Line, facts: Mapping, metric: bool) -> str:
    return "This unit needs it and it is not there. " + (facts.get("text") or "")


def _missing(line: Line, facts: Mapping, metric: bool) -> str:
    places = facts.get("places")
    return f"Still to enter: {listed(places) if places else facts['what']}."


def _differs(line: Line, facts: Mapping, metric: bool) -> str:
    found, wanted = (shown(facts[k], line.unit, metric=metric) for k in ("found", "wanted"))
    if line.sort == "torque":
        return f"{begin(facts['place'])} was set to {found}; the maker's sheet says {wanted}."
    return f"{begin(facts['place'])} reads {found} and the unit's file says {wanted}. One of them is wrong."


def _low(line: Line, facts: Mapping, metric: bool) -> str:
    found, wanted = (shown(facts[k], line.unit, metric=metric) for k in ("found", "wanted"))
    return f"{begin(facts['place'])} has {found}; at least {wanted} counts as good."


def _high(line: Line, facts: Mapping, metric: bool) -> str:
    found, wanted = (shown(facts[k], line.unit, metric=metric) for k in ("found", "wanted"))
    if line.sort == "pressure":
        return f"{begin(facts['place'])} has {found}; the sidewall allows {wanted} cold."
    return f"{begin(facts['place'])} has {found}; at most {wanted} counts as good."


def _carries_less(line: Line, facts: Mapping, metric: bool) -> str:
    at = shown(facts["found"], "psi", metric=metric)
    one, share = (amount(facts[k], "lb", metric=metric) for k in ("carries_lb", "share_lb"))
    short = amount(facts["share_lb"] - facts["carries_lb"], "lb", metric=metric)
    if facts["full_lb"] < facts["share_lb"]:
        full = amount(facts["full_lb"], "lb", metric=metric)
        return (
            f"At {at} the {facts['place']} tire carries {one}, {short} less than its share of the axle's rating"
            f" ({share}); at full pressure it carries {full}: the tire is short, not only the air."
        )
    return (
        f"At {at} the {facts['place']} tire carries {one}, {short} less than its share of the axle's rating ({share})."
        f"{_air_up(facts, metric)}"
    )


def _under_label(line: Line, facts: Mapping, metric: bool) -> str:
    at = shown(facts["found"], "psi", metric=metric)
    axle, gawr = (amount(facts[k], "lb", metric=metric) for k in ("axle_carries_lb", "gawr_lb"))
    at = f"{begin(facts['place'])} has {at}"
    return f"{at}. The axle still carries {axle} against its {gawr}, but the label asks more.{_air_up(facts, metric)}"


def _air_up(facts: Mapping, metric: bool) -> str:
    wanted = facts["wanted"]
    return f" Air up to {shown(wanted, 'psi', metric=metric)}, cold." if wanted == wanted else " Air up, cold."


def _carries(line: Line, facts: Mapping, metric: bool) -> str:
    axle, gawr = (amount(facts[k], "lb", metric=metric) for k in ("axle_carries_lb", "gawr_lb"))
    at = shown(facts["found"], "psi", metric=metric)
    asks = "" if facts["wanted"] == facts["wanted"] else " The label's pressure is not known."
    return f"The lowest has {at}: the axle carries {axle} against its rating of {gawr}.{asks}"


def _unreckoned(line: Line, facts: Mapping, metric: bool) -> str:
    missing = facts.get("missing") or line.missing
    return f"Measured, and cannot be judged: not known is {listed(missing)}. Find it out and write it into the unit."


def _uneven(line: Line, facts: Mapping, metric: bool) -> str:
    return (
        f"The {facts['place']} wheel draws {facts['found']:g} A and the other {facts['other']:g} A:"
        " look for a bad ground or a broken wire."
    )


def _old(line: Line, facts: Mapping, metric: bool) -> str:
    return f"The {facts['place']} tire is {facts['years']:.1f} years old; {facts['wanted']:g} is where yards replace."


def _age(line: Line, facts: Mapping, metric: bool) -> str:
    return f"The oldest is {max(facts['years'], 0):.1f} years old."


def _unreadable(line: Line, facts: Mapping, metric: bool) -> str:
    return f"{begin(facts['place'])}: {round(facts['found'])} is no week and year, such as 3524 for week 35 of 2024."


def _other_vin(line: Line, facts: Mapping, metric: bool) -> str:
    at = f"; they part at character {facts['at']}" if facts["at"] else ""
    return f"The label reads {facts['found']} and the unit's file {facts['wanted']}{at}. Settle it before it leaves."


def _vin(line: Line, facts: Mapping, metric: bool) -> str:
    return " ".join(facts["faults"])


def _vin_alone(line: Line, facts: Mapping, metric: bool) -> str:
    return "It reads as a VIN; the unit's file has none to compare."


_WHY = {
    "said": _said,
    "short": _short,
    "lacking": _lacking,
    "missing": _missing,
    "differs": _differs,
    "low": _low,
    "high": _high,
    "carries less": _carries_less,
    "under label": _under_label,
    "carries": _carries,
    "unreckoned": _unreckoned,
    "uneven": _uneven,
    "old": _old,
    "age": _age,
    "unreadable": _unreadable,
    "other vin": _other_vin,
    "vin": _vin,
    "vin alone": _vin_alone,
}


def result_sentence(result: Result, *, sort: str = "inspection") -> str:
    """The first sentence of a list: release or hold, and what stands in the way.

    Parameters
    ----------
    result : Result
    sort : str
    """
    bad = [r for r in result.reasons if r.judged.mark != "open"]
    left = len(result.reasons) - len(bad)
    if result.outcome == "release":
        more = (
            f" {_lines(len(result.remarks))} to put right {'does' if len(result.remarks) == 1 else 'do'} not hold it."
        )
        whole = "In order" if sort == "round" else "Release"
        return f"{whole}: every line that would hold it is in order.{more if result.remarks else ''}"
    said = []
    if bad:
        said.append(f"{_lines(len(bad))} {'is' if len(bad) == 1 else 'are'} not in order")
    if left:
        said.append(f"{_lines(left)} {'was' if left == 1 else 'were'} not looked at")
    word = "To put right" if sort == "round" else "Hold"
    return f"{word}: {listed(said)}."


def _lines(n: int) -> str:
    return "1 line" if n == 1 else f"{n} lines"


def reason_sentence(reason: Reason, *, metric: bool = False) -> str:
    """One line that is not in order, with why."""
    title = line_words(reason.line, metric=metric).title
    why = judged_sentence(reason.line, reason.judged, metric=metric)
    return f"{title}: {MARK_WORDS[reason.judged.mark]}." + (f" {why}" if why else "")
