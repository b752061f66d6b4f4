"""Whatever set of readings a ticket holds, it is answered: what is told is a number, what is not is said so."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from answers.test_ticket import ticket, trailer, truck
from rubrail.answers.ticket import read_ticket
from rubrail.cli.told import plain
from rubrail.sheets.sentences_ticket import agreement_sentence, causes, needs_told, reading_sentence, ticket_sentence
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.ticket import Ticket
from rubrail.things.ticket_sense import STANDS

SCALES = [
    {"id": "a", "kind": "platform"},
    {"id": "b", "kind": "pads", "division_lb": 5},
    {"id": "c", "kind": "coupler"},
    {"id": "d", "kind": "other", "accuracy_lb": 0, "division_lb": 0.1},
]


@st.composite
def weighings(draw) -> dict:
    state = draw(st.sampled_from(sorted(STANDS)))
    readings = st.fixed_dictionaries(
        {
            "on": st.lists(st.sampled_from(STANDS[state]), min_size=1, max_size=2, unique=True),
            "shown_lb": st.one_of(st.none(), st.floats(-2_000, 60_000), st.integers(0, 60_000)),
            "scale": st.sampled_from("abcd"),
        },
        optional={"side": st.sampled_from(["left", "right"]), "set_aside": st.just("no reason")},
    )
    more = {}
    if state != "truck" and draw(st.booleans()):
        more["load"] = draw(st.sampled_from(["one", "two"]))
    if state == "trailer" and draw(st.booleans()):
        more["jack_from_coupler_in"] = draw(st.integers(0, 200))
    if state == "hitched":
        more["weight_distribution"] = draw(st.booleans())
    if state != "trailer" and draw(st.booleans()):
        more["aboard"] = [{"says": "driver", "weight_lb": 200, "behind_front_axle_in": draw(st.integers(-20, 200))}]
    return {"state": state, **more, "reading": draw(st.lists(readings, max_size=6))}


@settings(max_examples=60, deadline=None)
@given(st.lists(weighings(), max_size=4), st.booleans(), st.booleans(), st.booleans())
def test_any_set_is_answered(states, named, places, geometry):
    of = trailer() if places else trailer(axle=[{}, {}, {}])
    try:
        it = read_thing(
            Ticket,
            {"id": "x", **({"trailer": "t", "truck": "k"} if named else {}), "scale": SCALES, "weighing": states},
        )
    except Faults:
        return  # contradicts itself, and is told
    answer = read_ticket(it, trailer=of, truck=truck(off=1.0) if geometry else None)
    assert answer.verdict in ("clear", "depends", "not known", "over")
    assert answer.verdict != "clear" or not any(v.verdict in ("over", "depends") for v in answer.values)
    for v in answer.values:
        numbers = (v.number, v.doubt, v.plus_minus)
        assert all(map(math.isfinite, numbers)) if v.told else all(map(math.isnan, numbers))
        assert not v.told or v.doubt >= 0
    assert len(answer.readings) == sum(len(s["reading"]) for s in states)
    assert not answer.proposals or answer.agrees
    taken = [r for r in answer.readings if r.word not in ("set aside", "not read yet")]
    assert 0 <= answer.freedom <= len(taken)
    matrix = np.array(answer.correlations)
    if matrix.size:
        np.testing.assert_allclose(matrix, matrix.T, atol=1e-6)
        assert np.abs(matrix).max() <= 1 + 1e-6
    plain(answer)
    said = [ticket_sentence(answer), agreement_sentence(answer), *needs_told(answer)]
    said += [reading_sentence(r) for r in answer.readings]
    assert all(said)
    assert all(causes(r) for r in answer.readings if r.word in ("off", "one of these is off"))


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000))
def test_a_reading_wanted_is_enough(seed):
    """Whatever is missing: take one of the readings that are said to be enough, and it is told."""
    rng = np.random.default_rng(seed)
    states = []
    for state in ("truck", "hitched"):
        parts = [p for p in ("steer", "drive", "axles", "rig", "truck") if p in STANDS[state]]
        some = [p for p in parts if rng.random() < 0.4]
        states.append({"state": state, "reading": [{"on": [p], "shown_lb": 2_000.0} for p in some]})
    table = {"id": "x", "trailer": "t", "truck": "k", "scale": SCALES[:1], "weighing": states}
    answer = read_ticket(read_thing(Ticket, table), trailer=trailer(), truck=truck())
    for value in (v for v in answer.values if v.one_more or v.two_more):
        for some in [[w] for w in value.one_more] if value.one_more else [list(value.two_more)]:
            more = [
                {"state": w.state, "load": w.load or None, "reading": [{"on": list(w.on), "shown_lb": 2_000.0}]}
                for w in some
            ]
            again = read_ticket(
                read_thing(Ticket, {**table, "weighing": states + more}), trailer=trailer(), truck=truck()
            )
            assert next(v for v in again.values if (v.of, v.name, v.load) == (value.of, value.name, value.load)).told


def test_a_weight_below_zero_is_no_weight():
    """Nothing on the axles and 300 lb of lift come to -300 lb of trailer: told, and nothing is taken over."""
    reading = [{"on": ["axles"], "shown_lb": 0}, {"on": ["coupler"], "shown_lb": -300}]
    found = read_ticket(ticket({"state": "trailer", "reading": reading}), trailer=trailer())
    assert (found.verdict, found.agrees, found.proposals) == ("depends", False, ())
    said = ticket_sentence(found)
    assert said.startswith("Depends: no weight is below zero, and these readings come to one: empty weight, −300")
    assert "coupler load" not in said
    light = [{"on": ["axles"], "shown_lb": 2700}, {"on": ["coupler"], "shown_lb": -300}]
    lifts = read_ticket(ticket({"state": "trailer", "reading": light}), trailer=trailer())
    assert lifts.agrees
    assert {p.number for p in lifts.proposals} == {2400, -300}
