"""Interest on a unit in stock: by hand, by the yard's rates, seen by those who may see money."""

from datetime import timedelta
from decimal import Decimal

import pytest

from answers.yard import yard
from rubrail.desk import clock
from rubrail.desk.books import keep_book
from rubrail.desk.models import Unit
from rubrail.desk.sales.standing_cost import standing_cost


@pytest.fixture
def old(unit, people) -> Unit:
    """A unit that cost 21,500 and has stood 240 days."""
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    arrived = clock.today() - timedelta(days=240)
    Unit.objects.filter(pk=unit.pk).update(cost_usd=Decimal(21500), arrived=arrived)
    return Unit.objects.get(pk=unit.pk)


def test_by_hand(old):
    # STOCK-INTEREST: 21,500 at 9.25 %, a tenth paid down at 180, 210 and 240 days: 1,259 after 240, then 7/10 of 5.45.
    found = standing_cost(old, today=clock.today())
    assert round(found.interest_usd) == 1259
    assert found.each_day_usd == Decimal("3.81")


def test_not_known_without_cost_day_or_rate(old):
    assert standing_cost(old, today=clock.today() - timedelta(days=300)) is None
    old.cost_usd = None
    assert standing_cost(old, today=clock.today()) is None


@pytest.mark.parametrize("role", ["owner", "sales", "hand", "viewer"])
def test_seen_by_those_who_may_see_money(old, as_role, role):
    text = as_role(role).get(old.get_absolute_url()).content.decode()
    assert ("Interest so far" in text) == (role in ("owner", "sales"))
