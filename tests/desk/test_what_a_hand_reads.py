"""What a yard hand reads of a buyer, over every page a yard hand may open: who comes for which unit, and no more."""

from __future__ import annotations

import html

import pytest

from desk import test_access
from desk.pages import content_of
from desk.test_access import TABLE
from rubrail.desk import clock
from rubrail.desk.models import Checklist, FollowUp, Haul, Quote
from rubrail.desk.sales import quotes as sales
from rubrail.desk.today.collect import gather

where = test_access.where
BUYER, REACH, PAYS = "Odell Fennick", "555 0142", "31,417"
NAMED = ("hand-over", "haul", "rig", "board", "compare", "climb", "tie-down", "walk", "receipt", "receive", "today")
"""Pages, by how their names begin, that are about what a buyer hauls or who comes for a unit."""
PRINTED = ("paper", "plan", "card", "thresholds", "tax", "window", "spec", "blank", "haul-compare")
"""Pages that are sheets to be printed; what stands on them is tried where they are made."""
NOT_READ = {"hand-over-weighed"}
"""Needs a haul that reads; its page is asked too."""


@pytest.fixture
def promised(where, people) -> Quote:
    """A unit promised to a buyer who can be reached, with a hand-over under way, and something owed him later."""
    quote, haul = Quote.objects.get(), Haul.objects.get()
    terms = quote.terms
    terms["lines"][0]["price_usd"] = "31417"
    Quote.objects.filter(pk=quote.pk).update(buyer=BUYER, contact=REACH, haul=haul, terms=terms)
    Haul.objects.filter(pk=haul.pk).update(buyer=BUYER)
    quote.refresh_from_db()
    version = sales.offer(quote, by=people["sales"], seen_version=quote.version)
    sales.accept(version, name=BUYER, at="here", by=people["sales"])
    FollowUp.objects.update(quote=quote, due=clock.today(), planned=clock.today())
    Checklist.objects.filter(sort="handover").update(about={"quote": quote.number, "buyer": BUYER}, haul=haul)
    return quote


def test_who_comes_and_nothing_of_how_to_reach_or_what_is_paid(promised, where, as_role):
    read = {}
    for name, row in TABLE.items():
        if row.post or row.open or "hand" not in row.roles or name in NOT_READ or name.endswith(PRINTED):
            continue
        answer = as_role("hand").get(where(name))
        if answer.streaming:
            content_of(answer)
            continue
        text = html.unescape(answer.content.decode())
        assert REACH not in text, name
        assert PAYS not in text, name
        read[name] = BUYER in text
    named = {name for name, told in read.items() if told}
    assert {name for name in named if not name.startswith(NAMED)} == set()
    assert {"hand-overs", "hand-over", "haul", "hauls", "today"} <= named, "who comes is told where it is needed"
    assert {"follow-ups", "follow-up", "follow-up-new", "unit", "changes"} <= read.keys() - named
    seller = as_role("sales").get(where("follow-up")).content.decode()
    assert BUYER in seller
    assert REACH in seller


def test_the_first_page_tells_a_hand_who_comes_for_which_unit(promised, people):
    rows = [row for group in gather(people["hand"], today=clock.today()).groups for row in group.rows]
    said = [row.says for row in rows if row.key.startswith("hand-over-")]
    assert said == [f"The hand-over of {promised.unit} to {BUYER} is begun and not signed."]
    assert not [row for row in rows if REACH in f"{row.says} {row.note}"]
