"""The registry: every quantity and every check, with the inputs its parameters declare.

A quantity is a function whose name is the name of what it returns. A check returns ``(demand, limit)``.
Both take keyword-only arguments named after raw columns (``things.names``) or other quantities; the engine binds
them by name. ``formula`` is an expression over the same names, printed under *why* and tested against the function.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from rubrail.things.names import COLUMNS

KINDS = ("rating", "law", "fit", "guidance", "duty", "tax")
"""What a limit is: a stamped or published rating; a law; whether it fits; guidance, which is no law; a duty the
rig brings (license, number, lamps); a tax threshold. Only the first four enter the verdict."""
CASES = ("road", "loading", "securing", "securing-en")
"""Load cases. A check of the road is asked of every rig; loading and securing bring inputs of their own.
``securing-en`` is securing by the European method, for those whose law it is."""
GROUPS = ("coupling", "trailer", "tires", "truck", "road", "deck", "papers", "loading", "securing")


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value that checks share."""

    name: str
    title: str
    function: Callable
    inputs: tuple[str, ...]
    formula: str
    per: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Check:
    """One demand against one limit."""

    id: str
    title: str
    kind: str
    group: str
    function: Callable
    inputs: tuple[str, ...]
    demand: str
    limit: str
    unit: str
    per: str
    scale: str
    affine: bool
    sources: tuple[str, ...]
    says: str
    settle: str
    case: str


QUANTITIES: dict[str, Quantity] = {}
CHECKS: dict[str, Check] = {}


def _inputs(function: Callable) -> tuple[str, ...]:
    parameters = inspect.signature(function).parameters.values()
    if any(p.kind is not p.KEYWORD_ONLY for p in parameters):
        raise TypeError(f"{function.__name__} must take keyword-only arguments")
    return tuple(p.name for p in parameters)


def quantity(*, title: str, formula: str = "", per: str = "", sources: tuple[str, ...] = ()) -> Callable:
    """Register a function as the quantity of its own name.

    Parameters
    ----------
    title : str
        What it is, in the trade's words.
    formula : str
        Expression over the parameters, equal to what the function returns; ``""`` where it is not one expression.
    per : str
        Member axis of the result (``axle``, ``item``, ``group``), leading.
    sources : tuple of str
        Keys of ``rules/sources.toml``.
    """

    def register(function: Callable) -> Callable:
        name = function.__name__
        if name in QUANTITIES or name in COLUMNS:
            raise ValueError(f"{name} is registered twice")
        QUANTITIES[name] = Quantity(name, title, function, _inputs(function), formula, per, sources)
        return function

    return register


def check(
    *,
    id: str,
    title: str,
    kind: str,
    group: str,
    demand: str,
    limit: str,
    unit: str = "lb",
    per: str = "",
    scale: str = "limit",
    affine: bool = True,
    sources: tuple[str, ...],
    says: str,
    settle: str = "",
    case: str = "road",
) -> Callable:
    """Register a function that returns ``(demand, limit)``.

    Parameters
    ----------
    id : str
        Stable name, lower case with hyphens.
    kind, group : str
        One of ``KINDS`` and ``GROUPS``.
    demand, limit : str
        Expressions over the parameters, equal to what the function returns.
    per : str
        Member axis of the result; the worst member counts.
    scale : str
        ``limit`` or ``demand``: which of the two the relative margin divides by. It must not depend on where the
        cargo sits.
    affine : bool
        Whether the margin is affine in cargo weight and in cargo position (the envelope and the placement rest on it).
    sources : tuple of str
        Keys of ``rules/sources.toml``.
    says : str
        What a buyer should hear, one sentence.
    settle : str
        The measurement that settles a doubt, where it is not simply the widest input.
    case : str
        One of ``CASES``.
    """
    if kind not in KINDS or group not in GROUPS or scale not in ("limit", "demand") or case not in CASES:
        raise ValueError(f"check {id}: kind, group, scale or case is not one of the listed words")

    def register(function: Callable) -> Callable:
        if id in CHECKS:
            raise ValueError(f"check {id} is registered twice")
        CHECKS[id] = Check(
            id,
            title,
            kind,
            group,
            function,
            _inputs(function),
            demand,
            limit,
            unit,
            per,
            scale,
            affine,
            sources,
            says,
            settle,
            case,
        )
        return function

    return register


def of_case(case: str) -> list[Check]:
    """Every check of one load case, in the order they were registered."""
    return [c for c in CHECKS.values() if c.case == case]


@cache
def raw_inputs(names: tuple[str, ...]) -> tuple[str, ...]:
    """Raw columns that ``names`` (columns or quantities) rest on, each once, in order of first use.

    Raises
    ------
    KeyError
        If a name is neither a column nor a quantity.
    """
    seen: dict[str, None] = {}
    path: list[str] = []

    def visit(name: str) -> None:
        if name in COLUMNS:
            seen.setdefault(name)
        elif name in path:
            raise ValueError(f"{name} depends on itself: {' > '.join(path)}")
        else:
            path.append(name)
            for inner in QUANTITIES[name].inputs:
                visit(inner)
            path.pop()

    for name in names:
        visit(name)
    return tuple(seen)
