"""Why a number is what it is: the formula with this rig's numbers in it, down to what was read off a label."""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from rubrail.answers.place import best_place
from rubrail.answers.rig import Placement, at_placement, rigs
from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import CHECKS, QUANTITIES
from rubrail.things.columns import Array
from rubrail.things.haul import Haul
from rubrail.things.names import CODES, COLUMNS, unit_of
from rubrail.things.trailer import Trailer

NAME = re.compile(r"[a-z][a-z0-9_]*")
SUM = re.compile(r"\bsum\(")
WHERE = re.compile(r"\bwhere\(")


def _greatest(*values: Array) -> Array:
    return np.max(values[0], axis=0) if len(values) == 1 else np.maximum.reduce(np.broadcast_arrays(*values))


def _least(*values: Array) -> Array:
    return np.min(values[0], axis=0) if len(values) == 1 else np.minimum.reduce(np.broadcast_arrays(*values))


WORDS = {
    "sum": lambda x: np.sum(x, axis=0),
    "max": _greatest,
    "min": _least,
    "where": np.where,
    "abs": np.abs,
    "inf": np.inf,
    "nan": np.nan,
}
"""What the helper words of a formula mean; the tests of the registry hold formulas to the same."""


@dataclass(frozen=True, slots=True)
class Step:
    """One number and how it is made.

    value : one number, or one a member
    formula : expression over its inputs, ``""`` where no one expression says it
    filled : the same with this rig's numbers in it, for the member asked about or else the first
    rests_on : names of its inputs
    """

    name: str
    title: str
    unit: str
    value: tuple[float, ...]
    formula: str
    filled: str
    rests_on: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Input:
    """One number that was read or measured; value, basis and tolerance one a member. path : where it is written."""

    name: str
    title: str
    unit: str
    value: tuple[float, ...]
    plus_minus: tuple[float, ...]
    basis: tuple[str, ...]
    word: str
    path: str


@dataclass(frozen=True, slots=True)
class Why:
    """One check of one rig, taken apart.

    steps : every number in between, each once, nearest the check first; inputs : every number read, each once.
    """

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
    steps: tuple[Step, ...]
    inputs: tuple[Input, ...]


def plain(value: float) -> str:
    """A number as one would write it to work by hand: grouped, at most two decimals (four below one)."""
    if np.isnan(value):
        return "not known"
    if np.isinf(value):
        return "no limit"
    digits = 0 if abs(value) >= 10_000 else 2 if abs(value) >= 1 else 4
    text = f"{value:,.{max(digits, 1)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def why(
    *, haul: Haul, trailer: Trailer, check: str, placement: Placement | None = None, member: int | None = None
) -> Why:
    """Why one check of one rig says what it says; the rig at its best placement where none is given.

    Raises
    ------
    KeyError
        If there is no such check.
    """
    one = rigs(haul=haul, trailers=(trailer,))
    columns = best_place(one)[1] if placement is None else at_placement(one, placement)
    return explain(Evaluation(columns), check, member=member)


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
    inputs: dict[str, Input] = {}
    waiting = list(c.inputs)
    while waiting:
        name = waiting.pop(0)
        if name in COLUMNS:
            inputs.setdefault(name, _input(evaluation, name))
            continue
        step = _step(evaluation, name, pick if c.per == _members(name) else 0)
        steps.pop(name, None)
        steps[name] = step
        waiting += step.rests_on
    return Why(
        c.id, c.title, c.kind, c.says, member,
        float(demand.reshape(-1)[pick]), float(limit.reshape(-1)[pick]), c.unit,
        c.demand, filled(c.demand, evaluation, member=member),
        c.limit, filled(c.limit, evaluation, member=member),
        c.sources, tuple(steps.values()), tuple(i for n, i in inputs.items() if not n.endswith("_present")),
    )  # fmt: skip


