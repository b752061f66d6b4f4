"""Judge what was entered at a checklist's lines: a measured value is reckoned, and nothing entered is never ok."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import Any

from rubrail.answers.checklist_parts import Entry, Judged, Line, Reason, Result
from rubrail.mechanics.tires import tire_load_lb
from rubrail.rules.chambers import LONGEST_IN
from rubrail.rules.tables import figure
from rubrail.rules.vin import clean, vin_faults

HAIR = 1e-6
ROUNDED = {"lb": 1.2, "ft lb": 0.4, "psi": 0.5}
"""How far the other scale of a label, wrench or gauge is rounded: whole kilograms, newton meters, ten kilopascals."""
TIRE_AGE_YEARS = figure("checks", "tire_age_years")
WHEEL_SHARE = figure("checks", "magnet_wheel_share")
TORQUES = (30.0, 700.0)
"""Least and most torque of a wheel nut that a unit's file takes. [ft lb]"""


def judge(line: Line, entry: Entry | None, *, on: date) -> Judged:
    """How a line stands with what was entered.

    A word of the person who looked counts where the line is one to look at. Numbers are held to the line's own
    figures, and the worse of word and numbers counts. What the unit's own figures contradict is never ok.

    Parameters
    ----------
    line : Line
    entry : Entry or None
        The latest entry of the line.
    on : date
        Day it was entered; the age of a tire is counted to it.
    """
    if entry is None or entry.empty:
        return Judged("open")
    if entry.answer == "not here":
        return Judged("not here", "said") if line.optional else Judged("not ok", "lacking", {"text": entry.text})
    if entry.answer == "not ok":
        return Judged("not ok", "said", {"text": entry.text})
    if line.short:
        return Judged("not ok", "short", {"short": line.short})
    if line.entry == "photo":
        return Judged("ok", "said") if entry.photos else Judged("open", "missing", {"what": "a photo"})
    if line.entry == "numbers":
        return _numbers(line, entry, on)
    if line.entry == "text":
        return _text(line, entry)
    return Judged("ok", "said") if entry.answer == "ok" else Judged("open")


def _numbers(line: Line, entry: Entry, on: date) -> Judged:
    numbers = [*entry.numbers, *[None] * (len(line.places) - len(entry.numbers))][: len(line.places)]
    if not numbers or any(n is None for n in numbers):
        lacking = [p for p, n in zip(line.places, numbers, strict=True) if n is None]
        return Judged("open", "missing", {"what": "a number", "places": lacking})
    found = [*[act(line, numbers, on) for act in _MORE.get(line.sort, ())], _bounds(line, numbers)]
    order = ("not ok", "not known", "ok")
    return min(found, key=lambda j: order.index(j.mark))


def _bounds(line: Line, numbers: Sequence[float]) -> Judged:
    """The numbers against what the line's own figures ask; where it has none, the word of who looked."""
    for place, number, exact in zip(line.places, numbers, line.exact, strict=False):
        if exact is not None and not _same(number, exact, line.unit):
            return Judged("not ok", "differs", {"place": place, "found": number, "wanted": exact})
    hair = ROUNDED["psi"] if line.unit == "psi" else HAIR
    for place, number in zip(line.places, numbers, strict=True):
        if line.least is not None and number < line.least - hair:
            return Judged("not ok", "low", {"place": place, "found": number, "wanted": line.least})
        if line.most is not None and number > line.most + hair:
            return Judged("not ok", "high", {"place": place, "found": number, "wanted": line.most})
    judged_by = line.least is not None or line.most is not None or bool(line.exact) or line.sort in _MORE
    # What a rig is weighed again with is judged by that weighing.
    judged_by = judged_by or bool(line.facts.get("weighed"))
    return Judged("ok", "measured") if judged_by else Judged("not known", "unreckoned", {"missing": line.missing})


def _same(number: float, wanted: float, unit: str) -> bool:
    return abs(number - wanted) <= ROUNDED.get(unit, HAIR)


def _pressure(line: Line, pressures: Sequence[float], on: date) -> Judged:
    """What each tire carries at its pressure against its share of the axle's rating; then the label's pressure."""
    facts = line.facts
    needed = ("max_load_lb", "max_pressure_psi", "exponent", "derate", "gawr_lb")
    values = {name: _float(facts.get(name)) for name in needed}
    share = values["gawr_lb"] / len(pressures)
    loads = [
        float(
            tire_load_lb(
                max_load_lb=values["max_load_lb"],
                max_pressure_psi=values["max_pressure_psi"],
                pressure_psi=p,
                exponent=values["exponent"],
                derate=values["derate"],
            )
        )
        for p in pressures
    ]
    worst = min(range(len(pressures)), key=lambda n: pressures[n])
    told = {
        "place": line.places[worst],
        "found": pressures[worst],
        "wanted": _float(facts.get("pressure_psi")),
        "carries_lb": loads[worst],
        "share_lb": share,
        "full_lb": values["max_load_lb"] / values["derate"],
        "axle_carries_lb": len(pressures) * loads[worst],
        "gawr_lb": values["gawr_lb"],
    }
    if math.isnan(loads[worst]) or math.isnan(share):
        return Judged("not known", "unreckoned", {**told, "missing": line.missing})
    if loads[worst] < share * (1 - HAIR):
        return Judged("not ok", "carries less", told)
    if told["wanted"] > pressures[worst] + ROUNDED["psi"]:
        return Judged("not ok", "under label", told)
    # No label asks for more than the sidewall allows.
    if math.isnan(told["wanted"]) and pressures[worst] < values["max_pressure_psi"] - ROUNDED["psi"]:
        return Judged("not known", "label not known", told)
    return Judged("ok", "carries", told)


def _float(value: Any) -> float:
    return math.nan if value is None else float(value)


