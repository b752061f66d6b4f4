"""Read the case files beside this module and answer one case.

A case file has ``source``, ``where``, ``kind``, ``obtained`` and ``tolerance``, and either ``function``
(``rubrail.module:name``), ``check`` (an id) or a ``[rig]`` of raw columns; a case may say any of them for itself.
``in`` holds arguments, or the columns that differ from the rig's. ``want`` holds ``value`` for a function;
``demand``, ``limit``, ``margin``, ``verdict`` for a check; quantities and checks by name for a rig.
``"nan"`` stands for not known, a kind's word for its code, a tolerance is absolute or ``"x %"`` or ``"exact"``.
"""

from __future__ import annotations

import importlib
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import CHECKS
from rubrail.checks.verdict import WORDS, verdict_codes
from rubrail.things.columns import Columns
from rubrail.things.names import CODES, COLUMNS

FOLDER = Path(__file__).parent
KINDS = ("published", "hand", "practice", "memory", "regression")
SETTINGS = ("source", "where", "kind", "obtained", "tolerance", "function", "check", "rig")


@dataclass(frozen=True)
class Case:
    """One case with its file's settings filled in."""

    name: str
    settings: dict[str, Any]
    given: dict[str, Any]
    want: dict[str, Any]


def case_files() -> list[Path]:
    return sorted(FOLDER.glob("*.toml"))


def cases_of(path: Path) -> list[Case]:
    """Every case of a file."""
    file = tomllib.loads(path.read_text(encoding="utf-8"))
    found = []
    for case in file.get("case", []):
        settings = {s: case.get(s, file.get(s)) for s in SETTINGS}
        if "function" in case or "check" in case:
            settings = {**settings, **{s: case.get(s) for s in ("function", "check", "rig")}}
        name = f"{path.stem}/{settings['where']}/{case['id']}"
        found.append(Case(name, settings, case.get("in", {}), case["want"]))
    return found


def limit_rows() -> list[dict[str, Any]]:
    """Every row of the files of limits: a check driven just over, to, and just under its limit, and into the dark."""
    rows = []
    for path in case_files():
        rows += tomllib.loads(path.read_text(encoding="utf-8")).get("limit", [])
    return rows


def number(name: str, value: Any) -> Any:
    """An argument as the function takes it: words to codes, ``"nan"`` to nan, lists to arrays."""
    if isinstance(value, list):
        return np.array([number(name, v) for v in value], float)
    if isinstance(value, str):
        if value in ("nan", "inf", "-inf"):
            return float(value)
        codes = COLUMNS[name].codes if name in COLUMNS else ""
        return float(CODES[codes].index(value)) if codes else value
    return float(value)


def verdict(demand: Any, limit: Any) -> str:
    """Verdict word of a check from exact values."""
    with np.errstate(invalid="ignore"):
        margin = np.asarray(limit, float) - np.asarray(demand, float)
    return WORDS[verdict_codes(margin=margin, worst_margin=margin, limit=limit).min()]


def check_answer(demand: Any, limit: Any) -> dict[str, Any]:
    with np.errstate(invalid="ignore"):
        margin = np.asarray(limit, float) - np.asarray(demand, float)
    return {"demand": demand, "limit": limit, "margin": margin, "verdict": verdict(demand, limit)}


def columns_of(values: dict[str, Any]) -> Columns:
    """Raw columns of one rig, in the shapes the engine takes."""
    shaped = {}
    for name, value in values.items():
        v = np.asarray(number(name, value), float)
        shaped[name] = v.reshape(-1, 1, 1, 1) if COLUMNS[name].per else v.reshape(1, 1, 1)
    return Columns(shaped)


def answer(case: Case) -> dict[str, Any]:
    """What the program says to a case, under the names ``want`` uses."""
    s = case.settings
    if s["rig"]:
        evaluation = Evaluation(columns_of({**s["rig"], **case.given}))
        return {
            name: check_answer(*(np.squeeze(a, (-3, -2, -1)) for a in evaluation.check(name)))
            if name in CHECKS
            else np.squeeze(evaluation.value(name), (-3, -2, -1))
            for name in case.want
        }
    given = {n: number(n, v) for n, v in case.given.items()}
    if s["check"]:
        demand, limit = CHECKS[s["check"]].function(**given)
        return check_answer(demand, limit)
    module, name = s["function"].split(":")
    return {"value": getattr(importlib.import_module(module), name)(**given)}


def assert_same(got: Any, want: Any, tolerance: Any) -> None:
    """Compare one answer with one wanted value, within the tolerance."""
    if isinstance(want, dict):
        for name, value in want.items():
            assert_same(got[name], value, tolerance)
        return
    if isinstance(want, list) and want and all(isinstance(w, str) and w not in ("nan", "inf") for w in want):
        assert list(got) == want
        return
    if isinstance(want, str) and want not in ("nan", "inf"):
        assert got == want
        return
    absolute, relative = 0.0, 1e-12
    if isinstance(tolerance, str) and tolerance.endswith("%"):
        relative = float(tolerance.removesuffix("%")) / 100
    elif tolerance != "exact":
        absolute = float(tolerance)
    want = number("", want)
    if isinstance(want, np.ndarray):
        assert np.shape(got) == want.shape
    np.testing.assert_allclose(np.asarray(got, float), want, rtol=relative, atol=absolute)
