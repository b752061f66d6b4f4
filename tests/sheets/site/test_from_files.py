"""A site from the files of a yard: words that claim too much stay in, units built alike are each their own."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from rubrail.sheets.listing_typed import left_out_of, made_title
from rubrail.sheets.paper.labels import labels_of
from rubrail.sheets.site import made
from rubrail.sheets.site.from_files import files_of_trailers
from rubrail.things.folder import plain_listing
from sheets.site.sites import DAY, YARD, trailers


def site_of(*some, **wording) -> dict[str, str]:
    words = plain_listing().model_copy(update=wording)
    files = files_of_trailers(some, yard=YARD, wording=words, today=DAY)
    return {f.path: data.decode() for f in files if (data := f.make()) is not None}


@pytest.mark.parametrize(
    ("changes", "shouted"),
    [
        ({"title": "25K gooseneck"}, "25K"),
        ({"title": "Gooseneck 25K"}, "25K"),
        ({"title": "No CDL needed"}, "CDL"),
        ({"title": "Gooseneck, 25 ft, 16,000 lb axles"}, "16,000 lb axles"),
        ({"color": "black, guaranteed"}, "guaranteed"),
        ({"model": "Hauls anything"}, "Hauls anything"),
    ],
)
def test_words_that_claim_too_much_are_nowhere(changes, shouted):
    trailer = trailers()["SH-191"].model_copy(update=changes)
    site = site_of(trailer)
    assert not [path for path, text in site.items() if shouted in text]
    title = made_title(trailer) if "title" in changes else trailer.title
    assert f"<h1>{title}</h1>" in site["trailer/SH-191.html"]
    assert "What it carries" in site["trailer/SH-191.html"], "the text makes no claim, and stands"
    assert [label.title for label in labels_of([trailer])] == [title]


@pytest.mark.parametrize("title", ["Gooseneck, 25 ft, 22,500 lb label", "Gooseneck, 10,000 lb axles", "$20,900"])
def test_a_title_that_is_true_stays(title):
    """Ratings and price of the file: label 22,500 lb, axles 10,000 lb each, $20,900."""
    site = site_of(trailers()["SH-191"].model_copy(update={"title": title}))
    assert f"<h1>{title}</h1>" in site["trailer/SH-191.html"]


def test_a_models_name_may_hold_a_number():
    site = site_of(trailers()["SH-191"].model_copy(update={"model": "20K gooseneck"}))
    assert "20K gooseneck" in site["trailer/SH-191.html"]


def test_a_title_made_of_facts_makes_no_claim_and_says_no_more_than_is_known():
    every = list(trailers().values())
    for trailer, lb in zip(every, made.payloads(every), strict=True):
        assert not left_out_of(trailer.model_copy(update={"title": made_title(trailer)}), payload_lb=lb)
    bare = trailers()["SH-191"]
    bare = bare.model_copy(update={"deck": bare.deck.model_copy(update={"flat_length_in": None})})
    assert made_title(bare) == "Gooseneck deck-over trailer"


def test_units_built_alike_are_each_their_own():
    """What is reckoned once for all of a build is the same as reckoned for each by itself."""
    first = trailers()["SH-191"]
    changes = {"id": "SH-192", "title": "Another, 25 ft", "price_usd": Decimal(19_500), "color": "green", "vin": None}
    second = first.model_copy(update=changes)
    heavier = first.weights.model_copy(update={"empty_lb": replace(first.weights.empty_lb, number=8_100)})
    third = first.model_copy(update={"id": "SH-193", "weights": heavier})
    together = site_of(first, second, third)
    for trailer in (first, second, third):
        made._read.cache_clear()
        made._drawings.cache_clear()
        alone = site_of(trailer)
        for path in alone:
            if trailer.id in path:
                assert together[path] == alone[path], path
    assert "SH-191" not in together["trailer/SH-192.html"]
    assert together["drawing/SH-191-carries.svg"] != together["drawing/SH-193-carries.svg"]
