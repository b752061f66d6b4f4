"""The unit of the invented yard whose buyer comes today was inspected and released before it is handed over."""

from __future__ import annotations

from importlib.resources import files

import pytest

from rubrail.desk.checking import lists
from rubrail.desk.demo_hand_over import HAUL, UNIT, demo_hand_over
from rubrail.desk.demo_yard import BUYERS, load_folder
from rubrail.desk.handing.stand import stand_of
from rubrail.desk.models import Checklist, User

pytestmark = pytest.mark.django_db


def test_its_inspection_is_signed_and_does_not_hold_it():
    hand = User.objects.create_user(username="june", name="June", role="hand", password=None)
    seller = User.objects.create_user(username="tomas", name="Tomas", role="sales", password=None)
    load_folder(files("rubrail.demo") / "yard", by=None, buyers=BUYERS)
    demo_hand_over(seller=seller, hand=hand)
    inspection = Checklist.objects.get(sort="inspection")
    assert (inspection.unit.stock_number, inspection.state) == (UNIT, "release")
    told = lists.result_of(inspection)
    assert (told.reasons, told.remarks, told.done) == ((), (), told.of)
    assert inspection.signatures[0]["name"] == "June"
    stand = stand_of(Checklist.objects.get(sort="handover"))
    assert (stand.inspected.state, stand.inspection) == ("released", inspection)
    assert stand.unmeasured.id == HAUL
    assert "inspection" not in stand.says()
