"""The sentences of a hand-over: whether to hand it over, how it stands to what was promised, what would change it."""

from __future__ import annotations

import math
from typing import Final

from rubrail.answers.checklist_parts import Result
from rubrail.answers.hand_over import new_doubts
from rubrail.answers.hand_over_report import Changed, HandOver, Inspected, Put
from rubrail.answers.report import Line, Weighing
from rubrail.answers.turn import Touch
from rubrail.sheets.sentences import by_name, weighing_sentence, what_to_do
from rubrail.sheets.sentences_amounts import amount, feet, listed
from rubrail.sheets.sentences_follow_up import said_day
from rubrail.sheets.sentences_lines import closest, line_sentence, settle_sentence, spare, unknown_sentence
from rubrail.sheets.sentences_turn import touch_sentence
from rubrail.sheets.sentences_words import begin, limit_name

DO: Final = "Hand it over"
DONE: Final = "Handed over"
DO_NOT: Final = "Do not hand it over"
WAY_WORDS: Final = {
    "better": "better than promised",
    "same": "as promised",
    "worse": "worse than promised",
    "not promised": "nothing was promised",
}
NO_HAUL: Final = (
    "Not known: no truck and no cargo are described for this buyer, so nothing can be weighed. Describe the haul."
)
REGARDLESS: Final = "Handed over regardless"
PROMISES: Final = {"quote": "the quote", "file": "the files"}


def hand_over_sentence(found: HandOver, *, by: str = "quote", metric: bool = False) -> str:
    """Whether to hand over by the weighing, what governs now, and how that stands to what was promised.

    Parameters
    ----------
    found : HandOver
    by : str
        What promised it, a key of ``PROMISES``.
    metric : bool
    """
    lead = DO_NOT if found.held else DO
    if found.against:
        return f"{lead}. What was measured cannot be true of this rig: {' '.join(found.against)}"
    if found.weighing is None:
        return f"{lead}. {NO_HAUL}"
    said = [f"{lead}.", _now(found, metric), way_sentence(found, by=by, metric=metric), _more(found, metric)]
    return " ".join(filter(None, said))


def _more(found: HandOver, metric: bool) -> str:
    """What else stands worse than promised, where the limit that governs says nothing of it."""
    if not found.held or found.way not in ("same", "better") or found.verdict != "depends":
        return ""
    new = [x for x in new_doubts(found.lines, found.changed) if x != found.governing]
    said = [f"{limit_name(x.title, x.member)} ({_stands(x, metric)})" for x in new]
    return f"Nobody was promised this: {listed(said)}." if said else ""


def _now(found: HandOver, metric: bool) -> str:
    """The weighing's own sentence; where something measured hitched decides, that in its words."""
    if found.governing is None or found.governing not in found.lines:
        return weighing_sentence(found.weighing, tried=False, metric=metric)
    word = "Over" if found.verdict == "over" else "Depends" if found.verdict == "depends" else "Not known"
    return f"{word}: {line_sentence(found.governing, metric=metric)} {found.governing.says}"


def way_sentence(found: HandOver, *, by: str = "quote", metric: bool = False) -> str:
    """How it stands to what was promised, with the limit that governed then."""
    if found.promised is None:
        return ""
    who = PROMISES[by]
    then = found.promised
    said = {"better": "Better than", "same": "As", "worse": "Worse than"}[found.way]
    end = _then(then, metric)
    return f"{said} {who} had it: {end}."


def _then(then: Weighing, metric: bool) -> str:
    if then.governing is None:
        return then.verdict
    return f"{then.verdict}, {closest(by_name(then.governing, then.pieces), metric=metric)}"


def change_sentence(found: HandOver, *, metric: bool = False) -> str:
    """What would change it: a single change, a measurement, or what to find out; empty where nothing is held."""
    if found.weighing is None or found.verdict == "clear":
        return ""
    w = found.weighing
    if found.governing in found.lines:
        return (
            _HITCHED[found.governing.check]
            if found.governing.verdict != "not known"
            else f"{begin(found.governing.ask)}."
        )
    if found.governing is not None and found.governing.check in _SET:
        return _SET[found.governing.check]
    if w.verdict == "over":
        seen, single = _as_read(found), any(r.verdict != "over" for r in w.remedies)
        if not seen:
            return what_to_do(w.remedies, metric=metric)
        if not single and (left := _was_over(found)):
            return f"{seen} It stays over all the same, as was promised: {listed(left)}."
        return f"{seen} Or: {what_to_do(w.remedies, metric=metric)}" if single else seen
    if w.verdict == "not known":
        return unknown_sentence(w.unknown)
    return settle_sentence(w.settle, metric=metric) if w.settle else (found.governing.says if found.governing else "")


def _as_read(found: HandOver) -> str:
    """What was found otherwise than promised and can be put right here and now."""
    said = []
    for put in found.put:
        changed = any(c.way == "worse" and c.now.verdict == "over" and _rests_on(c.now, put) for c in found.changed)
        if changed and put.name in _RIGHT:
            said.append(_RIGHT[put.name])
        elif changed and put.name.startswith("tire_psi_"):
            said.append(f"Air the tires of axle {put.name[-1]} up, cold.")
    return " ".join(dict.fromkeys(said))


def _was_over(found: HandOver) -> list[str]:
    """Limits that are over and were so as promised: what was read on the rig is not their cause."""
    if found.weighing is None or found.promised is None:
        return []
    then = {(x.check, x.member) for x in found.promised.lines if x.verdict == "over"}
    lines = [x for x in found.weighing.lines if x.verdict == "over" and (x.check, x.member) in then]
    return [limit_name(x.title, x.member) for x in lines]


