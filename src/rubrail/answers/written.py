"""Values of a thing by their dotted path, members of lists counted from 0: read, and written into its file's table."""

from __future__ import annotations

import math
from typing import Any


def table_of(thing: Any) -> dict[str, Any]:
    """A thing's file as it was stated: what nobody set stays out."""
    return thing.model_dump(mode="json", by_alias=True, exclude_none=True, exclude_unset=True)


def value_at(thing: Any, path: str) -> Any:
    """What a thing has at a path."""
    for step in path.split("."):
        thing = thing[int(step)] if isinstance(thing, tuple) else getattr(thing, step)
    return thing


def write_value(content: dict[str, Any], path: str, value: Any, *, basis: str) -> None:
    """Put a value at a path of a file's table; ``nan`` takes away what stands there.

    Parameters
    ----------
    content : dict
        Changed in place.
    path : str
    value : float, str or bool
        A number in the field's own unit.
    basis : str
        Of a number.
    """
    *steps, last = path.split(".")
    at: Any = content
    for step in steps:
        at = at[int(step)] if isinstance(at, list) else at.setdefault(step, {})
    number = isinstance(value, float)
    if number and math.isnan(value):
        at.pop(last, None)
        return
    at[last] = {"value": value, "basis": basis} if number else value
