"""A price against the figures of the statute, and its stages against each other."""

import math
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.answers.price import DealError, price
from rubrail.answers.price_back import without_excise_usd
from rubrail.answers.price_facts import excise_facts, is_radial, tires_of
from rubrail.answers.price_parts import Deal, ExciseFacts, PriceLine, TaxedTire
from rubrail.answers.stock_cost import payment, stock_cost
from rubrail.things.door import read_thing
from rubrail.things.rates import LINE_KINDS, Rates

from .yard import yard

D = Decimal
RATES = yard().rates["sedge-hollow-2026"]
HEAVY = ExciseFacts(by_rating_lb=27_000, by_axles_lb=26_895, tires=(TaxedTire(4_805, 8),))
LIGHT = ExciseFacts(by_rating_lb=14_000, by_axles_lb=16_215, tires=())


def rates(**more):
    return read_thing(Rates, {"id": "plain", "effective": date(2026, 1, 1), **more})


def deal(*lines, excise=HEAVY, **more):
    return Deal(tuple(PriceLine(k, k, D(p)) for k, p in lines), excise, **more)


def test_a_taxed_trailer_with_its_tires():
    # USC-26-4051 and 4071: 12 % of 30,000 is 3,600; 8 tires of 4,805 lb at 12.33225 each are 98.66.
    found = price(deal(("unit", "30000")), rates=rates())
    assert found.excise.before_credit_usd == D("3600.00")
    assert found.excise.tire_credit_usd == D("98.66")
    assert found.excise.tax_usd == D("3501.34")
    assert found.total_usd == D("33501.34")


def test_what_the_base_holds_and_what_it_does_not():
    # USC-26-4052 and IRS-PUB-510: preparation and fitted parts in; delivery and insurance out; trade-in not deducted.
    lines = (
        ("unit", "28000"),
        ("dealer-fitted", "1200"),
        ("preparation", "300"),
        ("discount", "-500"),
        ("delivery", "900"),
        ("insurance", "80"),
    )
    found = price(deal(*lines, excise=replace(HEAVY, tires=()), trade_in_usd=D(9000)), rates=rates())
    assert found.excise.base_usd == D("29000")
    assert found.excise.tax_usd == D("3480.00")
    assert found.due_usd == D("29980") + D("3480.00") - D("9000")


@pytest.mark.parametrize(
    ("weights", "standing"),
    [
        ((26_000, 26_000), "not due"),
        ((26_001, 20_000), "due"),
        ((25_900, 26_895), "due"),
        ((math.nan, 26_001), "due"),
        ((25_900, math.nan), "not known"),
    ],
)
def test_either_weight_taxes_it_and_an_unknown_one_is_reckoned_as_due(weights, standing):
    found = price(deal(("unit", "30000"), excise=ExciseFacts(*weights)), rates=rates()).excise
    assert found.standing == standing
    assert found.tax_usd == (D(0) if standing == "not due" else D("3600.00"))


def test_used_and_free_sales_owe_nothing_and_say_what_paper_it_takes():
    used = price(deal(("unit", "30000"), excise=replace(HEAVY, new=False)), rates=rates()).excise
    county = price(
        deal(("unit", "30000"), excise=replace(HEAVY, free_as="state or local government")), rates=rates()
    ).excise
    assert used.tax_usd == county.tax_usd == 0
    assert "signed statement" in county.paper
    assert used.standing == "not due"
    assert county.standing == "free"


def test_what_nobody_settled_is_taxed_and_told_apart():
    found = price(deal(("unit", "30000"), ("document fee", "145"), ("warranty", "500")), rates=rates()).excise
    assert found.unsettled_usd == D("77.40")
    assert [c.counts for c in found.lines] == ["in", "in, not settled", "in, not settled"]
    settled = rates(excise={"document_fee": "out", "warranty": "in", "asked": "the adviser, May 2026"})
    told = price(deal(("unit", "30000"), ("document fee", "145"), ("warranty", "500")), rates=settled).excise
    assert told.unsettled_usd == 0
    assert told.base_usd == D("30500")


def test_state_and_county_by_hand():
    # Sedge Hollow: 6.25 % after the trade-in, 1 % of the first 10,000 before it. Both leave the document fee alone.
    lines = (("unit", "18000"), ("option", "650"), ("document fee", "145"))
    found = price(deal(*lines, excise=LIGHT, trade_in_usd=D(4000)), rates=RATES)
    state, county = found.taxes
    assert state.base_usd == D("14650")
    assert state.tax_usd == D("915.63")  # 915.625, halves away from zero
    assert (county.base_usd, county.tax_usd) == (D("10000"), D("100.00"))
    assert found.total_usd == D("18795") + D("915.63") + D("100.00")
    assert found.due_usd == found.total_usd - 4000


def test_free_of_state_tax_names_its_paper():
    found = price(deal(("unit", "18000"), excise=LIGHT, free={"state": "farm use"}), rates=RATES)
    assert found.taxes[0].tax_usd == 0
    assert found.taxes[0].paper == "farm exemption certificate with the buyer's number"
    assert found.taxes[1].tax_usd == D("100.00")


