"""What the lines of tires, hubs, brakes and wheel nuts say."""

from __future__ import annotations

from typing import Final

from rubrail.answers.checklist_parts import Line
from rubrail.rules.tables import figure, table
from rubrail.sheets.paper.facts import sixteenths
from rubrail.sheets.sentences_amounts import amount, listed
from rubrail.sheets.sentences_checklist_shared import Words, axle_of, pounds, shown

ABS_YEAR: Final = 1998
"""Air-braked trailers have anti-lock brakes from 1 March of this year on."""


def _torque(line: Line, metric: bool) -> Words:
    f = line.facts
    do = "Wheels on the ground, threads clean: tighten in a star, in three stages, with a torque wrench."
    if f["torque_ft_lb"] is None:
        good = "Take the value from the maker's sheet for these wheels and studs, and type it with what you set."
    else:
        studs = f" on {f['studs']} studs" if f["studs"] else ""
        good = f"{amount(f['torque_ft_lb'], 'ft lb', metric=metric)}{studs}, every wheel."
    return f"Wheel nuts, {axle_of(line)}", do, f"{good} No nut missing, no hole worn long. Again after {_again()}."


def _again() -> str:
    miles = [f"{r['miles']:g}" for r in table("follow-up")["rows"] if r["sort"] == "wheel-nuts"]
    return f"the first {listed(miles)} miles"


def _hubs(line: Line, metric: bool) -> Words:
    kind = line.facts["hubs"]
    dry = "the brake" if line.facts.get("braked", True) else "the wheel"
    good = {
        "oil": f"Oil at the mark in every cap, none on {dry}.",
        "grease": f"Fresh grease, caps on, none on {dry}.",
        "": f"Look at the caps: a sight glass means oil. No leak, none on {dry}.",
    }[kind]
    return (
        f"Hubs, {axle_of(line)}" + (f" ({kind})" if kind else ""),
        "Spin and shake each wheel off the ground.",
        good + " No play, no noise.",
    )


def _sidewall(line: Line, metric: bool) -> Words:
    f = line.facts
    size = " ".join(filter(None, (f["size"], f"load range {f['load_range']}" if f["load_range"] else "")))
    good = f"{size}. " if size else ""
    if f["sum_lb"] is not None and f["gawr_lb"] is not None:
        good += f"Together {pounds(f['sum_lb'], metric)} against the axle's {pounds(f['gawr_lb'], metric)}."
    else:
        good += "Tires and wheels together carry the axle's rating."
    if f["wheels_lb"] is not None:
        good += f" Wheels {pounds(f['wheels_lb'], metric)}."
    elif f["gawr_lb"] is not None and f["count"]:
        good += f" Each wheel rated {pounds(f['gawr_lb'] / f['count'], metric)} or more."
    return (
        f"Tires and wheels, {axle_of(line)}",
        "Read size and load off every sidewall, and the stamp of the wheels.",
        good,
    )


def _pressure(line: Line, metric: bool) -> Words:
    f = line.facts
    wanted, most = f["pressure_psi"], f["max_pressure_psi"]
    good = (
        "The label's pressure is not known: take it from the label."
        if wanted is None
        else f"{amount(wanted, 'psi', metric=metric)} by the label, cold."
    )
    good += f" Never over {amount(most, 'psi', metric=metric)}." if most is not None else ""
    return f"Pressure, {axle_of(line)}", "Gauge every tire cold and type what it has before you add air.", good


def _codes(line: Line, metric: bool) -> Words:
    do = "Type the last four digits of each tire's code: week and year."
    return f"Age of the tires, {axle_of(line)}", do, f"Under {figure('checks', 'tire_age_years'):g} years old."


def _tread(line: Line, metric: bool) -> Words:
    return (
        f"Tread, {axle_of(line)}",
        "Measure the lowest groove, in thirty-seconds of an inch.",
        f"At least {line.least:g}/32 in, no cord, no cut, no bulge.",
    )


