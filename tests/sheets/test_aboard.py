"""Who was in the truck on the scale stands over the readings, so that they can be added up by hand."""

from __future__ import annotations

from rubrail.sheets.sentences_ticket import aboard_words
from rubrail.things.ticket import Aboard


def test_who_was_aboard_is_told_with_the_weight_or_that_nobody_knows_it():
    driver = Aboard.model_validate({"says": "driver", "weight_lb": 200})
    dog = Aboard.model_validate({"says": "dog"})
    assert aboard_words([]) == ""
    assert aboard_words([driver]) == "with driver (200 lb) aboard"
    assert aboard_words([driver], metric=True) == "with driver (91 kg) aboard"
    assert aboard_words([driver, dog]) == "with driver (200 lb) and dog (weight not known) aboard"
