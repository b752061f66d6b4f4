"""The inspection of the invented yard is under way, and says what its unit is short of."""

from __future__ import annotations

from importlib.resources import files

import pytest

from rubrail.desk.checking import lists
from rubrail.desk.demo_checks import ENTERED, UNIT, demo_checks
from rubrail.desk.demo_yard import load_folder
from rubrail.desk.models import Checklist, User

pytestmark = pytest.mark.django_db


def test_it_is_under_way_and_would_hold():
    hand = User.objects.create_user(username="june", name="June", role="hand", password=None)
    load_folder(files("rubrail.demo") / "yard", by=None)
    demo_checks(hand=hand)
    it = Checklist.objects.get()
    assert (it.unit.stock_number, it.state) == (UNIT, "open")
    told = lists.result_of(it)
    assert told.done == len(ENTERED)
    bad = {r.line.key: r.judged.why for r in told.reasons if r.judged.mark == "not ok"}
    assert bad == {"chain-hooks": "said", "pressure-1": "carries less", "pressure-2": "carries less"}