def _spare(line: Line, metric: bool) -> Words:
    if not line.facts["listed"]:
        return "Spare", "The unit's file lists none. Where there is one, gauge it.", _spare_good(line, metric)
    return "Spare", "Look at tire, wheel and bracket; gauge it.", _spare_good(line, metric)


def _spare_good(line: Line, metric: bool) -> str:
    wanted = line.facts.get("pressure_psi")
    air = "aired up" if wanted is None else f"{amount(wanted, 'psi', metric=metric)} as on the road"
    return f"Same size and load range as on the axle, {air}, locked."


_BRAKES: Final = {
    "electric": (
        "Brake with a controller, each wheel off the ground in turn.",
        "Each wheel stops and lets go again; no drag.",
    ),
    "electric-over-hydraulic": (
        "Brake with a controller, each wheel off the ground in turn.",
        "Each wheel stops and lets go again; no leak.",
    ),
    "surge": (
        "Push the coupler in, and look at each wheel.",
        "Each wheel stops and lets go again; the coupler slides and comes back.",
    ),
    "air": (
        "Build up air, brake, and look at each chamber.",
        "Each pushrod moves alike and comes back; no air is heard; the anti-lock warning lamp goes out.",
    ),
    "": ("Find out what kind of brakes these are, then try each wheel.", "Each wheel stops and lets go again."),
}  # fmt: skip


def _brakes(line: Line, metric: bool) -> Words:
    kind = line.facts["kind"]
    do, good = _BRAKES[kind]
    year = line.facts.get("year")
    if kind == "air" and (year is None or year <= ABS_YEAR):
        good = good.replace("the anti-lock", "where it has one, the anti-lock")
    return f"Brakes, {axle_of(line)}" + (f" ({kind})" if kind else ""), do, good


def _magnets(line: Line, metric: bool) -> Words:
    good = (
        f"{line.least:g} to {line.most:g} A each at 12 V, both alike. Service pages differ: the maker's sheet"
        " goes before."
    )
    return f"Current of each wheel, {axle_of(line)}", "Controller full on, an ammeter in the wire of each wheel.", good


def _pushrods(line: Line, metric: bool) -> Words:
    picks: dict[float, list[str]] = {}
    for name, limit in line.facts.get("picks", ()):
        picks.setdefault(limit, []).append(name.removeprefix("type "))
    allowed = "; ".join(
        f"{shown(limit, line.unit, metric=metric)} for type {listed(names)}" for limit, names in picks.items()
    )
    return (
        f"Pushrods, {axle_of(line)}",
        "80 to 90 psi in the tank, brakes full on: measure how far each rod comes out.",
        f"No farther than its chamber allows: {allowed}. Any other: what its tag or its maker's sheet says. Both sides"
        " have the same chamber.",
    )


def _lining(line: Line, metric: bool) -> Words:
    where = "Linings of drums" if line.facts.get("air") else "Linings"
    return f"{where}, {axle_of(line)}", "Measure the thinnest place, in inches.", f"At least {_fraction(line)}."


def _pad(line: Line, metric: bool) -> Words:
    return f"Pads of discs, {axle_of(line)}", "Measure the thinnest place, in inches.", f"At least {_fraction(line)}."


def _fraction(line: Line) -> str:
    return f"{sixteenths(line.least)} ({line.least:g})"


def _fluid(line: Line, metric: bool) -> Words:
    return (
        "Brake fluid",
        "Open the reservoir; follow lines and hoses.",
        "Between the marks, clear; no leak, no chafed hose.",
    )


RUNNING: Final = {
    "torque": _torque,
    "hubs": _hubs,
    "sidewall": _sidewall,
    "pressure": _pressure,
    "date code": _codes,
    "tread": _tread,
    "spare": _spare,
    "brakes": _brakes,
    "magnets": _magnets,
    "pushrods": _pushrods,
    "lining": _lining,
    "pad": _pad,
    "brake fluid": _fluid,
}
