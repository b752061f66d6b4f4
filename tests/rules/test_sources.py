"""Source records load, are whole, and are used; a malformed record is told in sentences."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import rubrail.checks.all  # noqa: F401  fills the registry
from rubrail.checks.registry import CHECKS, QUANTITIES
from rubrail.rules.sources import FORMER, VERIFIED, all_sources, parse_sources, source
from rubrail.rules.tables import table, table_names

ROOT = Path(__file__).parents[2]
GOOD = """
[ONE]
title = "a"
section = "b"
edition = "c"
address = ""
read_on = "2026-01-01"
verified = "read"
says = "d"
"""


def test_every_record_says_how_it_was_read():
    for record in all_sources().values():
        assert record.verified in VERIFIED
        assert record.how_read
        assert record.title
        assert record.says.endswith((".", "?"))


def test_law_addresses_are_governments_or_none():
    law = parse_sources(
        (ROOT / "src/rubrail/rules/sources/law.toml").read_text(encoding="utf-8"), where="law.toml"
    ).values()
    official = {"uscode.house.gov", "ecfr.gov", "federalregister.gov", "fmcsa.dot.gov", "nhtsa.gov", "irs.gov",
                "ops.fhwa.dot.gov", "wyoleg.gov", "apps.leg.wa.gov", "dps.texas.gov"}  # fmt: skip
    assert {r.address for r in law} - {""} <= official


def test_every_law_record_is_used():
    law = parse_sources((ROOT / "src/rubrail/rules/sources/law.toml").read_text(encoding="utf-8"), where="law.toml")
    used = {k for e in (*CHECKS.values(), *QUANTITIES.values()) for k in e.sources}
    for name in table_names():
        data = table(name)
        used |= {data["source"], *data.get("figure_sources", {}).values(), *(r.get("source") for r in data["rows"])}
    text = "".join(p.read_text(encoding="utf-8") for p in (ROOT / "src/rubrail/rules").glob("*.py"))
    text += "".join(p.read_text(encoding="utf-8") for p in (ROOT / "tests/published").glob("*.toml"))
    assert {k for k in law if k not in used and k not in text} == set()


def test_source_keys_in_docstrings_of_rules_exist():
    for path in (ROOT / "src/rubrail/rules").glob("*.py"):
        for block in re.findall(r"References\n +-+\n +([A-Z][^\n]*)\n", path.read_text(encoding="utf-8")):
            for key in re.split(r",\s*", block.rstrip(".")):
                assert source(key)


def test_a_good_file_is_read():
    assert parse_sources(GOOD, where="x.toml")["ONE"].how_read == VERIFIED["read"]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (('verified = "read"', 'verified = "seen"'), "ONE.verified must be one of"),
        (('read_on = "2026-01-01"', 'read_on = ""'), "ONE.read_on must be given where it was read"),
        (('says = "d"\n', ""), "ONE in x.toml must have the fields"),
        (('says = "d"', 'says = "d"\nauthor = "e"'), "check ['author']"),
    ],
)
def test_a_bad_record_is_told(change, message):
    with pytest.raises(ValueError, match=re.escape(message)):
        parse_sources(GOOD.replace(*change), where="x.toml")


def test_a_list_kept_earlier_still_finds_its_source():
    for former, now in FORMER.items():
        assert former not in all_sources()
        assert source(former) is source(now)


def test_an_unknown_key_is_told():
    with pytest.raises(KeyError, match="NOWHERE is not among the source records"):
        source("NOWHERE")
