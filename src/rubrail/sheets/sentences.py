"""The first thing on any answer: one sentence a person can say aloud. The same on screen, terminal and paper.

What works, what governs, by how much, what to do. An unknown is never worded as a pass.
"""

from __future__ import annotations

from dataclasses import replace

from rubrail.answers.report import Line, Piece, Remedy, Weighing
from rubrail.checks.rows import VERDICT_KINDS
from rubrail.sheets.sentences_amounts import text_in_metric
from rubrail.sheets.sentences_lines import ask_for, closest, limit_name, settle_sentence, spare, why_not
from rubrail.sheets.sentences_words import SAFETY, begin, called, cargo, unit


def weighing_sentence(weighing: Weighing, *, tried: bool = True, metric: bool = False) -> str:
    """The verdict of one rig, what governs, by how much, and what to do.

    Parameters
    ----------
    weighing : Weighing
        As ``answers.weigh`` gives it.
    tried : bool
        Whether changes were tried; false where the weighing was made without remedies.
    metric : bool
        Kilograms and meters.
    """
    if weighing.governing is not None:
        weighing = replace(weighing, governing=by_name(weighing.governing, weighing.pieces))
    said = {"clear": _clear, "depends": _depends, "over": _over, "not known": _not_known}[weighing.verdict]
    if weighing.verdict != "over" or not tried:
        return said(weighing, metric)
    return f"{said(weighing, metric)} {what_to_do(weighing.remedies, metric=metric)}"


def by_name(line: Line, pieces: tuple[Piece, ...]) -> Line:
    """The line with *piece 2* told by its name.

    Parameters
    ----------
    line : Line
    pieces : tuple of Piece
        As placed, in the haul's order.
    """
    word, _, number = line.member.partition(" ")
    if word != "piece" or not number.isdigit() or int(number) > len(pieces):
        return line
    piece = pieces[int(number) - 1]
    name = called(piece.title, piece.id, what="piece")
    if "a piece" in line.title:
        return replace(line, title=line.title.replace("a piece", name), member="")
    return replace(line, title=f"{line.title} ({name})", member="")


def rig_phrase(w: Weighing, verb: str) -> str:
    """What the sentence is about: trailer, cargo and truck around a verb.

    Parameters
    ----------
    w : Weighing
    verb : str
        ``carries`` or ``does not carry``.
    """
    trailer = unit(w.trailer_title, w.trailer)
    truck = called(w.truck, what="truck")
    if not w.pieces:
        return f"{trailer} {'goes' if verb == 'carries' else 'cannot go'} empty behind {truck}"
    return f"{trailer} {verb} {cargo(w.pieces)} behind {truck}"


def _clear(w: Weighing, metric: bool) -> str:
    if w.governing is None:
        return f"Clear as far as described: no rating, law or fit check applies where {rig_phrase(w, 'carries')}."
    if not spare(w.governing, metric=metric):
        return f"Clear: {rig_phrase(w, 'carries')}; every limit holds."
    return f"Clear: {rig_phrase(w, 'carries')}; closest limit: {closest(w.governing, metric=metric)}."


def _depends(w: Weighing, metric: bool) -> str:
    line = w.governing
    if line is None:
        settle = settle_sentence(w.settle, brief=True, metric=metric)
        return f"Depends: {rig_phrase(w, 'carries')} at the stated values. {settle}"
    if line.kind == "guidance":
        return f"Depends: {rig_phrase(w, 'carries')} within every rating and law, {_against_guidance(line, metric)}"
    left = spare(line, metric=metric)
    doubt = f"{left}, and the doubt in the numbers is larger" if left else "the numbers leave it in doubt"
    return (
        f"Depends: {rig_phrase(w, 'carries')} at the stated values, but"
        f" {limit_name(line.title, line.member)} is in doubt: {doubt}."
        f" {settle_sentence(line.settle or w.settle, brief=True, metric=metric)}"
    )


def _against_guidance(line: Line, metric: bool) -> str:
    name = limit_name(line.title, line.member)
    if line.verdict == "over":
        past = spare(line, metric=metric)
        return f"but against guidance, which is not law: {name}{f', {past}' if past else ''}. {line.says}"
    if line.verdict == "not known":
        ask = ask_for(line.missing, line.ask)
        return f"but whether it meets guidance, which is not law, is not known: {name}; {ask}."
    left = spare(line, metric=metric)
    return (
        f"and close to guidance, which is not law: {name}{f', {left}' if left else ''}."
        f" {settle_sentence(line.settle, brief=True, metric=metric)}"
    )


def _over(w: Weighing, metric: bool) -> str:
    line = w.governing
    if line is None:
        return f"Over: {rig_phrase(w, 'does not carry')}."
    more = sum(1 for x in w.lines if x.verdict == "over" and x.kind in VERDICT_KINDS) - 1
    return f"Over: {rig_phrase(w, 'does not carry')}; in the way: {why_not(line, more=max(more, 0), metric=metric)}."


def what_to_do(remedies: tuple[Remedy, ...], *, metric: bool = False) -> str:
    """The first remedy worth saying aloud."""
    good = next((r for r in remedies if r.verdict != "over"), None)
    if good is None and remedies:
        return "No one change clears everything; see what each would do."
    if good is None:
        return "No one change clears it: it takes another unit, truck or load."
    says = text_in_metric(good.says) if metric else good.says
    after = {"clear": "it is clear", "depends": "it depends, no longer over", "not known": "the rest is not known"}
    return f"{begin(says.rstrip('.'))}, and {after[good.verdict]}."


def _not_known(w: Weighing, metric: bool) -> str:
    first = w.governing.missing if w.governing else ()
    needs = (*first, *(n for n in w.unknown if n not in first))
    otherwise = w.governing.ask if w.governing else ""
    if not first and otherwise:
        return f"Not known whether {rig_phrase(w, 'carries')}: {otherwise}."
    return f"Not known whether {rig_phrase(w, 'carries')}: {ask_for(needs)}."


__all__ = ["SAFETY", "by_name", "rig_phrase", "weighing_sentence", "what_to_do"]
