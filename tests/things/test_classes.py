"""Classes to begin from: every figure typical and told as such, every record with its source, no name of a maker."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from pydantic import BaseModel

from rubrail.quantity.value import Value
from rubrail.things.classes import cargo_classes, truck_classes

ALL = [*truck_classes().values(), *cargo_classes().values()]
SOURCES = ("Source: memory", "Source: common practice, no source")
NOMINAL = ("ball_size_in", "climbs_deg", "climbs_percent")
"""Sizes that are a choice and slopes a manual states: they carry no tolerance whatever their basis."""


def values(thing: Any, path: str = "") -> Iterator[tuple[str, Value]]:
    if isinstance(thing, Value):
        yield path, thing
    elif isinstance(thing, BaseModel):
        for name in type(thing).model_fields:
            yield from values(getattr(thing, name), f"{path}.{name}")
    elif isinstance(thing, tuple):
        for member in thing:
            yield from values(member, path)


def test_there_are_classes_for_the_trade_at_large():
    assert {"half-ton", "three-quarter-ton", "one-ton-single", "one-ton-dual", "medium-duty"} <= set(truck_classes())
    assert "highway-tractor-day-cab" in truck_classes()
    assert {"track-loader-mid", "skid-steer-mid", "midi-excavator-8t", "backhoe-loader"} <= set(cargo_classes())
    assert {"scissor-lift-19", "zero-turn-mower", "round-bales-4x5", "paver-pallets", "car"} <= set(cargo_classes())


@pytest.mark.parametrize("thing", ALL, ids=lambda t: t.id)
def test_every_figure_is_typical_and_has_a_tolerance(thing):
    found = dict(values(thing))
    assert found
    for path, value in found.items():
        assert value.basis == "typical", path
        if not path.endswith(NOMINAL) and value.number:
            assert value.plus_minus > 0, path


@pytest.mark.parametrize("thing", ALL, ids=lambda t: t.id)
def test_every_record_says_where_it_comes_from_and_names_no_maker(thing):
    assert thing.notes.startswith(SOURCES)
    assert thing.maker is None
    assert thing.model is None
    assert thing.title == thing.title.strip()


@pytest.mark.parametrize("truck", truck_classes().values(), ids=lambda t: t.id)
def test_a_class_of_trucks_can_carry_itself_and_its_driver(truck):
    empty = truck.weights.front_axle_lb.number + truck.weights.rear_axle_lb.number
    assert empty + 200 < truck.ratings.gvwr_lb.number
    # A GVWR may not exceed the axle ratings together: nothing else carries the truck.
    assert truck.ratings.front_gawr_lb.number + truck.ratings.rear_gawr_lb.number >= truck.ratings.gvwr_lb.number
    assert truck.ratings.gvwr_lb.number < truck.ratings.gcwr_lb.number
    tires = truck.tires
    assert tires.front_each_lb.number * 2 >= truck.ratings.front_gawr_lb.number * 0.98
    assert tires.rear_each_lb.number * tires.rear_count >= truck.ratings.rear_gawr_lb.number


@pytest.mark.parametrize("piece", cargo_classes().values(), ids=lambda p: p.id)
def test_a_class_of_machines_stands_on_its_own_contacts(piece):
    if piece.kind == "bulk":
        assert piece.pieces.weight_lb is not None
        return
    contact = piece.contact
    if contact.kind in ("wheels", "drums"):
        front, *_, rear = (a.number for a in contact.axles_from_front_in)
    else:
        front = contact.start_from_front_in.number
        rear = front + contact.length_in.number
    assert front < piece.cg_from_front_in.number < rear, "a machine whose weight is outside its contacts falls over"
    assert rear <= piece.length_in.number
