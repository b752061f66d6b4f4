"""The program against pencil and paper: docs/worked, in tests/demo/worked.toml."""

import tomllib
from pathlib import Path

import pytest

import rubrail.checks.all  # noqa: F401 - fills the registry
from rubrail.answers.rig import Placement
from rubrail.answers.weigh import weigh
from rubrail.demo import YARD
from rubrail.things.folder import load_yard, resolve

HERE = Path(__file__).parent
DOCS = HERE.parents[1] / "docs" / "worked"
FILE = tomllib.loads((HERE / "worked.toml").read_text(encoding="utf-8"))
CLOSE = FILE["tolerance_lb"]
FOUND = load_yard(YARD)


def weighed(w):
    haul = resolve(FOUND.hauls[w["haul"]], FOUND)
    place = Placement(tuple(float(x) for x in w["front_x_in"]), tuple(w["facing"]))
    return weigh(haul=haul, trailer=FOUND.trailers[w["trailer"]], placement=place, remedies=False)


@pytest.mark.parametrize("w", FILE["worked"], ids=lambda w: f"{w['haul']}-{w['trailer']}-{w['verdict']}")
def test_worked(w):
    result = weighed(w)
    for name, by_hand in w["loads"].items():
        found = [load.value for load in result.loads if load.name == name]
        assert found, name
        assert found == pytest.approx([by_hand] * len(found), abs=CLOSE), name
    for check, (demand, limit) in w["lines"].items():
        found = [line for line in result.lines if line.check == check]
        assert found, check
        # A check of several members (axles, pieces) is worked for the member nearest its limit.
        nearest = min(found, key=lambda line: line.margin)
        assert (nearest.demand, nearest.limit) == pytest.approx((demand, limit), abs=CLOSE), check
    for check, margin in w.get("worst_margin", {}).items():
        line = next(line for line in result.lines if line.check == check)
        assert line.worst_margin == pytest.approx(margin, abs=CLOSE), check
    assert result.verdict == w["verdict"]
    assert result.governing.check == w["governing"]


def test_the_unknown_rating_is_asked_for():
    w = next(w for w in FILE["worked"] if w["verdict"] == "not known")
    assert {need.name for need in weighed(w).unknown} == {"truck_rear_gawr_lb"}


@pytest.mark.parametrize("w", FILE["worked"], ids=lambda w: f"{w['haul']}-{w['verdict']}")
def test_the_page_says_the_figures_and_the_verdict(w):
    page = (DOCS / w["page"]).read_text(encoding="utf-8")
    text = page.replace(",", "")
    assert w["verdict"] in page
    for by_hand in w["loads"].values():
        assert f"{by_hand:.1f}" in text or f"{by_hand:.0f} lb" in text or f"{by_hand:.0f}**" in text, by_hand


def test_every_page_is_worked():
    pages = {p.name for p in DOCS.glob("*.md")} - {"README.md"}
    assert pages == {w["page"] for w in FILE["worked"]}
    assert len(pages) == 5