def _step(evaluation: Evaluation, name: str, member: int) -> Step:
    q = QUANTITIES[name]
    value = tuple(_at(evaluation.value(name), m) for m in _present(name, evaluation)) if q.per else ()
    value = value or tuple(float(v) for v in evaluation.value(name).reshape(-1)[:1])
    text = filled(q.formula, evaluation, member=member if q.per else None)
    return Step(name, q.title, unit_of(name), value, q.formula, text, q.inputs, q.sources)


def _input(evaluation: Evaluation, name: str) -> Input:
    column, values = COLUMNS[name], evaluation.value(name)
    members = _present(name, evaluation) if column.per else [None]

    def each(source: dict, default: object) -> tuple:
        found = source.get(name)
        if found is None or not found.size:
            return (default,) * len(members)
        return tuple(
            found.reshape(-1)[0] if m is None else found[min(m, len(found) - 1)].reshape(-1)[0] for m in members
        )

    value = tuple(float(values.reshape(-1)[0]) if m is None else _at(values, m) for m in members)
    spread = tuple(float(np.nan_to_num(v)) for v in each(evaluation.columns.plus_minus, 0.0))
    basis = tuple(str(b or "") for b in each(evaluation.columns.basis, ""))
    word = _word(value[0], column.codes) if column.codes and value else ""
    return Input(name, column.says, unit_of(name), value, spread, basis, word, column.path)


def filled(formula: str, evaluation: Evaluation, *, member: int | None) -> str:
    """A formula with the rig's numbers in place of the names; sums over members are written out.

    Parameters
    ----------
    formula : str
        Expression over columns and quantities; ``""`` stays ``""``.
    member : int, optional
        The member that a name with members stands for outside a sum; all of them, listed, when None.
    """
    text = _chosen(_sums(formula, evaluation), evaluation, member)
    text = _numbers(text, evaluation, member)
    return text.replace("**", "^").replace("*", "×").replace(" / ", " ÷ ")


def _sums(formula: str, evaluation: Evaluation) -> str:
    """Write every sum over members out, member by member, names still in place."""
    out, rest = "", formula
    while found := SUM.search(rest):
        inside, after = _balanced(rest[found.end() :])
        terms = [_numbers(_chosen(inside, evaluation, m), evaluation, m) for m in _present(inside, evaluation)] or [
            "0"
        ]
        out += rest[: found.start()] + (f"({' + '.join(terms)})" if len(terms) > 1 else _bracketed(terms[0]))
        rest = after
    return out + rest


def _chosen(formula: str, evaluation: Evaluation, member: int | None) -> str:
    """Put the branch that was taken in place of every ``where(condition, one, other)``."""
    while found := WHERE.search(formula):
        inside, after = _balanced(formula[found.end() :])
        condition, one, other = _arguments(inside)
        taken = one if _true(condition, evaluation, member) else other
        formula = formula[: found.start()] + _bracketed(taken.strip()) + after
    return formula


def _bracketed(text: str) -> str:
    return f"({text})" if " " in text and not (text[0] == "(" and _balanced(text[1:])[1] == "") else text


def _arguments(text: str) -> list[str]:
    out, depth, start = [], 0, 0
    for i, letter in enumerate(text):
        depth += {"(": 1, ")": -1}.get(letter, 0)
        if letter == "," and depth == 0:
            out.append(text[start:i])
            start = i + 1
    return [*out, text[start:]]


def _true(condition: str, evaluation: Evaluation, member: int | None) -> bool:
    """Whether a condition of a registered formula holds; the formulas are ours, so evaluating them is safe."""
    names = {n for n in NAME.findall(condition) if n in COLUMNS or n in QUANTITIES}
    values = {
        n: v.reshape(v.shape[0], -1)[:, 0] if _members(n) else v.reshape(-1)[0]
        for n, v in ((n, evaluation.value(n)) for n in names)
    }
    found = np.ravel(eval(condition, {"__builtins__": {}}, {**WORDS, **values}))
    return bool(found[min(member or 0, len(found) - 1)])


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