def test_a_cap_and_excise_in_the_state_base():
    with_caps = rates(
        tax=[
            {"id": "s", "title": "s", "rate_percent": 5, "trade_in": "after", "federal_excise": True, "most_usd": 500}
        ]
    )
    found = price(deal(("unit", "30000"), excise=replace(HEAVY, tires=())), rates=with_caps)
    assert found.taxes[0].base_usd == D("33600.00")
    assert found.taxes[0].tax_usd == D("500")


def test_every_fault_of_a_deal_at_once():
    bad = deal(("unit", "-1"), ("discount", "5"), ("thing", "1"), excise=replace(LIGHT, free_as="friends"))
    with pytest.raises(DealError) as told:
        price(replace(bad, free={"city": "x", "state": "luck"}, deposit_usd=D(-1)), rates=RATES)
    assert len(told.value.faults) == 7


money = st.integers(0, 9_000_000).map(lambda c: D(c) / 100)
lines = st.lists(st.tuples(st.sampled_from([k for k in LINE_KINDS if k != "discount"]), money), min_size=1, max_size=8)


@given(lines=lines, off=money, trade=money, deposit=money, weight=st.sampled_from([14_000, 26_000, 26_001, math.nan]))
def test_parts_sum_to_the_total(lines, off, trade, deposit, weight):
    the = deal(*lines, ("discount", str(-off)), excise=ExciseFacts(weight, weight), trade_in_usd=trade)
    found = price(replace(the, deposit_usd=deposit), rates=RATES)
    assert found.lines_usd == sum((line.price_usd for line in found.lines), D(0))
    assert found.total_usd == found.lines_usd + found.excise.tax_usd + sum(t.tax_usd for t in found.taxes)
    assert found.due_usd == found.total_usd - trade - deposit
    for amount in (found.excise.tax_usd, *(t.tax_usd for t in found.taxes)):
        assert amount >= 0
        assert amount == amount.quantize(D("0.01"))


@given(lines=lines, more=money, kind=st.sampled_from([k for k in LINE_KINDS if k != "discount"]))
def test_tax_never_falls_when_a_line_is_added(lines, more, kind):
    before = price(deal(*lines), rates=RATES)
    after = price(deal(*lines, (kind, str(more))), rates=RATES)
    assert after.excise.tax_usd >= before.excise.tax_usd
    assert all(a.tax_usd >= b.tax_usd for a, b in zip(after.taxes, before.taxes, strict=True))


@given(base=money, credit=st.integers(0, 50_000).map(lambda c: D(c) / 100))
def test_backing_the_tax_out_inverts_putting_it_in(base, credit):
    tax = max((base * D("0.12")).quantize(D("0.01"), "ROUND_HALF_UP") - credit, D(0))
    found = without_excise_usd(with_tax_usd=base + tax, rate_percent=D(12), credit_usd=credit)
    again = found + max((found * D("0.12")).quantize(D("0.01"), "ROUND_HALF_UP") - credit, D(0))
    assert again == base + tax
    assert abs(found - base) <= D("0.01")


def test_the_tax_in_a_price_by_hand():
    # 12/112 of a tax-in price: 33,600 holds 3,600.
    assert without_excise_usd(with_tax_usd=D("33600"), rate_percent=D(12)) == D("30000.00")


def test_stock_interest_by_hand():
    # 21,500 at 9.25 %: 5.45 a day; 981 at 180 days; with a tenth paid down at 180, 210 and 240: 1,259 and 1,487.
    tenth = ((180, D(10)), (210, D(10)), (240, D(10)))
    found = {
        d: stock_cost(cost_usd=D(21500), rate_percent=D("9.25"), days=d, paydowns=tenth) for d in (1, 180, 240, 300)
    }
    assert found[1].each_day_usd == D("5.45")
    assert [round(found[d].interest_usd) for d in (180, 240, 300)] == [981, 1259, 1487]
    assert found[300].paid_down_usd == D("6450.00")


def test_payment_by_hand():
    # 20,000 over 60 months at 6 %: 386.66 a month, from the annuity factor 51.72556.
    found = payment(financed_usd=D(20000), rate_percent=D(6), months=60)
    assert found.each_usd == (D(20000) / D("51.72556")).quantize(D("0.01"))
    assert payment(financed_usd=D(1200), rate_percent=D(0), months=12).each_usd == D("100.00")


@given(amount=st.integers(100, 10_000_000), rate=st.integers(0, 3000), months=st.integers(1, 240))
def test_payments_pay_off_the_amount_and_its_interest(amount, rate, months):
    financed = D(amount) / 100
    found = payment(financed_usd=financed, rate_percent=D(rate) / 100, months=months)
    assert found.each_usd * (months - 1) + found.last_usd == financed + found.interest_usd
    assert abs(found.last_usd - found.each_usd) <= D(months) + 1


@pytest.mark.parametrize(
    ("size", "radial"),
    [("ST235/80R16", True), ("235/75R17.5", True), ("ST205/75D15", False), ("8-14.5", False), (None, False)],
)
def test_a_tire_is_radial_where_it_says_so(size, radial):
    assert is_radial(size) is radial


def test_facts_of_every_unit_of_the_yard():
    for trailer in yard().trailers.values():
        facts = excise_facts(trailer)
        label = trailer.ratings.gvwr_lb
        assert math.isnan(facts.by_rating_lb) if label is None else facts.by_rating_lb == float(label)
        tires = tires_of(trailer)
        assert tires is None or len(tires) == len(trailer.axle)
