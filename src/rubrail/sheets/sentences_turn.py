"""The sentences about turning a rig: does it fit the corner, and how far may it fold."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rubrail.sheets.sentences_amounts import amount, feet, listed
from rubrail.sheets.sentences_lines import need_phrase
from rubrail.sheets.sentences_words import begin, called

if TYPE_CHECKING:
    from rubrail.answers.turn import Touch, Turn

LIMITS_OF_IT = (
    "One arc at a walk, from wherever in the lane is best; without swinging the other way first, and without backing."
)
"""What the turn takes for granted."""


def corner_said(turn: Turn, *, metric: bool = False) -> str:
    """The corner in words."""
    c = turn.corner
    lanes = f"from a lane of {feet(c.entry_in, metric=metric)} into one of {feet(c.exit_in, metric=metric)}"
    curb = f", curb radius {feet(c.curb_in, metric=metric)}" if c.curb_in else ", no rounding at the curb"
    return f"{math.degrees(c.angle_rad):.0f}° {lanes}{curb}"


def turn_sentence(turn: Turn, *, metric: bool = False) -> str:
    """The first sentence of a turn."""
    rig = f"{called(turn.trailer_title, turn.trailer)} behind {called(turn.truck, what='truck')}"
    corner = corner_said(turn, metric=metric)
    if turn.missing:
        needs = listed([need_phrase(n) for n in turn.missing])
        return f"Not known whether {rig} turns {corner}: find out {needs}."
    spare = amount(abs(turn.spare_in), "in", metric=metric)
    folds = [t for t in turn.touches if t.angle_deg < t.here_deg]
    if folds:
        return (
            f"Over: {rig} folds {turn.fold_deg:.0f}° in this turn, and {folds[0].name} touch"
            f" at {folds[0].angle_deg:.0f}°."
        )
    if turn.verdict == "over":
        wider = (
            f"it takes a lane out of {feet(math.ceil(turn.exit_needed_in), metric=metric)}"
            if math.isfinite(turn.exit_needed_in)
            else "no width of the lane out is enough, so the lane in must be wider"
        )
        return f"Over: {rig} is {spare} short of room for {corner}; {wider}, or a wider swing."
    if turn.verdict == "not known":
        return f"Not known whether {rig} folds this far: {_unknown(turn)}."
    if turn.verdict == "depends":
        why = (
            "the truck's turning circle is not known and the usual one is taken"
            if not turn.radius_known
            else "a tape's error decides"
        )
        return f"Depends: {rig} turns {corner} with {spare} to spare, but {why}."
    return f"Clear: {rig} turns {corner} with {spare} to spare at the tightest place."


def _unknown(turn: Turn) -> str:
    return listed(
        [f"find out {need_phrase(n)}" for t in turn.touches if not math.isnan(t.here_deg) for n in t.missing]
    )


def touch_sentence(touch: Touch) -> str:
    """One pair of parts that may meet."""
    name = begin(touch.name)
    if touch.missing:
        return f"{name}: not known; find out {listed([need_phrase(n) for n in touch.missing])}."
    if math.isinf(touch.angle_deg):
        return f"{name} never meet, however far it folds."
    if math.isnan(touch.here_deg):
        return f"{name}: they meet where the slope changes by {touch.angle_deg:.0f}°."
    spare = touch.angle_deg - touch.here_deg
    end = f"{spare:.0f}° more than this turn folds it" if spare >= 0 else "which this turn passes"
    return f"{name} meet at {touch.angle_deg:.0f}°, {end}."
