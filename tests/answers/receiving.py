"""Units as ordered and as received, made from the invented yard's files."""

from __future__ import annotations

from typing import Any

from answers.yard import yard
from rubrail.quantity.value import Value
from rubrail.things.trailer import Trailer

GOOD = "1Z9MG2522TAZ47022"
"""VIN of the invented dual gooseneck; its check digit is worked in ``demo/test_vin.py``."""


def gooseneck(**changes: Any) -> Trailer:
    """The dual gooseneck, SH-191."""
    return changed(yard().trailers["SH-191"], **changes)


def changed(thing: Any, **changes: Any) -> Any:
    """A copy with fields changed; ``ratings__gvwr_lb`` goes into a part, ``axle__tires__size`` into every axle."""
    for path, value in changes.items():
        thing = _put(thing, path.split("__"), value)
    return thing


def _put(thing: Any, steps: list[str], value: Any) -> Any:
    if isinstance(thing, tuple):
        return tuple(_put(member, steps, value) for member in thing)
    inner = value if len(steps) == 1 else _put(getattr(thing, steps[0]), steps[1:], value)
    return thing.model_copy(update={steps[0]: inner})


def label(number: float) -> Value:
    return Value(number, "label")


def maker(number: float, plus_minus: float = 0.0) -> Value:
    return Value(number, "maker", plus_minus)


def measured(number: float, plus_minus: float = 0.5) -> Value:
    return Value(number, "measured", plus_minus)
