"""Each kind of fault and its sentence: field, value, what is accepted, where."""

import re
import tomllib
from pathlib import Path

import pytest

from rubrail.things.door import KINDS, read_thing
from rubrail.things.faults import Faults
from things.samples import table

DATA = tomllib.loads((Path(__file__).parent / "sentences.toml").read_text("utf-8"))
FAULTS, CONTRADICTIONS = DATA["fault"], DATA["contradiction"]


def faults_of(kind, changes):
    with pytest.raises(Faults) as told:
        read_thing(KINDS[kind], table(kind, **changes))
    return told.value


def told_of(case):
    """Faults of a case of the data."""
    changes = {name.replace(".", "__"): value for name, value in case.get("set", {}).items()}
    changes |= {name.replace(".", "__"): None for name in case.get("without", ())}
    return faults_of(case["of"], changes).faults


@pytest.mark.parametrize("case", [*FAULTS, *CONTRADICTIONS], ids=lambda case: case["says"][:70])
def test_sentence(case):
    told = told_of(case)
    assert len(told) == 1, [f.sentence for f in told]
    assert case["says"] in told[0].sentence


def test_there_are_many_kinds():
    assert len(FAULTS) > 50
    assert len(CONTRADICTIONS) > 40


def test_all_faults_are_told_at_once_contradictions_too():
    changes = {
        "year": "new",
        "colour": "red",
        "ramp__1__kind": None,
        "axle__1__gawr_lb": -1,
        "axle__2__from_coupler_in": 100,
        "deck__tail_drop_in": 0,
        "weights__empty_lb": 25_000,
    }
    told = {f.field for f in faults_of("trailer", changes).faults}
    assert told == {
        "year",
        "colour",
        "ramp[1].kind",
        "axle[1].gawr_lb",
        "axle[2].from_coupler_in",
        "deck.tail_drop_in",
        "weights.empty_lb",
    }


def test_a_contradiction_within_a_haul_is_told_with_its_place():
    changes = {"truck": table("truck", ratings__gvwr_lb=8_000), "use": "racing"}
    told = [f.sentence for f in faults_of("haul", changes).faults]
    assert any(s.startswith("use must be one of") for s in told)
    assert any(s.startswith("truck.ratings.gvwr_lb must be at least the truck's own axle weights") for s in told)


def test_a_fault_carries_its_parts():
    fault = faults_of("trailer", {"weights__empty_lb": -5}).faults[0]
    assert (fault.field, fault.value, fault.accepted, fault.where) == ("weights.empty_lb", -5, "200 to 60,000 lb", "")
    assert str(fault) == fault.sentence


def test_no_sentence_speaks_of_the_machinery():
    for case in (*FAULTS, *CONTRADICTIONS):
        for fault in told_of(case):
            assert not re.search(r"pydantic|validat|Traceback|Error|\bNone\b|\n", fault.sentence)
