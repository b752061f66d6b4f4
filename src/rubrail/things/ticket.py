"""Scale tickets as their file describes them: what stood where, and what the scale showed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from rubrail.things.measure import Known, nominal, place, weight
from rubrail.things.part import Contradiction, Day, Flag, Id, Line, Part, Text, Thing
from rubrail.things.ticket_sense import ticket_contradictions

Plate = Literal[
    "steer", "drive", "truck", "axle 1", "axle 2", "axle 3", "axle 4", "axle 5", "axle 6", "axles", "coupler", "jack",
    "trailer", "rig",
]  # fmt: skip
"""What may stand on a plate. ``axles``: all of the trailer's; ``trailer``: those and its coupler or jack."""


class Scale(Part):
    """One scale of the ticket. What it does not say is usual for its kind."""

    id: Annotated[Id, Field(description="its own name in the ticket; a reading names it")]
    kind: Annotated[
        Literal["platform", "axle", "pads", "other", "coupler"],
        Field(description="truck scale, single-axle plate, wheel pads, coupler scale, or another"),
    ]
    says: Annotated[Line | None, Field(description="where it is, its number")] = None
    division_lb: Annotated[Known, nominal("lb", 0.1, 500, "smallest step it shows")] = None
    accuracy_lb: Annotated[Known, nominal("lb", 0, 2_000, "how far off it may be, either way")] = None


class Reading(Part):
    """One reading."""

    on: Annotated[tuple[Plate, ...], Field(min_length=1, max_length=8, description="what stood on the plate")]
    side: Annotated[
        Literal["left", "right"] | None, Field(description="wheels of one side only, seen from behind")
    ] = None
    shown_lb: Annotated[
        Known, nominal("lb", -2_000, 200_000, "what the scale showed; not known: still to be read")
    ] = None
    scale: Annotated[Id | None, Field(description="which scale; may be left out where there is but one")] = None
    set_aside: Annotated[Line | None, Field(description="why it does not count; it stays on the ticket")] = None


class Aboard(Part):
    """A person or thing in the truck while it was weighed that its own axle weights are not to hold."""

    says: Annotated[Line, Field(description="who or what it is")]
    weight_lb: Annotated[Known, weight(0, 20_000, "its weight", "gear weight")] = None
    behind_front_axle_in: Annotated[Known, place(-80, 400, "its middle behind the front axle")] = None


class Weighing(Part):
    """One way the rig stood, with all that was read of it so."""

    state: Annotated[
        Literal["truck", "trailer", "hitched"], Field(description="truck alone, trailer alone, or both hitched")
    ]
    load: Annotated[Line | None, Field(description="what the trailer carried; left out for empty")] = None
    says: Annotated[Line | None, Field(description="number or time on the ticket")] = None
    jack_from_coupler_in: Annotated[Known, place(0, 200, "coupling point back to the jack it stood on")] = None
    weight_distribution: Annotated[Flag, Field(description="the spring bars were drawn up")] = False
    aboard: Annotated[tuple[Aboard, ...], Field(max_length=20, description="people and things to be taken off")] = ()
    reading: Annotated[tuple[Reading, ...], Field(max_length=40, description="what was read")] = ()


class Ticket(Thing):
    """A set of weighings that belong together."""

    schema_name = "rubrail/ticket/1"

    schema_: Annotated[Literal["rubrail/ticket/1"], Field(alias="schema", description="kind of file")] = (
        "rubrail/ticket/1"
    )
    title: Annotated[Line | None, Field(description="what was weighed, in plain words")] = None
    notes: Text | None = None
    day: Annotated[Day | None, Field(description="day of the weighing")] = None
    trailer: Annotated[Id | None, Field(description="id of the trailer")] = None
    truck: Annotated[Id | None, Field(description="id of the truck")] = None
    scale: Annotated[tuple[Scale, ...], Field(min_length=1, max_length=12, description="scales used")]
    weighing: Annotated[tuple[Weighing, ...], Field(max_length=24, description="ways the rig stood")] = ()

    def contradictions(self) -> Iterator[Contradiction]:
        """What cannot be true of one ticket."""
        return ticket_contradictions(self)
