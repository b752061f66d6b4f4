"""Why, worked with a pencil: every filled-in formula of real rigs is evaluated again from the text a person reads."""

import re

import numpy as np
import pytest

from rubrail.answers.place import best_place
from rubrail.answers.rig import rigs
from rubrail.answers.why import explain, plain
from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import CHECKS, of_case

from .yard import haul, yard

RIGS = (
    ("03-landscaper-track-loader", "SH-133"),
    ("04-three-machines", "SH-193"),
    ("10-weight-distribution", "SH-135"),
)
CODES = {"ball", "gooseneck", "kingpin", "pintle", "equalized", "independent", "none", "electric", "surge", "air"}


def worked(text: str) -> float | None:
    """The number a person gets from a filled-in formula; None where it holds words or lists."""
    text = re.sub(r"(?<=\d),(?=\d{3})", "", text).replace("×", "*").replace("÷", "/").replace("^", "**")
    if "[" in text or re.search(r"not known|no limit|[a-z]{3,}-|==|where", text):
        return None
    if set(re.findall(r"[a-z]+", text)) - {"min", "max", "abs", "sqrt", "inf"}:
        return None
    names = {"min": lambda *a: min(a), "max": lambda *a: max(a), "abs": abs, "sqrt": np.sqrt, "inf": np.inf}
    return float(eval(text, {"__builtins__": {}}, names))


@pytest.mark.parametrize(("haul_name", "unit"), RIGS)
@pytest.mark.parametrize("check", [c.id for c in of_case("road")])
def test_the_numbers_shown_give_the_number_shown(haul_name, unit, check):
    one = rigs(haul=haul(haul_name), trailers=(yard().trailers[unit],))
    columns = best_place(one)[1]
    answer = explain(Evaluation(columns), check, member=0 if CHECKS[check].per else None)
    pairs = [(answer.demand_filled, answer.demand), (answer.limit_filled, answer.limit)]
    pairs += [(s.filled, s.value[0]) for s in answer.steps if len(s.value) == 1]
    for text, value in pairs:
        if text and np.isfinite(value):
            got = worked(text)
            if got is not None:
                assert got == pytest.approx(value, rel=2e-4, abs=0.06), text


def test_each_number_is_listed_once_and_its_inputs_are_listed():
    one = rigs(haul=haul(RIGS[0][0]), trailers=(yard().trailers[RIGS[0][1]],))
    answer = explain(Evaluation(best_place(one)[1]), "truck-rear-axle")
    names = [s.name for s in answer.steps]
    assert len(names) == len(set(names))
    known = {*names, *(i.name for i in answer.inputs)}
    for step in answer.steps:
        assert {n for n in step.rests_on if not n.endswith("_present")} <= known
    basis = {i.name: i.basis for i in answer.inputs}
    assert basis["truck_rear_gawr_lb"] == ("label",)


@pytest.mark.parametrize(
    ("value", "text"),
    [(1555.98, "1,555.98"), (0.0942, "0.0942"), (12994.02, "12,994"), (np.nan, "not known"), (6.0, "6")],
)
def test_plain_numbers(value, text):
    assert plain(value) == text


def test_an_unknown_check_is_an_error():
    one = rigs(haul=haul(RIGS[0][0]), trailers=(yard().trailers[RIGS[0][1]],))
    with pytest.raises(KeyError):
        explain(Evaluation(best_place(one)[1]), "no-such-check")
