"""The receiving report, read back: what was found, what is left to write in, what a person decided."""

from __future__ import annotations

from dataclasses import replace

from answers.receiving import GOOD, gooseneck, label
from rubrail.answers.receive import receive
from rubrail.answers.receive_papers import papers_of
from rubrail.sheets.paper.press import press
from rubrail.sheets.paper.receive import Damage, DealEffect, ReceivingFacts, Signed, receiving_paper
from sheets.papers import needs_poppler, told

pytestmark = needs_poppler


def found(**how):
    ordered = gooseneck(ratings__gvwr_lb=label(25_000))
    return receive(
        ordered=ordered, received=gooseneck(), vins={}, papers=papers_of(gooseneck()), this_year=2026, **how
    )


def printed(facts, **how):
    return told(press(receiving_paper(facts, **how)))


def test_before_anybody_signed():
    text = printed(ReceivingFacts(receiving=found(), yard="Sedge Hollow Trailer Yard"))
    for wanted in (
        "Receiving report, SH-191",
        GOOD,
        "Accept with exceptions (proposed)",
        "Label GVWR: ordered 25,000 lb, received 22,500 lb. It carries 2,500 lb less for it.",
        "Damage: nobody has said yet",
        "Red and white marking on each side, 206 in of it at least.",
        "For the carrier, day",
        "Ratings on the certification labels govern",
    ):
        assert wanted in text


def test_once_a_person_decided():
    facts = ReceivingFacts(
        receiving=found(),
        carrier="haul-away",
        bill="B-104",
        day="Nov 27, 2026",
        by="Ada",
        decided="refuse",
        why="Sent back with the driver.",
        damages=(Damage(1, "left fender", "scraped to the metal"),),
        missing=("ramp pins",),
        effects=(DealEffect("Q-12", "No longer holds: 1,570 lb over the label.", "over"),),
        signed=(Signed("Ada", "for the yard", "Nov 27, 2026"),),
    )
    text = printed(facts)
    for wanted in ("Refuse, decided by Ada", "Sent back with the driver.", "scraped to the metal", "ramp pins", "Q-12",
                   "1,570 lb over", "B-104", "for the yard"):  # fmt: skip
        assert wanted in text
    assert "proposed" not in text
    assert "For the carrier, day" not in text
    assert receiving_paper(facts).verdict == "over"


def test_damage_looked_for_and_not_found():
    facts = ReceivingFacts(receiving=found(), damage_seen=True)
    assert "No damage was found." in printed(facts)
    assert "nobody has said" not in printed(facts)


def test_signatures_that_were_drawn_are_printed():
    drawn = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 18"><path d="M2 14H58" stroke="#1E2A32"/></svg>'
    facts = ReceivingFacts(receiving=found(), signed=(Signed("Ada", "for the yard", "Nov 27, 2026", drawn),))
    assert "for the yard, Nov 27, 2026" in printed(facts)


def test_metric_prints_no_pounds():
    text = printed(ReceivingFacts(receiving=found(need_lb=16_950)), metric=True)
    assert "7,688 kg" in text  # 16,950 lb
    assert " lb" not in text


def test_without_an_order_and_without_vins():
    r = receive(ordered=None, received=gooseneck(vin=None), vins={}, this_year=2026)
    text = printed(ReceivingFacts(receiving=r))
    assert "There is no order to compare it with." in text
    assert "The VIN was not read." in text
    assert replace(r, reasons=()).proposed == "accept with exceptions"
