"""Why one limit of a rig stands as it does, for the page: formula, this rig's numbers in it, inputs, sources."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from rubrail.answers.lines import member_name
from rubrail.answers.why import Input, Step, explain
from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import CHECKS
from rubrail.checks.rows import TOLD_KINDS
from rubrail.desk.rig_reckon import Reckoned
from rubrail.desk.rig_rows import GROUPS, lines_by_row
from rubrail.rules.sources import source
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_lines import line_sentence
from rubrail.sheets.sentences_words import FLAG, KIND_WORDS, begin


def why_page(it: Reckoned, check: str, *, member: int | None, metric: bool) -> dict[str, Any]:
    """One limit taken apart. member : which axle or piece; the worst where it is not said or is none."""
    judged = it.judgement
    rows = [n for n, r in enumerate(judged.rows.rows) if r.check.id == check]
    chosen = [n for n in rows if judged.rows.rows[n].member == member]
    index = chosen[0] if chosen else min(rows, key=lambda n: int(judged.codes[n, 0, 0]))
    line = lines_by_row(it)[index]
    which = judged.rows.rows[index].member
    result = explain(Evaluation(it.columns), check, member=which)
    applies = line.verdict != "does not apply"

    def shown(value: float) -> str:
        return amount(value, result.unit, metric=metric)

    return {
        "line": line,
        "title": begin(CHECKS[check].title),
        "member": member_name(CHECKS[check].per, which),
        "group": GROUPS.get(line.group, ""),
        "says": result.says,
        "kind": begin(KIND_WORDS[result.kind]),
        "duty": result.kind in TOLD_KINDS,
        "sentence": line_sentence(line, metric=metric) if applies else f"{begin(result.title)}: does not apply here.",
        "sides": [
            _side("demand", result.demand_formula, result.demand_filled, shown(result.demand)),
            _side("limit", result.limit_formula, result.limit_filled, shown(result.limit)),
        ],
        "margin": shown(result.limit - result.demand),
        "steps": [_step(s, metric=metric) for s in result.steps],
        "inputs": [_input(i, metric=metric) for i in result.inputs],
        "sources": [source(key) for key in result.sources],
        "us_numbers": metric,
    }


def _side(name: str, formula: str, filled: str, value: str) -> dict[str, str]:
    return {"name": name, "formula": spaced(formula), "filled": filled if filled != formula else "", "value": value}


def spaced(formula: str) -> str:
    """A formula with its names in words."""
    return formula.replace("**", "^").replace("*", "×").replace(" / ", " ÷ ").replace("_", " ")


def _step(step: Step, *, metric: bool) -> dict[str, Any]:
    return {
        "title": begin(step.title),
        "name": step.name.replace("_", " "),
        "formula": spaced(step.formula),
        "filled": step.filled if step.filled != step.formula else "",
        "value": ", ".join(amount(v, step.unit, metric=metric) for v in step.value),
    }


def _input(read: Input, *, metric: bool) -> dict[str, Any]:
    flag = read.title.startswith(FLAG)
    if flag:
        value = _each("not known" if math.isnan(v) else "yes" if v else "no" for v in read.value)
    else:
        value = read.word or _each(amount(v, read.unit, metric=metric) for v in read.value)
    return {
        "title": begin(read.title.removeprefix(FLAG)),
        "value": value,
        "spread": _each(amount(v, read.unit, metric=metric) if v else "" for v in read.plus_minus),
        "bases": list(dict.fromkeys(b for b in read.basis if b)),
        "path": read.path,
    }


def _each(texts: Iterable[str]) -> str:
    """One text where all members have the same, else all of them."""
    texts = list(texts)
    return (texts[0] if len(set(texts)) == 1 else ", ".join(texts)) if texts else ""
