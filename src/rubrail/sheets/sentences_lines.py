"""One sentence for one limit: how it stands, why a unit is out, what would settle it, what to change."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rubrail.answers.report import Line, Need, Remedy
from rubrail.checks.rows import TOLD_KINDS
from rubrail.sheets.sentences_amounts import amount, listed, percent, text_in_metric
from rubrail.sheets.sentences_words import begin, found_out, limit_name, need_phrase, together, which
from rubrail.things.names import unit_of

AT_MOST = 3
"""Things named one by one in a sentence; beyond that the rest is counted."""


_HOLDS = {"clear": "holds", "depends": "holds at the stated values", "over": "does not hold"}


def yes_or_no(line: Line) -> bool:
    """Whether a line asks for something to be there, so that no amount can be stated."""
    return line.unit == "" and line.demand in (0.0, 1.0) and line.limit in (0.0, 1.0)


def spare(line: Line, *, metric: bool = False) -> str:
    """What is left, in words: ``68 lb to spare``, ``nothing to spare``; ``""`` where no amount says it."""
    if yes_or_no(line) or math.isnan(line.margin) or math.isinf(line.margin):
        return ""
    if line.margin < 0 and line.verdict == "over":
        return f"{amount(-line.margin, line.unit, metric=metric)} past the limit"
    left = amount(max(line.margin, 0.0), line.unit, metric=metric)
    return "nothing to spare" if left.split(" ")[0] == "0" else f"{left} to spare"


def closest(line: Line, *, metric: bool = False) -> str:
    """The limit by name with what it leaves: ``truck rear axle against its rating, 68 lb to spare``."""
    left = spare(line, metric=metric)
    name = limit_name(line.title, line.member)
    return f"{name}, {left}" if left else name


def line_sentence(line: Line, *, metric: bool = False) -> str:
    """How one limit stands, numbers included."""
    name = begin(limit_name(line.title, line.member))
    if line.verdict == "not known":
        return f"{name}: not known; {ask_for(line.missing, line.ask)}."
    if line.verdict == "does not apply":
        return f"{name}: does not apply."
    if yes_or_no(line):
        return f"{name}: {_HOLDS.get(line.verdict, line.verdict)}."
    if line.kind in TOLD_KINDS:
        shown = (amount(v, line.unit, metric=metric) for v in (line.demand, line.limit))
        return f"{name}: {line.verdict}, {' against '.join(shown)}."
    if math.isinf(line.limit):
        worst = f"{amount(-line.worst_margin, line.unit, metric=metric)} past" if line.worst_margin < 0 else "in doubt"
        return f"{name}: as stated it does not apply; with every doubt against it, {worst}."
    left = spare(line, metric=metric)
    share = percent(line.share) if line.margin >= 0 else ""
    against = f"{amount(line.demand, line.unit, metric=metric)} against {amount(line.limit, line.unit, metric=metric)}"
    doubt = ""
    if line.verdict == "depends":
        worst = amount(-line.worst_margin, line.unit, metric=metric)
        doubt = f"; with every doubt against it, {worst} past" if line.worst_margin < 0 else "; in doubt"
    return f"{name}: {against}, {left}{f' ({share})' if share else ''}{doubt}."


def why_not(line: Line, *, more: int = 0, metric: bool = False) -> str:
    """Why a unit is out, in a few words.

    Parameters
    ----------
    line : Line
        The limit that governs.
    more : int
        Further limits that are over.
    """
    name = limit_name(line.title, line.member)
    if line.verdict == "not known":
        text = f"{name}, not known: {ask_for(line.missing, line.ask)}"
    elif line.verdict == "over" and not yes_or_no(line) and math.isfinite(line.margin):
        text = f"{name}, {amount(-line.margin, line.unit, metric=metric)} past the limit"
    elif line.verdict == "over":
        text = f"{name}, which does not hold"
    else:
        text = closest(line, metric=metric)
    return f"{text}, and {more} more" if more else text


def ask_for(needs: Sequence[Need], otherwise: str = "") -> str:
    """What to go and get where something is not known.

    Parameters
    ----------
    needs : sequence of Need
        The inputs that are missing.
    otherwise : str
        What the check itself says to look at, where no input is named.
    """
    if not needs:
        return otherwise or "something it needs was not written down"
    return f"ask for {_named(needs)}"


_BASIS = {
    "label": "on the label",
    "weighed": "by scale",
    "measured": "by tape",
    "maker": "from the maker's sheet",
    "estimated": "by somebody's estimate",
    "typical": "typical of its class",
}


def settle_sentence(needs: Sequence[Need], *, brief: bool = False, metric: bool = False) -> str:
    """The measurement that would end the doubt, the best first.

    Parameters
    ----------
    needs : sequence of Need
        As the answer orders them.
    brief : bool
        Name only the first, as one says it aloud, and count the others.
    """
    if not needs:
        return "Weigh the loaded rig to settle it."
    first, rest = needs[0], needs[1:]
    now = ""
    if first.plus_minus > 0:
        unit = unit_of(first.name)
        stands, give = (amount(v, unit, metric=metric) for v in (first.value, first.plus_minus))
        now = f", now {stands} {_BASIS.get(first.basis, '')}".rstrip() + f", give or take {give}"
    also = ""
    if rest:
        also = (
            f"; then {len(rest)} more {'inputs' if len(rest) > 1 else 'input'}" if brief else f"; then {_named(rest)}"
        )
    return f"To settle it, measure {need_phrase(first)}{now}{also}."


def unknown_sentence(needs: Sequence[Need]) -> str:
    """What is missing, as something to ask for; ``""`` where nothing is."""
    return f"Not known: {ask_for(needs)}." if needs else ""


def remedy_sentence(remedy: Remedy, *, metric: bool = False) -> str:
    """One change, and what the rig is after it."""
    says = begin(text_in_metric(remedy.says) if metric else remedy.says).rstrip(".")
    after = {
        "clear": "the rig is clear",
        "depends": "it is no longer over, and depends on what is still in doubt",
        "not known": "nothing known is over, and something is still not known",
        "over": "other limits are still over",
    }[remedy.verdict]
    joint = "; with that" if remedy.kind == "rating" else ", and"
    return f"{says}{joint} {after}."


def _named(needs: Sequence[Need]) -> str:
    """Inputs by name; the same input of several axles once."""
    alike: dict[tuple[str, str], list[Need]] = {}
    for need in needs:
        alike.setdefault((need.says, found_out(need)), []).append(need)
    words = [need_phrase(some[0], of=together([which(n) for n in some if which(n)])) for some in alike.values()]
    if len(words) > AT_MOST:
        return f"{', '.join(words[:AT_MOST])} and {len(words) - AT_MOST} more"
    return listed(words)
