"""How a line of a checklist stands with what was entered, in one sentence."""

from __future__ import annotations

from collections.abc import Mapping

from rubrail.answers.checklist_parts import Judged, Line
from rubrail.sheets.sentences_amounts import amount, listed
from rubrail.sheets.sentences_checklist_shared import shown
from rubrail.sheets.sentences_words import begin


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
    known = facts["wanted"] == facts["wanted"]
    asks = "" if known else " The label's pressure is not known; it cannot be more than the sidewall's."
    return f"The lowest has {at}: the axle carries {axle} against its rating of {gawr}.{asks}"


def _label_not_known(line: Line, facts: Mapping, metric: bool) -> str:
    axle, gawr = (amount(facts[k], "lb", metric=metric) for k in ("axle_carries_lb", "gawr_lb"))
    at = shown(facts["found"], "psi", metric=metric)
    return (
        f"The lowest has {at}: the axle carries {axle} against its rating of {gawr}. Whether the label asks for more"
        " is not known: read it there, and write it into the unit."
    )


def _no_torque(line: Line, facts: Mapping, metric: bool) -> str:
    low, high = (amount(facts[k], "ft lb", metric=metric) for k in ("least", "most"))
    return f"The sheet's torque must be {low} to {high}; {amount(facts['found'], 'ft lb', metric=metric)} is none."


def _by_sheet(line: Line, facts: Mapping, metric: bool) -> str:
    said = amount(facts["wanted"], "ft lb", metric=metric)
    return f"Set to {said}, as read off the maker's sheet. Write it into the unit, so that the next list holds it."


def _stroke(line: Line, facts: Mapping, metric: bool) -> str:
    found, wanted = (shown(facts[k], line.unit, metric=metric) for k in ("found", "wanted"))
    return f"{begin(facts['place'])} comes out {found}; its chamber allows {wanted}: adjust the brake."


def _no_limit(line: Line, facts: Mapping, metric: bool) -> str:
    found, most = (shown(facts[k], line.unit, metric=metric) for k in ("found", "most"))
    return f"No chamber allows {found}, and none more than {most}: is that its type? Pick the type, or read its tag."


def _placard(line: Line, facts: Mapping, metric: bool) -> str:
    found, left = (amount(facts[k], "lb", metric=metric) for k in ("found", "leaves_lb"))
    said = f"It allows {found}; the GVWR less the empty weight ({facts['basis']}) leaves {left}."
    return said + (" Have it corrected." if facts["basis"] == "weighed" else " One of them is wrong: weigh it empty.")


def _placard_holds(line: Line, facts: Mapping, metric: bool) -> str:
    left = amount(facts["leaves_lb"], "lb", metric=metric)
    return f"The GVWR less the empty weight ({facts['basis']}) leaves {left}."


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
    "label not known": _label_not_known,
    "unreckoned": _unreckoned,
    "no torque": _no_torque,
    "by sheet": _by_sheet,
    "stroke": _stroke,
    "no limit": _no_limit,
    "placard": _placard,
    "placard holds": _placard_holds,
    "uneven": _uneven,
    "old": _old,
    "age": _age,
    "unreadable": _unreadable,
    "other vin": _other_vin,
    "vin": _vin,
    "vin alone": _vin_alone,
}
