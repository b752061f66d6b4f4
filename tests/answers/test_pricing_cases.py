"""Every sale worked by hand in pricing_cases.toml, stage by stage."""

import tomllib
from decimal import Decimal
from pathlib import Path

import pytest

from rubrail.answers.price import price
from rubrail.answers.price_parts import Deal, ExciseFacts, PriceLine, TaxedTire

from .yard import yard

FILE = Path(__file__).with_name("pricing_cases.toml")
CASES = tomllib.loads(FILE.read_text("utf-8"), parse_float=Decimal)["case"]


def deal_of(case):
    facts = ExciseFacts(
        by_rating_lb=float(case["by_rating_lb"]),
        by_axles_lb=float(case["by_axles_lb"]),
        tires=tuple(TaxedTire(float(load), count) for load, count in case["tires"]) if "tires" in case else None,
        free_as=case.get("free_as", ""),
    )
    amounts = {n: Decimal(case[n]) for n in ("trade_in_usd", "owed_usd", "deposit_usd") if n in case}
    lines = tuple(PriceLine(kind, kind, Decimal(amount)) for kind, amount in case["lines"])
    return Deal(lines, facts, free=case.get("free", {}), **amounts)


@pytest.mark.parametrize("case", CASES, ids=lambda c: c["title"])
def test_stage_by_stage(case):
    found = price(deal_of(case), rates=yard().rates["sedge-hollow-2026"])
    taxes = {t.id: t.tax_usd for t in found.taxes}
    stages = {
        "lines": found.lines_usd,
        "excise": found.excise.tax_usd,
        "state": taxes["state"],
        "county": taxes["county"],
        "total": found.total_usd,
        "due": found.due_usd,
    }
    assert stages == {name: Decimal(amount) for name, amount in case["want"].items()}
    # Each case names the stages by hand; they must also add up by themselves.
    want = case["want"]
    assert want["total"] == want["lines"] + want["excise"] + want["state"] + want["county"]
