"""All fifteen hauls against what a careful person says of them: tests/demo/judged.toml, added up by hand."""

import tomllib
from pathlib import Path

import pytest

import rubrail.checks.all  # noqa: F401 - fills the registry
from rubrail.answers.board import match
from rubrail.answers.weigh import weigh
from rubrail.demo import YARD
from rubrail.things.folder import load_yard, resolve

HERE = Path(__file__).parent
JUDGED = tomllib.loads((HERE / "judged.toml").read_text(encoding="utf-8"))["haul"]
PAGE = (HERE.parents[1] / "docs" / "worked" / "README.md").read_text(encoding="utf-8")
FOUND = load_yard(YARD)
CASES = [(h["id"], u) for h in JUDGED for u in h["units"] if "check" in u and u["unit"] != "all"]


@pytest.fixture(scope="module")
def boards():
    units = tuple(FOUND.trailers.values())
    return {h.id: match(haul=resolve(h, FOUND), trailers=units) for h in FOUND.hauls.values()}


def test_every_haul_is_judged_once():
    assert sorted(h["id"] for h in JUDGED) == sorted(FOUND.hauls)


@pytest.mark.parametrize("haul", JUDGED, ids=lambda h: h["id"])
def test_verdicts(haul, boards):
    found = {c.trailer: c.verdict for c in boards[haul["id"]].candidates}
    assert set(found) == set(FOUND.trailers)
    for unit in haul["units"]:
        for trailer in found if unit["unit"] == "all" else [unit["unit"]]:
            assert found[trailer] in unit["verdict"], (trailer, unit.get("because"))


def test_the_board_of_haul_6_has_one_unit_that_is_not_over(boards):
    assert [c.trailer for c in boards["06-under-26001"].candidates if c.verdict != "over"] == ["SH-183"]


@pytest.mark.parametrize(("haul", "unit"), CASES, ids=lambda x: x if isinstance(x, str) else x["unit"])
def test_the_figures_behind_them(haul, unit):
    result = weigh(haul=resolve(FOUND.hauls[haul], FOUND), trailer=FOUND.trailers[unit["unit"]], remedies=False)
    lines = [line for line in result.lines if line.check == unit["check"]]
    assert lines, f"{unit['check']} is not among the lines"
    nearest = min(lines, key=lambda line: line.margin)
    assert (nearest.demand, nearest.limit) == pytest.approx(tuple(unit["line"]), abs=0.5)


@pytest.mark.parametrize("haul", JUDGED, ids=lambda h: h["id"])
def test_the_page_lists_it(haul):
    assert haul["says"] in PAGE
    for unit in haul["units"]:
        assert unit.get("because", "") in PAGE
