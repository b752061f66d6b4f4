"""Tying down in plain sentences: the first one to say aloud, and one for each tie-down, direction and reading."""

from __future__ import annotations

import math
from collections import Counter

from rubrail.answers.report import Line
from rubrail.answers.secure_report import Held, Reading, Secured, TieDown, TieDownPlan
from rubrail.checks.rows import VERDICT_KINDS
from rubrail.sheets.sentences_amounts import amount, listed, text_in_metric
from rubrail.sheets.sentences_lines import ask_for, settle_sentence, spare, why_not
from rubrail.sheets.sentences_words import begin, called, limit_name, unit

METHOD_WORDS = {"us": "the federal rules", "en": "EN 12195-1"}
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_WORST = ("over", "not known", "depends", "clear")


def number_word(n: int) -> str:
    """A small number as a word."""
    return _NUMBERS[n] if n < len(_NUMBERS) else str(n)


def tie_down_sentence(plan: TieDownPlan, *, metric: bool = False) -> str:
    """What holds the machines, what governs, by how much, what to do.

    Parameters
    ----------
    plan : TieDownPlan
    metric : bool
        Kilograms and meters.
    """
    if not plan.pieces:
        return f"Nothing stands on {_trailer(plan)}, so nothing is tied down."
    piece = min(plan.pieces, key=lambda p: _WORST.index(p.verdict))
    said = {"clear": _clear, "depends": _depends, "over": _over, "not known": _not_known}[plan.verdict]
    return said(plan, piece, metric)


def _trailer(plan: TieDownPlan) -> str:
    return unit(plan.trailer_title, plan.trailer)


def _piece(piece: Secured) -> str:
    return called(piece.title, piece.id, what="piece")


def _what(plan: TieDownPlan) -> str:
    names = Counter(_piece(p) for p in plan.pieces)
    if len(names) > 3:
        return f"all {len(plan.pieces)} pieces"
    return listed([n if k == 1 else f"{number_word(k)} of {n}" for n, k in names.items()])


def gear_words(plan: TieDownPlan) -> str:
    """What the plan takes: ``four chains and one more for its accessory``."""
    ties = [t for p in plan.pieces for t in p.ties]
    mine, others = [t for t in ties if t.holds == "piece"], [t for t in ties if t.holds == "accessory"]
    kinds = {"strap" if "strap" in t.gear_title else "chain" for t in mine}
    word = kinds.pop() if len(kinds) == 1 else "tie-down"
    text = f"{number_word(len(mine))} {word}{'' if len(mine) == 1 else 's'}"
    if others:
        many = "accessory" if len(others) == 1 else "accessories"
        text += f", and {number_word(len(others))} for the {many},"
    return text


def _holds(plan: TieDownPlan) -> str:
    return f"{gear_words(plan)} {'hold' if plan.pieces and len(plan.pieces[0].ties) != 1 else 'holds'}"


def _clear(plan: TieDownPlan, piece: Secured, metric: bool) -> str:
    text = f"Clear by {METHOD_WORDS[plan.method]}: {_holds(plan)} {_what(plan)} on {_trailer(plan)}"
    least = min(plan.pieces, key=lambda p: math.inf if p.governing is None else p.governing.share)
    if least.governing is None:
        return f"{text}."
    left = spare(least.governing, metric=metric)
    return f"{text}; closest limit: {limit_name(least.governing.title, least.governing.member)}, {left or 'holds'}."


def _depends(plan: TieDownPlan, piece: Secured, metric: bool) -> str:
    line = piece.governing
    text = f"Depends: {_holds(plan)} {_what(plan)} on {_trailer(plan)}"
    if line is None:
        return f"{text} at the stated values. {settle_sentence(piece.settle, brief=True, metric=metric)}"
    if line.kind == "guidance":
        name = limit_name(line.title, line.member)
        if line.verdict == "not known":
            return (
                f"{text} as far as the law counts; whether it meets guidance, which is not law, is not known: {name};"
                f" {ask_for(line.missing, line.ask)}."
            )
        past = spare(line, metric=metric)
        return f"{text} as far as the law counts, but against guidance, which is not law: {name}, {past}. {line.says}"
    return (
        f"{text} at the stated values, but {limit_name(line.title, line.member)} is in doubt."
        f" {settle_sentence(line.settle or piece.settle, brief=True, metric=metric)}"
    )


def _over(plan: TieDownPlan, piece: Secured, metric: bool) -> str:
    line = piece.governing
    text = f"Over: this plan does not hold {_piece(piece)} on {_trailer(plan)}"
    if line is None:
        return f"{text}."
    more = sum(x.verdict == "over" and x.kind in VERDICT_KINDS for x in piece.lines) - 1
    good = next((c for c in piece.changes if line.check in c.clears), None)
    says = "" if good is None else text_in_metric(good.says) if metric else good.says
    todo = f"{begin(says)}." if good else _it_takes(piece, line, metric)
    if line.unit == "tie-downs":
        name = limit_name(line.title, line.member)
        why = f"{name}, {line.limit:g} of {line.demand:g}" + (f", and {more} more" if more > 0 else "")
    else:
        why = why_not(line, more=max(more, 0), metric=metric)
    return f"{text}; in the way: {why}. {todo}"


