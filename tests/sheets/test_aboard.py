"""Who was in the truck on the scale stands over the readings, so that they can be added up by hand."""

from __future__ import annotations

from math import nan

from rubrail.answers.ticket_report import Rode, Stood
from rubrail.sheets.sentences_ticket import aboard_words, stood_words


def test_who_was_aboard_is_told_with_the_weight_and_where_it_went():
    driver = Rode("driver", 200.0, 113.0, seat_known=True)
    tools = Rode("tools", 90.0, 45.0, seat_known=False)
    dog = Rode("dog", nan, nan, seat_known=True)
    assert aboard_words([]) == ""
    assert aboard_words([driver]) == "with driver (200 lb, 113 lb of it on the front axle) aboard"
    assert aboard_words([driver], metric=True) == "with driver (91 kg, 51 kg of it on the front axle) aboard"
    assert (
        aboard_words([tools, dog])
        == "with tools (90 lb, taken as half on each axle) and dog (weight not known) aboard"
    )
    assert stood_words(Stood(1, "truck", "", ())) == "truck alone"
    assert (
        stood_words(Stood(2, "hitched", "the loader", (dog,)))
        == "hitched with the loader, with dog (weight not known) aboard"
    )
