"""What a buyer is to be asked or told after delivery, each with its day: from the unit and the day it went."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from rubrail.rules.after_delivery import MILES_A_DAY, driven_by, months_after
from rubrail.rules.tables import figure, table
from rubrail.things.trailer import Trailer

GUESSED = ("typical", "estimated")
"""Bases of a figure that nobody is told to set a wrench by."""
BY_HAND = "hand-adjusted-brakes"
BY_THEMSELVES = "self-adjusting-brakes"
"""Tags of a unit's equipment that say whether somebody must adjust its brakes; without either it is not known."""
ADJUSTED = ("electric", "electric-over-hydraulic", "surge")
"""Brakes that may be of the kind adjusted by hand. Air brakes have their own practice, which is not told here."""
PARTS = ("frame", "axles", "tires", "finish")
"""Parts that may have a warranty of their own beside the whole trailer's."""
WHOLE = "trailer"


@dataclass(frozen=True, slots=True)
class FollowUp:
    """One thing to ask or tell, by a day.

    sort : ``wheel-nuts``, ``brakes``, ``papers``, ``first-service``, ``accessories``, ``bearings`` or ``warranty``
    guessed : the day is a guess from a distance; miles : the distances it comes at; months : where it comes by them
    sure : false where the file does not tell whether it applies, so that the buyer is asked
    torque_ft_lb : of the wheel nuts, each that the unit's axles have; empty where any is not known or only typical
    ends : last day of a warranty, of which somebody is reminded before; parts : whose, ``WHOLE`` or some of ``PARTS``
    but : parts that the whole trailer's does not go for, since they have their own or none
    """

    sort: str
    due: date
    guessed: bool
    miles: tuple[int, ...]
    months: int | None
    sure: bool
    source: str
    torque_ft_lb: tuple[float, ...] = ()
    ends: date | None = None
    parts: tuple[str, ...] = ()
    but: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """What tells it from others of one delivery, with its miles: warranties go by their months as well."""
        return f"{self.sort}-{self.months}" if self.ends else self.sort


def follow_ups(
    *,
    trailer: Trailer,
    delivered: date,
    excise: str = "not due",
    miles_a_day: float = MILES_A_DAY,
) -> tuple[FollowUp, ...]:
    """Everything to ask or tell after a delivery, the first due first.

    Parameters
    ----------
    trailer : Trailer
    delivered : date
        Taken for the day it was first put in service.
    excise : str
        Standing of the federal excise tax, as ``answers.price`` has it: ``due`` and ``not known`` bring the last day
        of the tax on accessories.
    miles_a_day : float
        What a buyer is guessed to drive. [mi]

    References
    ----------
    TRAILER-MANUALS, AXLE-SERVICE, USC-26-4051, TREAS-20.6075-1, COMMON-PRACTICE
    """
    found: dict[tuple[str, date], FollowUp] = {}
    adjusted = _adjusted(trailer)
    for row in table("follow-up")["rows"]:
        sure = adjusted if row["sort"] == "brakes" else True
        if sure is False:
            continue
        one = _of(row, delivered=delivered, sure=sure is True, miles_a_day=miles_a_day)
        if one.sort == "wheel-nuts":
            one = replace(one, torque_ft_lb=_torques(trailer))
        before = found.get((one.sort, one.due))
        # Distances that are likely driven on one day are one call.
        found[one.sort, one.due] = one if before is None else _with(before, one)
    last = [*_warranties(trailer, delivered=delivered)]
    if excise in ("due", "not known"):
        months = int(figure("excise", "accessory_months"))
        day = months_after(day=delivered, months=months)
        last.append(FollowUp("accessories", day, False, (), months, excise == "due", "USC-26-4051"))
    return tuple(sorted((*found.values(), *last), key=lambda f: f.due))


def _of(row: Mapping[str, Any], *, delivered: date, sure: bool, miles_a_day: float) -> FollowUp:
    miles, months, days = row.get("miles"), row.get("months"), row.get("days")
    fixed = [months_after(day=delivered, months=months)] if months else []
    fixed += [delivered + timedelta(days=days)] if days else []
    driven = [driven_by(day=delivered, miles=miles, miles_a_day=miles_a_day)] if miles else []
    due = min(fixed + driven)
    return FollowUp(row["sort"], due, due not in fixed, (miles,) if miles else (), months, sure, row["source"])


def _with(before: FollowUp, one: FollowUp) -> FollowUp:
    return replace(one, miles=(*before.miles, *one.miles), sure=one.sure and before.sure)


def _warranties(trailer: Trailer, *, delivered: date) -> Iterator[FollowUp]:
    """One for all parts whose warranty ends on one day, reminded of some days before; broken months are cut off."""
    stated = {part: getattr(trailer.warranty, f"{part}_months") for part in (WHOLE, *PARTS)}
    known = {part: math.floor(float(value)) for part, value in stated.items() if value is not None}
    whole = known.get(WHOLE, 0)
    but = tuple(part for part in PARTS if part in known and known[part] != whole)
    of: dict[int, list[str]] = {}
    for part, months in known.items():
        # A part that has what the whole trailer has needs no naming.
        if months and (part == WHOLE or months != whole):
            of.setdefault(months, []).append(part)
    for months, parts in of.items():
        ends = months_after(day=delivered, months=months)
        half = delivered + (ends - delivered) / 2
        due = max(ends - timedelta(days=figure("follow-up", "warranty_ahead_days")), half)
        sure = trailer.condition != "used" and all(stated[part].basis not in GUESSED for part in parts)
        yield FollowUp(
            "warranty", due, False, (), months, sure, "COMMON-PRACTICE", ends=ends, parts=tuple(parts),
            but=but if WHOLE in parts else (),
        )  # fmt: skip


def _torques(trailer: Trailer) -> tuple[float, ...]:
    """Torques of the wheel nuts, smallest first; none where one is missing or nobody read it anywhere."""
    stated = [axle.wheel_torque_ft_lb for axle in trailer.axle]
    if any(torque is None or torque.basis in GUESSED for torque in stated):
        return ()
    return tuple(sorted({float(torque) for torque in stated}))


def _adjusted(trailer: Trailer) -> bool | None:
    """Whether somebody must adjust the brakes; ``None`` where the file does not tell."""
    kinds = {axle.brakes for axle in trailer.axle}
    if not kinds & {None, *ADJUSTED}:
        return False
    tags = {e.tag for e in trailer.equipment}
    if BY_HAND in tags:
        return True
    return False if BY_THEMSELVES in tags else None
