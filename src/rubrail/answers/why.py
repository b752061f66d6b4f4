"""Why a number is what it is: the formula with this rig's numbers in it, down to what was read off a label."""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import CHECKS, QUANTITIES
from rubrail.things.columns import Array
from rubrail.things.names import CODES, COLUMNS, unit_of

NAME = re.compile(r"[a-z][a-z0-9_]*")
SUM = re.compile(r"\bsum\(")


@dataclass(frozen=True, slots=True)
class Step:
    """One number and how it is made.

    name, title, unit : what it is; value : the number, per member where it has members.
    formula : expression over its inputs, ``""`` for a raw input or where no one expression says it.
    filled : the same with the numbers in it; inputs : the steps it rests on; path : where a raw input is written.
    """

    name: str
    title: str
    unit: str
    value: tuple[float, ...]
    formula: str
    filled: str
    path: str
    basis: str
    plus_minus: float
    sources: tuple[str, ...]
    inputs: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Why:
    """One check of one rig, taken apart."""

    check: str
    title: str
    kind: str
    says: str
    member: int | None
    demand: float
    limit: float
    unit: str
    demand_formula: str
    demand_filled: str
    limit_formula: str
    limit_filled: str
    sources: tuple[str, ...]
    inputs: tuple[Step, ...]


def plain(value: float) -> str:
    """A number as one would write it to work by hand: grouped, at most two decimals (four below one)."""
    if np.isnan(value):
        return "not known"
    if np.isinf(value):
        return "no limit"
    digits = 0 if abs(value) >= 10_000 else 2 if abs(value) >= 1 else 4
    text = f"{value:,.{max(digits, 1)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def explain(evaluation: Evaluation, check_id: str, *, member: int | None = None) -> Why:
    """Take one check of one rig apart.

    Parameters
    ----------
    evaluation : Evaluation
        Over columns of one rig: every axis but the member's has length 1.
    check_id : str
    member : int, optional
        Which member of a check per member.

    Raises
    ------
    KeyError
        If there is no such check.
    """
    c = CHECKS[check_id]
    demand, limit = evaluation.check(check_id)
    pick = member or 0
    steps: dict[str, Step] = {}
    inputs = tuple(_step(evaluation, n, steps) for n in c.inputs)
    return Why(
        c.id,
        c.title,
        c.kind,
        c.says,
        member,
        float(demand.reshape(-1)[pick]),
        float(limit.reshape(-1)[pick]),
        c.unit,
        c.demand,
        filled(c.demand, evaluation, member=member),
        c.limit,
        filled(c.limit, evaluation, member=member),
        c.sources,
        inputs,
    )


def _step(evaluation: Evaluation, name: str, done: dict[str, Step]) -> Step:
    if name in done:
        return done[name]
    value = tuple(float(v) for v in evaluation.value(name).reshape(-1))
    if name in COLUMNS:
        column = COLUMNS[name]
        basis = evaluation.columns.basis.get(name)
        spread = evaluation.columns.plus_minus.get(name)
        done[name] = Step(
            name,
            column.says,
            unit_of(name),
            value,
            "",
            "",
            column.path,
            str(basis.reshape(-1)[0]) if basis is not None and basis.size else "",
            float(np.nanmax(spread)) if spread is not None and spread.size and not np.isnan(spread).all() else 0.0,
            (),
            (),
        )
    else:
        q = QUANTITIES[name]
        inner = tuple(_step(evaluation, n, done) for n in q.inputs)
        text = filled(q.formula, evaluation, member=None)
        done[name] = Step(name, q.title, unit_of(name), value, q.formula, text, "", "", 0.0, q.sources, inner)
    return done[name]


def filled(formula: str, evaluation: Evaluation, *, member: int | None) -> str:
    """A formula with the rig's numbers in place of the names; sums over members are written out.

    Parameters
    ----------
    formula : str
        Expression over columns and quantities; ``""`` stays ``""``.
    member : int, optional
        The member that a name with members stands for outside a sum; all of them, listed, when None.
    """
    out, rest = "", formula
    while found := SUM.search(rest):
        inside, after = _balanced(rest[found.end() :])
        out += _numbers(rest[: found.start()], evaluation, member)
        out += f"({' + '.join(_numbers(inside, evaluation, m) for m in _present(inside, evaluation))})"
        rest = after
    return (out + _numbers(rest, evaluation, member)).replace("**", "^").replace("*", "×").replace(" / ", " ÷ ")


def _balanced(text: str) -> tuple[str, str]:
    depth = 1
    for i, letter in enumerate(text):
        depth += {"(": 1, ")": -1}.get(letter, 0)
        if depth == 0:
            return text[:i], text[i + 1 :]
    raise ValueError(f"a sum in the formula has no end: {text}")


def _members(name: str) -> str:
    return COLUMNS[name].per if name in COLUMNS else QUANTITIES[name].per if name in QUANTITIES else ""


def _present(text: str, evaluation: Evaluation) -> list[int]:
    axes = {_members(n) for n in NAME.findall(text)} - {""}
    axis = next(iter(axes), "")
    counts = [evaluation.value(n).shape[0] for n in NAME.findall(text) if _members(n) == axis]
    flag = f"{axis}_present"
    if flag in COLUMNS:
        return [m for m in range(max(counts, default=0)) if _at(evaluation.value(flag), m) > 0]
    return list(range(max(counts, default=0)))


def _at(values: Array, member: int) -> float:
    flat = values.reshape(values.shape[0], -1)[:, 0]
    return float(flat[min(member, len(flat) - 1)])


def _numbers(text: str, evaluation: Evaluation, member: int | None) -> str:
    def number(found: re.Match[str]) -> str:
        name = found.group()
        if name not in COLUMNS and name not in QUANTITIES:
            return name
        values = evaluation.value(name)
        codes = COLUMNS[name].codes if name in COLUMNS else ""
        if not _members(name):
            shown = [float(values.reshape(-1)[0])]
        elif member is not None:
            shown = [_at(values, member)]
        else:
            shown = [_at(values, m) for m in _present(name, evaluation)]
        words = [_word(v, codes) for v in shown]
        return words[0] if len(words) == 1 else f"[{', '.join(words)}]"

    return NAME.sub(number, text)


def _word(value: float, codes: str) -> str:
    if codes and not np.isnan(value):
        return CODES[codes][int(value)]
    return plain(value) if value >= 0 or np.isnan(value) else f"({plain(value)})"
