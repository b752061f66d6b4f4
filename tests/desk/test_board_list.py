"""Filters, order and counts of the board's list, on entries written by hand."""

from __future__ import annotations

import numpy as np
import pytest
from django.http import QueryDict

from rubrail.checks.verdict import CLEAR, DEPENDS, NOT_KNOWN, OVER
from rubrail.desk.board import COUPLINGS, DECKS, ENTRY, STATUSES
from rubrail.desk.board_list import asked_of, chosen, counts

NAN = np.nan
TABLE = (
    # unit, verdict, price, share, deck height, coupler load, empty, unbeaten, status, coupling, deck
    (1, CLEAR, 9_000.0, 0.05, 24.0, 1_500.0, 3_500.0, True, "in-stock", "ball", "between-fenders"),
    (2, CLEAR, 12_000.0, 0.20, 36.0, 1_700.0, 5_000.0, False, "on-order", "gooseneck", "deck-over"),
    (3, DEPENDS, NAN, 0.01, NAN, 1_600.0, 4_000.0, True, "held", "ball", "deck-over"),
    (4, NOT_KNOWN, 8_000.0, NAN, 30.0, NAN, NAN, False, "in-stock", "pintle", ""),
    (5, OVER, 5_000.0, -0.30, 22.0, 900.0, 2_000.0, False, "in-stock", "ball", "between-fenders"),
)


@pytest.fixture
def entries():
    out = np.zeros(len(TABLE), ENTRY)
    names = (
        "unit",
        "verdict",
        "price_usd",
        "share",
        "deck_height_in",
        "coupler_load_lb",
        "empty_weight_lb",
        "unbeaten",
    )
    for entry, row in zip(out, TABLE, strict=True):
        for name, value in zip(names, row, strict=False):
            entry[name] = value
        entry["status"] = STATUSES.index(row[8])
        entry["coupling"], entry["deck"] = COUPLINGS.index(row[9]), DECKS.index(row[10])
    return out


def shown(entries, query: str) -> list[int]:
    return [int(n) for n in chosen(entries, asked_of(QueryDict(query).dict()))["unit"]]


@pytest.mark.parametrize(
    ("query", "want"),
    [
        ("", [1, 2, 3, 4, 5]),
        ("verdict=clear", [1, 2]),
        ("verdict=not-known", [4]),
        ("verdict=nonsense", [1, 2, 3, 4, 5]),
        ("coupling=ball", [1, 3, 5]),
        ("deck=deck-over", [2, 3]),
        ("most=9,000", [1, 4, 5]),
        ("most=$8000.00", [4, 5]),
        ("where=here", [1, 3, 4, 5]),
        ("where=free", [1, 4, 5]),
        ("where=expected", [2]),
        ("unbeaten=1", [1, 3]),
        ("unbeaten=1&coupling=ball&most=9500&verdict=clear", [1]),
        ("verdict=clear&most=100", []),
        ("sort=price", [5, 4, 1, 2, 3]),
        ("sort=spare", [2, 1, 3, 5, 4]),
        ("sort=height", [5, 1, 4, 2, 3]),
        ("sort=coupler", [5, 1, 3, 2, 4]),
        ("sort=empty", [5, 1, 3, 2, 4]),
        ("sort=nonsense", [1, 2, 3, 4, 5]),
    ],
)
def test_what_is_asked_is_shown(entries, query: str, want: list[int]):
    assert shown(entries, query) == want


def test_counts_are_of_what_everything_but_the_verdict_leaves(entries):
    of = lambda query: counts(entries, asked_of(QueryDict(query).dict()))  # noqa: E731
    assert of("") == {"clear": 2, "depends": 1, "not-known": 1, "over": 1}
    assert of("verdict=over") == of("")
    assert of("coupling=ball&verdict=clear") == {"clear": 1, "depends": 1, "not-known": 0, "over": 1}


@pytest.mark.parametrize("sent", ["cheap", "12.345", "-", "1e9"])
def test_a_price_that_cannot_be_read_is_told_and_not_counted(entries, sent: str):
    asked = asked_of({"most": sent})
    assert sent in asked.fault
    assert asked.fault.startswith("Price at most ")
    assert len(chosen(entries, asked)) == len(entries)


def test_a_unit_without_a_price_is_never_within_one(entries):
    assert 3 not in shown(entries, "most=999,999")