def _uneven(line: Line, amps: Sequence[float], on: date) -> Judged:
    """One wheel's magnet drawing much less than the other's: a bad ground or a broken wire."""
    most = max(amps)
    low = min(range(len(amps)), key=lambda n: amps[n])
    if most > 0 and amps[low] < WHEEL_SHARE * most - HAIR:
        return Judged("not ok", "uneven", {"place": line.places[low], "found": amps[low], "other": most})
    return Judged("ok", "measured")


def _as_sheet(line: Line, numbers: Sequence[float], on: date) -> Judged:
    """Wheel nuts against the torque of the maker's sheet, where it was entered with them."""
    if line.exact:
        return Judged("ok", "measured")
    wanted, *set_to = numbers
    if not TORQUES[0] <= wanted <= TORQUES[1]:
        return Judged("not known", "no torque", {"found": wanted, "least": TORQUES[0], "most": TORQUES[1]})
    for place, number in zip(line.places[1:], set_to, strict=True):
        if not _same(number, wanted, line.unit):
            return Judged("not ok", "differs", {"place": place, "found": number, "wanted": wanted})
    return Judged("ok", "by sheet", {"wanted": wanted, "axle": line.facts.get("axle")})


def _stroke(line: Line, numbers: Sequence[float], on: date) -> Judged:
    """Pushrods against the limit of their chamber, picked by its type or typed off its tag."""
    limit, *strokes = numbers
    if not 0 < limit <= LONGEST_IN + HAIR:
        return Judged("not known", "no limit", {"found": limit, "most": LONGEST_IN})
    for place, number in zip(line.places[1:], strokes, strict=True):
        if number > limit + HAIR:
            return Judged("not ok", "stroke", {"place": place, "found": number, "wanted": limit})
    return Judged("ok", "measured")


def _placard(line: Line, numbers: Sequence[float], on: date) -> Judged:
    """Cargo on the placard against what the label leaves over the empty weight."""
    gvwr, empty = (_float(line.facts.get(name)) for name in ("gvwr_lb", "empty_lb"))
    told = {"found": numbers[0], "leaves_lb": gvwr - empty, "basis": line.facts.get("basis", "")}
    if math.isnan(told["leaves_lb"]):
        return Judged("not known", "unreckoned", {**told, "missing": line.missing})
    if numbers[0] > told["leaves_lb"] + _float(line.facts.get("slack_lb")):
        return Judged("not ok" if told["basis"] == "weighed" else "not known", "placard", told)
    return Judged("ok", "placard holds", told)


def tire_age_years(*, code: float, on: date) -> float:
    """Age of a tire by the last four digits of its code, week and year; ``nan`` where they are none. [years]

    Parameters
    ----------
    code : float
        Week and year as one number: 3524 is week 35 of 2024.
    on : date
    """
    week, year = divmod(round(code), 100)
    if not (code == round(code) and 1 <= week <= 53 and 0 <= year <= 99):
        return math.nan
    made = 2000 + year + (week - 1) / 52.1775
    now = on.year + (on.timetuple().tm_yday - 1) / 365.25
    return now - made if now - made > -0.1 else math.nan


def _age(line: Line, codes: Sequence[float], on: date) -> Judged:
    ages = [tire_age_years(code=c, on=on) for c in codes]
    for place, code, age in zip(line.places, codes, ages, strict=True):
        if math.isnan(age):
            return Judged("not known", "unreadable", {"place": place, "found": code})
    old = max(range(len(ages)), key=lambda n: ages[n])
    told = {"place": line.places[old], "years": ages[old], "wanted": TIRE_AGE_YEARS}
    return Judged("not ok", "old", told) if ages[old] >= TIRE_AGE_YEARS else Judged("ok", "age", told)


_MORE: Mapping[str, Sequence[Callable[[Line, Sequence[float], date], Judged]]] = {
    "pressure": (_pressure,),
    "magnets": (_uneven,),
    "date code": (_age,),
    "torque": (_as_sheet,),
    "pushrods": (_stroke,),
    "placard": (_placard,),
}
"""Further reckoning of the numbers of some sorts of line."""


def _text(line: Line, entry: Entry) -> Judged:
    text = entry.text.strip()
    if not text:
        return Judged("open", "missing", {"what": "what it says"})
    wanted = line.facts.get("wanted")
    if line.sort != "vin":
        return Judged("ok", "said") if entry.answer == "ok" else Judged("open", "missing", {"what": "a word"})
    read = clean(vin=text)
    if wanted and read != clean(vin=wanted):
        place = next((n for n, (a, b) in enumerate(zip(read, clean(vin=wanted), strict=False), 1) if a != b), 0)
        return Judged("not ok", "other vin", {"found": read, "wanted": wanted, "at": place})
    faults = vin_faults(vin=read)
    if faults:
        return Judged("not ok", "vin", {"found": read, "faults": tuple(faults)})
    return Judged("ok", "same vin" if wanted else "vin alone", {"found": read})


def result(lines: Sequence[Line], entries: Mapping[str, Entry], *, on: date) -> Result:
    """What a list comes to with what was entered; a line nobody looked at holds where the line holds.

    Parameters
    ----------
    lines : sequence of Line
    entries : mapping
        Latest entry by the line's key.
    on : date
    """
    judged = [Reason(line, judge(line, entries.get(line.key), on=on)) for line in lines]
    bad = [r for r in judged if r.judged.mark in ("not ok", "not known", "open")]
    holding = tuple(r for r in bad if r.line.holds)
    remarks = tuple(r for r in bad if not r.line.holds and r.judged.mark != "open")
    done = sum(r.judged.mark != "open" for r in judged)
    return Result("hold" if holding else "release", holding, remarks, done, len(lines))
