"""Published, hand-worked and remembered values, each beside the source it comes from."""

from __future__ import annotations

import pytest

from rubrail.checks.registry import CHECKS
from rubrail.rules.sources import all_sources
from rubrail.rules.tables import table, table_names

from .reading import KINDS, answer, assert_same, case_files, cases_of, limit_rows, number, verdict

CASES = [case for path in case_files() for case in cases_of(path)]
LIMITS = limit_rows()
STEPS = {"over": "over", "at": "clear", "under": "clear"}


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.name)
def test_case(case):
    assert_same(answer(case), case.want, case.settings["tolerance"])


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.name)
def test_case_says_where_it_comes_from(case):
    s = case.settings
    assert s["source"] in all_sources()
    assert s["kind"] in KINDS
    assert s["where"]
    assert s["obtained"]
    assert "program" not in s["obtained"] or s["kind"] == "regression"


def test_case_names_are_unique():
    names = [c.name for c in CASES]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("row", LIMITS, ids=lambda r: r["check"])
def test_limit(row):
    """Just over is over, exactly at and just under hold, unknown is not known; none of it by a hair's rounding."""
    function, given = CHECKS[row["check"]].function, {n: number(n, v) for n, v in row["in"].items()}
    for step, word in STEPS.items():
        if step in row:
            values = {**given, row["vary"]: number(row["vary"], row[step])}
            assert verdict(*function(**values)) == word, step
    assert {"over", "at"} <= row.keys()
    assert "under" in row or not CHECKS[row["check"]].unit
    at = {**given, row["vary"]: number(row["vary"], row["at"])}
    for name in row["unknown"]:
        unknown = number(name, row["in"].get(name, row["at"])) * float("nan")
        assert verdict(*function(**{**at, name: unknown})) == "not known", name


@pytest.mark.parametrize("name", CHECKS)
def test_check_has_a_worked_case_and_a_row_of_limits(name):
    assert name in {r["check"] for r in LIMITS}, "a row of limits is owed"
    assert any(name == c.settings["check"] or name in c.want for c in CASES), "a published or worked case is owed"


@pytest.mark.parametrize("name", table_names())
def test_table_is_what_was_read(name):
    """Every table names its source and its units, and adds up to the sums taken when it was read."""
    data = table(name)
    assert data["source"] in all_sources()
    for key in data.get("figure_sources", {}).values():
        assert key in all_sources()
    rows = data["rows"]
    sums = dict(data["checksums"])
    assert len(rows) == sums.pop("rows")
    numbers = {k for r in rows for k, v in r.items() if isinstance(v, int | float) and not isinstance(v, bool)}
    assert sums.keys() == numbers
    for key, total in sums.items():
        assert sum(r.get(key, 0) for r in rows) == pytest.approx(total, rel=1e-12), key
    assert data["units"].keys() >= numbers - {"code"}
