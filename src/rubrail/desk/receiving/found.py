"""What a person at the truck found, as a receipt keeps it, and the trailers it makes.

``Receipt.found`` holds, each only where somebody entered it: ``vins`` (reading by place), ``papers`` (what the papers
say, by the file's path), ``looks`` (what was looked at, by the file's path), ``each_axle`` (whether axles are looked
at one by one), ``parts`` and ``parts_words`` (what should come along), ``tires`` (date codes). A look is
``{"is": "same"}``, or ``{"is": "other"}`` with the ``value`` that is there instead, or ``words`` where a whole list
differs. What nobody looked at has no look, and is never taken for the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from copy import deepcopy
from typing import Any

from rubrail.desk.models import Receipt
from rubrail.desk.spec_fields import SpecField, field_at
from rubrail.desk.stock import is_value, leaves, put_together
from rubrail.rules.vin import clean
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.trailer import Trailer

PLACES = ("label", "frame", "papers")
"""Where a VIN is read."""
WHOLE = ("anchor", "equipment")
"""Lists looked at as a whole: many members, each seldom wrong alone."""
SAME, OTHER = "same", "other"
NO_RATING = ("nominal",)


def starred(path: str) -> str:
    """The path of all axles together: ``axle.*.gawr_lb``."""
    return re.sub(r"^axle\.\d+\.", "axle.*.", path)


def numbered(path: str, count: int) -> list[str]:
    """The paths an ``axle.*`` path stands for; any other stands for itself."""
    return [path.replace("*", str(n)) for n in range(count)] if path.startswith("axle.*.") else [path]


def field_of(path: str) -> SpecField | None:
    """The file's field of a path, starred or numbered."""
    return field_at(Trailer, path.replace("*", "0"))


def look_at(found: Mapping[str, Any], path: str) -> Mapping[str, Any]:
    """What was said of a path, by itself or of all axles together; empty where nobody looked."""
    looks = found.get("looks", {})
    return looks.get(path) or looks.get(starred(path)) or {}


def axle_count(receipt: Receipt) -> int:
    """How many axles came: as seen, else as ordered."""
    seen = receipt.found.get("looks", {}).get("axle", {})
    return int(seen["value"]) if seen.get("is") == OTHER else len(_expected(receipt).get("axle", ()) or [{}])


def _expected(receipt: Receipt) -> dict[str, Any]:
    """What it was expected to be; of a unit nobody ordered, what its stock entry says so far."""
    return receipt.ordered or put_together(receipt.unit)


def ordered_trailer(receipt: Receipt) -> Trailer | None:
    """The trailer as ordered; nothing where nobody ordered it or it no longer reads."""
    if not receipt.ordered:
        return None
    try:
        return read_thing(Trailer, receipt.ordered, where=f"unit {receipt.unit.stock_number} as ordered")
    except Faults:
        return None


def seen_table(receipt: Receipt, found: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """The table of what was looked at, and nothing else; only the kind of coupling, which no trailer is without,
    and the number of axles stand as expected until somebody looks.
    """
    found = receipt.found if found is None else found
    expected = _expected(receipt)
    table: dict[str, Any] = {"id": receipt.unit.stock_number, "coupling": {"kind": expected["coupling"]["kind"]}}
    for name in ("title", "maker", "condition"):
        if expected.get(name):
            table[name] = expected[name]
    count = _count(found, expected)
    table["axle"] = [{} for _ in range(count)]
    known = dict(leaves(expected))
    for path, value in _taken(found, expected, known, count):
        _set(table, path, value)
    for n, ramp in enumerate(table.get("ramp", ())):
        # Whoever measures a ramp has it before him: what kind it is stands as expected until somebody says otherwise.
        there = expected.get("ramp", ())
        ramp.setdefault("kind", there[n]["kind"] if n < len(there) else "stand-up")
    return table


def taken_table(
    receipt: Receipt, found: Mapping[str, Any] | None = None, *, with_cost: bool = False, base: Any = None
) -> dict[str, Any]:
    """The unit's table with all that was seen in place of what was expected: what the unit is once it is taken in.

    Parameters
    ----------
    found : mapping, optional
        Instead of what the receipt holds.
    with_cost : bool
        Whether the yard's cost stays in it; only for storing.
    base : mapping, optional
        Instead of the unit as it is stored now.
    """
    found = receipt.found if found is None else found
    expected = _expected(receipt)
    table = deepcopy(put_together(receipt.unit, with_cost=with_cost) if base is None else dict(base))
    count = _count(found, expected)
    axles = list(table.get("axle", ()))
    if found.get("looks", {}).get("axle", {}).get("is"):
        table["axle"] = [*axles[:count], *({} for _ in range(count - len(axles)))]
    known = dict(leaves(expected))
    for name in WHOLE:
        if found.get("looks", {}).get(name, {}).get("is") == OTHER:
            table.pop(name, None)
    for path, value in _taken(found, expected, known, len(table.get("axle", ())) or count):
        _set(table, path, value)
    return table


def _count(found: Mapping[str, Any], expected: Mapping[str, Any]) -> int:
    seen = found.get("looks", {}).get("axle", {})
    return int(seen["value"]) if seen.get("is") == OTHER else max(len(expected.get("axle", ())), 1)


def _taken(
    found: Mapping[str, Any], expected: Mapping[str, Any], known: Mapping[str, Any], count: int
) -> Iterator[tuple[str, Any]]:
    """Every path somebody looked at and the value that stands there."""
    vin = clean(vin=found.get("vins", {}).get("label", ""))
    if vin:
        yield "vin", vin[:20]
    for name, look in found.get("looks", {}).items():
        if name == "axle":
            continue
        if name in WHOLE:
            if look.get("is") == SAME and name in expected:
                yield name, deepcopy(expected[name])
            continue
        for path in numbered(name, count):
            if path.startswith("axle.") and int(path.split(".")[1]) >= count:
                continue
            if look.get("is") == OTHER and "value" in look:
                yield path, deepcopy(look["value"])
            elif look.get("is") == SAME and path in known:
                yield path, _as_seen(path, known[path])


def _as_seen(path: str, value: Any) -> Any:
    """The ordered value once somebody saw that it is so: a rating was read off its label; a look is no measurement."""
    field = field_of(path)
    if is_value(value) and field is not None and field.first_basis == "label":
        return {**{k: v for k, v in value.items() if k != "plus_minus"}, "basis": "label"}
    return deepcopy(value)


def _set(table: dict[str, Any], path: str, value: Any) -> None:
    *parents, last = path.split(".")
    at: Any = table
    for step, following in zip(parents, [*parents, last][1:], strict=True):
        if isinstance(at, list):
            while len(at) <= int(step):
                at.append({})
            at = at[int(step)]
        else:
            at = at.setdefault(step, [] if following.isdigit() else {})
    at[last] = value


def seen_trailer(receipt: Receipt) -> Trailer:
    """The trailer as far as it was looked at.

    Raises
    ------
    Faults
        If what was found no longer reads.
    """
    return read_thing(Trailer, seen_table(receipt), where=f"unit {receipt.unit.stock_number} as found")


def taken_trailer(receipt: Receipt, *, with_cost: bool = False) -> Trailer:
    """The trailer the unit is once it is taken in as found.

    Raises
    ------
    Faults
        If what is stored no longer reads together with what was found.
    """
    return read_thing(Trailer, taken_table(receipt, with_cost=with_cost), where=f"unit {receipt.unit.stock_number}")