_HITCHED: Final = {
    "hitched-level": "Set the coupler or the ball higher or lower until the deck stands level, and measure again.",
    "hitched-room": "Set the neck higher, or the ball lower, and measure again.",
}
_SET: Final = {
    "neck-over-rail": _HITCHED["hitched-room"],
    "neck-clearance": _HITCHED["hitched-room"],
    "level-trim": _HITCHED["hitched-level"],
    "hitch-too-low": "Put the ball higher, or set the coupler lower, and measure again.",
    "hitch-too-high": "Put the ball lower, or set the coupler higher, and measure again.",
}
"""What is done about limits that are set with a wrench, whatever carries what."""
_RIGHT: Final = {
    "hitch_ball_size_in": "Put a ball of the coupler's size on, rated for this trailer.",
    "front_tire_each_lb": "Air the truck's front tires up, cold.",
    "rear_tire_each_lb": "Air the truck's rear tires up, cold.",
    "brake_controller": "Have a brake controller put in.",
}
_OF: Final = {
    "hitch_ball_size_in": ("ball-size",),
    "front_tire_each_lb": ("truck-front-tires",),
    "rear_tire_each_lb": ("truck-rear-tires",),
    "brake_controller": ("brake-controller",),
}


def _rests_on(line: Line, put: Put) -> bool:
    if put.name.startswith("tire_psi_"):
        return line.check == "axle-tires" and line.member == f"axle {put.name[-1]}"
    return line.check in _OF.get(put.name, ())


def meeting_sentence(touch: Touch) -> str:
    """How far the rig may fold, or the slope may change, before two parts meet."""
    if touch.missing or math.isinf(touch.angle_deg) or math.isnan(touch.here_deg):
        return touch_sentence(touch)
    return f"{begin(touch.name)} meet where it folds to {touch.angle_deg:.0f}°."


def put_sentence(put: Put, *, metric: bool = False) -> str:
    """One value that was read or measured: what it is now, and what the file has."""
    now, before = put_words(put, metric=metric)
    if before == "not known":
        return f"{begin(put.says)}: {now}; the file says nothing of it."
    same = now == before
    return f"{begin(put.says)}: {now}, {'as the file has it' if same else f'where the file has {before}'}."


def put_words(put: Put, *, metric: bool = False) -> tuple[str, str]:
    """What a value is now, and what the file has."""
    if not put.unit:
        return put.now_says or "not known", put.before_says or "not known"
    return _size(put.now, put.unit, metric), _size(put.before, put.unit, metric)


def _size(value: float, unit: str, metric: bool) -> str:
    if math.isnan(value):
        return "not known"
    if unit == "in" and value < 7:
        from rubrail.sheets.paper.facts import sixteenths

        return sixteenths(value)
    return feet(value, metric=metric) if unit == "in" and value >= 120 else amount(value, unit, metric=metric)


def changed_words(one: Changed, *, metric: bool = False) -> tuple[str, str, str]:
    """A limit by name, as it was promised, and as it is now."""
    name = begin(limit_name(one.now.title, one.now.member))
    then = "not asked" if one.before is None else _stands(one.before, metric)
    return name, then, _stands(one.now, metric)


def _stands(line: Line, metric: bool) -> str:
    left = spare(line, metric=metric)
    return f"{line.verdict}, {left}" if left else line.verdict


def signed_sentence(says: str, *, regardless: bool) -> str:
    """The first sentence once it is signed: handed over, or regardless of what was said.

    Parameters
    ----------
    says : str
        As ``stand_sentence`` gave it.
    regardless : bool
    """
    if regardless:
        return f"{REGARDLESS} of this: {says}"
    return f"{DONE}.{says.removeprefix(f'{DO}.')}"


def list_sentence(told: Result) -> str:
    """What of the list stands open or is wrong; empty where it holds nothing back."""
    bad = sum(r.judged.mark != "open" for r in told.reasons)
    # Lines that hold nothing are counted with the others: the page counts them, too.
    left = told.of - told.done if len(told.reasons) > bad else 0
    said = []
    if bad:
        said.append(f"{'1 line is' if bad == 1 else f'{bad} lines are'} not in order")
    if left:
        said.append(f"{'1 line is' if left == 1 else f'{left} lines are'} still to be looked at")
    return f"{begin(listed(said))}." if said else ""


def inspected_words(inspected: Inspected) -> str:
    """How the inspection stands, as a fact of the sheet: ``released, Nov 28, 2026``."""
    if inspected.on is None:
        return {"under way": "begun, not finished", "never": "never made"}[inspected.state]
    return f"{inspected.state}, {said_day(inspected.on)}"


def inspected_sentence(inspected: Inspected) -> str:
    """Why the inspection holds the unit back; empty where it was released."""
    return {
        "hold": "Its pre-delivery inspection holds it back.",
        "under way": "Its pre-delivery inspection is begun and not finished.",
        "never": "It never had a pre-delivery inspection, so whether it is fit to go is not known.",
    }.get(inspected.state, "")


def stand_sentence(found: HandOver | None, told: Result, *, inspected: Inspected, metric: bool = False) -> str:
    """Whether to hand over, by inspection, list and weighing together.

    Parameters
    ----------
    found : HandOver or None
        Nothing where the unit no longer reads.
    told : Result
        What the list comes to.
    inspected : Inspected
        How its pre-delivery inspection stands; what that holds is said first.
    metric : bool
    """
    held = inspected_sentence(inspected)
    if found is None:
        broken = "What is stored of the unit no longer reads: correct it first."
        return " ".join(filter(None, (f"{DO_NOT}.", held, broken)))
    said, open_ = hand_over_sentence(found, metric=metric), list_sentence(told)
    if not (held or open_):
        return said
    _, _, rest = said.partition(". ")
    return " ".join(filter(None, (f"{DO_NOT}.", held, open_, rest)))
