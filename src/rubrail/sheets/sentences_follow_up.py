"""The sentences about what is owed a buyer after delivery: what it is, and what to say on the phone."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING, Final

from rubrail.quantity.money import show_money
from rubrail.quantity.show import show
from rubrail.rules.tables import table
from rubrail.sheets.sentences_amounts import listed

if TYPE_CHECKING:
    from rubrail.answers.follow_up import FollowUp


SHORT_PARTS = 2
"""Parts a title names that a warranty is not on."""


def follow_up_title(one: FollowUp) -> str:
    """What it is, short enough for a calendar."""
    miles = listed([f"{m:,}" for m in one.miles])
    return {
        "wheel-nuts": f"Wheel nuts at {miles} miles",
        "brakes": f"Brakes adjusted at about {miles} miles{'' if one.sure else ', if by hand'}",
        "papers": "Title and plate",
        "first-service": f"First service, {_first(one)}",
        "bearings": f"Wheel bearings, {_first(one)}",
        "accessories": "Last day of the tax on added parts",
        "warranty": f"Warranty to {said_day(one.ends or one.due)}: {_briefly(one)}",
    }[one.sort]


def day_to_keep(one: FollowUp) -> tuple[date, str]:
    """The day itself, as a buyer keeps it, and what falls on it: of a warranty its end, not the day of a call."""
    if one.ends is None:
        return one.due, follow_up_title(one)
    return one.ends, f"End of the warranty, {show(one.months or 0, 'months')}: {_covered(one)}"


def _covered(one: FollowUp) -> str:
    """What a warranty is on."""
    if "trailer" not in one.parts:
        return listed(one.parts)
    return f"all but {listed(one.but)}" if one.but else "the whole trailer"


def _briefly(one: FollowUp) -> str:
    return "all else" if len(one.but) > SHORT_PARTS else _covered(one)


def _first(one: FollowUp) -> str:
    return f"{one.months} months or {listed([f'{m:,}' for m in one.miles])} miles"


def follow_up_words(one: FollowUp) -> str:
    """What to say to the buyer."""
    return _SAID[one.sort](one)


def _wheel_nuts(one: FollowUp) -> str:
    every = [f"{r['miles']:,}" for r in table("follow-up")["rows"] if r["sort"] == "wheel-nuts"]
    torques = listed([f"{t:,.0f}" for t in one.torque_ft_lb])
    figure = f"{torques} ft lb, as its file has it; the manual governs" if torques else "the figure in its manual"
    return (
        f"Have the wheel nuts been torqued again? New wheels settle: stop at {listed(every)} miles, and again after"
        f" any wheel was off, with a torque wrench set to {figure}."
    )


def _brakes(one: FollowUp) -> str:
    then = (
        f"adjusted after about the first {one.miles[0]:,} miles, when the shoes have worn in, and the controller set"
        " again after that"
    )
    if one.sure:
        return f"The trailer's brakes are adjusted by hand: have them {then}."
    return f"Do the trailer's brakes adjust themselves? The manual says. If they do not, have them {then}."


def _papers(one: FollowUp) -> str:
    return "Have the title and the plate come? If not, ask the office here what is missing and who has it."


def _first_service(one: FollowUp) -> str:
    return (
        f"The first service is due: {_first(one)}, whichever comes first. Brakes, lights, coupler, chains, tires and"
        " their pressure; the manual of the trailer and of its axles governs."
    )


def _bearings(one: FollowUp) -> str:
    return (
        f"Wheel bearings and seals want looking at: {_first(one)}, whichever comes first, and at once if a hub runs"
        " hotter than the others. The axle's manual governs."
    )


def _accessories(one: FollowUp) -> str:
    figures = table("excise")["figures"]
    rule = (
        f"parts and accessories put on until {said_day(one.due)} are taxed at {figures['rate_percent']} percent once"
        f" they and the fitting come to more than {show_money(figures['accessory_free_to_usd'])} in all. What replaces"
        f" a part is not taxed. The {one.months} months count from the first day of use, taken here as the day of"
        " delivery; ask a tax adviser"
    )
    if one.sure:
        return f"Federal excise tax was due on this trailer, so {rule}."
    return f"It is not known whether federal excise tax was due on this trailer. If it was, {rule}."


def _warranty(one: FollowUp) -> str:
    on = _covered(one)
    on = on if "trailer" in one.parts else f"the {on}"
    ask = "Is there anything to look at before that? What it covers stands in its paper."
    span, day = show(one.months or 0, "months"), said_day(one.ends or one.due)
    if one.sure:
        return f"The warranty on {on}, {span}, ends on {day}. {ask}"
    return (
        f"The warranty on {on} ends on {day}, if its {span} are right and count from the delivery: read its paper"
        f" first. {ask}"
    )


_SAID: Final[dict[str, Callable[[FollowUp], str]]] = {
    "wheel-nuts": _wheel_nuts,
    "brakes": _brakes,
    "papers": _papers,
    "first-service": _first_service,
    "bearings": _bearings,
    "accessories": _accessories,
    "warranty": _warranty,
}


def said_day(day: date) -> str:
    """A day in words: ``Nov 28, 2026``."""
    return f"{day:%b} {day.day}, {day.year}"
