"""Deals asked whole after a receipt and a scale ticket: who carried and cannot be loaded or held now is told."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from django.urls import reverse

from desk.receive_pages import ordered, received, sent, track_loader
from rubrail.desk.books import keep_book
from rubrail.desk.models import Order, Place, Receipt
from rubrail.desk.receiving.deals import deals_of, frozen, need_lb, on_page, thawed
from rubrail.desk.receiving.found import ordered_trailer
from rubrail.desk.sales import quotes
from rubrail.quantity.value import Value
from rubrail.sheets.sentences_deals import asked_sentence, deal_reason, deal_state
from rubrail.things.trailer import Trailer


@pytest.fixture
def order(people) -> Order:
    from answers.yard import yard

    keep_book(yard().kit, by=None)
    return ordered(people["sales"], haul=track_loader())


@pytest.fixture
def receipt(order, people) -> Receipt:
    return received(order, people["hand"])


@pytest.fixture
def came(receipt) -> Trailer:
    return ordered_trailer(receipt)


def with_ramps(trailer: Trailer, length_in: float) -> Trailer:
    return trailer.model_copy(
        update={"ramp": tuple(r.model_copy(update={"length_in": Value(length_in, "measured")}) for r in trailer.ramp)}
    )


def test_who_carried_and_cannot_be_loaded_now(order, came):
    # Its tail stands 19 in high: on ramps of 22 in that is a slope of 60 degrees, which no machine climbs.
    (deal,) = deals_of(order.unit, before=came, after=with_ramps(came, 22))
    assert (deal.result, deal.before.verdict, deal.after.verdict) == ("broken", "depends", "over")
    assert deal.reason.startswith("What fails now: driving up: ")
    assert "driving up: " in deal.after.sentence
    told = [float(n.replace(",", "")) for n in re.findall(r"([\d,]+) lb", deal.reason + deal.after.sentence)]
    assert all(n <= 11_000 for n in told), "no load greater than the machine itself"
    assert "tied down by law with the yard's gear" in asked_sentence(deal.asked)


def test_who_carried_and_cannot_be_held_now(order, came):
    # 49 CFR 393.130(b): the loader, above 10,000 lb, takes four tie-downs at least; two rings are left.
    few = came.model_copy(update={"anchor": came.anchor[:1]})
    (deal,) = deals_of(order.unit, before=came, after=few)
    assert (deal.result, deal.reason) == (
        "broken",
        "What fails now: tying it down: number and strength of its anchors.",
    )
    (dark,) = deals_of(order.unit, before=came, after=came.model_copy(update={"anchor": ()}))
    assert (dark.result, dark.state) == ("doubtful", ("not known", "not known now"))
    assert dark.reason == "Not known now: tying it down: its anchors, for none are listed."


def test_where_the_pieces_were_kept_counts(order, came):
    (best,) = deals_of(order.unit, before=came, after=came)
    piece = order.haul.spec["cargo"][0]["piece"]["id"]
    far = {"pieces": [{"piece": piece, "front_x_in": 230.0, "facing": "front-first"}]}
    Place.objects.create(haul=order.haul, unit=order.unit, spec=far)
    (placed,) = deals_of(order.unit, before=came, after=came)
    # Its front 172 in down a deck of 240 in, most of the machine lies behind the last axle: the coupler is lifted.
    assert (best.result, placed.result) == ("holds", "over")


def test_what_is_not_known_is_never_counted_among_those_that_hold(order, came):
    bare = came.model_copy(update={"anchor": ()})
    (same,) = deals_of(order.unit, before=bare, after=bare)
    assert (same.result, same.state) == ("unknown", ("not known", "not known, as ordered"))
    (first,) = deals_of(order.unit, before=None, after=bare)
    assert (first.result, first.state[1]) == ("unknown", "not known as it came")
    shown = on_page([same], metric=False)
    assert (shown["holding"], shown["deals"]) == (0, [same])


def test_a_unit_is_not_refused_for_what_it_was_over_for_already(order, came, people):
    (holds,) = deals_of(order.unit, before=came, after=came)
    assert need_lb([holds]) == 11_000
    assert need_lb([replace(holds, result="over")]) is None
    assert need_lb([replace(holds, order="", quote_status="draft")]) is None, "nobody waits for it yet"
    quotes.begin(unit=order.unit, haul=track_loader("Odell Fennick"), buyer="Odell Fennick", by=people["sales"])
    assert len(deals_of(order.unit, before=came, after=came, haul=order.haul_id)) == 1


def test_a_deal_frozen_before_loading_was_asked_says_so(order, came):
    row = frozen(deals_of(order.unit, before=came, after=came))[0]
    del row["asked"]
    (old,) = thawed([row])
    assert "driving up and tying down were not asked" in asked_sentence(old.asked)


@pytest.mark.parametrize(
    ("result", "before", "after", "state"),
    [
        ("broken", "clear", "over", ("over", "no longer holds")),
        ("broken", "not known", "over", ("over", "over now; not known as ordered")),
        ("broken", "", "over", ("over", "over as it came")),
        ("doubtful", "clear", "depends", ("depends", "in doubt now")),
        ("holds", "", "depends", ("depends", "holds as it came")),
        ("unweighed", "", "", ("not known", "not weighed")),
    ],
)
def test_how_a_deal_stands_in_words(result, before, after, state):
    assert deal_state(result=result, before=before, after=after) == state
    assert deal_reason(result=result, after=after, why="") == ""


def test_the_pages_and_the_report_say_it(receipt, order, as_role, people):
    hand = people["hand"]
    hand.measures = "metric"
    hand.save()
    client = as_role("hand")
    sent(client, receipt, "receipt-fields", **{"look__ramp.0.length_in": "other", "ramp.0.length_in": "560"})
    for url in (receipt.get_absolute_url(), reverse("receipt-outcome", args=[receipt.number])):
        text = client.get(url).content.decode()
        assert "no longer holds" in text
        assert "What fails now: driving up: " in text
        assert "driven up, and tied down by law" in text.replace("&#x27;", "'")
        assert " lb" not in text.partition('<h2 id="deals-title"')[2].partition("</section>")[0]
    assert client.get(reverse("receipt-paper", args=[receipt.number])).content[:5] == b"%PDF-"
