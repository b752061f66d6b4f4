"""Receiving any trailer its file allows: what was looked at is taken over, and nothing else moves."""

from __future__ import annotations

import json
from typing import Any

from hypothesis import given, settings

from desk.yards import trailers, unit_of
from rubrail.desk.models import Receipt
from rubrail.desk.receiving.begin import _plain
from rubrail.desk.receiving.fields import looks_of, rows_of, take, texts_of
from rubrail.desk.receiving.found import WHOLE, seen_table, starred, taken_table
from rubrail.desk.stock import is_value, leaves, put_together
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer

FEW = settings(max_examples=40, deadline=None)


def receipt_of(trailer: Trailer) -> Receipt:
    """A receipt of it, not stored."""
    unit = unit_of(trailer, "G-1")
    return Receipt(unit=unit, ordered=json.loads(json.dumps(_plain(put_together(unit)))), found={})


def bare(value: Any) -> Any:
    """A value without where it comes from."""
    return value["value"] if is_value(value) else value


@FEW
@given(trailers())
def test_nothing_looked_at_moves_nothing(trailer: Trailer):
    receipt = receipt_of(trailer)
    assert taken_table(receipt) == put_together(receipt.unit)
    seen = dict(leaves(seen_table(receipt)))
    assert not {p for p in seen if p.startswith(("ratings.", "deck.", "ramp.", "anchor"))}, "nobody looked at these"
    read_thing(Trailer, seen_table(receipt))


@FEW
@given(trailers())
def test_all_as_ordered_is_what_was_ordered(trailer: Trailer):
    receipt = receipt_of(trailer)
    groups = rows_of(receipt)
    take(groups, {f"look:{r.path}": "same" for g in groups for r in g.rows if r.ordered})
    looks = looks_of(receipt, groups)
    assert looks is not None
    receipt.found = {"looks": looks}
    before, after = dict(leaves(put_together(receipt.unit))), dict(leaves(taken_table(receipt)))
    assert {p: bare(v) for p, v in after.items()} == {p: bare(v) for p, v in before.items()}
    seen = dict(leaves(seen_table(receipt)))
    each = {p: v for p, v in before.items() if starred(p) in looks or p in looks}
    assert {p: bare(seen[p]) for p in each} == {p: bare(v) for p, v in each.items()}, "all that was looked at was seen"
    read_thing(Trailer, taken_table(receipt))
    read_thing(Trailer, seen_table(receipt))


@FEW
@given(trailers())
def test_what_is_written_comes_back_as_it_was_written(trailer: Trailer):
    """Every field written over with its own value: the page shows it again, and the unit does not move."""
    receipt = receipt_of(trailer)
    known = dict(leaves(receipt.ordered))
    groups = rows_of(receipt, each_axle=True)
    rows = [r for g in groups for r in g.rows if r.path in known and r.path not in WHOLE and r.kind != "lines"]
    wanted = {r.path: shown(known[r.path], r.kind) for r in rows}
    wanted = {p: t for p, t in wanted.items() if t.strip() and len(t) < 200}
    take(groups, wanted)
    looks = looks_of(receipt, groups)
    if looks is None:
        # A number of many digits is shown rounded, and rounded it may stand beyond another one: told, not taken.
        assert any(r.faults for g in groups for r in g.rows)
        return
    receipt.found = {"looks": looks, "each_axle": True}
    again = texts_of(rows_of(receipt))
    for path in wanted:
        assert again[f"look:{path}"] == "other"
        assert again[path].replace(",", "").casefold() == wanted[path].strip().replace(",", "").casefold()


def shown(value: Any, kind: str) -> str:
    if kind == "flag":
        return "yes" if value else "no"
    number = bare(value)
    return f"{round(number, 4) + 0.0:.4f}".rstrip("0").rstrip(".") if isinstance(number, float) else str(number)
