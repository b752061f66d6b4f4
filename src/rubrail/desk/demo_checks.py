"""An inspection of the invented yard under way: half looked at, one tire short of air, tires short of the axle."""

from __future__ import annotations

from typing import Any

from rubrail.desk.checking.entries import keep_entry, line_in
from rubrail.desk.checking.lists import begin
from rubrail.desk.models import Unit, User

UNIT = "SH-132"
"""Its sidewalls say less than its axles are rated for."""
OK = {"answer": "ok"}
ENTERED: dict[str, dict[str, Any]] = {
    "vin": {"answer": "ok", "text": "1Z9EB2029TAZ34097"},
    "ratings": {"answer": "ok", "numbers": [14_000.0, 7_000.0, 7_000.0]},
    "papers": OK,
    "coupling-stamp": OK,
    "coupling-lock": OK,
    "coupling-height": {"answer": "ok", "numbers": [20.5]},
    "chains": OK,
    "chain-hooks": {"answer": "not ok", "text": "the latch of the left hook is bent"},
    "breakaway": OK,
    "breakaway-battery": {"answer": "ok", "numbers": [12.6]},
    "jack": OK,
    "floor": OK,
    "fenders": OK,
    "welds": OK,
    "pressure-1": {"answer": "ok", "numbers": [62.0, 80.0]},
    "pressure-2": {"answer": "ok", "numbers": [80.0, 80.0]},
    "tire-codes-1": {"answer": "ok", "numbers": [1426.0, 1426.0]},
}


def demo_checks(*, hand: User) -> None:
    """Begin it and enter what was seen."""
    it = begin(Unit.objects.get(stock_number=UNIT), sort="inspection", by=hand)
    for key, value in ENTERED.items():
        keep_entry(it, line_in(it, key), value, seen=0, by=hand)