def _it_takes(piece: Secured, line: Line, metric: bool) -> str:
    """What would do where no one change of the plan does."""
    mine = [t for t in piece.ties if t.holds == "piece"]
    if line.check != "tiedown-aggregate" or not mine or any(t.path != "direct" for t in mine):
        return "It takes stronger anchors or gear, or more of them."
    each = amount(2 * line.demand / len(mine), "lb", metric=metric)
    weakest = Counter(w for t in mine for w in t.weakest.split(", ") if w).most_common(1)
    now = f"; now its {weakest[0][0]} governs" if weakest else ""
    return f"Each of these {number_word(len(mine))} would have to be good for {each}{now}; or it takes more of them."


def _not_known(plan: TieDownPlan, piece: Secured, metric: bool) -> str:
    line = piece.governing
    text = f"Not known whether {gear_words(plan)} hold {_piece(piece)} on {_trailer(plan)}"
    needs = {(n.name, n.where): n for n in (*(line.missing if line else ()), *piece.unknown)}
    first = [n for n in needs.values() if line is None or not line.missing or n in line.missing]
    return f"{text}: {ask_for(first, line.ask if line else '')}."


def tie_sentence(tie: TieDown, *, label: str = "", metric: bool = False) -> str:
    """One tie-down: what it is, from where to where, what it is good for and what governs that."""
    gear = tie.gear_title + (f" with {tie.binder_title}" if tie.binder else "")
    if tie.path == "direct":
        start, end = tie.anchor_title or "an anchor not known", tie.point_title or "machine, where not known"
        way = f"from {start} to the {end}"
    else:
        over = "over the top" if tie.path == "over" else f"round the {tie.point_title}"
        way = f"from {tie.anchor_title} {over} to {tie.far_title}"
    return f"{label or tie.number}: {gear}, {way}; {limit_words(tie, metric=metric)}."


def limit_words(tie: TieDown, *, metric: bool = False) -> str:
    """What a tie-down is good for, what governs it, what of it counts."""
    if math.isnan(tie.wll_lb):
        missing = [w for w, v in _parts(tie) if math.isnan(v)]
        return f"good for what its {listed(missing, joint='or')} allows, which is not known"
    good = f"good for {amount(tie.wll_lb, 'lb', metric=metric)} by its {tie.weakest.replace(', ', ' and ')}"
    if tie.holds == "accessory":
        return f"{good}; holds an accessory and does not count"
    return f"{good}, of which {amount(tie.counted_lb, 'lb', metric=metric)} counts"


def _parts(tie: TieDown) -> tuple[tuple[str, float], ...]:
    return (
        ("chain or strap", tie.line_wll_lb), ("hooks", tie.hook_wll_lb), ("binder", tie.binder_wll_lb),
        ("anchor", tie.anchor_wll_lb), ("tie point", tie.point_wll_lb),
    )  # fmt: skip


def held_sentence(held: Held) -> str:
    """One direction, at working load limits and before anything breaks."""
    parts = []
    if held.working_asked_g > 0:
        parts.append(f"{_g(held.working_held_g)} at working load limits, {_g(held.working_asked_g)} asked")
    parts.append(f"{_g(held.breaking_held_g)} before anything breaks, {_g(held.breaking_asked_g)} asked")
    return f"{begin(held.direction)}: {'; '.join(parts)}."


def _g(value: float) -> str:
    return "not known" if math.isnan(value) else f"{value:.3g} g"


def reading_sentence(reading: Reading, *, metric: bool = False) -> str:
    """One reading of a rule, and how the plan stands by it."""
    demand, limit = (amount(v, reading.unit, metric=metric) for v in (reading.demand, reading.limit))
    word = {"clear": "holds", "over": "does not hold", "not known": "not known"}[reading.holds]
    governs = ", the one that governs here" if reading.governs else ""
    return f"{reading.source}{governs}: {reading.says}; {demand} asked, {limit} there: {word}."


def locked_sentence(piece: Secured) -> str:
    """What to do about a machine that bends; empty for one that does not."""
    if not piece.bends:
        return ""
    if piece.locked:
        return f"Lock the articulation of {_piece(piece)}, or chain it so that it cannot bend."
    return f"The articulation of {_piece(piece)} is not locked."


def friction_sentence(piece: Secured) -> str:
    """With what friction the accelerations were reckoned."""
    if math.isnan(piece.friction):
        return "Friction between it and the deck is not known."
    return (
        f"Reckoned with friction {piece.friction:g} between it and a swept dry deck;"
        " mud, ice, oil or loose stone take most of it away."
    )


def gear_taken(piece: Secured) -> list[str]:
    """What to take from the kit, counted: ``4 of chain-3-8: 3/8 in chain, with ratchet binder ratchet-3-8.``"""
    counts = Counter((t.gear, t.gear_title, t.binder, t.binder_title) for t in piece.ties)
    return [
        f"{n} of {gear}: {title}{f', with {binder_title} {binder}' if binder else ''}."
        for (gear, title, binder, binder_title), n in counts.items()
    ]
