"""Ask the engine about a receipt: what was found against what was ordered, its ratings, and what to do with it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from rubrail.answers.receive import receive
from rubrail.answers.receive_fields import COSTS
from rubrail.answers.receive_papers import Papers
from rubrail.answers.receive_report import ReceivedField, ReceiveReason, Receiving
from rubrail.desk import clock
from rubrail.desk.models import Receipt, Unit
from rubrail.desk.receiving.fields import NOT_ASKED
from rubrail.desk.receiving.found import PLACES, ordered_trailer, seen_table, taken_trailer
from rubrail.desk.standing import promised_to
from rubrail.desk.stock import leaves
from rubrail.rules.vin import clean, maker_id, vin_faults
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer

UNREAD = ("unread", "rating-unread", "label-unread", "vin-label-unread", "vin-papers-unread", "need-unknown")
"""Codes of reasons that say that somebody has still to look; they are no exception of the unit's."""
OWN_BUSINESS = ("need",)
"""Codes of reasons that are between the yard and its buyer; no carrier's bill says them."""
MOST_VINS = 400
NEVER_ASKED = ("weights.", "tax.", "suspension.axle_to_frame_in")


@dataclass(frozen=True, slots=True)
class Answered:
    """The engine's answer with what a page splits off it.

    exceptions : reasons that stand on the unit; unread : reasons that say what nobody has looked at
    """

    answer: Receiving
    exceptions: tuple[ReceiveReason, ...]
    unread: tuple[ReceiveReason, ...]


def answer_of(receipt: Receipt, *, need_lb: float | None = None) -> Answered:
    """What the engine says of a receipt as it stands.

    What nobody looked at is not known to it; but what the unit carries is reckoned with that as ordered, for it is
    all there is to reckon with, and the page says so.

    Parameters
    ----------
    receipt : Receipt
    need_lb : float, optional
        Heaviest cargo a buyer waits to put on the unit. [lb]

    Raises
    ------
    Faults
        If what is stored no longer reads.
    """
    ordered = ordered_trailer(receipt)
    vins = readings(receipt.found)
    given: dict[str, Any] = {
        "ordered": ordered,
        "vins": vins,
        "this_year": clock.today().year,
        "maker_codes": maker_codes(receipt.unit),
        "papers": papers_of(receipt.found),
        "label_seen": {"yes": True, "no": False}.get(receipt.found.get("label_seen", "")),
        "buyer_waits": promised_to(receipt.unit) is not None,
        "need_lb": math.nan if need_lb is None else need_lb,
    }
    seen = receive(received=_seen(receipt), **given)
    whole = receive(received=taken_trailer(receipt), **given)
    answer = replace(seen, payload=whole.payload, fields=_fields(seen.fields, whole.fields), costliest=whole.costliest)
    unread = tuple(r for r in answer.reasons if r.code in UNREAD)
    return Answered(answer, tuple(r for r in answer.reasons if r.code not in UNREAD), unread)


def _seen(receipt: Receipt) -> Trailer:
    """What was looked at; what no person at a truck can see (weights, places of axles) stands as expected."""
    table = seen_table(receipt)
    expected = dict(leaves(receipt.ordered))
    count = len(table["axle"])
    for path, value in expected.items():
        axle = path.startswith("axle.") and path.endswith(".from_coupler_in")
        if axle and int(path.split(".")[1]) < count:
            table["axle"][int(path.split(".")[1])].setdefault("from_coupler_in", value)
        elif path.startswith("weights."):
            table.setdefault("weights", {})[path.split(".")[1]] = value
    return read_thing(Trailer, table, where=f"unit {receipt.unit.stock_number} as found")


def _fields(seen: Sequence[ReceivedField], whole: Sequence[ReceivedField]) -> tuple[ReceivedField, ...]:
    """The fields a person looks at, each with what its difference does to what the whole unit carries."""
    costs = {f.path: {name: getattr(f, name) for name in COSTS} for f in whole if f.verdict == "differs"}
    return tuple(
        replace(f, **costs[f.path]) if f.path in costs else f
        for f in seen
        if not (f.path.startswith(NEVER_ASKED) or f.path.endswith(".from_coupler_in") or NOT_ASKED.match(f.path))
        or f.verdict == "differs"
    )


def readings(found: Mapping[str, Any]) -> dict[str, str]:
    """The VIN by where it was read, blanks and hyphens left out; only where it was."""
    read = {place: clean(vin=str(found.get("vins", {}).get(place, ""))) for place in PLACES}
    return {place: vin for place, vin in read.items() if vin}


def papers_of(found: Mapping[str, Any]) -> Papers | None:
    """What the papers say; nothing where nobody read them."""
    told = found.get("papers", {})
    vin = readings(found).get("papers", "")
    if not told and not vin:
        return None
    gawr = told.get("gawr_lb", ())
    return Papers(
        vin=vin,
        year=told.get("year"),
        gvwr_lb=_number(told.get("gvwr_lb")),
        gawr_lb=tuple(float(n) for n in gawr),
        tires=str(told.get("tires", "")),
        empty_lb=_number(told.get("empty_lb")),
    )


def _number(value: Any) -> float:
    return math.nan if value is None else float(value)


def maker_codes(unit: Unit) -> frozenset[str]:
    """Maker's identifiers in the sound VINs of the yard's other units of the same maker."""
    if not unit.maker:
        return frozenset()
    there = Unit.objects.filter(maker=unit.maker).exclude(pk=unit.pk).exclude(vin="")
    vins = there.order_by("-pk").values_list("vin", flat=True)[:MOST_VINS]
    return frozenset(maker_id(vin=clean(vin=v)) for v in vins if not vin_faults(vin=v))
