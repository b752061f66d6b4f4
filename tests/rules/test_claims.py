"""Claims a listing must not make: every row both ways, whatever the spelling; nothing makes the reader fail."""

from __future__ import annotations

import math
import tomllib
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.rules.claim_text import plain
from rubrail.rules.claims import UnitFacts, claim_rules, find_claims
from rubrail.rules.sources import all_sources

CASES = tomllib.loads((Path(__file__).parent / "claims_cases.toml").read_text("utf-8"))
UNIT = UnitFacts(
    gvwr_lb=14_000,
    payload_lb=10_650,
    payload_label_lb=10_650,
    empty_lb=3_350,
    ratings_lb={
        "axle": (7_000, 14_000), "coupler": (14_000, 2_100), "ramp": (14_000, 7_000), "tire": (3_420, 6_840, 13_680),
        "anchor": (4_000,), "jack": (7_000,),
    },
    amounts_usd=frozenset({Decimal(8290), Decimal(145)}),
    axles=2,
    year=2026,
    used=False,
    excise_due=False,
    other_makers=("Pellamy", "Quarrant"),
)  # fmt: skip


def unit_of(row: str) -> UnitFacts:
    changes = dict(CASES[row].get("unit", {}))
    if "amounts_usd" in changes:
        changes["amounts_usd"] = frozenset(map(Decimal, changes["amounts_usd"]))
    return replace(UNIT, **changes)


def ids(row: str, text: str, unit: UnitFacts | None = None) -> set[str]:
    return {c.rule.id for c in find_claims(text, unit or unit_of(row))}


REFUSED = [(row, text) for row, case in CASES.items() for text in case["refused"]]
ALLOWED = [(row, text) for row, case in CASES.items() for text in case["allowed"]]


@pytest.mark.parametrize(("row", "text"), REFUSED)
def test_refused(row, text):
    assert row in ids(row, text)


@pytest.mark.parametrize(("row", "text"), ALLOWED)
def test_let_pass(row, text):
    """Not by this row, nor by any other."""
    assert ids(row, text) == set()


def test_every_row_of_the_table_has_cases_and_a_source():
    assert list(CASES) == list(claim_rules())
    for rule in claim_rules().values():
        assert rule.source in all_sources()
        assert rule.why
        assert rule.instead


def test_rows_that_hold_of_some_units_only():
    assert ids("as-new", "like new", UNIT) == set()
    assert ids("excise", "No federal excise tax is due", UNIT) == set()


@pytest.mark.parametrize(
    ("text", "row"),
    [("carries 500 lb", "payload-number"), ("14K GVWR", "rating-number"), ("7K axles", "rating-number")],
)
def test_what_nobody_knows_may_not_be_claimed(text, row):
    assert row in {c.rule.id for c in find_claims(text, UnitFacts())}


def test_a_price_that_may_not_be_shown_is_named_by_nobody():
    assert ids("price-number", "$8,290", replace(UNIT, amounts_usd=frozenset())) == {"price-number"}


def test_a_payload_above_the_label_needs_no_better_number_from_the_axles():
    more = replace(UNIT, payload_lb=9_000)
    assert ids("payload-number", "10,650 lb payload", more) == {"payload-number"}
    assert ids("payload-number", "10,650 lb payload by the label, less elsewhere", more) == set()


def test_a_claim_says_where_it_stands_and_what_is_true():
    text = "Strong deck. A 14K payload, ready."
    (claim,) = find_claims(text, UNIT)
    assert text[claim.start : claim.end] == claim.words == "14K payload"
    assert (claim.said_lb, claim.of, claim.true_lb) == (14_000, "payload", (10_650,))


def test_places_are_those_of_the_text_as_typed():
    text = "Ⅷ ﬁne… no\u00ad C\u200bDL needed — “ok”"
    (claim,) = find_claims(text, UNIT)
    assert claim.words == "no\u00ad C\u200bDL needed"
    assert text[claim.start : claim.end] == claim.words


@given(st.text(max_size=400))
def test_any_text_is_read(text):
    for claim in find_claims(text, UNIT):
        assert text[claim.start : claim.end] == claim.words != ""
    made = plain(text)
    assert len(made.text) == len(made.at)


WORDS = st.sampled_from(
    ["14K", "payload", "GVWR", "7", "ton", "lb", ",", ".", "no", "not", "CDL", "needed", "carries", "14,000", "$8,290",
     "-", "safe", "never", "tax", "any", "truck", "axles", "label"]
)  # fmt: skip


@given(st.lists(WORDS, max_size=30).map(" ".join))
def test_any_order_of_the_words_claims_are_made_of_is_read(text):
    for claim in find_claims(text, UNIT):
        assert text[claim.start : claim.end] == claim.words
        assert math.isnan(claim.said_lb) or claim.said_lb > 0


@given(st.integers(1, 40_000))
def test_a_payload_is_refused_exactly_where_it_is_above_the_true_one(pounds):
    found = {c.rule.id for c in find_claims(f"It carries {pounds:,} lb.", UNIT)}
    assert found == ({"payload-number"} if pounds > 10_650 else set())
