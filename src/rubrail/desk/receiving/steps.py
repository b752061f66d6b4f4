"""The steps of a receipt: how far each is, and keeping what was entered in one without touching the others."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from rubrail.desk.amounts import written
from rubrail.desk.audit import Delta
from rubrail.desk.editing import Meanwhile, StaleError, merge, save_changes
from rubrail.desk.forms.seen import Seen
from rubrail.desk.models import Receipt, User
from rubrail.desk.receiving.begin import demand_open
from rubrail.desk.receiving.fields import FIRST, rows_of
from rubrail.desk.receiving.found import PLACES, field_of
from rubrail.desk.receiving.parts import MISSING, PARTS
from rubrail.desk.stock import is_value

Texts = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Step:
    """One step as the head of every page shows it.

    url_name : its address; says : how far it is; state : ``todo``, ``done`` or ``odd`` (something is not right)
    """

    url_name: str
    title: str
    says: str
    state: str


def steps_of(receipt: Receipt) -> list[Step]:
    """Every step, in the order one walks."""
    found = receipt.found
    vins = found.get("vins", {})
    read = sum(1 for p in PLACES if vins.get(p))
    groups = rows_of(receipt)
    # What everybody looks at counts; the groups that stand folded are for who has the time.
    rows = [r for g in groups if g.name in FIRST for r in g.rows]
    looked, differ = sum(1 for r in rows if r.look), sum(g.differ for g in groups)
    marks = receipt.damages.count()
    parts = found.get("parts", {})
    missing = sum(1 for state in parts.values() if state == MISSING)
    return [
        Step("receipt-vin", "VIN and label", f"{read} of {len(PLACES)} read", _state(read, len(PLACES), 0)),
        Step(
            "receipt-fields",
            "Ordered, received",
            f"{looked} of {len(rows)}" + (f", {differ} differ" if differ else ""),
            _state(looked, len(rows), differ if receipt.ordered else 0),
        ),
        Step("receipt-damage", "Damage", _damage(found, marks), "odd" if marks else _looked(found, "no_damage")),
        Step(
            "receipt-parts",
            "Parts and tires",
            f"{missing} missing" if missing else f"{len(parts)} of {len(PARTS)}",
            _state(len(parts), len(PARTS), missing),
        ),
        Step("receipt-ratings", "Ratings", "look", "todo"),
        Step(
            "receipt-outcome",
            "Decide",
            "open" if receipt.is_open else receipt.get_status_display(),
            "todo" if receipt.is_open else "done",
        ),
    ]


def _damage(found: Mapping[str, Any], marks: int) -> str:
    if marks:
        return f"{marks} marked"
    return "none found" if found.get("no_damage") else "not looked at"


def _looked(found: Mapping[str, Any], name: str) -> str:
    return "done" if found.get(name) else "todo"


def _state(done: int, of: int, odd: int) -> str:
    return "odd" if odd else "done" if of and done >= of else "todo"


@dataclass(frozen=True)
class Clash:
    """What somebody else saved in the same step meanwhile, and the texts to go on with."""

    merged: dict[str, str]
    changed: list[Meanwhile]


def keep(
    receipt: Receipt,
    *,
    had: Seen | None,
    texts_of: Callable[[Receipt], Texts],
    mine: Texts,
    patch: Callable[[Receipt], Mapping[str, Any]],
    deltas: Callable[[Receipt], Iterable[Delta]],
    by: User,
) -> Clash | None:
    """Keep what one step's form holds; what others did in other steps meanwhile stays and is no clash.

    Parameters
    ----------
    receipt : Receipt
        Updated in place as well.
    had : Seen or None
        What the form showed when it was opened.
    texts_of : callable
        The step's form texts of a stored receipt.
    mine : mapping
        The texts as sent.
    patch : callable
        New members of ``found`` on the stored one; ``None`` takes a member away.
    deltas : callable
        The same changes in words.
    by : User

    Returns
    -------
    Clash or None
        Where somebody changed this very step meanwhile; nothing is written then.

    Raises
    ------
    ReceiptError
        If the receipt is closed.
    """
    for _ in range(3):
        demand_open(receipt)
        theirs = dict(texts_of(receipt))
        if had is None or (
            had.version != receipt.version and dict(had.values) != {k: v for k, v in theirs.items() if v}
        ):
            was = dict(had.values) if had else theirs
            return Clash(*merge(seen=was, theirs=theirs, mine=mine))
        found = {**receipt.found, **patch(receipt)}
        found = {k: v for k, v in found.items() if v not in (None, "", {}, [])}
        if found == receipt.found:
            return None
        told = [d for d in deltas(receipt) if d.old != d.new]
        try:
            save_changes(receipt, values={"found": found}, deltas=told, by=by, seen_version=receipt.version)
        except StaleError:
            receipt.refresh_from_db()
            continue
        return None
    raise StaleError(str(receipt))


def look_deltas(receipt: Receipt, looks: Mapping[str, Any], labels: Mapping[str, str]) -> list[Delta]:
    """What changes between the looks a receipt has and new ones, in words."""
    before = receipt.found.get("looks", {})
    return [
        Delta(path, labels.get(path, path), _said(path, before.get(path)), _said(path, looks.get(path)), "yard.see")
        for path in dict.fromkeys((*before, *looks))
    ]


def _said(path: str, look: Mapping[str, Any] | None) -> str:
    if not look:
        return ""
    if look["is"] == "same":
        return "as ordered"
    value = look.get("value", look.get("words", ""))
    spec = field_of(path)
    if is_value(value) and spec is not None and isinstance(value["value"], int | float):
        return written(value["value"], spec.unit)
    return str(value.get("value", "") if isinstance(value, Mapping) else value)
