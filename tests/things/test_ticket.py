"""What cannot be true of one scale ticket, each told in one sentence with its place."""

from __future__ import annotations

import pytest

from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.ticket import Ticket

STEER = {"on": ["steer"], "shown_lb": 4000}


def told(**changes) -> list[str]:
    table = {"id": "t", "scale": [{"id": "a", "kind": "platform"}], **changes}
    with pytest.raises(Faults) as faults:
        read_thing(Ticket, table)
    return [f.sentence for f in faults.value.faults]


def state(word: str, *readings: dict, **more) -> dict:
    return {"weighing": [{"state": word, "reading": list(readings), **more}]}


TWO = [{"id": "a", "kind": "platform"}, {"id": "b", "kind": "pads"}]


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"scale": [TWO[0], TWO[0]]}, "scale[2].id must be used once, and another scale has it too"),
        ({"scale": [{"id": "a", "kind": "other"}]}, "scale[1].accuracy_lb must be given, because nothing is known"),
        ({"scale": []}, "scale must be a list of at least 1"),
        ({"scale": TWO, **state("truck", STEER)}, "weighing[1].reading[1].scale must be one of a, b, because"),
        (state("truck", {**STEER, "scale": "z"}), 'weighing[1].reading[1].scale must be one of a, got "z"'),
        (state("truck", {**STEER, "on": ["axles"]}), "must be one of steer, drive, truck, because the state is truck"),
        (state("hitched", {**STEER, "on": ["coupler"]}), "because the state is hitched"),
        (state("hitched", {**STEER, "on": ["steer", "rig"]}), "must be each part once, and it has steer twice"),
        (state("hitched", {**STEER, "on": ["axles", "axle 2"]}), "it has axle 2 twice"),
        (state("trailer", {"on": ["coupler"], "side": "left", "shown_lb": 1}), "reading[1].side must be left out"),
        (
            state("trailer", {"on": ["coupler"], "shown_lb": 1}, {"on": ["jack"], "shown_lb": 1}),
            "a trailer stands on one of them",
        ),
        (state("truck", STEER, load="hay"), "weighing[1].load must be left out, because the truck stood alone"),
        (state("trailer", aboard=[{"says": "x", "weight_lb": 1}]), "weighing[1].aboard must be left out"),
        (state("truck", weight_distribution=True), "must be left out, because nothing was hitched"),
        (state("hitched", jack_from_coupler_in=40), "because only a trailer alone stands on its jack"),
        (state("truck", {**STEER, "on": ["wheels"]}), "weighing[1].reading[1].on[1] must be one of steer"),
        (state("truck", {**STEER, "shown_lb": "4 t"}, {**STEER, "shown_lb": "4 T"}), "could mean more than one unit"),
    ],
)
def test_each_contradiction_is_one_sentence(changes, says):
    sentences = told(**changes)
    assert len(sentences) == 1
    assert says in sentences[0]


def test_a_reading_that_is_still_to_be_taken_reads():
    table = {"id": "t", "scale": TWO[:1], **state("hitched", {"on": ["axles"]}, {"on": ["rig"], "shown_lb": "9 t"})}
    readings = read_thing(Ticket, table).weighing[0].reading
    assert readings[0].shown_lb is None
    assert round(readings[1].shown_lb.number) == 19_842
